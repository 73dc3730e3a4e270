/** The first two fields of what the simulated bench answers to `*IDN?` (IEEE 488.2, 10.14). */
export const BENCH_MAKER = 'Reelohm';
export const BENCH_MODEL = 'Simulated bench';

/** Whether a meter's identity is that of the simulated bench. Nothing it reads is an inspection of real pieces. */
export function isSimulatedBench(identity: string): boolean {
  const [maker, model] = identity.split(',').map((field) => field.trim());
  return maker === BENCH_MAKER && model === BENCH_MODEL;
}
