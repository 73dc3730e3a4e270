import { useEffect, useState } from 'react';
import { Action } from '../controls/action.tsx';
import { learnedSwitch, learnSwitch, pressName, saysNothing, switchWords, whyNoSwitch } from './footSwitch.ts';

/** Learns which key a foot switch sends that acts as a keyboard, and forgets it. Remembered at this computer. */
export function LearnSwitch({ jobKeys }: { jobKeys: readonly string[] }) {
  const [learned, setLearned] = useState(learnedSwitch);
  const [listening, setListening] = useState(false);
  const [refused, setRefused] = useState<string | null>(null);

  useEffect(() => {
    if (!listening) return;
    const down = (event: KeyboardEvent) => {
      if (saysNothing(event) || event.repeat) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      setListening(false);
      if (event.key === 'Escape') return;
      const why = whyNoSwitch(event, jobKeys);
      setRefused(why);
      if (why !== null) return;
      learnSwitch(pressName(event));
      setLearned(learnedSwitch());
    };
    window.addEventListener('keydown', down, { capture: true });
    return () => window.removeEventListener('keydown', down, { capture: true });
  }, [listening, jobKeys]);

  return (
    <div className="taking-switch">
      <p className="small" aria-live="polite">
        {listening ? (
          <strong>Press the switch now. Esc keeps what was.</strong>
        ) : (
          (refused ??
          (learned === null
            ? 'A foot switch that acts as a keyboard has not been learned at this computer.'
            : `The foot switch of this computer sends ${switchWords(learned)}. It takes a reading; hands-free it says “this one is open”.`))
        )}
      </p>
      <div className="actions">
        <Action
          disabled={listening}
          onPress={() => {
            setRefused(null);
            setListening(true);
          }}
        >
          {learned === null ? 'Learn the foot switch' : 'Learn another foot switch'}
        </Action>
        {learned !== null && (
          <Action
            onPress={() => {
              learnSwitch(null);
              setLearned(null);
            }}
          >
            Forget it
          </Action>
        )}
      </div>
    </div>
  );
}
