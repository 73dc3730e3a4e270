import type { Duplex } from 'node:stream';
import { setImmediate as turn } from 'node:timers/promises';
import { openInProcess } from '../../instruments/transport/inProcess.ts';
import { type LineSettings, usualLineSettings } from '../../instruments/transport/lineSettings.ts';
import { Lines, LONGEST_LINE_BYTES } from '../../instruments/transport/lines.ts';
import type { Fuzzed } from './fuzz.ts';
import type { SeededRandom } from './seededRandom.ts';

/** What came of a stream of bytes: its lines in order, and how many were too long. */
interface Cut {
  lines: string[];
  overlong: number;
}

type Ends = LineSettings['in'];

/** Arbitrary bytes, cut into arbitrary chunks: the lines must be those of the uncut bytes. `accepted` counts lines. */
export async function fuzzLines(
  random: SeededRandom,
  count: number,
  hear: typeof hearLines = hearLines,
): Promise<Fuzzed> {
  const fuzzed: Fuzzed = { tried: 0, accepted: 0, faults: [] };
  for (; fuzzed.tried < count; fuzzed.tried++) {
    const ends = random.pick<Ends>(['any', 'any', 'lf', 'cr', 'crlf']);
    const bytes = anyBytes(random);
    const chunks = cutUp(bytes, random);
    const wanted = cutWhole(bytes, ends);
    try {
      const heard = await hear(chunks, ends);
      fuzzed.accepted += heard.lines.length;
      if (JSON.stringify(heard) !== JSON.stringify(wanted)) {
        const where = `${ends}, chunks of ${chunks.map((chunk) => chunk.length).join(', ')} bytes`;
        fuzzed.faults.push(
          `${where}: ${JSON.stringify(heard).slice(0, 200)}, not ${JSON.stringify(wanted).slice(0, 200)}`,
        );
      }
    } catch (thrown) {
      fuzzed.faults.push(`${ends}: threw ${thrown}`);
    }
  }
  return fuzzed;
}

function anyBytes(random: SeededRandom): Buffer {
  const parts = Array.from({ length: random.whole(0, 12) }, () => {
    if (random.chance(0.02)) return 'x'.repeat(LONGEST_LINE_BYTES + random.whole(-3, 3));
    if (random.chance(0.01)) return 'x'.repeat(random.whole(1, 4) * LONGEST_LINE_BYTES);
    if (random.chance(0.4)) return random.pick(['\n', '\r', '\r\n', '\n\r', '\n\n']);
    const characters = Array.from({ length: random.whole(0, 12) }, () => random.whole(0, 255));
    return String.fromCharCode(...characters);
  });
  return Buffer.from(parts.join(''), 'latin1');
}

function cutUp(bytes: Buffer, random: SeededRandom): Buffer[] {
  const largest = random.pick([1, 3, 20, 5000]);
  const chunks: Buffer[] = [];
  // Long streams are not cut to single bytes: that costs time and shows nothing new.
  const least = Math.ceil(bytes.length / 300);
  for (let at = 0; at < bytes.length; at += chunks.at(-1)?.length ?? 0) {
    chunks.push(bytes.subarray(at, at + Math.max(least, random.whole(1, largest))));
  }
  return chunks;
}

/** The lines of all bytes at once, worked out without streams. */
function cutWhole(bytes: Buffer, ends: Ends): Cut {
  const text = bytes.toString('latin1');
  const parts = text.split(ends === 'any' ? /[\r\n]/ : ends === 'cr' ? '\r' : '\n');
  const unfinished = parts.pop() ?? '';
  const isTooLong = (part: string) => part.length > LONGEST_LINE_BYTES;
  const lines = parts
    .filter((part) => !isTooLong(part))
    .map((part) => {
      // The other half of CR LF, or of LF CR.
      if (ends === 'cr') return part.startsWith('\n') ? part.slice(1) : part;
      return part.endsWith('\r') ? part.slice(0, -1) : part;
    });
  return {
    lines: lines.filter((line) => line !== ''),
    overlong: [...parts, unfinished].filter(isTooLong).length,
  };
}

/** The lines as the product hears them. */
export async function hearLines(chunks: Buffer[], ends: Ends): Promise<Cut> {
  let far: Duplex | undefined;
  const take = (end: Duplex) => {
    far = end;
  };
  const connection = openInProcess('fuzz', take, { ...usualLineSettings, in: ends });
  const heard: Cut = { lines: [], overlong: 0 };
  const lines = new Lines(connection, {
    line: (text) => heard.lines.push(text),
    overlong: () => heard.overlong++,
    lost: () => undefined,
  });
  for (const chunk of chunks) await new Promise<void>((sent) => far?.write(chunk, () => sent()));
  // The stream may hand out the lines of its last chunk a little later.
  await turn();
  await lines.close();
  return heard;
}
