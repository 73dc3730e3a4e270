import { ScpiError } from './grammar.ts';

const LONGEST_QUEUE = 20;

// Standard event status register, IEEE 488.2 11.5.1.1.
const OPERATION_COMPLETE = 1;
const QUERY_ERROR = 4;
const DEVICE_ERROR = 8;
const EXECUTION_ERROR = 16;
const COMMAND_ERROR = 32;
const POWER_ON = 128;

// Status byte, IEEE 488.2 11.2 and SCPI-1999 volume 1, 9: bit 2 is the error queue's.
const ERROR_QUEUE = 4;
const EVENT_SUMMARY = 32;
const MASTER_SUMMARY = 64;

/** Status registers and error queue of an instrument (IEEE 488.2 11, SCPI-1999 volume 2, 21.8). */
export class Status {
  eventEnable = 0;
  serviceEnable = 0;
  /** Whether the enable registers are cleared when power comes on (*PSC, IEEE 488.2 10.25). */
  powerOnClear = true;
  #events = POWER_ON;
  #errors: ScpiError[] = [];

  enableEvents(mask: number): undefined {
    this.eventEnable = mask;
  }

  // Bit 6 cannot be enabled (IEEE 488.2 11.3.2.3).
  enableService(mask: number): undefined {
    this.serviceEnable = mask & ~MASTER_SUMMARY;
  }

  /** *PSC: a number that rounds to 0 keeps the enable registers over power-on, any other clears them. */
  clearAtPowerOn(flag: boolean): undefined {
    this.powerOnClear = flag;
  }

  /** Power comes on (IEEE 488.2 11.5.1.1.2 and 10.25). */
  powerOn(): void {
    this.clear();
    this.#events = POWER_ON;
    if (!this.powerOnClear) return;
    this.eventEnable = 0;
    this.serviceEnable = 0;
  }

  noteComplete(): undefined {
    this.#events |= OPERATION_COMPLETE;
  }

  /** *CLS: clears events and errors, leaves the enable registers. */
  clear(): undefined {
    this.#events = 0;
    this.#errors = [];
  }

  /** *ESR?: reading clears. */
  takeEvents(): number {
    const events = this.#events;
    this.#events = 0;
    return events;
  }

  statusByte(): number {
    const summary =
      (this.#errors.length > 0 ? ERROR_QUEUE : 0) | ((this.#events & this.eventEnable) !== 0 ? EVENT_SUMMARY : 0);
    return summary | ((summary & this.serviceEnable) !== 0 ? MASTER_SUMMARY : 0);
  }

  get errorCount(): number {
    return this.#errors.length;
  }

  /** When the queue is full its last entry gives way to -350 (SCPI-1999 volume 2, 21.8.1). */
  note(error: ScpiError): void {
    this.#events |= eventOf(error.number);
    if (this.#errors.length < LONGEST_QUEUE) this.#errors.push(error);
    else this.#errors[LONGEST_QUEUE - 1] = new ScpiError(-350);
  }

  takeError(): string {
    return String(this.#errors.shift() ?? '0,"No error"');
  }
}

function eventOf(number: number): number {
  if (number <= -100 && number > -200) return COMMAND_ERROR;
  if (number <= -200 && number > -300) return EXECUTION_ERROR;
  if (number <= -400 && number > -500) return QUERY_ERROR;
  return DEVICE_ERROR;
}
