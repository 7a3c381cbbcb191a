import { logGamma } from './gamma.ts';
import { normalDistribution, normalQuantile } from './normal.ts';
import { solve } from './solve.ts';

/** P(T ≤ t) of the non-central t with ν degrees of freedom: the mean of Φ(t s − δ) over s = χ/√ν. */
function noncentralStudent(t: number, freedom: number, shift: number): number {
  const spread = 1 / Math.sqrt(2 * freedom);
  // In ln s, where the part near zero that few degrees of freedom need is as wide as the rest.
  const low = 12 * spread < 1 ? Math.log(1 - 12 * spread) : -32;
  const high = Math.log(1 + 14 * spread);
  const constant = Math.log(2) + (freedom / 2) * Math.log(freedom / 2) - logGamma(freedom / 2);
  const weighted = (y: number): number => {
    const s = Math.exp(y);
    return Math.exp(constant + freedom * y - (freedom * s * s) / 2) * normalDistribution(t * s - shift);
  };
  // Simpson's rule; the integrand is smooth and falls off at both ends.
  const steps = 6000;
  const width = (high - low) / steps;
  let sum = 0;
  for (let i = 0; i <= steps; i++) {
    const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * weighted(low + i * width);
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
