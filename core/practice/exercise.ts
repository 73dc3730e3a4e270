import * as z from 'zod';
import { type LotClaim, lotClaim } from '../inspection/lotClaim.ts';
import { namedText } from '../inspection/text.ts';
import { PRACTICE_CAUSES } from './practiceCause.ts';

/** Counted up when files of before cannot be read any more. */
export const EXERCISE_FORMAT = 1;

/** What is scored, and how many points each is worth unless the exercise says otherwise. Time is the least of it. */
export const MARKS = {
  'bench shown ready': 20,
  'pieces judged right': 30,
  'nothing on suspect readings': 10,
  'cause named': 20,
  'lot decided right': 15,
  time: 5,
} as const;
export type MarkName = keyof typeof MARKS;

const points = z.number().int().min(0).max(100);
const paragraph = z.string().trim().min(1).max(2000);
/** Decided in one of these ways the lot is decided right; a study can only be closed. */
const disposition = z.enum(['accepted', 'not-accepted', 'on-hold', 'studied']);

/** What is not to be known before the debrief. */
export const exerciseTruth = z.strictObject({
  /** What lies on the simulated bench (instruments/bench/scenario.ts), checked where the bench is laid out. */
  scenario: z.record(z.string(), z.unknown()),
  /** Of a study: how far the contacts of each operator scatter, in ohms, by the order of their names. */
  contactOhmsOf: z.array(z.number().min(0).max(100)).max(20).default([]),
  /** Any of them is right. */
  causes: z.array(z.enum(PRACTICE_CAUSES)).min(1),
  /** Any of these numbers is right, where a number is asked for. */
  which: z.array(z.number().int().positive()).default([]),
  dispositions: z.array(disposition).min(1),
  /** What it was and what to remember of it. */
  explained: paragraph,
});
export type ExerciseTruth = z.output<typeof exerciseTruth>;

const open = z.strictObject({
  format: z.literal(EXERCISE_FORMAT),
  /** Short, in small letters with hyphens; one of this name in the user's own folder takes the place of a shipped one. */
  name: z
    .string()
    .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'expected small letters, digits and hyphens')
    .max(60),
  title: namedText,
  /** 1 for a first day, 3 for those who know the job. */
  level: z.number().int().min(1).max(3),
  aim: paragraph,
  /** What is told before it begins. */
  task: paragraph,
  /** Who takes longer loses points for time. */
  minutes: z.number().min(1).max(600),
  /** What number goes with the cause, where one is asked for. */
  asks: z.enum(['piece', 'operator']).nullable().default(null),
  points: z.partialRecord(z.enum(Object.keys(MARKS) as MarkName[]), points).default({}),
  /** As for `receive-lot`, without who inspects it. */
  lot: lotClaim.omit({ inspector: true }),
});

/** An exercise as an instructor writes it. */
export const plainExercise = open.extend({ truth: exerciseTruth });
/** An exercise as it is handed out: what is true is sealed. `digest` is SHA-256 (hex) of the whole exercise. */
export const sealedExercise = open.extend({
  sealed: z.string().min(1).max(100_000),
  digest: z.string().regex(/^[0-9a-f]{64}$/),
});

export type PlainExercise = z.output<typeof plainExercise>;
export type SealedExercise = z.output<typeof sealedExercise>;
/** What may be known of an exercise before it is done. */
export type OpenExercise = z.output<typeof open>;

/** The lot of an exercise as it is received by somebody. */
export function claimFor({ lot }: Pick<OpenExercise, 'lot'>, trainee: string): LotClaim {
  return { ...lot, inspector: trainee };
}

/** What a mark of this exercise is worth. */
export function pointsOf({ points }: Pick<OpenExercise, 'points'>, mark: MarkName): number {
  return points[mark] ?? MARKS[mark];
}
