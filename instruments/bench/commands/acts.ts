import type { PracticeAct } from '../../../core/practice/practiceAct.ts';
import { BENCH_ACTS } from '../benchActs.ts';
import type { Command } from './command.ts';
import { oneOf } from './parameters.ts';

const WORDS = Object.fromEntries(Object.entries(BENCH_ACTS).map(([act, { word }]) => [word, act])) as Record<
  string,
  PracticeAct
>;

/**
 * What somebody does at the bench beside putting the probes on pieces, which no meter has commands for:
 *
 *     BENCh:ACT LIFT|CLIPs|DISCharge|LEADs|WARM
 *
 * lifts one end of each piece out of its circuit, takes the hands off the tips, switches the part off and discharges it, changes the
 * leads, lets the meter warm up. `BENCh:ACT?` answers what was done last, or NONE.
 */
export const acts: readonly Command[] = [
  {
    header: 'BENCh:ACT',
    parameters: [1, 1],
    run: (b, [act]) => b.act(WORDS[oneOf(act, Object.keys(WORDS))] as PracticeAct),
  },
  {
    header: 'BENCh:ACT?',
    parameters: [0, 0],
    run: (b) => (b.acted === null ? 'NONE' : BENCH_ACTS[b.acted].word.replace(/[a-z]/g, '')),
  },
];
