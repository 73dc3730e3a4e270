import { sharedTable } from '../sampling/sharedTable.ts';

/** One day's six readings of a wafer with a probe: their mean and standard deviation, as printed. */
export interface Day {
  run: number;
  wafer: string;
  probe: string;
  /** Day within its run, from 1, in the order of the file. */
  day: number;
  mean: string;
  sd: number;
}

/** Readings behind each mean and standard deviation. */
export const READINGS_A_DAY = 6;

/** NIST/SEMATECH e-Handbook 2.6.1, MPC61.DAT: 2 runs of 6 days, 5 wafers, 5 probes. Null where the shared folder is absent. */
export function resistivity(): Day[] | null {
  const rows = sharedTable('nist-mpc61-resistivity-gauge-study.csv');
  if (!rows) return null;
  const days = new Map<string, number>();
  return rows.map((row) => {
    const cell = `${row.run} ${row.wafer} ${row.probe}`;
    const day = (days.get(cell) ?? 0) + 1;
    days.set(cell, day);
    return {
      run: Number(row.run),
      wafer: String(row.wafer),
      probe: String(row.probe),
      day,
      mean: String(row.mean_ohm_cm),
      sd: Number(row.sd_ohm_cm),
    };
  });
}
