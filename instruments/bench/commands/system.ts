import type { Command } from './command.ts';

/** SCPI-1999 volume 2, 21.21: the version of the standard. */
const SCPI_VERSION = '1999.0';

/** SCPI-1999 volume 2, 21 (SYSTem); remote and local are common practice on serial lines. */
export const system: readonly Command[] = [
  { header: 'SYSTem:ERRor[:NEXT]?', parameters: [0, 0], run: (b) => b.status.takeError() },
  { header: 'SYSTem:ERRor:COUNt?', parameters: [0, 0], run: (b) => String(b.status.errorCount) },
  { header: 'SYSTem:VERSion?', parameters: [0, 0], run: () => SCPI_VERSION },
  { header: 'SYSTem:REMote', parameters: [0, 0], run: (b) => b.control(true) },
  { header: 'SYSTem:RWLock', parameters: [0, 0], run: (b) => b.control(true) },
  { header: 'SYSTem:LOCal', parameters: [0, 0], run: (b) => b.control(false) },
];
