import Big from 'big.js';
import type { Reading, Run } from '../../core/inspection/run.ts';
import { plain } from '../../core/quantity/decimal.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { degreesOfFreedomOf, probabilityWrong, standardOhms } from '../../core/uncertainty/risk.ts';
import { testUncertaintyRatio } from '../../core/uncertainty/testUncertaintyRatio.ts';
import { guardOhms } from '../../core/window/decisionRule.ts';
import { conforms } from '../../core/window/judge.ts';
import type { Window } from '../../core/window/window.ts';
import type { FigureRow } from '../figureRows/figureRows.tsx';
import { VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { acceptanceText, ruleWords } from '../words/decision.ts';
import { figureText } from '../words/figures.ts';
import { limitText } from '../words/ohms.ts';
import { probabilityText } from '../words/probability.ts';
import { wrongOf } from '../words/uncertainty.ts';

const RULE_SOURCE = 'ILAC-G8:09/2019, 4.2';
const shown = (ohms: string) => formatOhms(ohms).replace(' ', '\u00a0');

/** What the verdict of a reading is worth: ratio, rule, where the value lies, and how probably the verdict is wrong. */
export function verdictRows(run: Run, reading: Reading): FigureRow[] {
  return [
    ...ratioRow(run.window, reading),
    ...ruleRows(run, reading),
    ...placeRows(run.window, reading),
    ...wrongRows(run.window, reading),
  ];
}

function ratioRow(window: Window, { uncertainty }: Reading): FigureRow[] {
  const found = testUncertaintyRatio(window, uncertainty?.expandedOhms ?? null);
  if (!found?.ratio) return [];
  return [
    {
      name: 'Test uncertainty ratio',
      value: `${found.ratio} : 1`,
      words: found.warning ?? `${toleranceOfRatio(window)} over U; 4 is commonly asked for`,
      source: 'common practice 4 : 1; the term is that of ANSI/NCSL Z540.3-2006',
    },
  ];
}

/** A window of one limit has no tolerance: what is put in its place is said (core/uncertainty/testUncertaintyRatio.ts). */
function toleranceOfRatio({ lower, upper }: Window): string {
  return lower === null || upper === null ? 'one limit gives no tolerance; half of the limit' : 'tolerance';
}

function ruleRows({ window, decision }: Run, { uncertainty }: Reading): FigureRow[] {
  const rule = { name: 'Decision rule', value: ruleWords(decision), source: RULE_SOURCE };
  if (decision.rule === 'simple-acceptance') {
    return [{ ...rule, words: `inside the window is a pass, limits included; U has no part in it` }];
  }
  const expanded = uncertainty?.expandedOhms ?? null;
  if (expanded === null) {
    return [{ ...rule, words: 'without U there is no guard band; only what is outside the window was judged' }];
  }
  const width = shown(plain(guardOhms(decision, expanded)));
  return [
    { ...rule, words: `w = ${decision.guardFactor} · ${shown(expanded)} = ${width}` },
    {
      name: 'Acceptance limits',
      value: acceptanceText(window, decision, expanded) ?? '',
      words: 'the window less a guard band at each limit',
      source: 'ILAC-G8:09/2019, 4.2.2',
    },
  ];
}

function placeRows(window: Window, { ohms, uncertainty }: Reading): FigureRow[] {
  if (ohms === null) return [];
  const expanded = Number(uncertainty?.expandedOhms ?? 0);
  const row = (name: string, inside: Big): FigureRow => {
    const times = expanded > 0 ? `, ${figureText(Math.abs(Number(inside)) / expanded, 2)} times U` : '';
    return {
      name,
      value: shown(plain(inside.abs())),
      words: inside.lt(0)
        ? `outside it${times}`
        : inside.eq(0)
          ? 'exactly on it, which is inside'
          : `inside it${times}`,
    };
  };
  return [
    ...(window.lower === null
      ? []
      : [row(`From the lower limit ${limitText(window.lower, window)}`, new Big(ohms).minus(window.lower))]),
    ...(window.upper === null
      ? []
      : [row(`From the upper limit ${limitText(window.upper, window)}`, new Big(window.upper).minus(ohms))]),
  ];
}

function wrongRows(window: Window, reading: Reading): FigureRow[] {
  const { ohms, uncertainty, verdict } = reading;
  const wrong = wrongOf(reading, window);
  if (wrong === null || ohms === null || uncertainty === null) return [];
  const beyond = (limits: Pick<Window, 'lower' | 'upper'>) =>
    tailText(probabilityWrong(true, ohms, standardOhms(uncertainty), limits, degreesOfFreedomOf(uncertainty)));
  const tails = [
    window.lower !== null &&
      `below ${limitText(window.lower, window)}: ${beyond({ lower: window.lower, upper: null })}`,
    window.upper !== null &&
      `above ${limitText(window.upper, window)}: ${beyond({ lower: null, upper: window.upper })}`,
  ].filter((text) => text !== false);
  const said = VERDICT_WORDS[verdict].toLowerCase();
  return [
    {
      name: 'This verdict is wrong with',
      value: tailText(wrong),
      words: conforms(verdict)
        ? `probability: it says ${said}, and so often the true value is outside the window all the same`
        : `probability: it says ${said}, and so often the true value is inside the window all the same`,
      source: 'JCGM 106:2012, 3.3.13 and 3.3.14, t, or normal, with u = U/k',
    },
    {
      name: 'True value outside the window',
      value: tails.join('; '),
      words: 'by this one reading, nothing else being known of the piece',
      source: 'JCGM 106:2012, 7.2 to 7.4, both tails',
    },
  ];
}

/** A tail of a normal distribution has an end only in the computer's arithmetic: it is small, and never nothing. */
function tailText(probability: number): string {
  return probabilityText(Math.max(probability, Number.MIN_VALUE));
}
