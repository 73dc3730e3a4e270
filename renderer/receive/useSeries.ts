import { useEffect, useState } from 'react';
import type { Answers } from '../../core/contract/contract.ts';
import { useStation } from '../station/station.tsx';
import type { Draft } from './draft.ts';

/** Nobody is asked at every letter. */
const PAUSE_MILLISECONDS = 250;

type Known = Answers['series'];

/** How inspection of the lots of the part and supplier in the form stands; null until it is known. */
export function useSeries({ partNumber, supplier, lotNumber, reel, standard }: Draft): {
  series: Known['series'] | null;
  shape: string | null;
} {
  const { line } = useStation();
  const [known, setKnown] = useState<{ asked: string; answer: Known } | null>(null);
  const [part, lot, ofReel] = [partNumber.trim(), lotNumber.trim(), reel.trim()];
  const asked = JSON.stringify([part, supplier.trim(), lot, ofReel, standard]);

  useEffect(() => {
    if (part === '') return;
    let isLate = false;
    const timer = setTimeout(() => {
      line.ask('series', { part, supplier: supplier.trim(), lot, reel: ofReel, standard }).then(
        (answer) => {
          if (!isLate) setKnown({ asked, answer });
        },
        // The station decides when the lot is received; the form does without until then.
        () => undefined,
      );
    }, PAUSE_MILLISECONDS);
    return () => {
      isLate = true;
      clearTimeout(timer);
    };
  }, [line, part, supplier, lot, ofReel, standard, asked]);

  const answer = known?.asked === asked ? known.answer : null;
  return { series: answer?.series ?? null, shape: answer?.shape ?? null };
}
