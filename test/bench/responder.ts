import { closeSync, openSync, writeSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { ReadStream } from 'node:tty';

// Run as a process of its own: the quickest answering machine at the far end of a pseudo-terminal, so that what is
// measured is the other side. It knows the questions our meter asks; readings lie inside the window of 4.7 kΩ ±1 %, or
// are what a line on its standard input says, until an empty one comes; each such line is answered with "ok".
// Arguments: path of the end; baud rate, where it is to take the time that a line of 8 data bits, no parity and 1 stop
// bit takes both ways.
const file = openSync(process.argv[2] ?? '', 'r+');
const baud = Number(process.argv[3] ?? 0);
const input = new ReadStream(file);
input.setRawMode(true);

const BITS_OF_A_CHARACTER = 10;
const characterMilliseconds = baud > 0 ? (BITS_OF_A_CHARACTER * 1000) / baud : 0;

let register = '0';
let name = 'RES';
let told = '';
let range = '0';
let count = 0;
let rest = '';

const ANSWERS: Record<string, string> = {
  '*IDN?': 'Example,Answering machine,1,1',
  '*ESR?': '0',
  '*PSC?': '1',
  'SYST:ERR?': '0,"No error"',
  'RES:RANG:AUTO?': '0',
  'RES:NPLC?': '1',
};

function answerTo(unit: string): string | undefined {
  if (unit === 'FUNC?') return `"${name}"`;
  if (unit === 'READ?' && name === 'VOLT') return '+1.0E-05';
  if (unit === 'READ?' && told !== '') return told;
  if (unit === 'READ?') {
    count = (count + 7) % 47;
    return `+4.7${String(count).padStart(2, '0')}00E+03`;
  }
  if (unit === '*ESE?') return register;
  if (unit === 'RES:RANG?') return range;
  name = /^CONF:(\w+)/.exec(unit)?.[1] ?? name;
  const [, setting, value = ''] = /^(\*ESE|RES:RANG) (\S+)$/.exec(unit) ?? [];
  if (setting === '*ESE') register = value;
  if (setting === 'RES:RANG') range = value;
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
createInterface({ input: process.stdin }).on('line', (line) => {
  told = line;
  process.stdout.write('ok\n');
});
input.on('close', () => closeSync(file));
process.stdout.write('ready\n');
