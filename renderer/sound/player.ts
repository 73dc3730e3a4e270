import { remember, remembered } from '../theme/remembered.ts';
import { CLOSED_HERTZ, SOUNDS, type SoundName } from './sounds.ts';

const USUAL_VOLUME = 60;
const EDGE_SECONDS = 0.008;
/** Shorter than any edge that could be heard as a click of its own. */
const TICK_EDGE_SECONDS = 0.004;
/**
 * Browsers make sound about a hundredth of a second at a time: what is to begin at once has begun already, and would lose its edge
 * and a good part of a tick. Our choice: more than one such stretch, far less than anybody hears as late.
 */
const AHEAD_SECONDS = 0.015;

let context: AudioContext | null = null;
let volume = startVolume();
/** What sounds now or is about to, so that it can be cut off. */
const sounding = new Set<{ oscillator: OscillatorNode; gain: GainNode }>();
let closedTone: { oscillator: OscillatorNode; gain: GainNode } | null = null;
const listeners = new Set<() => void>();

function startVolume(): number {
  const text = remembered('volume');
  const number = text === null ? Number.NaN : Number(text);
  return number >= 0 && number <= 100 ? number : USUAL_VOLUME;
}

/** Loudness from 0, which is off, to 100. */
export function soundVolume(): number {
  return volume;
}

/** Sets the loudness, 0 (off) to 100, and remembers it. Off is off at once: what sounds is cut. */
export function setSoundVolume(to: number): void {
  volume = to;
  remember('volume', String(to));
  if (to === 0) {
    silence();
    stopClosedTone();
  }
  tellChange();
}

// Loudness is heard by ratio, so the square of the setting is what sounds even.
const loudness = () => (volume / 100) ** 2 * 0.5;

/**
 * Makes ready to sound with the first key or press on the page, right behind what it does. Browsers hold sound back until then, and
 * making ready takes a third of a second, which no verdict is to wait for. While sound is off nothing is made.
 */
export function wakeSoundByPress(page: EventTarget): void {
  const press = () =>
    setTimeout(() => {
      if (wakeSound() === null) return;
      for (const kind of PRESSES) page.removeEventListener(kind, press, { capture: true });
    });
  // Before anybody who keeps the press to themselves.
  for (const kind of PRESSES) page.addEventListener(kind, press, { capture: true });
}

const PRESSES = ['keydown', 'pointerdown'] as const;

function wakeSound(): AudioContext | null {
  if (volume === 0) return null;
  if (!context) {
    context = new AudioContext({ latencyHint: 'interactive' });
    context.addEventListener('statechange', tellChange);
  }
  if (context.state === 'suspended') void context.resume();
  return context;
}

/** Whether sound was asked for and the browser still holds it back, because nothing was pressed on this page yet. */
export function soundIsHeldBack(): boolean {
  return volume > 0 && context !== null && context.state === 'suspended';
}

/** Calls back when {@link soundIsHeldBack} or the loudness may have changed; returns how to stop. */
export function onSoundChange(hear: () => void): () => void {
  listeners.add(hear);
  return () => listeners.delete(hear);
}

function tellChange(): void {
  for (const hear of listeners) hear();
}

/** Where to sound; null while sound is off or held back. */
function awake(): AudioContext | null {
  const audio = wakeSound();
  if (audio?.state !== 'suspended' || navigator.userActivation?.hasBeenActive) return audio;
  // A page that nobody pressed anything on keeps its clock at 0: what is made now would all sound together later.
  tellChange();
  return null;
}

/** Plays a sound at once, in place of one that still sounds. Off means off: nothing is even made. */
export function play(name: SoundName): void {
  const audio = awake();
  if (!audio) return;
  // A tick never cuts off a verdict.
  if (SOUNDS[name].length > 1 || name !== 'contact') silence();
  const begin = audio.currentTime + AHEAD_SECONDS;
  for (const tone of SOUNDS[name]) {
    const from = begin + tone.at;
    const made = makeTone(audio, tone.hertz, from, Math.min(EDGE_SECONDS, tone.lasts / 4, TICK_EDGE_SECONDS * 2));
    const until = from + tone.lasts;
    made.gain.gain.setValueAtTime(loudness(), until - TICK_EDGE_SECONDS);
    made.gain.gain.linearRampToValueAtTime(0, until);
    made.oscillator.stop(until);
    sounding.add(made);
    made.oscillator.addEventListener('ended', () => sounding.delete(made));
  }
}

/** Triangle waves carry in a noisy room; the short edges keep them from clicking. */
function makeTone(audio: AudioContext, hertz: number, from: number, edge: number) {
  const oscillator = audio.createOscillator();
  const gain = audio.createGain();
  oscillator.type = 'triangle';
  oscillator.frequency.value = hertz;
  gain.gain.setValueAtTime(0, from);
  gain.gain.linearRampToValueAtTime(loudness(), from + edge);
  oscillator.connect(gain).connect(audio.destination);
  oscillator.start(from);
  return { oscillator, gain };
}

function silence(): void {
  for (const tone of sounding) cut(tone);
  sounding.clear();
}

function cut({ oscillator, gain }: { oscillator: OscillatorNode; gain: GainNode }): void {
  if (!context) return;
  const now = context.currentTime;
  gain.gain.cancelScheduledValues(now);
  gain.gain.setTargetAtTime(0, now, EDGE_SECONDS / 3);
  oscillator.stop(now + EDGE_SECONDS * 2);
}

/** Sounds for as long as a circuit is closed, until {@link stopClosedTone}. */
export function startClosedTone(): void {
  if (closedTone) return;
  const audio = awake();
  if (!audio) return;
  closedTone = makeTone(audio, CLOSED_HERTZ, audio.currentTime + AHEAD_SECONDS, EDGE_SECONDS);
}

/** Silence: the circuit is open. */
export function stopClosedTone(): void {
  if (closedTone) cut(closedTone);
  closedTone = null;
}
