import type { PartInput } from '../../core/part/part.ts';

/** Value and tolerance of a part as they were entered, like `4k7, 1 %`; the limits alone where there is no nominal value. */
export function valueWords({ nominal = '', tolerance }: PartInput): string {
  return nominal === '' ? tolerance : `${nominal}, ${tolerance}`;
}

/** The plan of a part, short: `AQL 1.0, level II`, or `20 pieces, none accepted`. */
export function planWords({ plan }: PartInput): string {
  if (plan === undefined || 'aql' in plan) return `AQL ${plan?.aql ?? '1.0'}, level ${plan?.level ?? 'II'}`;
  if ('zeroAcceptance' in plan) return `none accepted, refuses ${plan.zeroAcceptance.refusedPercent} %`;
  if ('twoPoint' in plan)
    return `accepts ${plan.twoPoint.acceptedPercent} %, refuses ${plan.twoPoint.refusedPercent} %`;
  if ('everyPiece' in plan) return `every piece, ${acceptedWords(plan.everyPiece.accept ?? 0)}`;
  if ('sampleSize' in plan) return `${plan.sampleSize} pieces, ${acceptedWords(plan.accept)}`;
  const { variables } = plan;
  return 'aql' in variables
    ? `by variables, AQL ${variables.aql}, level ${variables.level ?? 'IV'}`
    : `by variables, accepts ${variables.acceptedPercent} %, refuses ${variables.refusedPercent} %`;
}

const acceptedWords = (accept: number) => `${accept === 0 ? 'none' : accept} accepted`;
