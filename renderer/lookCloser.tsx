import { Action } from './controls/action.tsx';
import { goTo, type RunView } from './route.ts';
import './lookCloser.css';

type Look = Exclude<RunView, 'print'>;

const LOOKS: Record<Look, { key: string; words: string }> = {
  worth: { key: 'w', words: 'What it is worth' },
  figures: { key: 'f', words: 'Figures of the lot' },
  lots: { key: 'l', words: 'Lots of this part' },
  story: { key: 'a', words: 'What happened' },
};

/** Buttons to what can be looked at beside the step of the job; Escape comes back from there. */
export function LookCloser(props: {
  run: number;
  views: readonly Look[];
  /** There are no readings yet to look at; something happened in any run. */
  disabled?: boolean;
}) {
  const { run, views, disabled = false } = props;
  return (
    <div className="look-closer">
      {views.map((view) => (
        <Action
          key={view}
          keyName={LOOKS[view].key}
          disabled={disabled && view !== 'story'}
          onPress={() => goTo({ screen: 'run', run, view })}
        >
          {LOOKS[view].words}
        </Action>
      ))}
    </div>
  );
}
