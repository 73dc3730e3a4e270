import type { PartInput } from '../../core/part/part.ts';

/** Value and tolerance of a part as they were entered, like `4k7, 1 %`; the limits alone where there is no nominal value. */
export function valueWords({ nominal = '', tolerance }: PartInput): string {
  return nominal === '' ? tolerance : `${nominal}, ${tolerance}`;
}

/** The plan of a part, short: `AQL 1.0, level II`, or `20 pieces, none accepted`. */
export function planWords({ plan }: PartInput): string {
  if (plan === undefined || 'aql' in plan) return `AQL ${plan?.aql ?? '1.0'}, level ${plan?.level ?? 'II'}`;
  return `${plan.sampleSize} pieces, ${plan.accept === 0 ? 'none' : plan.accept} accepted`;
}
