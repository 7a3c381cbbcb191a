import { solve } from './solve.ts';

/**
 * The standard normal distribution function Φ(z), to about 14 digits.
 *
 * Series Φ(z) = ½ + φ(z) (z + z³/3 + z⁵/(3·5) + …): G. Marsaglia, Evaluating the Normal Distribution,
 * Journal of Statistical Software 11 (2004), no. 4.
 */
export function normalDistribution(z: number): number {
  if (z > 8) return 1;
  if (z < -8) return 0;
  const square = z * z;
  let term = z;
  let sum = z;
  for (let odd = 3; Math.abs(term) > 1e-17 * Math.abs(sum); odd += 2) {
    term *= square / odd;
    sum += term;
  }
  return 0.5 + (sum * Math.exp(-square / 2)) / Math.sqrt(2 * Math.PI);
}

/** The z that is exceeded with probability 1 − `probability`. */
export const normalQuantile = (probability: number): number =>
  solve((z) => normalDistribution(z) - probability, -8, 8);

/** The standard normal density φ(z). */
export const normalDensity = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

/** φ(z) / (1 − Φ(z)): how fast a normal variable that has reached z leaves it. */
export function normalHazard(z: number): number {
  if (z < 5) return normalDensity(z) / (1 - normalDistribution(z));
  // Laplace's continued fraction, where 1 − Φ would lose its digits.
  let fraction = 0;
  for (let k = 60; k >= 1; k--) fraction = k / (z + fraction);
  return z + fraction;
}
