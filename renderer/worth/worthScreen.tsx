import { useMemo, useState } from 'react';
import { counts, type Reading, type Run } from '../../core/inspection/run.ts';
import { worthOf } from '../../core/inspection/worth.ts';
import { subtract } from '../../core/quantity/decimal.ts';
import { capital, sentence } from '../../core/quantity/sentence.ts';
import type { Budget } from '../../core/uncertainty/budget.ts';
import type { ReadingBudget } from '../../core/uncertainty/readingBudget.ts';
import { Action } from '../controls/action.tsx';
import { TextField } from '../controls/field.tsx';
import { FigureRows } from '../figureRows/figureRows.tsx';
import { LookPage, LookSection } from '../lookPage.tsx';
import { lastReading } from '../measure/voidReading.tsx';
import { VerdictMark } from '../verdict/verdictMark.tsx';
import { standingOf, VERDICT_WORDS } from '../verdict/verdictWords.ts';
import { WindowBar } from '../windowBar/windowBar.tsx';
import { certainDigits } from '../words/certainDigits.ts';
import { counted } from '../words/count.ts';
import { percentText } from '../words/figures.ts';
import { showReading } from '../words/ohms.ts';
import { formatTime } from '../words/time.ts';
import { pieceName } from '../words/turn.ts';
import { uncertaintyText } from '../words/uncertainty.ts';
import { benchBefore } from './benchBefore.ts';
import { BudgetTable, freedomText } from './budgetTable.tsx';
import { coverageRows } from './coverage.ts';
import { MayBe } from './mayBe.tsx';
import { ShareBars } from './shareBars.tsx';
import { valueRows } from './valueRows.ts';
import { verdictRows } from './verdictRows.ts';
import './worthScreen.css';

const TITLE = 'What this reading is worth';

/** What a reading of a run is worth, with all that it rests on: the last one that counts, or another that is chosen. */
export default function WorthScreen({ number, run, back }: { number: number; run: Run; back: () => void }) {
  /** Number of the reading that was chosen; null follows the last one. */
  const [chosen, setChosen] = useState<number | null>(null);
  const last = lastReading(run) ?? run.readings.last();
  const reading = chosen === null ? last : run.readings.get(chosen - 1);
  const blind = run.plan.choice.kind === 'study' && !run.decided;
  const shown = blind ? undefined : reading?.reading;
  // biome-ignore lint/correctness/useExhaustiveDependencies: what comes after the reading changes nothing of what was before it
  const bench = useMemo(() => (shown === undefined ? null : benchBefore(run, shown)), [shown]);

  if (blind || !reading) {
    return (
      <LookPage number={number} run={run} title={TITLE} back={back}>
        <p>
          {blind
            ? 'While a study is under way no value is shown, so that nobody is led by one. Look here when it is closed.'
            : 'Nothing has been read yet.'}
        </p>
      </LookPage>
    );
  }

  const worth = bench && reading.ohms !== null ? worthAt(reading, bench) : null;
  return (
    <LookPage
      number={number}
      run={run}
      title={TITLE}
      back={back}
      side={<ChooseReading run={run} reading={reading} onChoose={setChosen} />}
    >
      <Head run={run} reading={reading} budget={worth?.budget ?? null} />
      <MayBe run={run} reading={reading} />
      {worth && <Uncertain key={reading.reading} reading={reading} worth={worth} />}
      {reading.ohms !== null && (
        <LookSection id="worth-verdict" title="What the verdict is worth">
          <FigureRows rows={verdictRows(run, reading)} />
        </LookSection>
      )}
      <LookSection id="worth-value" title="How the value was made">
        <FigureRows rows={valueRows(run, reading, bench)} />
      </LookSection>
      {worth && worth.notes.length > 0 && (
        <LookSection id="worth-notes" title="What is taken for granted">
          <ul className="look-notes">
            {worth.notes.map((note) => (
              <li key={note}>{sentence(note)}</li>
            ))}
          </ul>
        </LookSection>
      )}
    </LookPage>
  );
}

function worthAt(reading: Reading, bench: Parameters<typeof worthOf>[0]): ReadingBudget {
  const { ohms, temperatureOhms, raw, at } = reading;
  return worthOf(bench, { ohms: subtract(ohms ?? '0', temperatureOhms), raw }, at);
}

/** The reading in a sentence, how it stands, and where it lies in the window. */
function Head({ run, reading, budget }: { run: Run; reading: Reading; budget: Budget | null }) {
  const { ohms, raw, uncertainty } = reading;
  const shown = ohms === null ? null : showReading({ ohms, raw }, run.window);
  const digits = shown && certainDigits(shown, uncertainty?.expandedOhms ?? null);
  const standing = standingOf(reading);
  return (
    <section className="worth-head" aria-label="Reading" aria-live="polite">
      <p>
        {capital(pieceName(run.plan, reading.piece))}
        <span className="quiet small">
          {' '}
          reading {reading.reading}, {formatTime(reading.at)}
        </span>
      </p>
      <p className="worth-value">
        {shown && digits ? (
          <span className="figures">
            {digits.certain}
            <span className="worth-uncertain">{digits.uncertain}</span>&nbsp;{shown.unit}
          </span>
        ) : (
          'overload'
        )}{' '}
        {ohms !== null &&
          (uncertainty ? (
            <span className="worth-expanded">{uncertaintyText(uncertainty).replace(')', ', about 95\u00a0%)')}</span>
          ) : (
            <span className="worth-expanded">uncertainty not known</span>
          ))}
        <span className={`worth-verdict verdict-words-${standing}`}>
          <VerdictMark verdict={standing} /> {VERDICT_WORDS[standing]}
        </span>
      </p>
      {budget && uncertainty && (
        <p className="quiet small">
          {percentText(budget.coverageProbability)} coverage with {freedomText(budget.effectiveDegreesOfFreedom)}{' '}
          effective degrees of freedom
        </p>
      )}
      {!counts(reading) && <p className="look-say">{whyNot(reading)}</p>}
      {ohms === null && (
        <p>The meter showed overload: there is no value, so there is nothing to be uncertain about and no budget.</p>
      )}
      <WindowBar
        window={run.window}
        guard={{ decision: run.decision, expandedOhms: uncertainty?.expandedOhms ?? null }}
        piece={reading}
        size="large"
      />
    </section>
  );
}

function whyNot({ voided, suspect }: Reading): string {
  if (voided) return `This reading does not count: voided by ${voided.by}, ${formatTime(voided.at)}: ${voided.reason}.`;
  return `This reading does not count: it is suspect, since ${suspect?.why ?? ''}.`;
}

/** Where U comes from, or why there is none and what would give one. */
function Uncertain({ reading, worth }: { reading: Reading; worth: ReadingBudget }) {
  const { uncertainty } = reading;
  if (!worth.budget || !uncertainty) {
    return (
      <LookSection id="worth-budget" title="Why the uncertainty is not known">
        <p className="look-say">{worth.why}</p>
        <p>For the next readings any of these gives one:</p>
        <ul className="look-notes">
          <li>
            Enter the meter’s accuracy and its calibration, where the bench is made ready: the limits of error count
            while the calibration is in date.
          </li>
          <li>
            Measure a reference resistor in the checks of the bench, of a tenth to ten times the value of the pieces.
          </li>
        </ul>
        <p>This reading keeps what was known when it was taken; a lot is judged anew only by measuring it anew.</p>
      </LookSection>
    );
  }
  const differs = worth.expandedOhms !== uncertainty.expandedOhms;
  return (
    <>
      <LookSection id="worth-budget" title="Where the uncertainty comes from">
        {differs && (
          <p className="look-say">
            The verdict was given with U = {uncertaintyText(uncertainty)}, which is what counts. Worked out again now it
            is ±{worth.expandedOhms}&nbsp;Ω: another version of this program judged the reading.
          </p>
        )}
        <p>{worth.why}</p>
        <h3>Shares, the largest first</h3>
        <ShareBars budget={worth.budget} />
        <h3>Budget</h3>
        <BudgetTable budget={worth.budget} />
        <p className="quiet small">
          Each contribution is its sensitivity times its standard uncertainty (JCGM 100:2008, 5.1.2); shares are of the
          square of u. {counted(worth.budget.contributions.length, 'line', 'lines')}, not correlated.
        </p>
      </LookSection>
      <LookSection id="worth-coverage" title="From the budget to U">
        <FigureRows rows={coverageRows(worth.budget, uncertainty)} />
      </LookSection>
    </>
  );
}

/** Steps from reading to reading, or goes to the last reading of a piece. */
function ChooseReading(props: { run: Run; reading: Reading; onChoose: (reading: number | null) => void }) {
  const { run, reading, onChoose } = props;
  const [piece, setPiece] = useState('');
  const noun = run.plan.choice.kind === 'study' ? 'turn' : 'piece';
  const readingOf = (text: string) => run.readings.findLast((one) => String(one.piece) === text.trim());
  const step = (to: number | null) => {
    setPiece('');
    onChoose(to);
  };
  const write = (text: string) => {
    setPiece(text);
    const found = readingOf(text);
    if (found) onChoose(found.reading);
  };
  return (
    <div className="worth-choose">
      <Action keyName="ArrowLeft" disabled={reading.reading <= 1} onPress={() => step(reading.reading - 1)}>
        Reading before
      </Action>
      <Action
        keyName="ArrowRight"
        disabled={reading.reading >= run.readings.size}
        onPress={() => step(reading.reading + 1)}
      >
        Reading after
      </Action>
      <TextField
        label={`Another ${noun}, by its number`}
        value={piece}
        onChange={write}
        inputMode="numeric"
        problem={piece.trim() === '' || readingOf(piece) ? undefined : `No reading of a ${noun} ${piece.trim()}.`}
      />
      <Action onPress={() => step(null)}>The last one</Action>
    </div>
  );
}
