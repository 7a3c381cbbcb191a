import { logGamma } from './gamma.ts';
import { normalDistribution, normalQuantile } from './normal.ts';
import { solve } from './solve.ts';

/** P(T ≤ t) of the non-central t with ν degrees of freedom: the mean of Φ(t s − δ) over s = χ/√ν. */
function noncentralStudent(t: number, freedom: number, shift: number): number {
  const spread = 1 / Math.sqrt(2 * freedom);
  const low = Math.max(0, 1 - 12 * spread);
  const high = 1 + 14 * spread;
  const constant = Math.log(2) + (freedom / 2) * Math.log(freedom / 2) - logGamma(freedom / 2);
  const density = (s: number): number =>
    s === 0
      ? freedom === 1
        ? Math.exp(constant)
        : 0
      : Math.exp(constant + (freedom - 1) * Math.log(s) - (freedom * s * s) / 2);
  // Simpson's rule; the integrand is smooth and falls off at both ends.
  const steps = 4000;
  const width = (high - low) / steps;
  let sum = 0;
  for (let i = 0; i <= steps; i++) {
    const s = low + i * width;
    const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * density(s) * normalDistribution(t * s - shift);
  }
  return (sum * width) / 3;
}

/**
 * The exact one-sided tolerance factor k of a normal sample of n: with the given confidence at least
 * `share` of the population lies above mean − k·s. From the non-central t (NIST/SEMATECH e-Handbook
 * 7.2.6.3, seen second-hand).
 */
export function toleranceFactor(n: number, share: number, confidence: number): number {
  const root = Math.sqrt(n);
  const shift = normalQuantile(share) * root;
  return solve((k) => noncentralStudent(k * root, n - 1, shift) - confidence, 0, 4);
}
