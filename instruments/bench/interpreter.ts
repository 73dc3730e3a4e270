import type { Bench } from './bench.ts';
import type { Command } from './commands/command.ts';
import { readParameters, readUnit, ScpiError, spellings, splitMessage, type Unit } from './grammar.ts';
import type { Manner } from './manner.ts';

const known = new WeakMap<Manner, Map<string, Command>>();

/** Everything a meter of this manner understands, by every spelling. */
function commandsOf(manner: Manner): Map<string, Command> {
  let found = known.get(manner);
  if (!found) {
    found = new Map(
      manner.commands.flatMap((command) => {
        const query = command.header.endsWith('?') ? '?' : '';
        const pattern = query ? command.header.slice(0, -1) : command.header;
        return spellings(pattern).map((spelling) => [spelling + query, command] as const);
      }),
    );
    known.set(manner, found);
  }
  return found;
}

/**
 * Executes one program message and returns its response message, or null if there is none. A unit that fails notes an
 * error and answers nothing: its field is missing from the response, whose fields are joined by semicolons (IEEE 488.2
 * 8.4.1). The units after it are executed.
 */
export async function execute(bench: Bench, message: string): Promise<string | null> {
  const answers: string[] = [];
  let branch = '';
  try {
    bench.manner.admitMessage(message);
    for (const text of splitMessage(message)) {
      try {
        const unit = readUnit(text);
        const header = fullHeader(unit, branch);
        branch = branchAfter(unit, header, branch);
        const result = run(bench, unit, header);
        // Only a measurement has to be waited for.
        const answer = result instanceof Promise ? await result : result;
        if (unit.query && answer !== undefined) answers.push(answer);
      } catch (failure) {
        note(bench, failure);
      }
    }
  } catch (failure) {
    note(bench, failure);
  }
  return answers.length > 0 ? answers.join(';') : null;
}

function run(bench: Bench, unit: Unit, header: string): ReturnType<Command['run']> {
  const command = commandsOf(bench.manner).get(header + (unit.query ? '?' : ''));
  if (!command || (command.needs && !bench.measures(command.needs))) throw new ScpiError(-113, unit.header);
  const parameters = readParameters(unit.parameters);
  const [fewest, most] = command.parameters;
  if (parameters.length < fewest) throw new ScpiError(-109, unit.header);
  if (parameters.length > most) throw new ScpiError(-108, unit.header);
  bench.manner.admitCommand(bench, header);
  return command.run(bench, parameters);
}

/** A header goes on from the branch of the one before it (SCPI-1999 volume 1, 6.2.4). */
function fullHeader(unit: Unit, branch: string): string {
  return unit.root || unit.header.startsWith('*') ? unit.header : branch + unit.header;
}

/** The branch is the header without its last node; common commands leave it where it is. */
function branchAfter(unit: Unit, header: string, branch: string): string {
  return unit.header.startsWith('*') ? branch : header.slice(0, header.lastIndexOf(':') + 1);
}

function note(bench: Bench, failure: unknown): void {
  if (!(failure instanceof ScpiError)) throw failure;
  bench.status.note(failure);
}
