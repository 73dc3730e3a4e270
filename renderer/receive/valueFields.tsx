import { TextField } from '../controls/field.tsx';
import type { FieldOf } from './fieldOf.ts';

/** Nominal value and tolerance, which give the window. */
export function ValueFields({ field }: { field: FieldOf }) {
  return (
    <div className="receive-row">
      <TextField label="Nominal value" {...field('nominal')} hint="4k7, 4.7k, R47, 3M3" />
      <TextField
        label="Tolerance or limits"
        term="window"
        {...field('tolerance')}
        required
        hint="1 %, +5 -10 %, 4.6k to 4.8k"
      />
    </div>
  );
}
