import { chiNodes } from './chi.ts';
import { normalDistribution } from './normal.ts';
import { studentQuantile } from './student.ts';

/** Cartridges of one slot over machines, the same number in each. */
export interface Layout {
  readonly machines: number;
  readonly each: number;
}

/** What is expected of the yields, in one unit (pages). */
export interface Scatter {
  /** Standard deviation of cartridges in one machine. */
  readonly within: number;
  /** Standard deviation of the machines' means. */
  readonly between: number;
  /** Half-width of the error that all have in common (the coverage's), rectangular, and its part in the bounds. */
  readonly common: { readonly u: number; readonly half: number };
}

/** Enough for four digits of a chance. */
const STEPS = 80;

/**
 * The chance that a claim is supported by the rule of `pool`: that the bound over all cartridges and the bound over
 * the machines' means, each with the common error in it, both reach the claim, where the true mean is `gap` above it.
 *
 * The deviation of the machines' means has a − 1 degrees of freedom, that within machines a(k − 1); they and the mean
 * are independent (balanced one-way layout: Searle, Casella and McCulloch, Variance Components (1992), 3.5, from
 * memory). The chance is the mean over both of Φ((gap − h)/σ), h the wider of the two half-widths.
 *
 * @param quantile the bound's probability, one side
 */
export function claimPower(
  { machines, each }: Layout,
  { within, between, common }: Scatter,
  gap: number,
  quantile: number,
): number {
  const n = machines * each;
  const [freeBetween, freeWithin] = [machines - 1, machines * (each - 1)];
  const machineMean = Math.hypot(between, within / Math.sqrt(each));
  const sigma = Math.hypot(machineMean / Math.sqrt(machines), common.u);
  const [t, tOfMachines] = [studentQuantile(quantile, n - 1), studentQuantile(quantile, freeBetween)];
  const inMachines = chiNodes(freeWithin, STEPS);
  let power = 0;
  for (const [b, weight] of chiNodes(freeBetween, STEPS)) {
    const means = machineMean * b;
    const clustered = (tOfMachines * means) / Math.sqrt(machines);
    for (const [w, other] of inMachines) {
      const squares = freeBetween * each * means ** 2 + freeWithin * (within * w) ** 2;
      const overAll = t * Math.sqrt(squares / (n - 1) / n);
      const half = Math.hypot(Math.max(clustered, overAll), common.half);
      const reached = sigma === 0 ? Number(gap >= half) : normalDistribution((gap - half) / sigma);
      power += weight * other * reached;
    }
  }
  return power;
}
