import { normalDensity, normalDistribution } from './normal.ts';

/** ∫ Φ from −∞ to z, which is z Φ(z) + φ(z). */
const areaBelow = (z: number): number => z * normalDistribution(z) + normalDensity(z);

/** A rectangle so much narrower than the normal part changes no digit that is printed. */
const NARROW = 1e-4;

/**
 * P(R + Z ≤ x): R as likely anywhere between −half and half, Z normal about zero with standard deviation `sigma`,
 * independent. By integrating Φ over the rectangle: σ/(2a) · (G((x + a)/σ) − G((x − a)/σ)) with G(z) = z Φ(z) + φ(z)
 * (JCGM 101:2008 propagates the same two distributions by drawing from them; 6.4.2 and 6.4.7).
 *
 * `half` and `sigma` in the unit of `x`, not negative, not both zero.
 */
export function rectangleAndNormal(x: number, half: number, sigma: number): number {
  if (half <= NARROW * sigma) return normalDistribution(x / sigma);
  if (sigma <= NARROW * half) return Math.min(Math.max((x + half) / (2 * half), 0), 1);
  // Taken from the nearer tail, where the difference keeps its digits.
  if (x > 0) return 1 - rectangleAndNormal(-x, half, sigma);
  return (sigma / (2 * half)) * (areaBelow((x + half) / sigma) - areaBelow((x - half) / sigma));
}
