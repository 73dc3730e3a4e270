import { useState } from 'react';
import { type ContinuityRun, continuityOutlook, continuityTally } from '../../core/continuity/continuityRun.ts';
import { OUTLOOK_WORDS, tallyWords } from '../../core/continuity/continuityWords.ts';
import type { ContinuityDisposition } from '../../core/continuity/event.ts';
import { asProblem, type ProblemText } from '../../core/problem/problem.ts';
import { capital } from '../../core/quantity/sentence.ts';
import { Action } from '../controls/action.tsx';
import { RadioField, TextField } from '../controls/field.tsx';
import { ProblemNotice } from '../controls/problemNotice.tsx';
import { WhoField, WhyField } from '../controls/whoAndWhy.tsx';
import { useStation } from '../station/station.tsx';
import { DISPOSITION_WORDS } from '../words/disposition.ts';

/** Who decides what becomes of it, and why. Accepting what is not as expected takes a reason and a second person. */
export function DecideWiring({ number, run }: { number: number; run: ContinuityRun }) {
  const { line } = useStation();
  const outlook = continuityOutlook(run);
  const isGood = outlook === 'as-expected';
  const [disposition, setDisposition] = useState<ContinuityDisposition>(isGood ? 'accepted' : 'not-accepted');
  const [by, setBy] = useState(run.inspector);
  const [reason, setReason] = useState('');
  const [second, setSecond] = useState('');
  const [tried, setTried] = useState(false);
  const [problem, setProblem] = useState<ProblemText | null>(null);
  const isAgainst = disposition === 'accepted' && !isGood;
  const needsReason =
    disposition === 'on-hold' || isAgainst || (disposition === 'not-accepted' && outlook !== 'not-as-expected');

  async function decide() {
    setTried(true);
    if (by.trim() === '' || (needsReason && reason.trim() === '')) return;
    setProblem(null);
    try {
      await line.ask('decide-continuity', {
        run: number,
        disposition,
        by,
        reason,
        ...(isAgainst && second.trim() !== '' && { approvedBy: second }),
      });
    } catch (thrown) {
      setProblem(asProblem(thrown));
    }
  }

  return (
    <form
      className="wiring-step"
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        decide();
      }}
    >
      <p>
        <strong>{capital(OUTLOOK_WORDS[outlook])}.</strong> {tallyWords(continuityTally(run))}.
      </p>
      <RadioField
        legend="What becomes of it"
        name="disposition"
        value={disposition}
        onChange={setDisposition}
        choices={(['accepted', 'not-accepted', 'on-hold'] as const).map(
          (one) => [one, DISPOSITION_WORDS[one]] as const,
        )}
      />
      <WhoField label="Decided by" value={by} onChange={setBy} tried={tried} autoFocus />
      {needsReason ? (
        <WhyField label="Why" value={reason} onChange={setReason} tried={tried} />
      ) : (
        <TextField label="Remark" name="reason" value={reason} onChange={setReason} hint="May stay empty" />
      )}
      {isAgainst && (
        <TextField
          label="Second person, who answers for it as well"
          name="second"
          value={second}
          onChange={setSecond}
          problem={tried && second.trim() === '' ? 'Accepting what is not as expected takes two people.' : undefined}
        />
      )}
      <ProblemNotice problem={problem} />
      <div className="actions">
        <Action primary submits keyName="Enter">
          Decide: {DISPOSITION_WORDS[disposition].toLowerCase()}
        </Action>
      </div>
    </form>
  );
}
