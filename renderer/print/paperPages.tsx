import type { ReactNode } from 'react';
import type { CertificatePaper } from '../../core/certificate/certificatePaper.ts';
import { PaperBench } from './paperBench.tsx';
import { PaperCharts } from './paperCharts.tsx';
import { FactTable } from './paperFacts.tsx';
import { PaperHappenings } from './paperHappenings.tsx';
import { PaperHead } from './paperHead.tsx';
import { PaperReadingsTable } from './paperReadingsTable.tsx';
import { PaperReferences } from './paperReferences.tsx';
import { type PaperSection, rowsIn } from './paperWords.ts';
import type { WrittenFile } from './toBePrinted.ts';
import './certificatePaper.css';

/** The whole certificate for paper. All figures are the file's own, digit by digit. */
export function PaperPages({ paper, file }: { paper: CertificatePaper; file: WrittenFile }) {
  const { run } = paper;
  const isStudy = run.plan.choice.kind === 'study';
  const facts = (section: PaperSection) => <FactTable rows={rowsIn(paper, section)} />;
  const short = (section: PaperSection) => <FactTable rows={rowsIn(paper, section)} short />;
  return (
    <article className="paper" aria-label="The certificate as it is printed">
      <PaperHead paper={paper} file={file} />
      {!isStudy && run.readings.size > 0 && <PaperCharts run={run} />}
      <Section title="Lot and part">{short('lot')}</Section>
      <Section title={isStudy ? 'Plan of the study' : 'Plan'}>{short('plan')}</Section>
      <Section title="How it was measured">
        <PaperBench run={run} />
        {short('measuring')}
      </Section>
      <Section title="Uncertainty and decision rule">
        {short('rule')}
        {facts('worth')}
      </Section>
      <Section title="Counts">{short('tally')}</Section>
      <Section title={isStudy ? 'Figures of the study' : 'Figures of the lot'}>{facts('figures')}</Section>
      <Section title="The meter against its reference">
        <PaperReferences run={run} />
        {facts('drift')}
      </Section>
      <Section title="What happened at the bench">
        <PaperHappenings rows={rowsIn(paper, 'happenings')} />
      </Section>
      {isStudy && <Section title="Order of the turns">{short('order')}</Section>}
      <Section title="Readings">
        <PaperReadingsTable readings={paper.readings} file={file.file} />
      </Section>
    </article>
  );
}

function Section(props: { title: string; children: ReactNode }) {
  return (
    <section className="paper-section" aria-label={props.title}>
      <h3>{props.title}</h3>
      {props.children}
    </section>
  );
}
