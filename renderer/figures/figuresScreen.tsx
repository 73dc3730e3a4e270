import { type ReactNode, useMemo } from 'react';
import type { Run } from '../../core/inspection/run.ts';
import { useCoalesced } from '../charts/useCoalesced.ts';
import { Action } from '../controls/action.tsx';
import { usePainted } from '../controls/usePainted.ts';
import { LookPage, LookSection } from '../lookPage.tsx';
import { goTo } from '../route.ts';
import { formatCount } from '../words/count.ts';
import { AlongSection } from './alongSection.tsx';
import { CapabilitySection } from './capabilitySection.tsx';
import { lotFigures } from './lotFigures.ts';
import { MayBeSection } from './mayBeSection.tsx';
import { MeterSection } from './meterSection.tsx';
import { OutliersSection } from './outliersSection.tsx';
import { RisksSection } from './risksSection.tsx';
import { ShapeSection } from './shapeSection.tsx';
import { SummarySection } from './summarySection.tsx';
import './figuresScreen.css';

const TITLE = 'Figures of the lot';

/** Everything is worked out anew at most so often while readings come. */
const REDRAW_MILLISECONDS = 1000;

const SECTIONS = [
  ['summary', 'Summary'],
  ['may-be', 'What it may be'],
  ['shape', 'Shape'],
  ['capability', 'Capability'],
  ['outliers', 'Normality and outliers'],
  ['along', 'Along the reel'],
  ['risks', 'Risks of the rule'],
  ['meter', 'The meter'],
] as const;

/** All that the readings of a lot say together, section by section, each figure with its source. */
export default function FiguresScreen({ number, run, back }: { number: number; run: Run; back: () => void }) {
  const isStudy = run.plan.choice.kind === 'study';
  if (isStudy) {
    return (
      <LookPage number={number} run={run} title={TITLE} back={back}>
        <p>A study says nothing of a lot. What it says of the measurement stands on its own page when it is closed.</p>
      </LookPage>
    );
  }
  return (
    <LookPage number={number} run={run} title={TITLE} back={back} side={<Ways number={number} />}>
      <SectionsOnceSaid run={run} />
    </LookPage>
  );
}

/** To each section by its number, and to the part's other lots. */
function Ways({ number }: { number: number }) {
  return (
    <nav className="figures-ways" aria-label="Sections">
      {SECTIONS.map(([id, title], index) => (
        <Action key={id} keyName={String(index + 1)} onPress={() => goToSection(id)}>
          {title}
        </Action>
      ))}
      <Action keyName="l" onPress={() => goTo({ screen: 'run', run: number, view: 'lots' })}>
        Lots of this part
      </Action>
    </nav>
  );
}

function goToSection(id: string): void {
  const heading = document.getElementById(`figures-${id}`);
  heading?.focus({ preventScroll: true });
  heading?.closest('section')?.scrollIntoView({ block: 'start' });
}

/** Figures of so many readings take long enough that it is said before: a million take about a second. */
const MANY = 20_000;

/** The figures, of many readings after it was said that they are being worked out. Going back before that stops it. */
function SectionsOnceSaid({ run }: { run: Run }) {
  const painted = usePainted();
  if (painted || run.readings.size < MANY) return <Sections run={run} />;
  return (
    <p role="status">
      Working out the figures of <span className="figures">{formatCount(run.readings.size)}</span> readings …
    </p>
  );
}

function Sections({ run }: { run: Run }) {
  const seen = useCoalesced(run, REDRAW_MILLISECONDS);
  const { readings, window, lot, positions } = seen;
  const figures = useMemo(() => lotFigures({ readings, window, lot, positions }), [readings, window, lot, positions]);
  const parts: Record<(typeof SECTIONS)[number][0], ReactNode> = {
    summary: <SummarySection run={seen} figures={figures} />,
    'may-be': <MayBeSection run={seen} />,
    shape: <ShapeSection run={seen} figures={figures} />,
    capability: <CapabilitySection run={seen} figures={figures} />,
    outliers: <OutliersSection run={seen} figures={figures} />,
    along: <AlongSection run={seen} figures={figures} />,
    risks: <RisksSection run={seen} />,
    meter: <MeterSection run={seen} />,
  };
  return SECTIONS.map(([id, title]) => (
    <LookSection key={id} id={`figures-${id}`} title={title}>
      {parts[id]}
    </LookSection>
  ));
}
