import type { StudyChoice } from '../../core/study/studyPlan.ts';

/** How the order of a study came about, so that anybody can draw it again. */
export function orderWords({ design, operators, seed }: StudyChoice): string {
  const random =
    design === 'crossed'
      ? 'repeat by repeat, operators and pieces at random'
      : 'session by session, repeat by repeat, pieces at random';
  return `Order of the readings: ${random}, from seed ${seed}. ${design === 'crossed' ? 'Operators' : 'Operator'}: ${operators.join(', ')}.`;
}
