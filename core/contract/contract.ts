import * as z from 'zod';
import { type MeterData, meterData } from '../accuracy/meterData.ts';
import { FORMS } from '../certificate/form.ts';
import { type ContinuityPreview, continuityClaim } from '../continuity/continuityClaim.ts';
import { type ContinuityEvent, continuityDisposition } from '../continuity/event.ts';
import { LEAD_CHECKS } from '../continuity/leadCheck.ts';
import type { ComparedSources } from '../drift/stress.ts';
import { CORRECTABLE, type Disposition, dispositions, type InspectionEvent } from '../inspection/event.ts';
import { lotClaim, type Series } from '../inspection/lotClaim.ts';
import type { Outlook } from '../inspection/outlook.ts';
import type { PackedReadings } from '../inspection/packedReadings.ts';
import type { PackedHead } from '../inspection/packedRun.ts';
import { PAGE } from '../inspection/readings.ts';
import type { Step } from '../inspection/run.ts';
import type { StoryLine } from '../inspection/story.ts';
import { lineOfText, namedText } from '../inspection/text.ts';
import { type PartInput, part } from '../part/part.ts';
import type { PartsPreview } from '../part/partsPreview.ts';
import type { OpenExercise } from '../practice/exercise.ts';
import { PRACTICE_ACTS } from '../practice/practiceAct.ts';
import { PRACTICE_CAUSES } from '../practice/practiceCause.ts';
import type { PracticeResult } from '../practice/practisedRun.ts';
import type { ProblemText } from '../problem/problem.ts';
import type { Progress } from '../progress/progress.ts';
import { decimalText } from '../quantity/decimal.ts';
import { checkName, type ReferenceFacts, referenceFacts } from '../readiness/check.ts';
import { STANDARDS } from '../sampling/singlePlan.ts';
import type { Study } from '../study/study.ts';
import type { ContinuityLink, ContinuityList, Stepping } from './continuity.ts';
import { type History, type HistoryNames, historyFilters, historyQuestion } from './history.ts';
import { type CaptureStarted, type Continuity, captureOverrides, type Live, liveBy } from './live.ts';
import type { LotTrends } from './lotTrends.ts';
import type { RecordEvent } from './recordEvent.ts';

export type { ContinuityLink, ContinuityList, ContinuityListed, Stepping, SteppingPhase } from './continuity.ts';
export type { History, HistoryRow } from './history.ts';
export type { CaptureOverrides, CaptureStarted, Continuity, Live, LiveBy, LiveOutcome, LivePhase } from './live.ts';

const run = z.number().int().positive();

/**
 * With a name, work that may take its time is told as it goes on, and can be stopped by `stop-work`: it then ends with the problem
 * work-stopped and has changed nothing.
 */
const mayTakeTime = { work: namedText.optional() };

/** Most characters of a file that is handed over as text. */
const MOST_CSV = 2_000_000;
const csv = z.string().max(MOST_CSV, 'the file is too long');

/** Most characters of a file of parts: far more than 20 000 of them need. */
const MOST_PARTS_CSV = 10_000_000;
const partsCsv = z.string().max(MOST_PARTS_CSV, 'the file is too long');

/** Numbered pieces and their values: those of a run, or those of a CSV file (core/drift/importPieces.ts). */
const series = z.union([z.strictObject({ run }), z.strictObject({ name: namedText, csv })]);

/** The same pieces before and after a treatment. */
const stress = z.strictObject({
  ...mayTakeTime,
  before: series,
  after: series,
  /** What was done to the pieces between: heat, load, solder, storage, or in other words. */
  treatment: namedText,
  /** The most that a piece may change, in the form of IEC 60115-1: `0.25 % + 0.05 ohm`. */
  limit: namedText,
});

/** A study whose readings come from a CSV file (core/study/importStudy.ts). */
const importedStudy = z.strictObject({
  ...mayTakeTime,
  csv,
  title: namedText,
  part: lineOfText.default(''),
  /** Nominal value and tolerance as in a lot's claim; both empty where shares of tolerance are not wanted. */
  nominal: lineOfText.default(''),
  tolerance: lineOfText.default(''),
  /** Known value of the one piece of a single-operator study; empty where there is none. */
  reference: lineOfText.default(''),
  referenceUncertainty: lineOfText.default(''),
});

/**
 * What the screens and the command line can ask of the station: for each request what goes in, checked at the door.
 * What comes back stands in {@link Answers}.
 */
export const requests = {
  /** The station, its latest runs and those to go on with. */
  overview: z.strictObject({}),
  /** Runs by what is known of them, a page at a time. */
  history: historyQuestion,
  /** The parts, suppliers and inspectors there are. */
  'history-names': z.strictObject({}),
  /** How lots went that are looked for: means, spreads, nonconforming, capability, dispositions. */
  'history-trends': historyFilters,
  /** Writes all runs that are looked for as CSV; without a name into the certificate folder. Never over a file. */
  'export-history': z.strictObject({ ...mayTakeTime, filters: historyFilters, file: namedText.optional() }),
  /** Serial ports of this computer. */
  'list-ports': z.strictObject({}),
  /** One run as it stands now, packed (core/inspection/packedRun.ts): all but its readings, and the first pages of these. */
  'open-run': z.strictObject({ ...mayTakeTime, run }),
  /** Further pages of the readings of a run as it was at `position`, after the first `from` of them; as many as the first answer had. */
  'pages-of-run': z.strictObject({
    run,
    position: z.number().int().positive(),
    from: z.number().int().positive().multipleOf(PAGE),
  }),
  /** How inspection of the lots of a part and supplier stands, by the switching rules of a standard, and whether this lot was there before. */
  series: z.strictObject({
    part: namedText,
    supplier: lineOfText.default(''),
    lot: lineOfText.default(''),
    reel: lineOfText.default(''),
    standard: z.enum(STANDARDS).default('MIL-STD-105E'),
  }),
  /** Begins a run with the lot as claimed; its severity is as the switching rules say, where the claim says nothing else. */
  'receive-lot': z.strictObject({ claim: lotClaim }),
  /** The exercises of the practice tray, and what is wrong with files of the user's own. */
  exercises: z.strictObject({}),
  /** Begins a run that is an exercise, with its lot; what is true of it is not told before the debrief. */
  'begin-exercise': z.strictObject({ exercise: namedText, trainee: namedText }),
  /** Of an exercise: does something at the simulated bench beside putting the probes on pieces. */
  'act-at-bench': z.strictObject({ run, act: z.enum(PRACTICE_ACTS) }),
  /** Of an exercise: what the trainee takes for the cause, and where. The last one counts. */
  'name-cause': z.strictObject({
    run,
    cause: z.enum(PRACTICE_CAUSES),
    which: z.number().int().positive().nullable().default(null),
  }),
  /** Gives an exercise its points and ends it, once its lot is decided. */
  debrief: z.strictObject({ run }),
  /** How all exercises went that are in the record. */
  'practice-results': z.strictObject({}),
  /** Connects the meter at an address to a run and sets it for the run's measurement. */
  'connect-meter': z.strictObject({ run, address: namedText }),
  /** Lets the meter of the station go: local control given back, port free. */
  'release-meter': z.strictObject({}),
  'confirm-bench': z.strictObject({ run, by: namedText, cautions: z.array(namedText).min(1) }),
  /**
   * Does one check of the bench: the station measures what it needs and judges it. A check that fails is an entry, too.
   * `celsius` is the ambient temperature as typed, `word` the operator's word that nothing is live where the meter
   * cannot measure volts, `waived` why the check `reference` is done without, `reference` the resistor on the probes.
   */
  'check-bench': z.strictObject({
    ...mayTakeTime,
    run,
    by: namedText,
    check: checkName,
    celsius: decimalText.optional(),
    word: z.literal(true).optional(),
    waived: namedText.optional(),
    reference: referenceFacts.optional(),
  }),
  /** Somebody overrides the calibration of a meter that is overdue or unknown. */
  'override-calibration': z.strictObject({ run, by: namedText, reason: namedText }),
  /** Accuracy and calibration of the meter of a run, as they were entered. */
  'meter-data': z.strictObject({ run }),
  /** Keeps accuracy and calibration for the meter of a run, and connects it anew with them. */
  'save-meter-data': z.strictObject({ run, data: meterData }),
  /** The reference resistors that are known. */
  references: z.strictObject({}),
  /** Keeps a reference resistor, in place of one of the same name. */
  'save-reference': z.strictObject({ reference: referenceFacts }),
  /** All parts of the parts list. */
  parts: z.strictObject({}),
  /** The part that is known by a number. */
  part: z.strictObject({ number: lineOfText }),
  /**
   * Keeps a part. `was`: the number it was known by until now, where it was; `over`: it may take the place of another part of
   * its number.
   */
  'save-part': z.strictObject({ part, was: namedText.optional(), over: z.boolean().default(false) }),
  'remove-part': z.strictObject({ number: namedText }),
  /** What importing a CSV file of parts would do (core/part/partsFile.ts). Nothing is kept. */
  'preview-parts': z.strictObject({ ...mayTakeTime, csv: partsCsv }),
  /**
   * Keeps the good rows of a file of parts, or those that are named, each in place of a part of the same number. `version` is
   * that of the preview: what somebody has confirmed, and nothing else, is done.
   */
  'import-parts': z.strictObject({
    ...mayTakeTime,
    csv: partsCsv,
    version: z.string(),
    rows: z.array(z.number().int()).optional(),
  }),
  /** Writes the parts list as CSV into the certificate folder, under the next free name. */
  'export-parts': z.strictObject({ ...mayTakeTime }),
  /** The dialects that are known, and what is wrong with files of one's own. */
  dialects: z.strictObject({}),
  /** Tries the common settings on one serial port, with the question who is there only. */
  'find-meter': z.strictObject({ path: namedText }),
  'stop-finding': z.strictObject({}),
  /** Reads the piece that is on the probes now. */
  'take-reading': z.strictObject({ run }),
  /**
   * The next piece is taken at another position along the reel than asked for; null where it is not after all. With `piece` only
   * where that is the next one still.
   */
  'say-position': z.strictObject({
    run,
    position: z.number().int().nullable(),
    piece: z.number().int().positive().optional(),
  }),
  /**
   * Pieces are read as they touch the probes, or whenever the meter is triggered, until something ends it. Asked for
   * again while it runs it goes on as it is where the same is asked for, else with what is asked for now.
   */
  'start-capture': z.strictObject({ run, by: liveBy.default('hands'), setting: captureOverrides.default({}) }),
  /** Ends the capture that is on; with a number only while it is that one. */
  'stop-capture': z.strictObject({ capture: z.int().min(1).optional() }),
  /** The piece that is held now is said to be open: overload for a while then counts. */
  'say-open': z.strictObject({ run }),
  /** The meter at an address tells closed from open, without a run; whatever meter the station has is let go first. */
  'start-continuity': z.strictObject({ address: namedText, closedBelowOhms: decimalText.default('10') }),
  'stop-continuity': z.strictObject({}),
  /** What receiving a list of points would give. Nothing is kept. */
  'preview-continuity': z.strictObject({ csv }),
  /** Begins a continuity run with its list (core/continuity/readPointList.ts). */
  'receive-continuity': z.strictObject({ claim: continuityClaim }),
  /** Continuity runs, the latest first; those with all words of a text. */
  'continuity-runs': z.strictObject({
    text: lineOfText.default(''),
    most: z.number().int().min(1).max(500).default(100),
  }),
  /** All entries of a continuity run; whoever asks folds them. */
  'open-continuity': z.strictObject({ run }),
  /** Connects the meter at an address to a continuity run and sets it; whatever meter the station has is let go first. */
  'connect-continuity': z.strictObject({ run, address: namedText }),
  'release-continuity': z.strictObject({}),
  'confirm-continuity': z.strictObject({ run, by: namedText, cautions: z.array(namedText).min(1) }),
  /** Does one check of the leads; one that fails is an entry, too. `word`: nothing is live, where the meter cannot measure volts. */
  'check-continuity': z.strictObject({
    run,
    by: namedText,
    check: z.enum(LEAD_CHECKS),
    word: z.literal(true).optional(),
  }),
  /** Reads the point whose terminals the probes are on now. */
  'read-point': z.strictObject({ run, point: z.number().int().positive() }),
  /** Goes through the points hands-free, from the next one on. */
  'start-stepping': z.strictObject({ run }),
  'stop-stepping': z.strictObject({}),
  /** The probes are held on the point and nothing conducts; with a state: where it waits for a switch, that stands so. */
  'say-now': z.strictObject({ run, state: namedText.optional() }),
  'skip-point': z.strictObject({ run, point: z.number().int().positive(), by: namedText, reason: namedText }),
  'void-point': z.strictObject({ run, reading: z.number().int().positive(), by: namedText, reason: namedText }),
  'decide-continuity': z.strictObject({
    run,
    disposition: continuityDisposition,
    by: namedText,
    reason: lineOfText.default(''),
    approvedBy: namedText.optional(),
  }),
  'lift-continuity-hold': z.strictObject({ run, by: namedText, reason: namedText }),
  /** Writes the certificate, signed, into the certificate folder, under the next free name. */
  'write-continuity': z.strictObject({ run }),
  'void-reading': z.strictObject({ run, reading: z.number().int().positive(), by: namedText, reason: namedText }),
  /** `approvedBy`: the second person, without whom no lot is accepted against its plan. */
  'decide-lot': z.strictObject({
    run,
    disposition: dispositions,
    by: namedText,
    reason: lineOfText.default(''),
    approvedBy: namedText.optional(),
  }),
  /** A lot that was accepted or not accepted is decided otherwise. */
  'correct-decision': z.strictObject({
    run,
    disposition: dispositions.exclude(['studied']),
    by: namedText,
    reason: namedText,
    approvedBy: namedText.optional(),
  }),
  /** Something was typed wrong of the lot, on which neither window nor plan depend. */
  'correct-fact': z.strictObject({ run, fact: z.enum(CORRECTABLE), is: lineOfText, by: namedText, reason: namedText }),
  /** Takes a lot off hold, so that its run goes on. */
  'lift-hold': z.strictObject({ run, by: namedText, reason: namedText }),
  /**
   * Writes the certificate, signed, into the station's certificate folder, with its metadata beside it. Never over a file that is
   * there. `form` is how its numbers are written.
   */
  'write-certificate': z.strictObject({ ...mayTakeTime, run, form: z.enum(FORMS).default('dot') }),
  /** The text of the certificate that was written last for this run. */
  'read-certificate': z.strictObject({ run }),
  /** All that happened in a run, from its entries in the record, each of which is checked (core/inspection/story.ts). */
  'story-of-run': z.strictObject({ ...mayTakeTime, run }),
  /** All lots of the part and supplier of a run, in the order they were received, with the figures of each. */
  'lot-history': z.strictObject({ ...mayTakeTime, run }),
  /** Compares the same pieces before and after a treatment. */
  'compare-stress': stress,
  /** Writes that comparison into the certificate folder. */
  'write-stress': stress.extend({ by: namedText }),
  /** Works out a study whose readings come from a file. */
  'import-study': importedStudy,
  /** Writes that study into the certificate folder. */
  'write-study': importedStudy.extend({ by: namedText }),
  /** Where the record is, how large, and how it was found when it was last checked whole. */
  'record-facts': z.strictObject({}),
  /** Checks every entry of the record, and the file it is in; readings are taken meanwhile. */
  'check-record': z.strictObject({ ...mayTakeTime }),
  /** Copies the record as it is now into a file, and checks the copy; without a name into the folder for backups. Never over a file. */
  'back-up-record': z.strictObject({ ...mayTakeTime, file: namedText.optional() }),
  /** Writes everything in the record in open formats into a new folder, CSV and lines of JSON. */
  'export-record': z.strictObject({ ...mayTakeTime, folder: namedText.optional() }),
  /** Stops the work of that name. Nothing happens where there is none, or where it is writing down what it made. */
  'stop-work': z.strictObject({ work: namedText }),
} as const;

export type RequestName = keyof typeof requests;
/** What a request takes, as it may be written (defaults left out). */
export type Question<N extends RequestName> = z.input<(typeof requests)[N]>;
/** What a request takes, checked. */
export type CheckedQuestion<N extends RequestName> = z.output<(typeof requests)[N]>;

/** A run in the station's list. */
export interface RunSummary {
  run: number;
  receivedAt: string;
  inspector: string;
  part: string;
  lot: string;
  supplier: string;
  lotSize: number;
  counted: number;
  sampleSize: number;
  nonconforming: number;
  step: Step;
  outlook: Outlook;
  disposition: Disposition | null;
  /** A study of the measurement, not an inspection of a lot. */
  study: boolean;
  simulated: boolean;
}

export interface SerialPortFound {
  path: string;
  /** What the computer knows of the adapter; may be empty. */
  description: string;
}

/** How the station and its meter stand. */
export type MeterLink =
  | { state: 'none' }
  | { state: 'connecting'; run: number; address: string }
  | { state: 'connected'; run: number; address: string; simulated: boolean }
  | { state: 'lost'; run: number; address: string; why: ProblemText };

/** An exercise in the practice tray. */
export interface ExerciseFound extends Pick<OpenExercise, 'name' | 'title' | 'level' | 'aim' | 'task' | 'minutes'> {
  /** From the user's own folder. */
  own: boolean;
}

/** A dialect in the list. */
export interface DialectFound {
  name: string;
  title: string;
  /** By what a user recognises such a meter. */
  about: string;
  /** From the user's own folder. */
  own: boolean;
}

/** What is known of one lot as a whole. */
export interface LotFigures {
  run: number;
  lot: string;
  receivedAt: string;
  /** Readings that count and have a value, without those of quite another value. */
  count: number;
  /** How many of quite another value were left out. */
  leftOut: number;
  meanOhms: number | null;
  /** Standard deviation (n - 1); null of fewer than two. */
  standardDeviationOhms: number | null;
  disposition: RunSummary['disposition'];
}

/** One entry of the record: an event with its place and the chain of hashes. */
export interface EntryOf<E extends RecordEvent> {
  /** Place in the whole record, from 1. */
  position: number;
  run: number;
  event: E;
  /** SHA-256 (hex) of the entry before this one; 64 zeros for the first. */
  previous: string;
  /** SHA-256 (hex) of this entry. */
  hash: string;
}

/** An entry of an inspection run, of a continuity run, of either. */
export type Entry = EntryOf<InspectionEvent>;
export type ContinuityEntry = EntryOf<ContinuityEvent>;
export type RecordEntry = EntryOf<RecordEvent>;

/** What is known of the record as a whole. */
export interface RecordFacts {
  file: string;
  /** Of the file and of the log beside it. */
  bytes: number;
  entries: number;
  runs: number;
  /** Where copies and exports are written that are given no name. */
  backupFolder: string;
  exportFolder: string;
  /** The last check of the whole; null where none was made here. `problem` is what was found, null of a record that is intact. */
  lastCheck: { at: string; entries: number; problem: ProblemText | null } | null;
}

export interface Answers {
  overview: {
    version: string;
    recordFile: string;
    certificateFolder: string;
    /** Fingerprint of the key that this station signs by. */
    keyFingerprint: string;
    /** The latest, and those to go on with, in the order of their numbers; not all where there are many. */
    runs: RunSummary[];
    /** How many runs there are in all. */
    runCount: number;
    link: MeterLink;
    /** The capture that is on, or the way the last one ended; null before the first. */
    live: Live | null;
    continuity: Continuity | null;
    /** The meter of continuity runs, and how going through a list hands-free stands or ended; null before the first. */
    wiring: { link: ContinuityLink; stepping: Stepping | null };
  };
  history: History;
  'history-names': HistoryNames;
  'history-trends': LotTrends;
  'export-history': { file: string; sha256: string; rows: number };
  'list-ports': SerialPortFound[];
  /** `position` is that of the last entry that is folded in. */
  'open-run': { position: number; head: PackedHead; pages: PackedReadings[] };
  'pages-of-run': { pages: PackedReadings[] };
  /** `shape`: what the values of the last lot say to sampling by variables, in words; null where there is none. */
  series: { series: Series; shape: string | null };
  'receive-lot': { run: number };
  exercises: { folder: string; exercises: ExerciseFound[]; problems: ProblemText[] };
  'begin-exercise': { run: number };
  'act-at-bench': Record<string, never>;
  'name-cause': Record<string, never>;
  debrief: Record<string, never>;
  'practice-results': { results: PracticeResult[] };
  'connect-meter': { link: MeterLink };
  'release-meter': { link: MeterLink };
  'confirm-bench': Record<string, never>;
  'check-bench': { entry: Entry };
  'override-calibration': Record<string, never>;
  'meter-data': { data: MeterData | null };
  'save-meter-data': { link: MeterLink };
  references: ReferenceFacts[];
  'save-reference': Record<string, never>;
  /** Without what is as usual, in the order of their numbers. */
  parts: PartInput[];
  part: { part: PartInput | null };
  'save-part': Record<string, never>;
  'remove-part': Record<string, never>;
  'preview-parts': PartsPreview & { version: string };
  'import-parts': { imported: number };
  'export-parts': { file: string; sha256: string; text: string };
  dialects: { dialects: DialectFound[]; problems: ProblemText[] };
  'find-meter': { address: string; identity: string };
  'stop-finding': Record<string, never>;
  'take-reading': { entry: Entry };
  'start-capture': CaptureStarted;
  'stop-capture': Record<string, never>;
  'say-open': Record<string, never>;
  'start-continuity': Record<string, never>;
  'stop-continuity': Record<string, never>;
  'preview-continuity': ContinuityPreview;
  'receive-continuity': { run: number };
  'continuity-runs': ContinuityList;
  'open-continuity': { entries: ContinuityEntry[] };
  'connect-continuity': { link: ContinuityLink };
  'release-continuity': { link: ContinuityLink };
  'confirm-continuity': Record<string, never>;
  'check-continuity': { entry: ContinuityEntry };
  'read-point': { entry: ContinuityEntry };
  'start-stepping': Record<string, never>;
  'stop-stepping': Record<string, never>;
  'say-now': Record<string, never>;
  'skip-point': Record<string, never>;
  'void-point': Record<string, never>;
  'decide-continuity': Record<string, never>;
  'lift-continuity-hold': Record<string, never>;
  'write-continuity': { file: string; sha256: string; text: string };
  'say-position': Record<string, never>;
  'void-reading': Record<string, never>;
  'decide-lot': Record<string, never>;
  'correct-decision': Record<string, never>;
  'correct-fact': Record<string, never>;
  'lift-hold': Record<string, never>;
  'write-certificate': { file: string; sha256: string };
  'read-certificate': { file: string; text: string };
  'story-of-run': StoryLine[];
  'lot-history': LotFigures[];
  'compare-stress': ComparedSources;
  'write-stress': { file: string; sha256: string; text: string };
  'import-study': Study;
  'write-study': { file: string; sha256: string; text: string };
  'record-facts': RecordFacts;
  /** `hash` is that of the last entry, which stands for all of them. */
  'check-record': { entries: number; runs: number; hash: string };
  'back-up-record': { file: string; bytes: number; entries: number; runs: number; hash: string };
  'export-record': { folder: string; entries: number; hash: string };
  'stop-work': Record<string, never>;
}

/** The name of the work that opens a station: its record is checked entry by entry. What is asked meanwhile waits. */
export const OPEN_STATION = 'open-station';

/** What the station tells everybody without being asked. Entries are durable before they are told. */
export type News =
  | { kind: 'entry'; entry: Entry }
  | { kind: 'link'; link: MeterLink }
  /** How the probes stand now: at most 25 times a second, but each outcome is told. */
  | { kind: 'live'; live: Live }
  | ({ kind: 'continuity' } & Continuity)
  | { kind: 'continuity-entry'; entry: ContinuityEntry }
  | { kind: 'continuity-link'; link: ContinuityLink }
  | { kind: 'stepping'; stepping: Stepping }
  /** The parts list was changed. */
  | { kind: 'parts' }
  /** How far work is that may take its time, by the name it was given; null: it is over, `stopped` or not. */
  | { kind: 'work'; work: string; progress: Progress }
  | { kind: 'work'; work: string; progress: null; stopped: boolean }
  /** What "find my meter" tries now, in words. */
  | { kind: 'finding'; path: string; trying: string };

/** The station as a screen sees it through either door. */
export interface StationClient {
  /** @throws Problem */
  ask<N extends RequestName>(name: N, question: Question<N>): Promise<Answers[N]>;
  /** Calls back with all news from now on; returns how to stop. */
  listen(hear: (news: News) => void): () => void;
}

/** What travels over a door. A request carries a number; its answer carries the same. */
export type Asked = { id: number; name: RequestName; question: unknown };
export type Told = { id: number; answer: unknown } | { id: number; problem: ProblemText } | { news: News };
