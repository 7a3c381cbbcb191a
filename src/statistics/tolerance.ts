import { chiNodes } from './chi.ts';
import { normalDistribution, normalQuantile } from './normal.ts';
import { solve } from './solve.ts';

/** Enough for ten digits of a factor. */
const STEPS = 600;

/** P(T ≤ t) of the non-central t with ν degrees of freedom: the mean of Φ(t s − δ) over s = χ/√ν. */
export function noncentralStudent(t: number, freedom: number, shift: number): number {
  return chiNodes(freedom, STEPS).reduce(
    (sum, [s, weight]) => sum + weight * normalDistribution(t * s - shift),
    0,
  );
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
