import type { Command } from './command.ts';
import { whole } from './parameters.ts';

/** The common commands of IEEE 488.2, clause 10. */
export const ieee488: readonly Command[] = [
  { header: '*IDN?', parameters: [0, 0], run: (b) => b.identity },
  { header: '*RST', parameters: [0, 0], run: (b) => b.reset() },
  {
    header: '*CLS',
    parameters: [0, 0],
    run: (b) => {
      // IEEE 488.2 10.3: what *OPC was to note is forgotten.
      b.trigger.forget();
      return b.status.clear();
    },
  },
  { header: '*ESE', parameters: [1, 1], run: (b, [mask]) => b.status.enableEvents(whole(mask, 0, 255)) },
  { header: '*ESE?', parameters: [0, 0], run: (b) => String(b.status.eventEnable) },
  { header: '*ESR?', parameters: [0, 0], run: (b) => String(b.status.takeEvents()) },
  { header: '*SRE', parameters: [1, 1], run: (b, [mask]) => b.status.enableService(whole(mask, 0, 255)) },
  { header: '*SRE?', parameters: [0, 0], run: (b) => String(b.status.serviceEnable) },
  { header: '*STB?', parameters: [0, 0], run: (b) => String(b.status.statusByte()) },
  {
    header: '*PSC',
    parameters: [1, 1],
    run: (b, [flag]) => b.status.clearAtPowerOn(whole(flag, -32_767, 32_767) !== 0),
  },
  { header: '*PSC?', parameters: [0, 0], run: (b) => (b.status.powerOnClear ? '1' : '0') },
  // Nothing but a reading that waits for its trigger outlasts its command.
  { header: '*OPC', parameters: [0, 0], run: (b) => b.trigger.whenEnded(() => b.status.noteComplete()) },
  { header: '*OPC?', parameters: [0, 0], run: (b) => b.trigger.ended().then(() => '1') },
  { header: '*WAI', parameters: [0, 0], run: (b) => b.trigger.ended().then(() => '') },
  { header: '*TST?', parameters: [0, 0], run: () => '0' },
];
