import { Action } from '../controls/action.tsx';
import { Grammar } from './grammar.tsx';
import { EXAMPLES } from './networkExamples.ts';
import { TextAreaField } from './textAreaField.tsx';

/** What the network is: its description, how one is written, and examples. */
export function DescribeFields(props: {
  text: string;
  problem: string | undefined;
  onText: (text: string) => void;
  onLeft: () => void;
  onExample: (text: string) => void;
}) {
  return (
    <fieldset>
      <legend>Network</legend>
      <TextAreaField
        label="Description"
        name="text"
        value={props.text}
        onChange={props.onText}
        onBlur={props.onLeft}
        problem={props.problem}
        hint="a line for each resistor, like R1 in mid 4k7 1%, or one line like 10k + (4k7 || 3k3)"
        autoFocus
      />
      <Grammar />
      <div className="actions">
        {EXAMPLES.map(({ name, text }) => (
          <Action
            key={name}
            label={`Fill in an example: ${name.toLowerCase()}`}
            onPress={() => props.onExample(`${text.join('\n')}\n`)}
          >
            {name}
          </Action>
        ))}
      </div>
    </fieldset>
  );
}
