import { afterEach, describe, expect, it } from 'vitest';
import { connectMeter } from '../../instruments/meter/connect.ts';
import type { Meter, MeterSetting } from '../../instruments/meter/meter.ts';
import { shippedDialects } from '../../instruments/meter/shippedDialects.ts';
import { exactBench } from './exactBench.ts';
import { meterWith } from './quirkyMeter.ts';

const opened: Meter[] = [];
afterEach(async () => {
  for (const meter of opened.splice(0)) await meter.close();
});

const setting: MeterSetting = { function: '2-wire', range: { coversOhms: '5000' }, integrationCycles: 1 };
const scenario = { seed: 4, ...exactBench(47_000), leadOhms: 0, meter: { pace: 'none', noisePpmOfRange: 0 } } as const;

async function set(range: MeterSetting['range'] = setting.range) {
  const made = await meterWith(() => undefined, { scenario });
  opened.push(made.meter);
  await made.meter.configure({ ...setting, range });
  await made.meter.hands?.place(1);
  const { heard } = made;
  /** What it was told while something was done. */
  const during = async <T>(act: () => Promise<T>) => {
    const before = heard.length;
    const result = await act();
    return { result, heard: heard.slice(before).join(' | ') };
  };
  return { meter: made.meter, bench: made.bench, during };
}

describe('a glance', () => {
  it('is one exchange, and leaves overload on a fixed range as it is', async () => {
    const { meter, during } = await set();
    const { result, heard } = await during(() => meter.glance());
    expect(result).toMatchObject({ kind: 'overload' });
    expect(heard).toMatch(/^\*ESE \d+;\*ESE\?;:READ\?;:FUNC\?;\*ESR\?;\*ESE\?$/);
    // A reading that counts looks above the range.
    expect(await meter.read()).toMatchObject({ kind: 'value', ohms: expect.stringMatching(/^47000(\.0+)?$/) });
  });

  it('on any range shows what is above, and sets the range back before the next', async () => {
    const { meter, during } = await set();
    const { result, heard } = await during(() => meter.glanceOnAnyRange());
    expect(result).toMatchObject({ kind: 'value', ohms: expect.stringMatching(/^47000(\.0+)?$/) });
    expect(heard).toMatch(/RANG:AUTO ON.*READ\?.*RANG 1E\+4.*RANG:AUTO\?/);
    expect(await meter.glance()).toMatchObject({ kind: 'overload' });
    await meter.hands?.lift();
    expect(await meter.glanceOnAnyRange()).toMatchObject({ kind: 'overload' });
  });

  it('on any range is a plain one where the meter chooses its range anyway', async () => {
    const { meter, during } = await set('auto');
    const { result, heard } = await during(() => meter.glanceOnAnyRange());
    expect(result).toMatchObject({ kind: 'value', ohms: expect.stringMatching(/^47000(\.0+)?$/) });
    expect(heard).not.toContain('RANG');
  });

  it('notices what is done to the meter, as a reading does', async () => {
    const { meter, bench } = await set();
    bench.select('VOLT');
    await expect(meter.glance()).rejects.toMatchObject({ code: 'function-changed' });
    // Set and checked anew before anything counts.
    expect(await meter.glance()).toMatchObject({ kind: 'overload' });
    bench.restart();
    await expect(meter.glanceOnAnyRange()).rejects.toMatchObject({ code: 'meter-restarted' });
    expect(await meter.glance()).toMatchObject({ kind: 'overload' });
  });

  it.each(shippedDialects.map(({ name }) => name))('works in the dialect %s', async (dialect) => {
    const meter = await connectMeter(`sim:?dialect=${dialect}`, {
      random: Math.random,
      bench: { ...scenario, meter: { ...scenario.meter, talker: { pauseMilliseconds: 20 } } },
      onLost: () => undefined,
    });
    opened.push(meter);
    await meter.hands?.place(1);
    await meter.configure(setting);
    const isAuto = dialect === 'talker';
    expect(await meter.glance()).toMatchObject(isAuto ? { kind: 'value' } : { kind: 'overload' });
    const above = await meter.glanceOnAnyRange();
    expect(above.kind === 'value' && Number(above.ohms)).toBeCloseTo(47_000, -1);
    await meter.hands?.lift();
    if (isAuto) await meter.read();
    expect(await meter.glance()).toMatchObject({ kind: 'overload' });
  });
});
