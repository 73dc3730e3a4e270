import type { CertificatePaper } from '../../core/certificate/certificatePaper.ts';
import { fingerprintOf } from '../../core/certificate/signature.ts';
import { counts } from '../../core/inspection/run.ts';
import { outlookSentence, severitySource } from '../../core/inspection/standingWords.ts';
import { sentence } from '../../core/quantity/sentence.ts';
import { chancesSentence, planSentence, planSource } from '../../core/sampling/planWords.ts';
import { formatTolerance } from '../../core/window/parseTolerance.ts';
import { guardOf } from '../windowBar/guardOf.ts';
import { WindowBar } from '../windowBar/windowBar.tsx';
import { counted } from '../words/count.ts';
import { ruleWords, temperatureWords } from '../words/decision.ts';
import { DISPOSITION_WORDS } from '../words/disposition.ts';
import { limitText, windowText } from '../words/ohms.ts';
import { positionsWords } from '../words/position.ts';
import { DispositionShape } from './dispositionShape.tsx';
import { FactTable } from './paperFacts.tsx';
import { pageMarks, rowsIn } from './paperWords.ts';
import type { WrittenFile } from './toBePrinted.ts';

/** The first page of a certificate: which lot, what became of it, by which plan, and which file and key stand behind it. */
export function PaperHead({ paper, file }: { paper: CertificatePaper; file: WrittenFile }) {
  const { run, about, digest, signature } = paper;
  const { part, lot, window, plan, decided } = run;
  const isStudy = plan.choice.kind === 'study';
  const severity = severitySource(run);
  if (!decided) return null;
  return (
    <>
      <header className="paper-head">
        <p>{isStudy ? 'Study of the measurement' : 'Inspection of a lot'}</p>
        <h2>{part.number}</h2>
        <p>
          {part.description && `${part.description}, `}lot {lot.number}, {counted(lot.size, 'piece', 'pieces')}
          {lot.reel && `, reel ${lot.reel}`}
          {lot.supplier && `, from ${lot.supplier}`}
        </p>
      </header>
      {pageMarks(paper).map((mark) => (
        <p key={mark} className="paper-mark">
          {mark}
        </p>
      ))}
      <section className="paper-fate" aria-label="Disposition">
        <p className={`paper-disposition paper-disposition-${decided.disposition}`}>
          <DispositionShape disposition={decided.disposition} />
          {DISPOSITION_WORDS[decided.disposition]}
        </p>
        <p>{outlookSentence(run)}</p>
        <FactTable rows={rowsIn(paper, 'disposition')} short />
      </section>
      <section className="paper-section" aria-label="Window and plan">
        <h3>Window and plan</h3>
        <p>
          {window.nominal !== null && `Nominal ${limitText(window.nominal, window)}, `}
          {part.tolerance.kind !== 'limits' && `${formatTolerance(part.tolerance)}, `}
          {windowText(window)}. {ruleWords(run.decision)}, values {temperatureWords(run.temperature)}.
        </p>
        {!isStudy && (
          <WindowBar
            window={window}
            guard={guardOf(run)}
            recent={run.readings.takeLast(60).filter(counts)}
            size="large"
          />
        )}
        <p>
          {planSentence(plan, lot.size)} {sentence(planSource(plan))} {chancesSentence(plan, lot.size)}
          {severity && ` ${sentence(severity)}`}
          {!isStudy && !plan.everyPiece && ` ${sentence(positionsWords(run.positions))}`}
        </p>
      </section>
      <section className="paper-section" aria-label="The file and its signature">
        <h3>The file and its signature</h3>
        <p>
          This paper is printed from the file below and has its figures. To check the file, on any computer:{' '}
          <span className="machine">npx reelohm verify "{file.file}"</span>
        </p>
        <table className="paper-facts paper-file">
          <tbody>
            <Line what="File">{file.file}</Line>
            <Line what="SHA-256 of the file">{file.sha256}</Line>
            <Line what="Digest row">{digest}</Line>
            <Line what="Signing key, Ed25519">{about.publicKey}</Line>
            <Line what="Its fingerprint">{fingerprintOf(about.publicKey)}</Line>
            <Line what="Signature">{signature}</Line>
          </tbody>
        </table>
        <FactTable rows={rowsIn(paper, 'file').filter(({ row }) => row.item !== 'key')} short />
      </section>
    </>
  );
}

function Line({ what, children }: { what: string; children: string }) {
  return (
    <tr>
      <th scope="row">{what}</th>
      <td className="machine">{children}</td>
    </tr>
  );
}
