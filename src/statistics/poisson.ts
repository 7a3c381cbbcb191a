import { solve } from './solve.ts';

/** Bounds for the mean of a Poisson count: how many events were to be expected where some were seen. */

/**
 * ln n! less Stirling's main terms, (n + ½) ln n − n + ½ ln 2π: what is left is small, and exact to the last digit.
 * The series is DLMF 5.11.1 (from memory); below 16 the factorials are exact doubles.
 */
function stirlingError(n: number): number {
  if (n < 16) {
    let factorial = 1;
    for (let k = 2; k <= n; k++) factorial *= k;
    return Math.log(factorial) - (n + 0.5) * Math.log(n) + n - 0.5 * Math.log(2 * Math.PI);
  }
  const inverse = 1 / (n * n);
  return (1 / 12 - inverse * (1 / 360 - inverse * (1 / 1260 - inverse * (1 / 1680 - inverse / 1188)))) / n;
}

/**
 * x ln(x / mean) + mean − x without the cancellation of its terms where x is near the mean: a series in
 * (x − mean) / (x + mean). C. Loader, Fast and Accurate Computation of Binomial Probabilities (2000), from memory.
 */
function deviance(x: number, mean: number): number {
  if (Math.abs(x - mean) >= 0.1 * (x + mean)) return x * Math.log(x / mean) + mean - x;
  const v = (x - mean) / (x + mean);
  let sum = (x - mean) * v;
  let power = 2 * x * v;
  for (let odd = 3; ; odd += 2) {
    power *= v * v;
    const next = sum + power / odd;
    if (next === sum) return sum;
    sum = next;
  }
}

/** P(X = count) for a Poisson variable of the given mean, both above zero. */
const density = (count: number, mean: number): number =>
  Math.exp(-stirlingError(count) - deviance(count, mean)) / Math.sqrt(2 * Math.PI * count);

/** What one term after the other adds, until it adds nothing. */
function summed(first: number, ratio: (nth: number) => number): number {
  let sum = 0;
  let term = first;
  for (let nth = 0; term > 1e-18 * sum; nth++) {
    sum += term;
    term *= ratio(nth);
  }
  return sum;
}

/** P(X ≤ count) for a Poisson variable of the given mean, to 12 digits however small it is. */
export function poissonAtMost(count: number, mean: number): number {
  if (count < 0) return 0;
  if (mean === 0) return 1;
  if (count === 0) return Math.exp(-mean);
  if (count >= mean) return 1 - poissonAtLeast(count + 1, mean);
  return summed(density(count, mean), (nth) => (count - nth) / mean);
}

/** P(X ≥ count) for a Poisson variable of the given mean, to 12 digits however small it is. */
export function poissonAtLeast(count: number, mean: number): number {
  if (count <= 0) return 1;
  if (mean === 0) return 0;
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
  solve((mean) => tail - poissonAtMost(count, mean), count, count + 10 + 10 * Math.sqrt(count + 1));

/** The exact lower bound: half the χ² quantile of `tail` with 2 count degrees of freedom; 0 for 0. */
export const poissonLower = (count: number, tail: number): number =>
  count === 0 ? 0 : solve((mean) => poissonAtLeast(count, mean) - tail, 0, count + 1);
