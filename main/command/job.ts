import type { Run } from '../../core/inspection/run.ts';
import type { Station } from '../station/station.ts';
import type { Person } from './person.ts';
import type { Progress } from './progress.ts';

export interface InspectOptions {
  meter: string;
  goOn?: string;
  certificate?: string;
  decimalComma?: boolean;
  confirmCautions?: boolean;
  reference?: string;
  withoutReference?: string;
  ambient?: string;
  overrideCalibration?: string;
  wait: string;
  json?: boolean;
  data?: string;
}

/** One inspection from the command line, and who takes part in it. */
export interface Job {
  readonly station: Station;
  readonly number: number;
  readonly options: InspectOptions;
  readonly waitMilliseconds: number;
  readonly person: Person;
  readonly say: Progress;
  /** Given when the inspection is to end before its time. */
  readonly stop: AbortSignal;
  /** The run as it stands now. */
  run: Run;
  /** Resolves at the next news, or after a time. */
  news(milliseconds: number): Promise<void>;
}
