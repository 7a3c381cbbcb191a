import { summed } from './series.ts';
import { solve } from './solve.ts';

/**
 * P(Z > z) of a standard normal variable, to 12 digits however small it is.
 *
 * Up to 3 by the series Φ(z) = ½ + φ(z) (z + z³/3 + z⁵/(3·5) + …): G. Marsaglia, Evaluating the Normal
 * Distribution, Journal of Statistical Software 11 (2004), no. 4. Beyond by Laplace's continued fraction.
 */
export function normalTail(z: number): number {
  if (z < 0) return 1 - normalTail(-z);
  if (z >= FAR) return normalDensity(z) / normalHazard(z);
  const square = z * z;
  return 0.5 - normalDensity(z) * summed(z, (nth) => square / (2 * nth + 3));
}

/** From here on the continued fraction has all its digits. */
const FAR = 3;

/** The standard normal distribution function Φ(z). */
export const normalDistribution = (z: number): number => normalTail(-z);

/** The z that is exceeded with probability 1 − `probability`. */
export const normalQuantile = (probability: number): number =>
  probability < 0.5 ? -exceededWith(probability) : exceededWith(1 - probability);

/** The z, not negative, that is exceeded with a probability of at most ½. */
const exceededWith = (tail: number): number => solve((z) => tail - normalTail(z), 0, 8);

/** The standard normal density φ(z). */
export const normalDensity = (z: number): number => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);

/** φ(z) / (1 − Φ(z)): how fast a normal variable that has reached z leaves it. */
export function normalHazard(z: number): number {
  if (z < FAR) return normalDensity(z) / normalTail(z);
  // Laplace's continued fraction; what is left out after 60 terms is below e^(−2z√120) of it.
  let fraction = 0;
  for (let k = 60; k >= 1; k--) fraction = k / (z + fraction);
  return z + fraction;
}
