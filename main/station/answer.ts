import * as z from 'zod';
import { type RequestName, requests, type StationClient, type Told } from '../../core/contract/contract.ts';
import { checked } from '../../core/contract/invalid.ts';
import { asProblem } from '../../core/problem/problem.ts';

const asked = z.strictObject({
  id: z.number(),
  name: z.enum(Object.keys(requests) as [RequestName, ...RequestName[]]),
  question: z.unknown(),
});

/**
 * What a door does with whatever came in: checks that it is a request of the contract and asks the station. Never throws: a refusal or a fault comes back as a problem under the same id, or under id 0 where none
 * could be read.
 */
export async function answer(station: StationClient, message: unknown): Promise<Told> {
  let id = 0;
  try {
    id = idOf(message);
    const { name, question } = checked('request', asked, message);
    // The station checks every question it is asked.
    return { id, answer: await station.ask(name, question as never) };
  } catch (thrown) {
    return { id, problem: asProblem(thrown).toJSON() };
  }
}

function idOf(message: unknown): number {
  const found = asked.pick({ id: true }).loose().safeParse(message);
  return found.success ? found.data.id : 0;
}
