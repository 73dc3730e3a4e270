import { isSimulatedBench } from '../../core/inspection/simulatedBench.ts';

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

/** Of a meter that cannot say who it is. */
export const NOT_TOLD = 'not told';

export function readIdentity(answer: string): Identity {
  const text = answer.trim();
  const [maker = '', model = '', serial = '', ...firmware] = text.split(',').map((field) => field.trim());
  return { maker, model, serial, firmware: firmware.join(','), text, simulated: isSimulatedBench(text) };
}
