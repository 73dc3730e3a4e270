import type { Answers, News, Question, RequestName } from '../../core/contract/contract.ts';
import { Problem, type ProblemText } from '../../core/problem/problem.ts';
import type { StationLine } from './stationLine.ts';

/** What the desktop's preload script shows to the page, and nothing else. */
export interface PreloadBridge {
  ask(name: string, question: unknown): Promise<{ answer: unknown } | { problem: ProblemText }>;
  listen(hear: (news: News) => void): () => void;
}

declare global {
  interface Window {
    reelohm?: PreloadBridge;
  }
}

/** The station behind the desktop's bridge. The line is up as long as the window is. */
export function preloadLine(bridge: PreloadBridge): StationLine {
  return {
    door: 'desktop',
    async ask<N extends RequestName>(name: N, question: Question<N>): Promise<Answers[N]> {
      const told = await bridge.ask(name, question);
      if ('problem' in told) throw new Problem(told.problem);
      return told.answer as Answers[N];
    },
    listen: (hear) => bridge.listen(hear),
    watch(hear) {
      hear(true);
      return () => {};
    },
  };
}
