import type { Terminals } from '../../core/network/network.ts';
import { NETWORK_CAUTIONS } from '../../core/network/networkCautions.ts';
import { ChoiceField, TextField } from '../controls/field.tsx';
import type { NetworkDraft, NetworkField } from './networkDraft.ts';

/** Where it is measured, and what was. */
export function MeasuredFields(props: {
  draft: NetworkDraft;
  nodes: readonly string[];
  terminals: Terminals | null;
  onChange: (change: Partial<NetworkDraft>) => void;
  onLeft: (field: NetworkField) => void;
  problemOf: (field: NetworkField) => string | undefined;
}) {
  const { draft, nodes, terminals, onChange, onLeft, problemOf } = props;
  const terminal = (field: 'from' | 'to', label: string, value: string | undefined) => (
    <ChoiceField
      label={label}
      name={field}
      value={value ?? ''}
      onChange={(node) => onChange({ [field]: node })}
      problem={problemOf(field)}
      choices={nodes.length === 0 ? [['', 'No node yet']] : nodes.map((node) => [node, node] as const)}
    />
  );
  return (
    <fieldset>
      <legend>Measured between its terminals</legend>
      <div className="sheet-row">
        {terminal('from', 'From node', terminals?.[0])}
        {terminal('to', 'To node', terminals?.[1])}
      </div>
      <div className="sheet-row">
        <TextField
          label="Measured"
          name="measured"
          value={draft.measured}
          onChange={(measured) => onChange({ measured })}
          onBlur={() => onLeft('measured')}
          problem={problemOf('measured')}
          hint="like 4.71k, or open for the meter’s overload"
        />
        <TextField
          label="Its uncertainty U, k = 2"
          name="uncertainty"
          value={draft.uncertainty}
          onChange={(uncertainty) => onChange({ uncertainty })}
          onBlur={() => onLeft('uncertainty')}
          problem={problemOf('uncertainty')}
          hint="in ohms, like 0.5; may stay empty"
          term="uncertainty"
        />
      </div>
      <ul className="block-notes small">
        {NETWORK_CAUTIONS.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </fieldset>
  );
}
