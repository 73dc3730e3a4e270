import type { DecimalText } from '../../core/quantity/decimal.ts';
import type { TemperatureFacts } from '../../core/uncertainty/temperatureFacts.ts';
import { acceptanceLimits, type DecisionRule, guardOhms, type Rule } from '../../core/window/decisionRule.ts';
import { type Window, widthOf } from '../../core/window/window.ts';
import { windowText } from './ohms.ts';

/** The decision rules by name (ILAC-G8:09/2019, 4.2). */
export const RULE_WORDS: Record<Rule, string> = {
  'simple-acceptance': 'Simple acceptance',
  'guard-band': 'Guard bands',
  'non-binary': 'Guard bands with conditional verdicts',
};

/** The rule of a lot with the width of its guard bands, like `Guard bands of 0.83 U`. */
export function ruleWords({ rule, guardFactor }: Pick<DecisionRule, 'rule' | 'guardFactor'>): string {
  switch (rule) {
    case 'simple-acceptance':
      return RULE_WORDS[rule];
    case 'guard-band':
      return `Guard bands of ${guardFactor}\u00a0U`;
    case 'non-binary':
      return `Guard bands of ${guardFactor}\u00a0U with conditional verdicts`;
  }
}

/**
 * Between which values a piece passes without condition, like `4.655 kΩ to 4.745 kΩ`; null with simple acceptance, where the
 * window says it, and while U is not known.
 * @param expandedOhms U of a reading; null where it is not known
 */
export function acceptanceText(
  window: Window,
  decision: DecisionRule,
  expandedOhms: DecimalText | null,
): string | null {
  if (decision.rule === 'simple-acceptance' || expandedOhms === null) return null;
  const guard = guardOhms(decision, expandedOhms);
  const meet = window.lower !== null && window.upper !== null && guard.times(2).gt(widthOf(window));
  if (meet) return 'nowhere: the guard bands meet';
  return windowText({ ...window, ...acceptanceLimits(window, guard) });
}

/** At what temperature values are given, and what is known of the part's coefficient. */
export function temperatureWords({ referenceCelsius, coefficient }: TemperatureFacts): string {
  const at = `${referenceCelsius}\u00a0°C`;
  switch (coefficient.kind) {
    case 'unknown':
      return `for ${at}, coefficient not known`;
    case 'known':
      return `brought to ${at} by ${coefficient.ppmPerKelvin}\u00a0±\u00a0${coefficient.uncertaintyPpmPerKelvin}\u00a0ppm/K`;
    case 'limit':
      return `for ${at}, coefficient within ±${coefficient.ppmPerKelvin}\u00a0ppm/K`;
  }
}
