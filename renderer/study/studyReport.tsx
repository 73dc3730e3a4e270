import { sentence } from '../../core/quantity/sentence.ts';
import type { Study } from '../../core/study/study.ts';
import { Block } from '../sheet/sheet.tsx';
import { counted } from '../words/count.ts';
import { CrossedFigures } from './crossedFigures.tsx';
import { GradeMark } from './gradeMark.tsx';
import { SingleFigures } from './singleFigures.tsx';
import { StudyCharts } from './studyChartsLater.tsx';
import './studyReport.css';

/** What a study says: conclusions first, what limits them, then pictures and figures with where they come from. */
export function StudyReport({ study }: { study: Study }) {
  return (
    <div className="study-report">
      <Block title="What the study says" source={conclusionSource(study)}>
        <p>{designWords(study)}</p>
        <ul className="conclusions">
          {study.conclusions.map(({ about, grade, text }) => (
            <li key={about} className="conclusion">
              <GradeMark grade={grade} />
              <span>{sentence(text).replace(/(?<=[ (])-(?=\d)/g, '−')}</span>
            </li>
          ))}
          {study.conclusions.length === 0 && (
            <li>No window and no reference value were given: the figures below are all there is to say.</li>
          )}
        </ul>
      </Block>
      {study.notes.length > 0 && (
        <Block title="What limits these figures">
          <ul className="block-notes">
            {study.notes.map((note) => (
              <li key={note}>{sentence(note)}</li>
            ))}
          </ul>
        </Block>
      )}
      {study.design === 'crossed' ? <CrossedFigures study={study} /> : <SingleFigures study={study} />}
      <StudyCharts study={study} />
    </div>
  );
}

/** Like `Crossed study: 10 pieces × 3 operators × 3 repeats, 90 readings`. */
export function designWords(study: Study): string {
  const pieces = counted(study.pieces.length, 'piece', 'pieces');
  const repeats = counted(study.repeats, 'repeat', 'repeats');
  if (study.design === 'crossed') {
    const operators = counted(study.operators.length, 'operator', 'operators');
    const readings = study.pieces.length * study.operators.length * study.repeats;
    return `Crossed study: ${pieces} × ${operators} × ${repeats}, ${counted(readings, 'reading', 'readings')}.`;
  }
  const sessions = counted(study.sessions, 'session', 'sessions');
  const runs = study.runs > 1 ? ` × ${counted(study.runs, 'run', 'runs')}` : '';
  const readings = study.pieces.length * study.repeats * study.sessions * study.runs;
  const times = `${pieces} × ${repeats} × ${sessions}${runs}`;
  return `Single-operator study: ${times}, ${counted(readings, 'reading', 'readings')}.`;
}

function conclusionSource({ design }: Study): string {
  return design === 'crossed'
    ? 'Grades by common practice: a gauge is good under 10 % and not fit over 30 %; it should tell at least 5 groups apart. They help to judge, they do not decide.'
    : 'Grades by common practice: good under 10 % and not fit over 30 % of the window. A difference counts where its probability by chance is under 5 %.';
}
