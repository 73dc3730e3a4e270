import { useEffect, useState } from 'react';
import { type CertificatePaper, paperOf } from '../../core/certificate/certificatePaper.ts';
import { asProblem, type Problem } from '../../core/problem/problem.ts';
import { useStation } from '../station/station.tsx';

/** A certificate file as it is printed, and the problem where it cannot be. Both null while it is read. */
export interface PaperFound {
  paper: CertificatePaper | null;
  problem: Problem | null;
}

const NOTHING: PaperFound = { paper: null, problem: null };

/**
 * Reads the certificate file that was written last for a run.
 * @param sha256 which file; null where none was written that may be printed
 */
export function usePaper(run: number, sha256: string | null): PaperFound {
  const { line } = useStation();
  const [found, setFound] = useState<PaperFound & { of: string | null }>({ ...NOTHING, of: null });
  useEffect(() => {
    if (sha256 === null) return;
    let wanted = true;
    line
      .ask('read-certificate', { run })
      .then(({ text }) => ({ paper: paperOf(text), problem: null }))
      .catch((thrown: unknown) => ({ paper: null, problem: asProblem(thrown) }))
      .then((answer) => {
        if (wanted) setFound({ ...answer, of: sha256 });
      });
    return () => {
      wanted = false;
    };
  }, [line, run, sha256]);
  return found.of === sha256 ? found : NOTHING;
}
