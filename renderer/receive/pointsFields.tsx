import { TextField } from '../controls/field.tsx';
import type { FieldOf } from './fieldOf.ts';

/** Two qualities and how often lots of them may be decided the wrong way. */
export function PointsFields({ field }: { field: FieldOf }) {
  return (
    <>
      <div className="receive-row">
        <TextField
          label="Accepted quality, %"
          {...field('acceptedPercent')}
          inputMode="decimal"
          hint="Nonconforming pieces in a good lot."
          required
        />
        <TextField
          label="Producer’s risk, %"
          term="producers-risk"
          {...field('producerRiskPercent')}
          inputMode="decimal"
          hint="Good lots refused, at most."
          required
        />
      </div>
      <div className="receive-row">
        <ConsumerFields field={field} />
      </div>
    </>
  );
}

/** A quality to be refused, and how often it may pass. */
export function ConsumerFields({ field }: { field: FieldOf }) {
  return (
    <>
      <TextField
        label="Refused quality, %"
        {...field('refusedPercent')}
        inputMode="decimal"
        hint="Nonconforming pieces in a bad lot."
        required
      />
      <TextField
        label="Consumer’s risk, %"
        term="consumers-risk"
        {...field('consumerRiskPercent')}
        inputMode="decimal"
        hint="Bad lots accepted, at most."
        required
      />
    </>
  );
}
