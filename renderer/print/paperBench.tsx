import type { Run } from '../../core/inspection/run.ts';
import { calibrationWords, zeroWords } from '../words/bench.ts';
import { identityWords, measurementWords, settingWords } from '../words/measurement.ts';

/** The meter the readings come from, in words. */
export function PaperBench({ run }: { run: Run }) {
  const { meter, decided } = run;
  if (!meter || !decided) return <p>{measurementWords(run.measurement)}. No meter was connected.</p>;
  const says = [
    settingWords(meter.setting),
    zeroWords(run) && `zero ${zeroWords(run)}`,
    run.ambientCelsius !== null && `ambient ${run.ambientCelsius}\u00a0°C`,
    calibrationWords(run, decided.firstAt),
  ].filter((part) => typeof part === 'string' && part !== '');
  return (
    <p>
      <strong>{identityWords(meter.identity)}</strong>: {says.join('; ')}.
    </p>
  );
}
