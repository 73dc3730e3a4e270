import type { DecimalText } from '../../core/quantity/decimal.ts';
import type { Measured } from '../../core/window/judge.ts';
import type { MeterFunction } from './dialect.ts';
import type { Hands } from './hands.ts';
import type { Identity } from './identity.ts';

export type { MeterFunction } from './dialect.ts';
export type { Hands } from './hands.ts';
export type { Identity } from './identity.ts';

export interface MeterSetting {
  function: '2-wire' | '4-wire';
  /** A fixed range is asked for by a value it must cover, in ohms. */
  range: 'auto' | { coversOhms: string };
  /** Integration time in cycles of the mains. */
  integrationCycles: number;
}

/** The setting as the meter itself reports it, or as its dialect has it where the meter can't be told. */
export interface MeterSettingFound {
  function: '2-wire' | '4-wire';
  range: 'auto' | 'fixed';
  /** Full scale of the range in use, in ohms; null if an auto-ranging meter does not say. */
  rangeOhms: string | null;
  integrationCycles: string;
}

/**
 * One reading. `raw` is its number in ohms as SCPI writes numbers; where the meter sends another unit it is the same
 * digits with the exponent moved, where it sends a word for overload it is infinity. `said` is the meter's whole line.
 */
export type Reading = Measured & { said: string };

/** One reading of another function: volts, degrees Celsius or ohms. */
export interface OtherReading {
  raw: string;
  /** Null for overload. */
  value: DecimalText | null;
  said: string;
}

export interface Meter {
  readonly identity: Identity;
  /** Name of the dialect it is spoken to in. */
  readonly dialect: string;
  /** What it can measure, as its dialect says. */
  readonly measures: readonly MeterFunction[];
  /** Its function and range are set by a person's hands; nothing of that can be told or asked. */
  readonly isSetByHand: boolean;
  /** Whether it can be told to take a reading when its own trigger comes: a button or foot switch at its input for that. */
  readonly hasTrigger: boolean;
  /** The hands of a simulated bench; null where a person's hands do it. */
  readonly hands: Hands | null;
  /** Who answers now; of a meter that cannot be asked what is known of it. @throws {Problem} those of `Session.ask` */
  askIdentity(): Promise<string>;
  /**
   * Sets the meter and checks by its own words that it took the setting.
   * @throws {Problem} function-missing, meter-error, setting-not-taken, answer-unreadable, meter-restarted, and those of
   *   `Session.ask`; of a talker function-changed and meter-silent
   */
  configure(setting: MeterSetting): Promise<MeterSettingFound>;
  /**
   * Takes one reading with the function and range it was set to. After a failure that leaves the setting in doubt the
   * meter is set and checked anew first.
   * @throws {Problem} meter-restarted, function-changed, meter-error, answer-unreadable, answer-not-a-number,
   *   setting-not-taken, meter-silent, meter-lost, and the others of `Session.ask`
   */
  read(): Promise<Reading>;
  /**
   * Takes one reading as `read` does, as it is: overload on a fixed range stays overload, whether nothing conducts or too
   * little. Of a talker it is the next whole line, wherever the piece was when that began.
   */
  glance(): Promise<Reading>;
  /** As `glance`, on the range the meter chooses itself; the fixed range is set back and checked. */
  glanceOnAnyRange(): Promise<Reading>;
  /**
   * Takes one reading when the meter's own trigger comes, as it is; then readings begin at once again. Null if the signal
   * comes first, or together with it.
   * @throws {Problem} trigger-missing, and those of `read`
   */
  awaitTrigger(signal: AbortSignal): Promise<Reading | null>;
  /**
   * Takes one reading of another function on automatic range. The setting for the job is made anew before the next
   * `read`.
   * @throws {Problem} function-missing, and those of `read`
   */
  readOther(wanted: MeterFunction): Promise<OtherReading>;
  /** Gives the meter back to its front panel and frees the port. Never hangs. */
  close(): Promise<void>;
}
