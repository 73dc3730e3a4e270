/**
 * Small things this computer remembers between visits: who inspected last, how loud, how light, which key the foot
 * switch is.
 * Nothing that counts is kept here; that is the record's. A browser that keeps nothing is fine.
 */
export type RememberedName =
  | 'inspector'
  | 'volume'
  | 'speech'
  | 'appearance'
  | 'contrast'
  | 'address'
  | 'foot-switch'
  | 'capture-setting'
  | 'continuity-address'
  | 'closed-below'
  | 'paper-size'
  | 'trainee';

/** What is remembered under this name; null when nothing is. */
export function remembered(name: RememberedName): string | null {
  try {
    return localStorage.getItem(`reelohm.${name}`);
  } catch {
    return null;
  }
}

/** Remembers a text under this name, where the browser allows it. */
export function remember(name: RememberedName, text: string): void {
  try {
    localStorage.setItem(`reelohm.${name}`, text);
  } catch {
    // A browser without storage forgets; nothing else depends on it.
  }
}
