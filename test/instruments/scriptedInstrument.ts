import type { Duplex } from 'node:stream';
import type { Connection } from '../../instruments/transport/connection.ts';
import { openInProcess } from '../../instruments/transport/inProcess.ts';

export interface ScriptedInstrument {
  connection: Connection;
  /** The instrument's end of the line. */
  far: Duplex;
  /** Every line it was sent. */
  heard: string[];
}

/** An instrument that answers as the test says: `answer` gets each line and the way to send bytes. */
export function scriptedInstrument(answer: (line: string, send: (text: string) => void) => void): ScriptedInstrument {
  const heard: string[] = [];
  let far: Duplex | undefined;
  const connection = openInProcess('test', (end) => {
    far = end;
    let rest = '';
    end.on('data', (chunk: Buffer) => {
      const pieces = (rest + chunk.toString('latin1')).split('\n');
      rest = pieces.pop() ?? '';
      for (const line of pieces) {
        heard.push(line);
        answer(line, (text) => end.write(text));
      }
    });
  });
  if (!far) throw new Error('no far end');
  return { connection, far, heard };
}
