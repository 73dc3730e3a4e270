import type { Happening, Run } from '../../core/inspection/run.ts';

/** A file that was written. */
export type WrittenFile = Run['certificates'][number];

/**
 * The certificate file that may be printed, or why there is none: digest and figures on paper are those of a file, and one from
 * before a decision, a correction or a reading would say what holds no more.
 */
export function toBePrinted(run: Pick<Run, 'decided' | 'certificates' | 'history'>): {
  file: WrittenFile | null;
  why: string | null;
} {
  if (!run.decided) return { file: null, why: 'The lot is not decided yet, so there is no certificate of it.' };
  const file = run.certificates.at(-1);
  if (!file) {
    return {
      file: null,
      why: 'The certificate’s file is not written yet. It comes first, because its digest stands on every page.',
    };
  }
  const last = run.history.last();
  const changed = Math.max(Date.parse(run.decided.at), last === undefined ? 0 : Date.parse(timeOf(last)));
  if (changed <= Date.parse(file.at)) return { file, why: null };
  return {
    file: null,
    why: 'Something was decided or corrected since the certificate’s file was written. Write it anew, so that paper and record say the same.',
  };
}

function timeOf(happening: Happening): string {
  return happening.kind === 'decision-corrected' ? happening.is.at : happening.at;
}
