import { normalQuantile } from '../../src/statistics/normal.ts';
import { toleranceOverGroups } from '../../src/statistics/tolerance.ts';
import { normality } from '../../src/statistics/normality.ts';
import type { Random } from '../fuzz/random.ts';

/** Share of simulated sets whose bound lies above what 90 % of all cartridges in all machines really exceed. */
export function tooHigh(sets: number, sizes: readonly number[], correlation: number, random: Random): number {
  const [between, within] = [Math.sqrt(correlation), Math.sqrt(1 - correlation)];
  const truth = normalQuantile(0.1);
  let wrong = 0;
  for (let set = 0; set < sets; set++) {
    const groups = sizes.map((size) => {
      const machine = between * random.normal();
      return Array.from({ length: size }, () => machine + within * random.normal());
    });
    if ((toleranceOverGroups(groups, 0.9, 0.9) ?? -Infinity) > truth) wrong += 1;
  }
  return wrong / sets;
}

/** Share of simulated samples of a distribution that are called not normal. */
export function calledOdd(sets: number, n: number, draw: () => number): number {
  let odd = 0;
  for (let set = 0; set < sets; set++) {
    if (normality(Array.from({ length: n }, draw))?.normal === false) odd += 1;
  }
  return odd / sets;
}

/** Cartridges of each machine, and the share of the variance that is between machines. */
export const LAYOUTS: readonly (readonly [sizes: readonly number[], correlation: number])[] = [
  [[3, 3, 3], 0],
  [[3, 3, 3], 0.5],
  [[3, 3, 3], 0.9],
  [[5, 2, 2, 1], 0.5],
  [[3, 3, 3, 3, 3, 3], 0.5],
  [[4, 4], 0.3],
];
