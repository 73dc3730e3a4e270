import { useEffect, useLayoutEffect, useRef } from 'react';
import { type ContinuityRun, nextPoint } from '../../core/continuity/continuityRun.ts';
import type { PointVerdict } from '../../core/continuity/judgePoint.ts';
import type { News } from '../../core/contract/contract.ts';
import { play, startClosedTone, stopClosedTone } from '../sound/player.ts';
import type { SoundName } from '../sound/sounds.ts';
import { speak, speechIsOn } from '../sound/speech.ts';
import { useStation } from '../station/station.tsx';

const SOUND_OF: Record<PointVerdict, SoundName> = {
  'as-expected': 'pass',
  'not-as-expected': 'fail',
  'cannot-tell': 'trouble',
};

/**
 * Says by sound what happens while a run is open: a tone for as long as the probes close a circuit, the verdict of every point, trouble;
 * and by speech, where it is on, which pair comes next. It follows the news itself, so that no drawing delays a sound.
 */
export function useSoundOfWiring(number: number, run: ContinuityRun | null): void {
  const { line } = useStation();
  useEffect(() => {
    const stop = line.listen((news) => sayNews(news, number));
    return () => {
      stop();
      stopClosedTone();
    };
  }, [line, number]);
  const next = run && nextPoint(run);
  const said = useRef<number | null>(null);
  useLayoutEffect(() => {
    if (!next || said.current === next.point) return;
    const isFirst = said.current === null;
    said.current = next.point;
    if (isFirst || !speechIsOn()) return;
    const state = next.state === '' ? '' : `${next.state}. `;
    speak(`${state}${next.from} to ${next.to}, ${next.expected}`);
  });
}

function sayNews(news: News, number: number): void {
  if (news.kind === 'continuity-entry' && news.entry.run === number) {
    const { event } = news.entry;
    if (event.type === 'continuity-point-read') play(SOUND_OF[event.verdict]);
    if (event.type === 'continuity-leads-checked' && event.outcome === 'failed') play('trouble');
  }
  if (news.kind === 'continuity-link' && news.link.state === 'lost' && news.link.run === number) play('trouble');
  if (news.kind !== 'stepping' || news.stepping.run !== number) return;
  const { closed, outcome, phase, why } = news.stepping;
  if (closed) startClosedTone();
  else stopClosedTone();
  if (outcome === 'open-said') play('heard');
  if (outcome === 'trouble' || (phase === 'off' && why)) play('trouble');
}
