import { ChoiceField, RadioField, TextField } from '../controls/field.tsx';
import { INTEGRATION_CYCLES, leadsCount } from '../words/measurement.ts';
import type { Draft, DraftRead } from './draft.ts';
import type { FieldOf, SetField } from './fieldOf.ts';
import { TemperatureFields } from './temperatureFields.tsx';

/** How pieces are measured, at what temperature, and when the bench is checked again. */
export function MeasurementFields(props: { draft: Draft; read: DraftRead; field: FieldOf; set: SetField }) {
  const { draft, read, field, set } = props;
  return (
    <>
      <RadioField
        legend="Method"
        term="method"
        name="method"
        value={draft.method}
        onChange={(value) => set('method', value)}
        choices={[
          ['2-wire', '2-wire'],
          ['4-wire', '4-wire'],
        ]}
        hint={
          read.window && leadsCount(draft, read.window)
            ? 'Below 100 Ω the resistance of the leads counts in 2-wire. 4-wire leaves it out.'
            : undefined
        }
      />
      <div className="receive-row">
        <ChoiceField
          label="Range"
          term="range"
          {...field('range')}
          onChange={(value) => set('range', value)}
          choices={[
            ['window', 'For the window'],
            ['auto', 'Meter chooses'],
          ]}
        />
        <ChoiceField
          label="Integration, mains cycles"
          term="integration"
          {...field('integrationCycles')}
          onChange={(value) => set('integrationCycles', value)}
          choices={cyclesOffered(draft.integrationCycles).map((cycles) => [cycles, cycles] as const)}
        />
      </div>
      <TemperatureFields draft={draft} read={read} field={field} set={set} />
      <details className="receive-more">
        <summary>
          Checks of the bench:{' '}
          <span className="quiet">
            every {draft.everyReadings} readings and {draft.everyMinutes} minutes, {draft.ambientLowest} to{' '}
            {draft.ambientHighest} °C
          </span>
        </summary>
        <div className="receive-row">
          <TextField label="Again after readings" {...field('everyReadings')} inputMode="numeric" required />
          <TextField label="Again after minutes" {...field('everyMinutes')} inputMode="numeric" required />
        </div>
        <div className="receive-row">
          <TextField label="Ambient from, °C" {...field('ambientLowest')} inputMode="decimal" required />
          <TextField label="Ambient to, °C" {...field('ambientHighest')} inputMode="decimal" required />
        </div>
      </details>
    </>
  );
}

/** The usual times, and the one that a part brings where it is none of them. */
function cyclesOffered(chosen: string): readonly string[] {
  const usual: readonly string[] = INTEGRATION_CYCLES;
  return usual.includes(chosen) ? usual : [...usual, chosen].toSorted((a, b) => Number(a) - Number(b));
}
