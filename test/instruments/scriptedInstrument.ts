import type { Duplex } from 'node:stream';
import type { SessionWays } from '../../instruments/scpi/session.ts';
import type { Connection } from '../../instruments/transport/connection.ts';
import { openInProcess } from '../../instruments/transport/inProcess.ts';
import { type LineSettings, usualLineSettings } from '../../instruments/transport/lineSettings.ts';

export interface ScriptedInstrument {
  connection: Connection;
  /** The instrument's end of the line. */
  far: Duplex;
  /** Every line it was sent. */
  heard: string[];
}

/** An instrument that takes several commands in a message, or one. */
export const several: SessionWays = {
  compound: true,
  proof: { set: '*ESE {number}', ask: '*ESE?', largest: 255 },
  longestCommand: null,
  delayMilliseconds: 0,
};
export const one: SessionWays = { ...several, compound: false };

/** An instrument that answers as the test says: `answer` gets each line and the way to send bytes. */
export function scriptedInstrument(
  answer: (line: string, send: (text: string) => void) => void,
  line: Partial<LineSettings> = {},
): ScriptedInstrument {
  const heard: string[] = [];
  let far: Duplex | undefined;
  const connection = openInProcess(
    'test',
    (end) => {
      far = end;
      let rest = '';
      end.on('data', (chunk: Buffer) => {
        const pieces = (rest + chunk.toString('latin1')).split(/[\r\n]/);
        rest = pieces.pop() ?? '';
        for (const text of pieces) {
          if (text === '') continue;
          heard.push(text);
          answer(text, (said) => end.write(said, 'latin1'));
        }
      });
    },
    { ...usualLineSettings, ...line },
  );
  if (!far) throw new Error('no far end');
  return { connection, far, heard };
}

/**
 * Answers messages as an instrument with an event status enable register does: `*ESE n` and `*ESE?` by itself, every
 * other unit by `answer`, which leaves out the field of what it refuses (null). Null where nothing is to be said.
 */
export function withRegister(answer: (unit: string) => string | null): (message: string) => string | null {
  let register = 0;
  return (message) => {
    const fields: string[] = [];
    for (const unit of message.split(';')) {
      const set = /^\*ESE (\d+)$/.exec(unit)?.[1];
      if (set !== undefined) register = Number(set);
      else if (unit === '*ESE?') fields.push(String(register));
      else {
        const said = answer(unit.replace(/^:/, ''));
        if (said !== null) fields.push(said);
      }
    }
    return fields.length > 0 ? fields.join(';') : null;
  };
}
