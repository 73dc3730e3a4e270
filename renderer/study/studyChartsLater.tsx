import { lazy, Suspense } from 'react';
import type { Study } from '../../core/study/study.ts';

const Drawn = lazy(() => import('./studyCharts.tsx'));

/** The pictures of a study; their place is kept free until the chart library is there. */
export function StudyCharts({ study }: { study: Study }) {
  return (
    <Suspense fallback={<div className="study-charts" aria-busy="true" />}>
      <Drawn study={study} />
    </Suspense>
  );
}
