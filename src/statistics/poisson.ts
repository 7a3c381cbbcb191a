import { solve } from './solve.ts';

/** Bounds for the mean of a Poisson count: how many events were to be expected where some were seen. */

/** P(X ≤ count) for a Poisson variable of the given mean. */
export function poissonDistribution(count: number, mean: number): number {
  if (count < 0) return 0;
  if (mean === 0) return 1;
  // Terms are summed from the largest down, so that none is lost beside it.
  let term = Math.exp(count * Math.log(mean) - mean - logFactorial(count));
  let sum = 0;
  for (let k = count; k >= 0 && term > 0; k--) {
    sum += term;
    term *= k / mean;
  }
  return Math.min(1, sum);
}

function logFactorial(n: number): number {
  if (n < 256) {
    let sum = 0;
    for (let k = 2; k <= n; k++) sum += Math.log(k);
    return sum;
  }
  // Stirling's series; the next term is below 1e-16 here.
  const x = n + 1;
  return (x - 0.5) * Math.log(x) - x + 0.5 * Math.log(2 * Math.PI) + 1 / (12 * x) - 1 / (360 * x ** 3);
}

/**
 * The exact upper bound of the mean, given a count: the mean for which so few events would have been
 * seen with a probability of only 1 − `probability`. Garwood, Biometrika 28 (1936) 437 (from memory);
 * equal to half the χ² quantile of `probability` with 2 (count + 1) degrees of freedom.
 */
export const poissonUpper = (count: number, probability: number): number =>
  solve(
    (mean) => 1 - probability - poissonDistribution(count, mean),
    count,
    count + 10 + 10 * Math.sqrt(count + 1),
  );

/** The exact lower bound: half the χ² quantile of 1 − `probability` with 2 count degrees of freedom; 0 for 0. */
export const poissonLower = (count: number, probability: number): number =>
  count === 0 ? 0 : solve((mean) => probability - poissonDistribution(count - 1, mean), 0, count);
