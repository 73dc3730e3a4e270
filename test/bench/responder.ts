import { closeSync, openSync, writeSync } from 'node:fs';
import { ReadStream } from 'node:tty';

// Run as a process of its own: the quickest answering machine at the far end of a pseudo-terminal, so that what is
// measured is the other side. It knows the questions our meter asks; readings lie inside the window of 4.7 kΩ ±1 %.
// Arguments: path of the end; baud rate, where it is to take the time that a line of 8 data bits, no parity and 1 stop
// bit takes both ways.
const file = openSync(process.argv[2] ?? '', 'r+');
const baud = Number(process.argv[3] ?? 0);
const input = new ReadStream(file);
input.setRawMode(true);

const BITS_OF_A_CHARACTER = 10;
const characterMilliseconds = baud > 0 ? (BITS_OF_A_CHARACTER * 1000) / baud : 0;

let register = '0';
let range = '0';
let count = 0;
let rest = '';

const ANSWERS: Record<string, string> = {
  '*IDN?': 'Example,Answering machine,1,1',
  '*ESR?': '0',
  '*PSC?': '1',
  'SYST:ERR?': '0,"No error"',
  'FUNC?': '"RES"',
  'RES:RANG:AUTO?': '0',
  'RES:NPLC?': '1',
};

function answerTo(unit: string): string | undefined {
  if (unit === 'READ?') {
    count = (count + 7) % 47;
    return `+4.7${String(count).padStart(2, '0')}00E+03`;
  }
  if (unit === '*ESE?') return register;
  if (unit === 'RES:RANG?') return range;
  const [, name, value = ''] = /^(\*ESE|RES:RANG) (\S+)$/.exec(unit) ?? [];
  if (name === '*ESE') register = value;
  if (name === 'RES:RANG') range = value;
  return ANSWERS[unit];
}

function answer(message: string): string {
  const fields: string[] = [];
  for (const unit of message.split(';')) {
    const said = answerTo(unit.startsWith(':') ? unit.slice(1) : unit);
    if (said !== undefined) fields.push(said);
  }
  return fields.length > 0 ? `${fields.join(';')}\n` : '';
}

/** Waits without giving the processor away: timers are far too coarse for the time of one character. */
function until(time: number): void {
  while (performance.now() < time);
}

function send(text: string, messageBytes: number, heardAt: number): void {
  if (characterMilliseconds === 0) {
    if (text !== '') writeSync(file, text);
    return;
  }
  let next = heardAt + messageBytes * characterMilliseconds;
  for (const character of text) {
    next += characterMilliseconds;
    until(next);
    writeSync(file, character);
  }
}

input.on('data', (chunk: Buffer) => {
  const heardAt = performance.now();
  const lines = (rest + chunk.toString('latin1')).split('\n');
  rest = lines.pop() ?? '';
  for (const line of lines) send(answer(line), line.length + 1, heardAt);
});
input.on('close', () => closeSync(file));
process.stdout.write('ready\n');
