import * as z from 'zod';
import { dispositions, type InspectionEvent } from '../inspection/event.ts';
import { lineOfText, lotClaim, namedText } from '../inspection/lotClaim.ts';
import type { Outlook, Step } from '../inspection/run.ts';
import type { ProblemText } from '../problem/problem.ts';

const run = z.number().int().positive();

/**
 * What the screens and the command line can ask of the station: for each request what goes in, checked at the door.
 * What comes back stands in {@link Answers}.
 */
export const requests = {
  /** The station and its runs. */
  overview: z.strictObject({}),
  /** Serial ports of this computer. */
  'list-ports': z.strictObject({}),
  /** All entries of one run, in order. */
  'entries-of-run': z.strictObject({ run }),
  /** Begins a run with the lot as claimed. */
  'receive-lot': z.strictObject({ claim: lotClaim }),
  /** Connects the meter at an address to a run and sets it for the run's measurement. */
  'connect-meter': z.strictObject({ run, address: namedText }),
  /** Lets the meter of the station go: local control given back, port free. */
  'release-meter': z.strictObject({}),
  'confirm-bench': z.strictObject({ run, by: namedText, cautions: z.array(namedText).min(1) }),
  /** Reads the piece that is on the probes now. */
  'take-reading': z.strictObject({ run }),
  'void-reading': z.strictObject({ run, reading: z.number().int().positive(), by: namedText, reason: namedText }),
  'decide-lot': z.strictObject({ run, disposition: dispositions, by: namedText, reason: lineOfText.default('') }),
  /** Takes a lot off hold, so that its run goes on. */
  'lift-hold': z.strictObject({ run, by: namedText, reason: namedText }),
  /** Writes the certificate into the station's certificate folder. Never over a file that is there. */
  'write-certificate': z.strictObject({ run }),
  /** The text of the certificate that was written last for this run. */
  'read-certificate': z.strictObject({ run }),
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
  disposition: 'accepted' | 'not-accepted' | 'on-hold' | null;
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

/** One entry of the record: an event with its place and the chain of hashes. */
export interface Entry {
  /** Place in the whole record, from 1. */
  position: number;
  run: number;
  event: InspectionEvent;
  /** SHA-256 (hex) of the entry before this one; 64 zeros for the first. */
  previous: string;
  /** SHA-256 (hex) of this entry. */
  hash: string;
}

export interface Answers {
  overview: { version: string; recordFile: string; certificateFolder: string; runs: RunSummary[]; link: MeterLink };
  'list-ports': SerialPortFound[];
  'entries-of-run': Entry[];
  'receive-lot': { run: number };
  'connect-meter': { link: MeterLink };
  'release-meter': { link: MeterLink };
  'confirm-bench': Record<string, never>;
  'take-reading': { entry: Entry };
  'void-reading': Record<string, never>;
  'decide-lot': Record<string, never>;
  'lift-hold': Record<string, never>;
  'write-certificate': { file: string; sha256: string };
  'read-certificate': { file: string; text: string };
}

/** What the station tells everybody without being asked. Entries are durable before they are told. */
export type News = { kind: 'entry'; entry: Entry } | { kind: 'link'; link: MeterLink };

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
