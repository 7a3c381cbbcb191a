import { stirlingSeries } from './gamma.ts';

/** Parts of the densities of counts that keep all their digits where factorials would lose them. */

/**
 * ln n! less Stirling's main terms, (n + ½) ln n − n + ½ ln 2π: what is left is small, and exact to the last digit.
 * Below 16 the factorials are exact doubles.
 */
export function stirlingError(n: number): number {
  if (n < 16) {
    let factorial = 1;
    for (let k = 2; k <= n; k++) factorial *= k;
    return Math.log(factorial) - (n + 0.5) * Math.log(n) + n - 0.5 * Math.log(2 * Math.PI);
  }
  return stirlingSeries(n);
}

/**
 * x ln(x / mean) + mean − x without the cancellation of its terms where x is near the mean: a series in
 * (x − mean) / (x + mean). C. Loader, Fast and Accurate Computation of Binomial Probabilities (2000), from memory.
 */
export function deviance(x: number, mean: number): number {
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
