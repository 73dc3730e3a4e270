import { useEffect, useLayoutEffect, useRef } from 'react';
import type { News } from '../../core/contract/contract.ts';
import type { Run } from '../../core/inspection/run.ts';
import { useStation } from '../station/station.tsx';
import { play } from './player.ts';
import { soundOf, TAKEN } from './sounds.ts';
import { speak, speechIsOn } from './speech.ts';
import { spokenReading } from './spokenReading.ts';

/**
 * Says by sound, and by speech where it is on, what happens in a run while it is open: contact, the verdict of every
 * reading, trouble. It follows the news itself and not what is drawn after it, so that no drawing delays a sound; what was
 * there before the run was opened is history and no news.
 */
export function useSoundOf(number: number, run: Run | null, interrupted: boolean): void {
  const { line } = useStation();
  const latest = useRef(run);
  useLayoutEffect(() => {
    latest.current = run;
  });
  useEffect(
    () =>
      line.listen((news) => {
        if (latest.current) sayNews(news, number, latest.current);
      }),
    [line, number],
  );
  const wasInterrupted = useRef(interrupted);
  useEffect(() => {
    if (interrupted && !wasInterrupted.current) play('trouble');
    wasInterrupted.current = interrupted;
  }, [interrupted]);
}

function sayNews(news: News, number: number, run: Run): void {
  if (news.kind === 'entry' && news.entry.run === number && news.entry.event.type === 'reading-taken') {
    const reading = news.entry.event;
    play(run.plan.choice.kind === 'study' ? TAKEN : soundOf(reading.verdict));
    if (speechIsOn()) speak(spokenReading(reading, run));
  }
  if (news.kind !== 'live' || news.live.run !== number) return;
  const { outcome, phase, why } = news.live;
  if (outcome === 'contact') play('contact');
  if (outcome === 'open-said') play('heard');
  if (outcome === 'trouble' || (phase === 'off' && why)) play('trouble');
}
