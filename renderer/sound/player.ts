import { remember, remembered } from '../theme/remembered.ts';
import { SOUNDS, type SoundName } from './sounds.ts';

const USUAL_VOLUME = 60;
const EDGE_SECONDS = 0.008;

let context: AudioContext | null = null;
let volume = startVolume();

function startVolume(): number {
  const text = remembered('volume');
  const number = text === null ? Number.NaN : Number(text);
  return number >= 0 && number <= 100 ? number : USUAL_VOLUME;
}

/** Loudness from 0, which is off, to 100. */
export function soundVolume(): number {
  return volume;
}

/** Sets the loudness, 0 (off) to 100, and remembers it. */
export function setSoundVolume(to: number): void {
  volume = to;
  remember('volume', String(to));
}

/** Plays a sound at once. Off means off: nothing is even made. */
export function play(name: SoundName): void {
  if (volume === 0) return;
  context ??= new AudioContext({ latencyHint: 'interactive' });
  // Browsers hold sound back until somebody pressed something; a reading always comes after that.
  if (context.state === 'suspended') void context.resume();
  const start = context.currentTime;
  // Loudness is heard by ratio, so the square of the setting is what sounds even.
  const loudness = (volume / 100) ** 2 * 0.5;
  for (const tone of SOUNDS[name]) {
    const oscillator = context.createOscillator();
    const gain = context.createGain();
    const [from, until] = [start + tone.at, start + tone.at + tone.lasts];
    // Triangle waves carry in a noisy room; the short edges keep them from clicking.
    oscillator.type = 'triangle';
    oscillator.frequency.value = tone.hertz;
    gain.gain.setValueAtTime(0, from);
    gain.gain.linearRampToValueAtTime(loudness, from + EDGE_SECONDS);
    gain.gain.setValueAtTime(loudness, until - EDGE_SECONDS);
    gain.gain.linearRampToValueAtTime(0, until);
    oscillator.connect(gain).connect(context.destination);
    oscillator.start(from);
    oscillator.stop(until);
  }
}
