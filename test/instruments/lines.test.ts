import type { Duplex } from 'node:stream';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openInProcess } from '../../instruments/transport/inProcess.ts';
import { type LineSettings, usualLineSettings } from '../../instruments/transport/lineSettings.ts';
import { Lines, LONGEST_LINE_BYTES } from '../../instruments/transport/lines.ts';

interface Heard {
  lines: string[];
  overlong: number[];
  ended: Promise<string>;
}

function open(settings: Partial<LineSettings> = {}): { far: Duplex; lines: Lines; heard: Heard } {
  let far: Duplex | undefined;
  const connection = openInProcess(
    'test',
    (end) => {
      far = end;
    },
    { ...usualLineSettings, ...settings },
  );
  const ended = Promise.withResolvers<string>();
  const heard: Heard = { lines: [], overlong: [], ended: ended.promise };
  const lines = new Lines(connection, {
    line: (text) => heard.lines.push(text),
    overlong: (bytes) => heard.overlong.push(bytes),
    lost: (why) => ended.resolve(why),
  });
  if (!far) throw new Error('no far end');
  return { far, lines, heard };
}

/** Sends the chunks one by one and resolves when all has arrived and the connection has ended. */
async function hear(chunks: Buffer[], settings: Partial<LineSettings> = {}): Promise<Heard> {
  const { far, lines, heard } = open(settings);
  for (const chunk of chunks) {
    await new Promise<void>((sent) => {
      far.write(chunk, () => sent());
    });
  }
  far.end();
  await heard.ended;
  await lines.close();
  return heard;
}

function cut(bytes: Buffer, places: number[]): Buffer[] {
  const at = [0, ...places.map((place) => place % (bytes.length + 1)).sort((a, b) => a - b), bytes.length];
  return at.slice(1).map((end, index) => bytes.subarray(at[index], end));
}

const lineText = fc.string({ unit: fc.integer({ min: 0x20, max: 0xff }).map((c) => String.fromCharCode(c)) });

describe('lines over a connection', () => {
  it('are the same however the bytes are cut', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(lineText, fc.constantFrom('\n', '\r\n', '\r')), { maxLength: 8 }),
        fc.array(fc.nat(), { maxLength: 12 }),
        async (sent, places) => {
          const bytes = Buffer.from(sent.map(([text, end]) => text + end).join(''), 'latin1');
          const { lines, overlong } = await hear(cut(bytes, places));
          expect(lines).toEqual(sent.map(([text]) => text).filter((text) => text !== ''));
          expect(overlong).toEqual([]);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('end where the settings say', async () => {
    const bytes = [Buffer.from('1\r2\n3\r\n4\n\r')];
    expect((await hear(bytes)).lines).toEqual(['1', '2', '3', '4']);
    expect((await hear(bytes, { in: 'any' })).lines).toEqual(['1', '2', '3', '4']);
    expect((await hear(bytes, { in: 'lf' })).lines).toEqual(['1\r2', '3', '4']);
    expect((await hear(bytes, { in: 'crlf' })).lines).toEqual(['1\r2', '3', '4']);
    expect((await hear(bytes, { in: 'cr' })).lines).toEqual(['1', '2\n3', '4\n']);
  });

  it.each([
    ['lf', '*CLS\nA?\n'],
    ['cr', '*CLS\rA?\r'],
    ['crlf', '*CLS\r\nA?\r\n'],
  ] as const)('that are sent end with %s', async (out, bytes) => {
    const { far, lines } = open({ out });
    let heard = '';
    far.on('data', (chunk: Buffer) => {
      heard += chunk.toString('latin1');
    });
    await lines.write('*CLS');
    lines.send('A?');
    await expect.poll(() => heard).toBe(bytes);
    await lines.close();
  });

  it('drop the unfinished rest when the connection ends', async () => {
    expect((await hear([Buffer.from('+2.2E+02\n+2.2')])).lines).toEqual(['+2.2E+02']);
  });

  it('take the longest line, and report and drop a longer one whether it comes whole or in parts', async () => {
    const longest = 'x'.repeat(LONGEST_LINE_BYTES);
    const bytes = Buffer.from(`1\n${longest}\n2\n${longest}y\n3\n`);
    for (const step of [bytes.length, 1000, 7]) {
      const places = Array.from({ length: Math.floor(bytes.length / step) }, (_, index) => index * step);
      const { lines, overlong } = await hear(cut(bytes, places));
      expect(lines).toEqual(['1', longest, '2', '3']);
      expect(overlong).toHaveLength(1);
    }
  });

  it('do not grow with megabytes that hold no end of line', async () => {
    const chunk = Buffer.alloc(64 * 1024, 0x55);
    const { lines, overlong } = await hear([...Array.from({ length: 64 }, () => chunk), Buffer.from('\n7\n')]);
    expect(lines).toEqual(['7']);
    expect(overlong).toEqual([64 * 1024]);
  });

  it('reject a write on a connection that is lost', async () => {
    const { far, lines, heard } = open();
    far.destroy();
    await heard.ended;
    await expect(lines.write('*CLS')).rejects.toMatchObject({ code: 'meter-lost' });
    await lines.close();
    await lines.close();
  });
});
