import Big from 'big.js';
import * as z from 'zod';
import { problem } from '../problem/problem.ts';
import { type DecimalText, decimalText, plain } from '../quantity/decimal.ts';
import { formatOhms } from '../quantity/formatOhms.ts';
import { meterNumber } from '../quantity/meterNumber.ts';

/** The checks of leads and harness, in the order they must pass; a whole round of them stands before the readings and after. */
export const LEAD_CHECKS = ['no-voltage', 'open-leads', 'shorted-leads'] as const;
export type LeadCheckName = (typeof LEAD_CHECKS)[number];

export const LEAD_CHECK_WORDS: Record<LeadCheckName, string> = {
  'no-voltage': 'no voltage between the probes',
  'open-leads': 'leads open',
  'shorted-leads': 'leads shorted, their zero',
};

export const leadShown = z.object({ what: z.enum(['dc-volts', '2-wire', 'word']), raw: z.string() });
/** One thing that was shown in a check: what, and the very text of it. */
export type LeadShown = z.infer<typeof leadShown>;

/** `by-word`: the meter cannot show it, and whoever stands there said so. */
export const leadOutcome = z.enum(['passed', 'failed', 'by-word']);

export const leadJudged = z.object({
  outcome: leadOutcome,
  /** How it came out, in words and figures, and where it failed what to do. */
  why: z.string(),
  /** Of shorted leads that passed: the zero from now on. */
  zeroOhms: decimalText.nullable(),
});
export type LeadJudged = z.infer<typeof leadJudged>;

/** What somebody gives the word for where the meter measures no volts. */
export const NO_VOLTAGE_WORD = 'no voltage between the probes, by the word of the operator';

// Our choices: what good leads and clean tips show.
const MOST_VOLTS = '0.010';
const MOST_SHORTED_OHMS = '1';
const MOST_SPREAD_OHMS = '0.05';
export const SHORTED_READINGS = 3;
/** So much the zero of the leads may move from one check to the next; every value is taken to be uncertain by it. */
export const LEAD_CHANGE_OHMS = '0.1';

/** What a check is judged against. */
export interface LeadsBefore {
  /** Whether the meter measures DC volts. */
  measuresVolts: boolean;
  /** The zero that was subtracted from the readings this check is to prove; null where there are none. */
  zeroOhms: DecimalText | null;
}

/**
 * Judges one check from the meter's very texts.
 * @throws problems check-incomplete, check-must-be-measured, answer-unreadable, answer-not-a-number
 */
export function judgeLeads(check: LeadCheckName, shown: readonly LeadShown[], before: LeadsBefore): LeadJudged {
  switch (check) {
    case 'no-voltage':
      return judgeVoltage(shown, before);
    case 'open-leads':
      return judgeOpen(shown);
    case 'shorted-leads':
      return judgeShorted(shown, before);
  }
}

function judgeVoltage(shown: readonly LeadShown[], { measuresVolts }: LeadsBefore): LeadJudged {
  const readings = valuesOf(shown, 'dc-volts');
  if (readings.length === 0) {
    if (!shown.some(({ what }) => what === 'word')) {
      throw problem('check-incomplete', 'no-voltage', 'a reading of DC volts, or the word of whoever stands there');
    }
    if (measuresVolts) throw problem('check-must-be-measured', 'no-voltage');
    return {
      outcome: 'by-word',
      why: 'not measured: the meter has no DC volts, and the operator says that nothing is live',
      zeroOhms: null,
    };
  }
  const bad = readings.find((volts) => volts === null || volts.abs().gt(MOST_VOLTS));
  if (bad !== undefined) {
    return failed(
      bad === null ? 'more DC volts between the probes than the meter reads' : `${plain(bad)} V DC between the probes`,
      'Stop. Have the wiring de-energised, isolated and discharged by whoever may do it, under local rules, and look for where the voltage comes from',
    );
  }
  const most = readings.reduce<Big>((high, volts) => (volts?.abs().gt(high) ? volts.abs() : high), new Big(0));
  return passed(
    `no more than ${plain(most.times(1000).round(3, Big.roundUp))} mV DC between the probes when it was measured`,
  );
}

function judgeOpen(shown: readonly LeadShown[]): LeadJudged {
  const readings = shown.filter(({ what }) => what === '2-wire');
  const values = valuesOf(shown, '2-wire');
  if (readings.length === 0) throw problem('check-incomplete', 'open-leads', 'a 2-wire reading');
  if (readings.some(({ raw }, index) => values[index] === null && raw.trimStart().startsWith('-'))) {
    return failed('overload below zero with open leads', 'Look for a voltage on the leads');
  }
  const value = values.find((one) => one !== null);
  if (!value) return passed('overload with open leads');
  return failed(
    `${formatOhms(value)} with open leads instead of overload`,
    'Hold the tips apart and off everything, fingers and wiring too; if it stays, look for dirt or damage in leads and sockets',
  );
}

function judgeShorted(shown: readonly LeadShown[], { zeroOhms }: LeadsBefore): LeadJudged {
  const values = valuesOf(shown, '2-wire');
  if (values.length < SHORTED_READINGS) {
    throw problem('check-incomplete', 'shorted-leads', `${SHORTED_READINGS} 2-wire readings`);
  }
  const read = values.filter((value) => value !== null).sort((a, b) => a.cmp(b));
  if (read.length < values.length) {
    return failed('overload with shorted leads', 'Look for a broken lead, a loose plug, a tip that does not touch');
  }
  const [lowest, highest] = [read[0] as Big, read.at(-1) as Big];
  const median = read[Math.floor(read.length / 2)] as Big;
  if (lowest.lt(new Big(MOST_SPREAD_OHMS).neg())) {
    return failed(
      `${formatOhms(lowest)} with shorted leads, below zero`,
      'Look for a voltage on the leads, and for a zero that was set on the meter itself',
    );
  }
  if (highest.gt(MOST_SHORTED_OHMS)) {
    return failed(
      `${formatOhms(highest)} with shorted leads, more than ${formatOhms(MOST_SHORTED_OHMS)}`,
      'Clean and tighten plugs and tips, or take better leads',
    );
  }
  if (highest.minus(lowest).gt(MOST_SPREAD_OHMS)) {
    return failed(
      `${formatOhms(lowest)} to ${formatOhms(highest)} with shorted leads: not steady within ${formatOhms(MOST_SPREAD_OHMS)}`,
      'Hold the tips firmly; clean and tighten plugs and tips; look for a lead that breaks when it is moved',
    );
  }
  if (zeroOhms !== null && median.minus(zeroOhms).abs().gt(LEAD_CHANGE_OHMS)) {
    return failed(
      `${formatOhms(median)} with shorted leads, and ${formatOhms(zeroOhms)} when the readings since were taken: more than ${formatOhms(LEAD_CHANGE_OHMS)} apart`,
      'Clean and tighten plugs and tips; the readings since the last good checks are taken again',
    );
  }
  return {
    ...passed(`${formatOhms(median)} with shorted leads, ${values.length} readings; subtracted from now on`),
    zeroOhms: plain(median),
  };
}

function passed(why: string): LeadJudged {
  return { outcome: 'passed', why, zeroOhms: null };
}

function failed(why: string, toDo: string): LeadJudged {
  return { outcome: 'failed', why: `${why}. ${toDo}`, zeroOhms: null };
}

/** What was read of one kind; null for overload. @throws problems answer-unreadable, answer-not-a-number */
function valuesOf(shown: readonly LeadShown[], wanted: LeadShown['what']): (Big | null)[] {
  return shown
    .filter(({ what }) => what === wanted)
    .map(({ raw }) => {
      const number = meterNumber(raw);
      if (number === null) throw problem('answer-unreadable', 'the question for a reading', raw);
      if (number.kind === 'not-a-number') throw problem('answer-not-a-number', 'the question for a reading');
      return number.kind === 'overload' ? null : new Big(number.text);
    });
}
