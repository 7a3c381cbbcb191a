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
