import { applyContinuity } from '../../../core/continuity/apply.ts';
import { CONTINUITY_CAUTIONS } from '../../../core/continuity/continuityCautions.ts';
import { continuityClaim, continuityFactsOf } from '../../../core/continuity/continuityClaim.ts';
import { areChecksDue, type ContinuityRun, leadCheckDue, nextPoint } from '../../../core/continuity/continuityRun.ts';
import { type ContinuityCommand, decideContinuity } from '../../../core/continuity/decide.ts';
import type { LeadCheckName, LeadShown } from '../../../core/continuity/leadCheck.ts';
import type { Point } from '../../../core/continuity/point.ts';
import type { MeterFacts } from '../../../core/inspection/event.ts';
import { Problem } from '../../../core/problem/problem.ts';

export const AT = '2026-11-27T10:00:00+01:00';
export const OPEN = '+9.90000000E+37';

/** A meter of the kind bench meters are, invented. */
export const METER: MeterFacts = {
  address: 'tcp://127.0.0.1:5025',
  identity: { maker: 'X', model: 'Y', serial: '1', firmware: '1', text: 'X,Y,1,1', simulated: false },
  setting: { function: '2-wire', range: 'fixed', rangeOhms: '100', integrationCycles: '1' },
  dialect: 'scpi',
  setByHand: false,
  measures: ['2-wire', '4-wire', 'dc-volts'],
  data: {
    calibration: { date: '2026-06-01', due: '2027-06-01', certificate: 'C-1', by: '' },
    validDays: 365,
    ambient: { lowest: '18', highest: '28' },
    ranges: ['100', '1000', '10000', '100000', '1000000', '10000000', '100000000'].map((fullScaleOhms) => ({
      method: 'both' as const,
      fullScaleOhms,
      percentOfReading: '0.01',
      plus: { percentOfRange: '0.005' },
      perKelvin: null,
      testCurrentAmperes: null,
    })),
  },
};

/** What the leads of this bench show. */
const GOOD: Record<LeadCheckName, LeadShown[]> = {
  'no-voltage': [{ what: 'dc-volts', raw: '+1.2E-05' }],
  'open-leads': [{ what: '2-wire', raw: OPEN }],
  'shorted-leads': ['+0.1001E+00', '+0.1002E+00', '+0.1003E+00'].map((raw) => ({ what: '2-wire' as const, raw })),
};

/** A run in the hand: every command goes through `decide`, every event through `apply`. */
export class Bench {
  run: ContinuityRun | null = null;

  constructor(csv: string, more: object = {}) {
    const claim = continuityClaim.parse({ inspector: 'Ines Okoro', title: 'Door harness', csv, ...more });
    this.do({ type: 'receive', facts: continuityFactsOf(claim) });
  }

  get now(): ContinuityRun {
    if (!this.run) throw new Error('there is no run');
    return this.run;
  }

  do(command: ContinuityCommand): this {
    const outcome = decideContinuity(this.run, command, AT);
    if (outcome instanceof Problem) throw outcome;
    for (const event of outcome) this.run = applyContinuity(this.run, event);
    return this;
  }

  connect(meter = METER): this {
    this.do({ type: 'connect-meter', meter });
    return this.do({ type: 'confirm-cautions', by: 'Ines Okoro', cautions: CONTINUITY_CAUTIONS });
  }

  /** The rest of the round, or a new one. */
  check(shown: Partial<typeof GOOD> = {}): this {
    do {
      const check = leadCheckDue(this.now);
      this.do({ type: 'check-leads', by: 'Ines Okoro', check, shown: { ...GOOD, ...shown }[check] });
      if (this.now.round.length === 0 || this.now.round.at(-1) !== check) break;
    } while (this.now.round.length < 3);
    return this;
  }

  read(point: number, raw: string, range: 'set' | 'automatic' = raw === OPEN ? 'automatic' : 'set'): this {
    return this.do({ type: 'record-point', point, by: 'asked', measured: { raw, range } });
  }

  /** Goes through all that is left, as the wiring has it, with the checks that are due. */
  all(ohmsOf: (point: Point) => string): this {
    for (let point = nextPoint(this.now); point; point = nextPoint(this.now)) {
      if (areChecksDue(this.now)) this.check();
      this.read(point.point, ohmsOf(point));
    }
    return this.check();
  }
}

/** A wiring as somebody made it: which terminals really are connected. */
export function wiring(joined: readonly (readonly [string, string])[]): (point: Pick<Point, 'from' | 'to'>) => string {
  const reach = (from: string): Set<string> => {
    const found = new Set([from]);
    for (let size = 0; size !== found.size; ) {
      size = found.size;
      for (const [a, b] of joined) {
        if (found.has(a)) found.add(b);
        if (found.has(b)) found.add(a);
      }
    }
    return found;
  };
  return ({ from, to }) => (reach(from).has(to) ? '+0.30500E+00' : OPEN);
}
