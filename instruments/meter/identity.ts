import { SIMULATED_MODEL } from '../../core/certificate/format.ts';

/** Who answers, from the four fields of *IDN? (IEEE 488.2 10.14.3). A meter that gives fewer leaves the rest empty. */
export interface Identity {
  maker: string;
  model: string;
  serial: string;
  firmware: string;
  /** The whole answer. */
  text: string;
  /** True for our own simulated bench. */
  simulated: boolean;
}

/** The first two fields of the simulated bench's *IDN? answer. */
export const BENCH_MAKER = 'Reelohm';
export const BENCH_MODEL = SIMULATED_MODEL;

export function readIdentity(answer: string): Identity {
  const text = answer.trim();
  const [maker = '', model = '', serial = '', ...firmware] = text.split(',').map((field) => field.trim());
  const simulated = maker === BENCH_MAKER && model === BENCH_MODEL;
  return { maker, model, serial, firmware: firmware.join(','), text, simulated };
}
