import { beforeEach, describe, expect, it, vi } from 'vitest';

/** An AudioContext as far as waking it goes. */
class Context extends EventTarget {
  static made = 0;
  state = 'suspended';

  constructor() {
    super();
    Context.made++;
  }

  async resume(): Promise<void> {
    this.state = 'running';
  }
}

/** A page with nobody's presses yet, and how many listen to its presses before all others. */
function pageWith() {
  const page = new EventTarget();
  const listening = new Set<string>();
  const heard = vi.spyOn(page, 'addEventListener');
  const left = vi.spyOn(page, 'removeEventListener');
  return {
    page,
    press: (kind: string) => {
      page.dispatchEvent(new Event(kind));
      vi.runAllTimers();
    },
    listening: () => {
      for (const [kind, , options] of heard.mock.calls)
        if ((options as { capture: boolean }).capture) listening.add(kind);
      for (const [kind, , options] of left.mock.calls) {
        if ((options as { capture: boolean }).capture) listening.delete(kind);
      }
      return [...listening];
    },
  };
}

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal('AudioContext', Context);
  Context.made = 0;
  vi.resetModules();
});

describe('sound', () => {
  it.each(['keydown', 'pointerdown'])('wakes with the first press (%s), once, and before any reading', async (kind) => {
    const { wakeSoundByPress } = await import('../../renderer/sound/player.ts');
    const { page, press, listening } = pageWith();
    wakeSoundByPress(page);
    expect(Context.made).toBe(0);
    expect(listening()).toEqual(['keydown', 'pointerdown']);
    press(kind);
    expect(Context.made).toBe(1);
    expect(listening()).toEqual([]);
    press('keydown');
    expect(Context.made).toBe(1);
  });

  it('does not hold up the press that wakes it', async () => {
    const { wakeSoundByPress } = await import('../../renderer/sound/player.ts');
    const page = new EventTarget();
    wakeSoundByPress(page);
    page.dispatchEvent(new Event('keydown'));
    expect(Context.made).toBe(0);
    vi.runAllTimers();
    expect(Context.made).toBe(1);
  });

  it('makes nothing while it is off, and wakes with the next press when it is on again', async () => {
    const { setSoundVolume, wakeSoundByPress } = await import('../../renderer/sound/player.ts');
    const { page, press } = pageWith();
    setSoundVolume(0);
    wakeSoundByPress(page);
    press('keydown');
    expect(Context.made).toBe(0);
    setSoundVolume(60);
    press('pointerdown');
    expect(Context.made).toBe(1);
  });
});
