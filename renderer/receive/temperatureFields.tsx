import { ChoiceField, RadioField, TextField } from '../controls/field.tsx';
import { temperatureWords } from '../words/decision.ts';
import type { Draft, DraftRead } from './draft.ts';
import type { FieldOf, SetField } from './fieldOf.ts';

/** What is known of how the part moves with temperature and power; folded away, since mostly nothing is. */
export function TemperatureFields(props: { draft: Draft; read: DraftRead; field: FieldOf; set: SetField }) {
  const { draft, read, field, set } = props;
  return (
    <details className="receive-more">
      <summary>
        Temperature:{' '}
        <span className="quiet">
          {read.temperature ? temperatureWords(read.temperature) : `for ${draft.referenceCelsius}\u00a0°C`}
          {draft.ratedWatts.trim() !== '' && !read.problems.ratedWatts && <>, {draft.ratedWatts.trim()}&nbsp;W</>}
        </span>
      </summary>
      <RadioField
        legend="Temperature coefficient of the part"
        name="coefficient"
        value={draft.coefficient}
        onChange={(value) => set('coefficient', value)}
        choices={[
          ['unknown', 'Not known'],
          ['known', 'Known'],
          ['limit', 'Only a limit'],
        ]}
        hint={MEANING[draft.coefficient]}
        term="temperature-coefficient"
      />
      {draft.coefficient === 'known' && (
        <div className="receive-row">
          <TextField label="Coefficient, ppm/K" {...field('knownPpm')} inputMode="decimal" required />
          <TextField label="Known within ±, ppm/K" {...field('knownWithinPpm')} inputMode="decimal" required />
        </div>
      )}
      {draft.coefficient === 'limit' && (
        <div className="receive-row">
          <TextField label="Limit ±, ppm/K" {...field('limitPpm')} inputMode="decimal" required />
        </div>
      )}
      <div className="receive-row">
        <ChoiceField
          label="Values are for"
          {...field('referenceCelsius')}
          onChange={(value) => set('referenceCelsius', value)}
          choices={[
            ['20', '20 °C'],
            ['25', '25 °C'],
          ]}
        />
        <TextField label="Thermometer ±, K" {...field('thermometerKelvins')} inputMode="decimal" required />
        <TextField label="Rated power, W" term="rated-power" {...field('ratedWatts')} inputMode="decimal" />
      </div>
    </details>
  );
}

const MEANING: Record<Draft['coefficient'], string> = {
  unknown: 'Values are those at the temperature of the room.',
  known: 'Every reading is brought to the temperature its value is for; what the meter showed is kept.',
  limit: 'Readings stay as they are; their uncertainty grows with the distance to the temperature the value is for.',
};
