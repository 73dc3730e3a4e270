import { anew, CORNERS, cornersOf } from '../../core/network/corner.ts';
import { faultsOf } from '../../core/network/faults.ts';
import { ladder } from '../core/network/shapes.ts';

const TIMES = 5;
/** Of all faults so many are worked out anew, to know what all of them would take. */
const SAMPLED = 100;

/** Milliseconds. */
export interface NetworkTimes {
  resistors: number;
  /** Every open and short with its window: one list entry a time. */
  faultTable: number[];
  /** What the same would take with one circuit for each fault and corner. */
  anew: number;
  /** The most that a fault is apart from the circuit worked out anew, as a share of it. */
  apart: number;
}

/** The table of faults of a ladder of unit resistors. */
export function measureNetworks(resistors = 2000): NetworkTimes {
  const network = ladder(resistors / 2);
  const terminals = ['1', '0'] as const;
  const faultTable: number[] = [];
  for (let time = 0; time < TIMES; time++) {
    const began = performance.now();
    faultsOf(network, cornersOf(network, terminals));
    faultTable.push(performance.now() - began);
  }
  const corners = cornersOf(network, terminals);
  const faults = faultsOf(network, corners);
  let apart = 0;
  const began = performance.now();
  for (let one = 0; one < SAMPLED; one++) {
    const index = Math.floor((one * resistors) / SAMPLED);
    const wanted = anew(corners.nominal, index, 0);
    apart = Math.max(apart, Math.abs((faults[2 * index + 1]?.ohms ?? 0) / wanted - 1));
  }
  const each = (performance.now() - began) / SAMPLED;
  return { resistors, faultTable, anew: each * resistors * 2 * CORNERS.length, apart };
}
