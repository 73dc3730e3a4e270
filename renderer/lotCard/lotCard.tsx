import { type ReactNode, useEffect, useRef, useState } from 'react';
import type { LotFacts } from '../../core/inspection/event.ts';
import { wantedPieces } from '../../core/inspection/outlook.ts';
import { type BenchCheck, counts, isPractice, type Reading, type Run, type Step } from '../../core/inspection/run.ts';
import { TALLY_FIELDS } from '../../core/inspection/tally.ts';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import { planBriefly, planSource } from '../../core/sampling/planWords.ts';
import { VERDICTS } from '../../core/window/judge.ts';
import { formatTolerance } from '../../core/window/parseTolerance.ts';
import { OUTCOME_WORDS } from '../outcome/outcomeWords.ts';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { guardOf } from '../windowBar/guardOf.ts';
import { WindowBar } from '../windowBar/windowBar.tsx';
import { afterWords, calibrationInShort, lastCheck, lastGoodAfter, nextCheckWords, zeroWords } from '../words/bench.ts';
import { formatCount, counted as pieces } from '../words/count.ts';
import { ruleWords, temperatureWords } from '../words/decision.ts';
import { DISPOSITION_WORDS } from '../words/disposition.ts';
import { identityWords, measurementWords, settingWords } from '../words/measurement.ts';
import { limitText, readingText, windowText } from '../words/ohms.ts';
import { positionsWords } from '../words/position.ts';
import { formatLater, formatTime } from '../words/time.ts';
import './lotCard.css';

/** What the card says of a lot; while it is being received, as much as is known. */
export interface CardFacts {
  inspector: string;
  part: { number: string; description: string };
  lot: { number: string; supplier: string; reel: string; size: number | null };
  nominal: string | null;
  tolerance: LotFacts['part']['tolerance'] | null;
  window: LotFacts['window'] | null;
  plan: LotFacts['plan'] | null;
  /** Where pieces are taken; null until that is known: a seed is drawn when the lot is received. */
  positions: LotFacts['positions'] | null;
  measurement: LotFacts['measurement'] | null;
  decision: LotFacts['decision'] | null;
  temperature: LotFacts['temperature'] | null;
}

/** The card's facts of a run that is received. */
export function cardFacts(run: Run): CardFacts {
  return { ...run, nominal: run.part.nominal, tolerance: run.part.tolerance };
}

/**
 * The lot's card: at one side through all steps of the job, filled up as the job goes on. The section the step at hand
 * fills is marked.
 */
export function LotCard(props: { number: number | null; facts: CardFacts; run: Run | null; step: Step | 'receive' }) {
  const { facts, run, step, number } = props;
  // Who measures for a study must not be led by what was measured, and no verdict stands in it afterwards.
  const isStudy = run?.plan.choice.kind === 'study';
  const { ref, scrolls } = useScrolls<HTMLElement>();
  const verdictsMet = run ? VERDICTS.filter((verdict) => run.tally[TALLY_FIELDS[verdict]] > 0).length : 0;

  // On a card that is taller than the window the section at hand is the one to be seen.
  // biome-ignore lint/correctness/useExhaustiveDependencies: on every new step, and when the card grows
  useEffect(() => {
    const now = ref.current?.querySelector<HTMLElement>('.lot-card-current');
    if (ref.current && now) ref.current.scrollTop = now.offsetTop + now.offsetHeight - ref.current.clientHeight;
  }, [step, scrolls, run?.certificates.length, verdictsMet]);
  return (
    <section
      ref={ref}
      className="lot-card"
      aria-label="Lot card"
      // A card taller than the window must be scrolled by keyboard too.
      tabIndex={scrolls ? 0 : undefined}
    >
      <header className="lot-card-head">
        <span className="lot-card-hole" aria-hidden="true" />
        <p className="quiet small">{number === null ? 'Lot card, new' : `Lot card, run ${number}`}</p>
        <h2 className="lot-card-title">{facts.part.number || <Blank />}</h2>
      </header>
      {facts.part.description && <p className="lot-card-description">{facts.part.description}</p>}
      {run && isPractice(run) && <SimulatedMark where="card" />}
      <Section title="Lot" current={step === 'receive'}>
        <p>
          {facts.lot.number || <Blank />}
          {facts.lot.size !== null && <>, {pieces(facts.lot.size, 'piece', 'pieces')}</>}
        </p>
        {facts.lot.reel && <p>reel {facts.lot.reel}</p>}
        {facts.lot.supplier && <p>from {facts.lot.supplier}</p>}
        {run && (
          <p className="quiet">
            received by {facts.inspector}, {formatTime(run.receivedAt)}
          </p>
        )}
      </Section>
      <Section title="Window" current={step === 'receive'}>
        {facts.window && facts.tolerance ? (
          <>
            <p>
              {facts.nominal !== null && (
                <span className="figures">
                  {limitText(facts.nominal, facts.window)}
                  {facts.tolerance.kind === 'limits' ? ', ' : ' '}
                </span>
              )}
              <span className="figures">
                {facts.tolerance.kind === 'limits' ? windowText(facts.window) : formatTolerance(facts.tolerance)}
              </span>
            </p>
            <WindowBar
              window={facts.window}
              {...(run && { guard: guardOf(run) })}
              piece={run && !isStudy ? lastCounted(run) : undefined}
              recent={run && !isStudy ? recent(run) : []}
            />
            {facts.decision && !isStudy && (
              <p>
                {ruleWords(facts.decision)}
                {facts.temperature && <span className="quiet">, {temperatureWords(facts.temperature)}</span>}
              </p>
            )}
          </>
        ) : (
          <Blank />
        )}
      </Section>
      <Section title="Plan" current={step === 'receive'}>
        {facts.plan && facts.lot.size !== null ? (
          <>
            <p>{planBriefly(facts.plan, facts.lot.size)}</p>
            <p className="quiet">{planSource(facts.plan)}</p>
            {facts.positions && !isStudy && !facts.plan.everyPiece && (
              <p className="quiet">{positionsWords(facts.positions)}</p>
            )}
          </>
        ) : (
          <Blank />
        )}
      </Section>
      <Section title="Bench" current={step === 'ready'}>
        {run?.meter ? (
          <>
            <p>{identityWords(run.meter.identity)}</p>
            <p className="quiet">{settingWords(run.meter.setting)}</p>
            <BenchLines run={run} />
          </>
        ) : (
          <>
            {facts.measurement && <p className="quiet">{measurementWords(facts.measurement)}</p>}
            <Blank />
          </>
        )}
      </Section>
      <Section title="Readings" current={step === 'measure'}>
        {run && run.readings.size > 0 ? <Readings run={run} /> : <Blank />}
      </Section>
      <Section title="Disposition" current={step === 'decide' || step === 'certify'}>
        {run?.decided ? <Fate run={run} decided={run.decided} /> : <Blank />}
      </Section>
    </section>
  );
}

function recent(run: Run): Reading[] {
  const last = lastCounted(run);
  // The bar shows twenty ticks; voided readings among the last few are made up for by looking a little further back.
  return run.readings.takeLast(60).filter((reading) => !reading.voided && reading !== last);
}

function lastCounted(run: Run): Reading | undefined {
  return run.readings.findLast(counts);
}

function Section(props: { title: string; current: boolean; children: ReactNode }) {
  return (
    <div className={props.current ? 'lot-card-section lot-card-current' : 'lot-card-section'}>
      <h3>{props.title}</h3>
      <div>{props.children}</div>
    </div>
  );
}

/** What was shown of the bench so far, and when it is to be shown again. */
function BenchLines({ run }: { run: Run }) {
  const zero = zeroWords(run);
  const reference = lastCheck(run, 'reference');
  const good = lastGoodAfter(run);
  const next = nextCheckWords(run);
  const shown = [
    zero && `zero ${zero}`,
    reference && referenceWords(reference),
    run.ambientCelsius !== null && `${run.ambientCelsius}\u00a0°C`,
  ].filter((text) => typeof text === 'string');
  const calibration = calibrationInShort(run, run.decided?.at ?? lastCheck(run, 'meter')?.at ?? run.receivedAt);
  return (
    <>
      {run.benchConfirmed ? (
        <p className="quiet">
          cautions confirmed by {run.benchConfirmed.by}, {formatLater(run.benchConfirmed.at, run.receivedAt)}
        </p>
      ) : (
        <p className="quiet">cautions not confirmed yet</p>
      )}
      {calibration && <p className="quiet">{calibration}</p>}
      {shown.length > 0 && <p>{shown.join(', ')}</p>}
      <p>
        {good === undefined ? 'not checked yet' : `checked ${afterWords(good)}`}
        {next && good !== undefined && <>; {next}</>}
      </p>
    </>
  );
}

function referenceWords({ reference, outcome }: BenchCheck): string {
  const which = reference ? `reference ${formatOhms(reference.ohms).replace(' ', '\u00a0')}` : 'reference';
  return `${which} ${OUTCOME_WORDS[outcome].toLowerCase()}`;
}

/** A line still to be filled in. */
function Blank() {
  return (
    <span className="lot-card-blank">
      <span className="unseen">not yet known</span>
    </span>
  );
}

function Readings({ run }: { run: Run }) {
  const isStudy = run.plan.choice.kind === 'study';
  const last = lastCounted(run);
  return (
    <>
      <p>
        {formatCount(run.tally.counted)} of {formatCount(wantedPieces(run))} measured
        {run.tally.voided > 0 && <span className="quiet">, {formatCount(run.tally.voided)} voided</span>}
      </p>
      <ul className="lot-card-tally">
        {!isStudy &&
          VERDICTS.filter((verdict) => verdict === 'pass' || run.tally[TALLY_FIELDS[verdict]] > 0).map((verdict) => (
            <li key={verdict}>
              <VerdictMark verdict={verdict} /> {VERDICT_WORDS[verdict]}{' '}
              <span className="figures">{formatCount(run.tally[TALLY_FIELDS[verdict]])}</span>
            </li>
          ))}
        {run.tally.suspect > 0 && (
          <li>
            <VerdictMark verdict="suspect" /> {VERDICT_WORDS.suspect}{' '}
            <span className="figures">{formatCount(run.tally.suspect)}</span>
          </li>
        )}
      </ul>
      {last && !run.decided && !isStudy && (
        <p className="quiet">
          last: piece {last.piece}, <span className="figures">{readingText(last, run.window)}</span>
        </p>
      )}
    </>
  );
}

function Fate({ run, decided }: { run: Run; decided: NonNullable<Run['decided']> }) {
  const certificate = run.certificates.at(-1);
  return (
    <>
      <p className={`fate fate-${decided.disposition}`}>{DISPOSITION_WORDS[decided.disposition]}</p>
      {decided.reason && <p>{decided.reason}</p>}
      <p className="quiet">
        by {decided.by}
        {decided.approvedBy !== null && <> and {decided.approvedBy}</>}, {formatLater(decided.at, run.receivedAt)}
      </p>
      {certificate && (
        <p className="quiet">
          certificate <span className="machine">{certificate.sha256.slice(0, 8)}…</span>
        </p>
      )}
    </>
  );
}

/** Says that this bench is simulated, so that nobody takes the run for an inspection. */
export function SimulatedMark({ where }: { where: 'card' | 'measure' | 'head' }) {
  return (
    <p className={`simulated simulated-${where} hatched`}>
      <span>
        <strong>Simulated bench.</strong>{' '}
        {where === 'card' ? 'Practice, no inspection.' : 'Practice: no real piece is measured.'}
      </span>
    </p>
  );
}

/** Whether an element is taller than it can show. */
function useScrolls<E extends HTMLElement>() {
  const ref = useRef<E>(null);
  const [scrolls, setScrolls] = useState(false);
  useEffect(() => {
    const element = ref.current;
    if (!element) return;
    const look = () => setScrolls(element.scrollHeight > element.clientHeight + 1);
    const observer = new ResizeObserver(look);
    observer.observe(element);
    for (const child of element.children) observer.observe(child);
    return () => observer.disconnect();
  });
  return { ref, scrolls };
}
