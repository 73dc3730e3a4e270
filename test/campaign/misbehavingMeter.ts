import { setTimeout as wait } from 'node:timers/promises';
import type { Deed, Fault, Piece } from './fault.ts';
import { type MeterLink, openPtyLink, openTcpLink } from './meterLink.ts';
import { MeterWorks, type PowerOnFunction } from './meterWorks.ts';

/** Where the meter's end of its line is. */
export type LinkPlace = { kind: 'tcp' } | { kind: 'pty'; path: string };

/** An answer that is sent among later ones. */
interface Held {
  line: string;
  others: number;
  where: 'before' | 'behind';
}

const HANG_UPS = ['end', 'destroy', 'reset'] as const;

/** A resistance meter at the end of a line, which does wrong what it is told to. */
export class MisbehavingMeter {
  readonly #works: MeterWorks;
  readonly #askToUnplug: () => void;
  #link: MeterLink | null = null;
  #faults: Fault[] = [];
  #echoes = false;
  #end = '\n';
  #deafUntil = 0;
  #held: Held[] = [];
  /** An answer that waits for the next one. */
  #joined = '';
  /** Counts connections: what was sent on an old one is not sent on the next. */
  #connection = 0;
  /** Bytes leave in the order they were sent. */
  #sent: Promise<void> = Promise.resolve();
  #inbox: string[] = [];
  #unfinished = '';
  #isWorking = false;
  #hangUps = 0;

  /** @param askToUnplug a pseudo-terminal can be pulled out only by whoever made it */
  constructor(powerOnFunction: PowerOnFunction, askToUnplug: () => void) {
    this.#works = new MeterWorks(powerOnFunction);
    this.#askToUnplug = askToUnplug;
  }

  /** Where the program connects; empty where it knows. */
  get address(): string {
    return this.#link?.address ?? '';
  }

  /** Faults not committed yet. */
  get pending(): number {
    return this.#faults.length;
  }

  get isAnother(): boolean {
    return this.#works.isAnother;
  }

  async open(place: LinkPlace): Promise<void> {
    const handlers = { bytes: (text: string) => this.#hear(text), gone: () => this.#gone() };
    this.#link =
      place.kind === 'tcp'
        ? await openTcpLink(handlers, () => HANG_UPS[this.#hangUps++ % HANG_UPS.length] ?? 'end')
        : await openPtyLink(place.path, handlers, this.#askToUnplug);
  }

  close(): void {
    this.#gone();
    this.#link?.close();
  }

  place(piece: Piece): void {
    this.#works.piece = piece;
  }

  commit(fault: Fault): void {
    this.#faults.push(fault);
  }

  /** Good manners from now on: no echo, lines end as usual, the same meter as at first, nothing held back. */
  behave(): void {
    this.#echoes = false;
    this.#end = '\n';
    this.#works.isAnother = false;
    this.#held = [];
    this.#joined = '';
    this.#faults = [];
  }

  #hear(text: string): void {
    if (performance.now() < this.#deafUntil) return;
    const messages = (this.#unfinished + text).split(/[\r\n]/);
    this.#unfinished = messages.pop() ?? '';
    for (const message of messages.filter((each) => each !== '')) {
      if (this.#echoes) this.#send(`${message}\r\n`);
      this.#inbox.push(message);
    }
    if (!this.#isWorking) void this.#workOff();
  }

  #gone(): void {
    this.#connection++;
    this.#inbox = [];
    this.#unfinished = '';
    this.#held = [];
    this.#joined = '';
  }

  #send(bytes: string, afterMilliseconds = 0): Promise<void> {
    const own = this.#connection;
    this.#sent = this.#sent.then(async () => {
      if (own !== this.#connection) return;
      if (afterMilliseconds > 0) await wait(afterMilliseconds);
      if (own === this.#connection) this.#link?.write(bytes);
    });
    return this.#sent;
  }

  /** It works on one message after the other. */
  async #workOff(): Promise<void> {
    this.#isWorking = true;
    for (let message = this.#inbox.shift(); message !== undefined; message = this.#inbox.shift()) {
      await this.#work(message);
    }
    this.#isWorking = false;
  }

  async #work(message: string): Promise<void> {
    const deed = message.includes('?') ? this.#nextFaultFor(message)?.deed : undefined;
    const works = this.#works;
    if (deed?.do === 'not-a-number') works.nextReading = 'not a number';
    if (deed?.do === 'note-error') works.noteError();
    if (deed?.do === 'change-function') {
      if (deed.when === 'before') works.changeFunction(deed.to);
      else works.onReading = () => works.changeFunction(deed.to);
    }
    const answer = works.answer(message, deed?.do === 'refuse' ? deed.unit % questionsIn(message) : null);
    works.onReading = null;
    if (answer === null) return;
    if (deed) await this.#commit(deed, answer);
    else this.#sendAnswer(answer);
  }

  /** The first fault that is due and fits, if any; it is committed with this. */
  #nextFaultFor(message: string): Fault | undefined {
    const found = this.#faults.find(({ skip, deed }) => skip === 0 && fits(deed, message));
    this.#faults = this.#faults.filter((fault) => fault !== found);
    for (const fault of this.#faults) if (fault.skip > 0) fault.skip--;
    return found;
  }

  /** Sends an answer, and with it what was held back for it. */
  #sendAnswer(answer: string): void {
    const due = (where: Held['where']) =>
      this.#held.filter((each) => each.others === 0 && each.where === where).map((each) => each.line);
    const bytes = [...due('before'), this.#joined, answer + this.#end, ...due('behind')].join('');
    this.#held = this.#held.filter((each) => each.others > 0).map((each) => ({ ...each, others: each.others - 1 }));
    this.#joined = '';
    this.#send(bytes);
  }

  async #commit(deed: Deed, answer: string): Promise<void> {
    const whole = answer + this.#end;
    const at = 'at' in deed ? Math.round(deed.at * answer.length) : 0;
    switch (deed.do) {
      case 'answer-late':
        await wait(deed.milliseconds);
        return this.#sendAnswer(answer);
      case 'hold-line':
        this.#send('', deed.milliseconds);
        return this.#sendAnswer(answer);
      case 'send-later':
        this.#held.push({ line: whole, others: deed.others, where: deed.where });
        return;
      case 'lose':
        return;
      case 'double':
        if (deed.pause === 'one write') return this.#sendAnswer(whole + answer);
        this.#sendAnswer(answer);
        return void this.#send(whole, deed.pause);
      case 'split':
        this.#send(whole.slice(0, at));
        return void this.#send(whole.slice(at), deed.pause);
      case 'trickle':
        for (const byte of whole) this.#send(byte, deed.pause);
        return;
      case 'join':
        this.#joined = whole;
        return;
      case 'echo':
        this.#echoes = true;
        return this.#sendAnswer(answer);
      case 'end-with-cr':
        this.#end = '\r';
        return this.#sendAnswer(answer);
      case 'insert':
        return this.#sendAnswer(answer.slice(0, at) + deed.text + answer.slice(at));
      case 'line':
        return this.#sendAnswer(deed.where === 'before' ? deed.text + this.#end + answer : whole + deed.text);
      case 'run-on':
        return this.#runOn(deed, answer);
      case 'fall-silent':
        this.#deafUntil = performance.now() + deed.milliseconds;
        return;
      case 'hang-up':
        return this.#hangUp(whole, deed.sent);
      case 'become-another':
        this.#works.isAnother = true;
        return this.#hangUp(whole, deed.sent);
      case 'reboot':
        return this.#restart(deed, whole);
      default:
        return this.#sendAnswer(answer);
    }
  }

  #runOn({ bytes, where }: Deed & { do: 'run-on' }, answer: string): void {
    const noise = 'x'.repeat(bytes);
    if (where === 'instead') this.#send(noise);
    else this.#sendAnswer(`${noise}${where === 'ended' ? this.#end : ''}${answer}`);
  }

  async #hangUp(whole: string, sent: number): Promise<void> {
    await this.#send(whole.slice(0, Math.round(sent * whole.length)));
    this.#link?.hangUp();
  }

  async #restart({ sent, deaf, banner, hangUp }: Deed & { do: 'reboot' }, whole: string): Promise<void> {
    await this.#send(whole.slice(0, Math.round(sent * whole.length)));
    this.#works.restart();
    this.#echoes = false;
    this.#end = '\n';
    this.#inbox = [];
    this.#unfinished = '';
    this.#deafUntil = performance.now() + deaf;
    if (hangUp) this.#link?.hangUp();
    else if (banner !== '') this.#send(banner, deaf);
  }
}

function fits(deed: Deed, message: string): boolean {
  if (deed.do === 'not-a-number' || deed.do === 'change-function') return message.includes('READ?');
  return deed.do !== 'refuse' || questionsIn(message) > 0;
}

/** Without those for the number that proves step. */
function questionsIn(message: string): number {
  return message.split(';').filter((unit) => unit.endsWith('?') && !unit.endsWith('*ESE?')).length;
}
