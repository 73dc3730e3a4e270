import { type Duplex, duplexPair } from 'node:stream';
import type { Connection } from './connection.ts';
import { type LineSettings, usualLineSettings } from './lineSettings.ts';

/** Opens a pair of streams inside this process and hands the far end to whoever answers there. */
export function openInProcess(
  address: string,
  answer: (farEnd: Duplex) => void,
  line: LineSettings = usualLineSettings,
): Connection {
  const [nearEnd, farEnd] = duplexPair();
  // A far end that is destroyed by its own side must not bring the process down; the near end sees it as lost.
  farEnd.on('error', (failure) => nearEnd.destroy(failure));
  answer(farEnd);
  return {
    address,
    serial: false,
    line,
    characterMilliseconds: 0,
    duplex: nearEnd,
    close: async () => {
      nearEnd.destroy();
      farEnd.destroy();
    },
  };
}
