import { remember, remembered } from '../theme/remembered.ts';

/** What of a voice matters here. */
type Voice = Pick<SpeechSynthesisVoice, 'lang' | 'localService' | 'default'>;

let on = remembered('speech') === 'on';

/** Whether readings are spoken; off until somebody switches it on at this computer. */
export function speechIsOn(): boolean {
  return on;
}

/** Switches speech on or off and remembers it. Off is off at once. */
export function setSpeech(to: boolean): void {
  on = to;
  remember('speech', to ? 'on' : 'off');
  if (!to) synthesis()?.cancel();
}

const synthesis = () => (typeof speechSynthesis === 'undefined' ? null : speechSynthesis);

/**
 * The voice that speaks: an English one of this computer itself, its default one before others. A voice that sends the words
 * to somebody's server is never taken. Null where there is none.
 */
export function voiceOf<V extends Voice>(voices: readonly V[]): V | null {
  const own = voices.filter(({ lang, localService }) => localService && /^en([-_]|$)/i.test(lang));
  return own.find((voice) => voice.default) ?? own[0] ?? null;
}

/** Whether this computer has a voice of its own that could speak. */
export function canSpeak(): boolean {
  return voiceOf(synthesis()?.getVoices() ?? []) !== null;
}

/** Calls back when the computer's voices have become known, which may be a moment after the page; returns how to stop. */
export function onVoices(hear: () => void): () => void {
  const voices = synthesis();
  voices?.addEventListener('voiceschanged', hear);
  return () => voices?.removeEventListener('voiceschanged', hear);
}

/** Speaks at once, in place of what is still being spoken. Does nothing while speech is off or there is no own voice. */
export function speak(words: string): void {
  const voices = synthesis();
  if (!on || !voices) return;
  const voice = voiceOf(voices.getVoices());
  if (!voice) return;
  voices.cancel();
  const utterance = new SpeechSynthesisUtterance(words);
  utterance.voice = voice;
  utterance.lang = voice.lang;
  voices.speak(utterance);
}
