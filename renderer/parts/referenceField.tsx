import { useEffect, useId, useState } from 'react';
import { formatOhms } from '../../core/quantity/formatOhms.ts';
import type { ReferenceFacts } from '../../core/readiness/check.ts';
import { useStation } from '../station/station.tsx';
import { WhatItMeans } from '../terms/whatItMeans.tsx';

/** The reference resistor that is offered first for lots of a part: one of those that are known, or none. */
export function ReferenceField(props: { value: string; onChange: (name: string) => void }) {
  const { value } = props;
  const { line, up } = useStation();
  const id = useId();
  const [known, setKnown] = useState<readonly ReferenceFacts[]>([]);
  useEffect(() => {
    if (!up) return;
    let current = true;
    line.ask('references', {}).then(
      (found) => current && setKnown(found),
      () => {},
    );
    return () => {
      current = false;
    };
  }, [line, up]);
  const isKnown = value === '' || known.some(({ name }) => name === value);
  return (
    <div className="field">
      <div className="field-label">
        <label htmlFor={id}>Reference resistor to offer first</label>
        <WhatItMeans term="reference-resistor" />
      </div>
      <select id={id} name="reference" value={value} onChange={(event) => props.onChange(event.target.value)}>
        <option value="">The one nearest to the value</option>
        {!isKnown && <option value={value}>{value} (not entered at this station)</option>}
        {known.map(({ name, ohms }) => (
          <option key={name} value={name}>
            {name}, {formatOhms(ohms)}
          </option>
        ))}
      </select>
      {known.length === 0 && (
        <p className="field-hint">Reference resistors are entered once, at the check of the bench of any run.</p>
      )}
    </div>
  );
}
