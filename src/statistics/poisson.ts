import { deviance, stirlingError } from './saddle-point.ts';
import { summed } from './series.ts';
import { solve } from './solve.ts';

/** Bounds for the mean of a Poisson count: how many events were to be expected where some were seen. */

/** P(X = count) for a Poisson variable of the given mean, both above zero. */
const density = (count: number, mean: number): number =>
  Math.exp(-stirlingError(count) - deviance(count, mean)) / Math.sqrt(2 * Math.PI * count);

/** P(X ≤ count) for a Poisson variable of the given mean, to 12 digits however small it is. */
export function poissonAtMost(count: number, mean: number): number {
  if (count === 0) return Math.exp(-mean);
  if (count >= mean) return 1 - poissonAtLeast(count + 1, mean);
  return summed(density(count, mean), (nth) => (count - nth) / mean);
}

/** P(X ≥ count), count above zero, for a Poisson variable of the given mean, to 12 digits however small it is. */
export function poissonAtLeast(count: number, mean: number): number {
  if (count <= mean) return 1 - poissonAtMost(count - 1, mean);
  return summed(density(count, mean), (nth) => mean / (count + nth + 1));
}

/**
 * The exact upper bound of the mean, given a count: the mean for which so few events would have been seen with a
 * probability of only `tail`. Garwood, Biometrika 28 (1936) 437 (from memory); equal to half the χ² quantile of
 * 1 − `tail` with 2 (count + 1) degrees of freedom. The probability is that of the tail: a double close to one
 * has no digits left to say how close.
 */
export const poissonUpper = (count: number, tail: number): number =>
  solve((mean) => tail - poissonAtMost(count, mean), 0, count + 1);

/** The exact lower bound: half the χ² quantile of `tail` with 2 count degrees of freedom; 0 for 0. */
export const poissonLower = (count: number, tail: number): number =>
  count === 0 ? 0 : solve((mean) => poissonAtLeast(count, mean) - tail, 0, count + 1);
