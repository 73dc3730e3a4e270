import type { Piece } from './fault.ts';

/** What each function is called, and what a reading with it looks like; `{piece}` and `{count}` are filled in. */
const FUNCTIONS: Record<string, string> = {
  RES: '+1.{piece}{count}E+04',
  // Readings with any other setting must never be accepted, so they look unlike those wanted.
  FRES: '+2.{piece}{count}E+04',
  'VOLT:DC': '+5.{piece}{count}E+00',
  TEMP: '+2.3{piece}{count}E+01',
};
const WITH_OTHER_CYCLES = '+3.{piece}{count}E+04';
const ABOVE_RANGE = '+1.{piece}{count}E+06';
const OVERLOAD = '+9.90000000E+37';
const NOT_A_NUMBER = '+9.91000000E+37';

const POWER_ON = 128;
const COMMAND_ERROR = 32;
const EXECUTION_ERROR = 16;

const WANTED_CYCLES = '1';

/** After power on nothing is as the program set it; some meters come up measuring resistance all the same. */
const factorySettings = (name: PowerOnFunction) => ({
  function: name as string,
  range: 1e9,
  auto: true,
  cycles: '10',
  register: 0,
});

export type PowerOnFunction = 'VOLT:DC' | 'RES';

/** The inside of a SCPI resistance meter: what it is set to, and what it answers. It commits no faults by itself. */
export class MeterWorks {
  piece: Piece = { number: 0, is: 'open' };
  /** Set while somebody else's meter is at this end of the line. */
  isAnother = false;
  /** What the next reading is, whatever lies on the probes. */
  nextReading: 'measured' | 'not a number' = 'measured';
  /** Called when a reading is taken and the rest of the message is not answered yet. */
  onReading: (() => void) | null = null;
  readonly #powerOnFunction: PowerOnFunction;
  #set: ReturnType<typeof factorySettings>;
  #events = POWER_ON;
  #errors: string[] = [];
  #readings = 0;

  constructor(powerOnFunction: PowerOnFunction) {
    this.#powerOnFunction = powerOnFunction;
    this.#set = factorySettings(powerOnFunction);
  }

  /** The answer to one message; null if there is none. The question of index `refused`, if any, is not answered. */
  answer(message: string, refused: number | null = null): string | null {
    const answers: string[] = [];
    let questions = 0;
    for (const unit of message.split(';').map((text) => text.trim().replace(/^:/, ''))) {
      if (unit.endsWith('?') && unit !== '*ESE?' && questions++ === refused) this.noteError();
      else {
        const answer = this.#answerUnit(unit.toUpperCase());
        if (answer !== null) answers.push(answer);
      }
    }
    return answers.length > 0 ? answers.join(';') : null;
  }

  noteError(): void {
    this.#errors.push('-221,"Settings conflict"');
    this.#events |= EXECUTION_ERROR;
  }

  /** Somebody turns the knob. */
  changeFunction(to: string): void {
    this.#set.function = to;
  }

  restart(): void {
    this.#set = factorySettings(this.#powerOnFunction);
    this.#events = POWER_ON;
    this.#errors = [];
  }

  #answerUnit(unit: string): string | null {
    const [head = '', argument = ''] = unit.split(' ');
    const question = this.#questions[head];
    if (question) return question();
    const command = this.#commands[head];
    if (command) command(argument);
    else {
      this.#errors.push(`-113,"Undefined header;${head}"`);
      this.#events |= COMMAND_ERROR;
    }
    return null;
  }

  readonly #questions: Record<string, () => string> = {
    '*IDN?': () => `Example,Misbehaving meter,${this.isAnother ? 'another' : 'one'},1`,
    '*ESE?': () => String(this.#set.register),
    '*ESR?': () => {
      const events = this.#events;
      this.#events = 0;
      return String(events);
    },
    '*PSC?': () => '1',
    '*OPC?': () => '1',
    'SYST:ERR?': () => this.#errors.shift() ?? '0,"No error"',
    'FUNC?': () => `"${this.#set.function}"`,
    'RES:RANG?': () => this.#set.range.toExponential(1).toUpperCase(),
    'RES:RANG:AUTO?': () => (this.#set.auto ? '1' : '0'),
    'RES:NPLC?': () => this.#set.cycles,
    'READ?': () => this.#read(),
  };

  readonly #commands: Record<string, (argument: string) => void> = {
    'SYST:REM': () => undefined,
    'SYST:LOC': () => undefined,
    '*CLS': () => {
      this.#errors = [];
      this.#events = 0;
    },
    '*ESE': (number) => {
      this.#set.register = Number(number);
    },
    'CONF:RES': () => {
      Object.assign(this.#set, { function: 'RES', auto: true });
    },
    'RES:RANG': (ohms) => {
      Object.assign(this.#set, { auto: false, range: 10 ** Math.ceil(Math.log10(Number(ohms))) });
    },
    'RES:RANG:AUTO': (on) => {
      this.#set.auto = on === 'ON' || on === '1';
    },
    'RES:NPLC': (cycles) => {
      this.#set.cycles = cycles;
    },
  };

  #read(): string {
    const { function: name, auto, range, cycles } = this.#set;
    const { number, is } = this.piece;
    const found = this.nextReading;
    this.nextReading = 'measured';
    const count = ++this.#readings % 10_000;
    const fill = (form: string) => form.replace('{piece}', digits(number, 5)).replace('{count}', digits(count, 4));
    const isOver = name === 'RES' && (is === 'open' || (is === 'above the range' && !auto && range < 1e6));
    const usual = is === 'above the range' ? ABOVE_RANGE : FUNCTIONS.RES;
    const form = name !== 'RES' ? FUNCTIONS[name] : cycles === WANTED_CYCLES ? usual : WITH_OTHER_CYCLES;
    this.onReading?.();
    if (found === 'not a number') return NOT_A_NUMBER;
    return isOver ? OVERLOAD : fill(form ?? '');
  }
}

/** The piece a reading was taken of; null if it is none of a resistance in 2-wire. */
export function pieceOf(raw: string): Piece | null {
  const match = /^\+1\.(\d{5})\d{4}E\+0([46])$/.exec(raw.trim());
  return match && { number: Number(match[1]), is: match[2] === '4' ? 'in range' : 'above the range' };
}

function digits(number: number, count: number): string {
  return String(number).padStart(count, '0');
}
