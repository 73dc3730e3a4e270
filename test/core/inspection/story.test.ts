import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apply } from '../../../core/inspection/apply.ts';
import { isCertificateStale } from '../../../core/inspection/certificateStale.ts';
import { type Command, decide } from '../../../core/inspection/decide.ts';
import { inspectionEvent as EVENT_TYPES, type InspectionEvent } from '../../../core/inspection/event.ts';
import type { LotClaimInput } from '../../../core/inspection/lotClaim.ts';
import type { Run } from '../../../core/inspection/run.ts';
import { type StoryKind, type StoryLine, storyOf, type Told } from '../../../core/inspection/story.ts';
import { Problem } from '../../../core/problem/problem.ts';
import { CHECKS } from '../../../core/readiness/check.ts';
import { anyCommand, anyCorrection, anyTerms, DECIDED } from './anyCommand.ts';
import { badCheck, CAUTIONS, factsOfClaim, goodCheck, METER, SIMULATED, timeAt } from './walk.ts';

type Asked = (run: Run) => Command[];

/** The entries of a run after these commands, a second apart; refused ones bring nothing about. */
class Walk {
  readonly told: Told[] = [];
  run: Run | null = null;
  #seconds = 0;

  go(...commands: (Command | Asked)[]): this {
    for (const each of commands) {
      if (typeof each === 'function') {
        if (this.run) this.go(...each(this.run));
        continue;
      }
      const events = decide(this.run, each, timeAt(this.#seconds++));
      if (events instanceof Problem) continue;
      for (const event of events) {
        this.run = apply(this.run, event);
        this.told.push({ position: this.told.length + 11, event, hash: `hash ${this.told.length + 11}` });
      }
    }
    return this;
  }

  get story(): StoryLine[] {
    return [...storyOf(this.told)];
  }

  ofKind(kind: StoryKind): string[] {
    return this.story.flatMap((line) => (line.kind === kind ? [line.words] : []));
  }
}

const wholeRound: Asked = (run) => CHECKS.map((check) => goodCheck(run, check));
const reading = (raw: string): Command => ({ type: 'record-reading', measured: { raw } });
const [GOOD, LOW] = [reading('+4.70213E+03'), reading('4600.0')];

function begun(over: Partial<LotClaimInput> = {}, meter = METER): Walk {
  return new Walk().go(
    { type: 'receive-lot', facts: factsOfClaim(over) },
    { type: 'connect-meter', meter },
    { type: 'confirm-bench', by: 'Ines Okoro', cautions: CAUTIONS },
    wholeRound,
  );
}

/** The readings that a line tells of, and of which pieces they are. */
function readingsOf({ words }: StoryLine): (readonly [reading: number, piece: number])[] {
  const numbers = '([\\d\u00a0]+)(?: (?:to|and) ([\\d\u00a0]+))?';
  const found = new RegExp(`^Readings? ${numbers} of (?:piece|turn)s? ${numbers}[:,.]`).exec(words) ?? [];
  const [, reading, lastReading = reading, piece, lastPiece = piece] = found;
  const number = (text: string | undefined) => Number(text?.replaceAll('\u00a0', ''));
  expect(number(lastPiece) - number(piece), words).toBe(number(lastReading) - number(reading));
  return Array.from({ length: number(lastReading) - number(reading) + 1 }, (_, index) => [
    number(reading) + index,
    number(piece) + index,
  ]);
}

const events = <T extends InspectionEvent['type']>(walk: Walk, type: T) =>
  walk.told.flatMap(({ event }) => (event.type === type ? [event as Extract<InspectionEvent, { type: T }>] : []));

describe('the story of any run', () => {
  it('mentions every reading once, and every reason that was given, in the order of the record', () => {
    fc.assert(
      fc.property(
        fc.array(anyCommand, { maxLength: 60 }),
        anyTerms,
        fc.array(anyCorrection, { maxLength: 5 }),
        (asked, terms, corrections) => {
          const walk = begun(terms).go(...asked, DECIDED, ...corrections);
          const { story } = walk;
          const taken = story.filter(({ kind }) => kind === 'reading-taken').flatMap(readingsOf);
          expect(taken).toEqual(events(walk, 'reading-taken').map(({ reading, piece }) => [reading, piece]));

          // No entry is left out and none is told by two lines, but for what follows from it.
          const places = story.filter(({ kind, words }) => kind !== 'readings-suspect' && !words.startsWith('Terms:'));
          let next = walk.told[0]?.position ?? 0;
          for (const { position, upTo, hash, kind } of places) {
            if (kind !== 'lot-received') expect(position).toBe(next);
            expect(hash).toBe(`hash ${upTo}`);
            next = upTo + 1;
          }
          expect(next).toBe((walk.told.at(-1)?.position ?? 0) + 1);

          for (const type of [
            'reading-voided',
            'lot-decided',
            'decision-corrected',
            'facts-corrected',
            'hold-lifted',
          ] as const) {
            const words = walk.ofKind(type);
            const happened = events(walk, type);
            expect(words).toHaveLength(happened.length);
            for (const [index, { by, reason }] of happened.entries()) {
              expect(words[index]).toContain(reason.replace(/\.$/, ''));
              expect(story.filter(({ kind }) => kind === type)[index]?.by).toBe(by);
            }
          }
          for (const [index, { approvedBy }] of events(walk, 'lot-decided').entries()) {
            if (approvedBy !== null)
              expect(walk.ofKind('lot-decided')[index]).toContain(`${approvedBy} answers for it as well`);
          }
          // Each reading is said to be suspect where, and only where, it is.
          const suspect = walk.ofKind('readings-suspect').flatMap(suspectsOf);
          const found = walk.run?.readings.slice().flatMap((each) => (each.suspect ? [each.reading] : []));
          expect(suspect.sort((a, b) => a - b)).toEqual(found);
          for (const { words } of story) expect(words).not.toMatch(/undefined|null|NaN|\.\.$/);
        },
      ),
      { numRuns: 100 },
    );
  });
});

function suspectsOf(words: string): number[] {
  const listed = /^Readings? ([\d\u00a0, to]+) (?:is|are) suspect/.exec(words)?.[1] ?? '';
  return listed.split(', ').flatMap((part) => {
    const [first = Number.NaN, last = first] = part.split(' to ').map((text) => Number(text.replaceAll('\u00a0', '')));
    return Array.from({ length: last - first + 1 }, (_, index) => first + index);
  });
}

describe('the story of a run', () => {
  const walk = begun()
    .go(GOOD, LOW, { type: 'void-reading', reading: 2, by: 'I. Okoro', reason: 'slipped' }, LOW)
    .go((run) => [goodCheck(run, 'meter'), badCheck(run, 'open-leads')])
    .go({ type: 'interrupt', why: 'unplugged' }, { type: 'continue' }, wholeRound, LOW, LOW, wholeRound)
    .go({ type: 'expire-readiness', why: 'late' }, wholeRound)
    .go({ type: 'decide-lot', disposition: 'on-hold', by: 'I. Okoro', reason: 'the buyer is asked' })
    .go(
      { type: 'note-certificate', file: 'one.csv', sha256: 'ab' },
      { type: 'note-certificate', file: 'two.csv', sha256: 'cd' },
    )
    .go({ type: 'lift-hold', by: 'I. Okoro', reason: 'the buyer agreed' })
    .go({ type: 'decide-lot', disposition: 'accepted', by: 'I. Okoro', reason: 'half load', approvedBy: 'R. Adeyemi' })
    .go({ type: 'correct-decision', disposition: 'not-accepted', by: 'Q. Lead', reason: 'the wrong lot was meant' })
    .go({ type: 'correct-fact', fact: 'supplier', is: '', by: 'Q. Lead', reason: 'not known' })
    .go({ type: 'note-certificate', file: 'three.csv', sha256: 'ef' });

  it('says who received what, by which plan', () => {
    const [what, plan, terms] = walk.ofKind('lot-received');
    expect(what).toBe(
      'Lot L-2093 of part TF-4K7-1 (thin film) from Example Supply was received, 100\u00a0pieces. Claimed: 4.7\u00a0kΩ ±1 %; a piece passes from 4.653\u00a0kΩ to 4.747\u00a0kΩ.',
    );
    expect(plan).toMatch(/^Measure 5 of 100.pieces\. .*Numbers agreed for this lot\.$/u);
    expect(terms).toMatch(/^Terms: 2-wire; simple acceptance; /);
    expect(walk.story[0]).toMatchObject({ by: 'Ines Okoro', at: timeAt(0), position: 11 });
  });

  it('draws readings together up to where something else happens, and names what does not conform', () => {
    expect(walk.ofKind('reading-taken').slice(0, 2)).toEqual([
      'Readings 1 and 2 of pieces 1 and 2: 1 pass, 1 fail low (piece 2: 4.6000\u00a0kΩ ±870\u00a0mΩ).',
      'Reading 3 of piece 2, measured again: 4.6000\u00a0kΩ ±870\u00a0mΩ, fail low.',
    ]);
    const long = begun({ plan: { sampleSize: 40, accept: 39 } }).go(...Array<Command>(30).fill(LOW));
    expect(long.ofKind('reading-taken')).toEqual(['Readings 1 to 30 of pieces 1 to 30: 30 fail low.']);
    const line = long.story.at(-1);
    expect(line).toMatchObject({ position: 21, upTo: 50, at: timeAt(10), until: timeAt(39) });
  });

  it('tells a round that passed in one line, and a check that failed with why and what is suspect for it', () => {
    const checks = walk.ofKind('bench-checked');
    expect(checks[0]).toBe(
      'All 7 checks of the bench passed (zero 0\u00a0Ω; reference RS-1, 4.747\u00a0kΩ; ambient 23\u00a0°C). The bench is good.',
    );
    expect(checks[1]).toBe('Checks of the bench that passed: the meter.');
    expect(checks[2]).toMatch(/^The check of the open leads failed: 1\.2 MΩ with open leads instead of overload\./);
    expect(walk.ofKind('readings-suspect')).toEqual([
      'Readings 1, 3 are suspect and do not count: nothing shows that the bench was good at that time. Their pieces are measured again.',
    ]);
  });

  it('tells what was waived and by whose word', () => {
    const noVolts = { ...METER, measures: ['2-wire' as const] };
    const words = new Walk()
      .go({ type: 'receive-lot', facts: factsOfClaim() }, { type: 'connect-meter', meter: noVolts })
      .go({ type: 'confirm-bench', by: 'I. Okoro', cautions: CAUTIONS })
      .go((run) => CHECKS.slice(0, 3).map((check) => goodCheck(run, check)))
      .go((run) => [{ ...goodCheck(run, 'no-voltage'), shown: [{ what: 'word', raw: 'nothing is live' }] }])
      .go((run) => [
        { ...goodCheck(run, 'reference'), shown: [{ what: 'waiver', raw: 'it is away' }], reference: null },
        goodCheck(run, 'method'),
        goodCheck(run, 'ambient'),
      ])
      .ofKind('bench-checked');
    expect(words).toHaveLength(1);
    expect(words[0]).toMatch(/The check of no voltage was taken by word: /);
    expect(words[0]).toMatch(/The check of the reference resistor was waived: .*it is away/);
    expect(words[0]).toMatch(/The bench is good\.$/);
  });

  it('tells a decision with what the plan said, its correction with what it was, and which certificates are reprints', () => {
    const [held, accepted] = walk.ofKind('lot-decided');
    expect(held).toMatch(/^Put on hold: the buyer is asked\. The plan: 2 of 5.*may not be accepted/);
    expect(accepted).toMatch(/^Accepted against the plan; R\. Adeyemi answers for it as well: half load\. The plan: /);
    expect(walk.ofKind('decision-corrected')[0]).toMatch(
      /It was: accepted, for which R\. Adeyemi answers as well, by I\. Okoro at \S+: half load\. It is: not accepted: the wrong lot was meant\.$/,
    );
    expect(walk.ofKind('facts-corrected')).toEqual([
      'The supplier was corrected from “Example Supply” to nothing: not known.',
    ]);
    expect(walk.ofKind('certificate-written').map((words) => words.replace(/, SHA.*/, ''))).toEqual([
      'The certificate was written: one.csv',
      'The certificate was written again, a reprint: two.csv',
      'The certificate was written anew, after what was changed: three.csv',
    ]);
  });

  it('says how inspection stands and that a lot is offered again, by whom it is overridden', () => {
    const facts = factsOfClaim({
      plan: { aql: '1.0', severity: 'tightened', override: { by: 'Q. Lead', reason: 'complaints' } },
    });
    const offered = { ...facts, lot: { ...facts.lot, offeredAgainAfter: 4 } };
    const { story } = new Walk().go({ type: 'receive-lot', facts: offered });
    expect(story).toContainEqual(
      expect.objectContaining({ by: 'Q. Lead', words: 'Q. Lead chose tightened: complaints' }),
    );
    expect(story.map(({ words }) => words).join('\n')).toContain('offered again: it was decided before, in run 4');
  });

  it('says of practice that it is none, and nothing of verdicts in a study', () => {
    expect(begun({}, SIMULATED).ofKind('meter-connected')[0]).toContain('practice, no inspection');
    const study = { design: 'single' as const, pieces: 1, operators: ['Ines Okoro'], repeats: 3, seed: 7 };
    expect(begun({ plan: { study } }).go(GOOD, LOW, GOOD).ofKind('reading-taken')).toEqual([
      'Readings 1 to 3 of turns 1 to 3.',
    ]);
  });

  it('has a line for every kind of event there is', () => {
    const more = begun({ positions: { kind: 'spread' } })
      .go({ type: 'say-position', position: 40 }, { type: 'say-position', position: null })
      .ofKind('position-said');
    expect(more[0]).toContain('at position 40, not where it was asked for');
    expect(more).toHaveLength(2);
    const overdue = { ...METER, data: null };
    const overridden = begun({}, overdue).go({ type: 'override-calibration', by: 'B', reason: 'sent away' });
    expect(overridden.ofKind('calibration-overridden')).toEqual([
      'The calibration of the meter was overridden: sent away.',
    ]);
    const practice = {
      exercise: 'first-reel',
      title: 'A first reel',
      task: 'Try it.',
      asks: 'piece',
      digest: '0',
    } as const;
    const exercise = new Walk().go(
      { type: 'receive-lot', facts: { ...factsOfClaim(), practice } },
      { type: 'connect-meter', meter: SIMULATED },
      { type: 'act-at-bench', act: 'lift one end' },
      { type: 'name-cause', cause: 'an element open', which: 7 },
      { type: 'decide-lot', disposition: 'on-hold', by: 'B', reason: 'enough for today' },
      {
        type: 'score-exercise',
        marks: [{ mark: 'cause named', points: 10, of: 20, why: 'at another piece' }],
        ...{ causes: ['an element open'], which: [3], dispositions: ['not-accepted'], explained: 'It was element 3.' },
      },
    );
    expect(exercise.ofKind('bench-acted')[0]).toMatch(/^One end of each piece is lifted/);
    expect(exercise.ofKind('cause-named')).toEqual(['Named as the cause: an element open (piece 7).']);
    expect(exercise.ofKind('exercise-scored')).toEqual([
      'The exercise was scored: 10 of 20 points. It was: an element open.',
    ]);
    const elsewhere = ['position-said', 'calibration-overridden', 'bench-acted', 'cause-named', 'exercise-scored'];
    const seen = new Set([...walk.story.map(({ kind }) => kind), ...elsewhere]);
    const every = EVENT_TYPES.options.map(({ shape }) => shape.type.value);
    expect([...seen].sort()).toEqual([...every, 'readings-suspect'].sort());
  });

  it('knows where the last certificate says no longer what is so', () => {
    const stale = (upTo: string) => {
      const index = walk.told.findIndex(({ event }) => 'reason' in event && event.reason === upTo);
      let run: Run | null = null;
      for (const { event } of walk.told.slice(0, index + 1)) run = apply(run, event);
      return run && isCertificateStale(run);
    };
    expect(stale('the buyer is asked')).toBe(false);
    expect(stale('half load')).toBe(true);
    expect(stale('not known')).toBe(true);
    expect(walk.run && isCertificateStale(walk.run)).toBe(false);
    const again = new Walk().go({ type: 'receive-lot', facts: factsOfClaim() });
    again.go({ type: 'correct-fact', fact: 'reel', is: 'R-7', by: 'B', reason: 'r' });
    expect(again.run && isCertificateStale(again.run)).toBe(false);
  });
});
