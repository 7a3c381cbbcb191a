import { logGamma } from './gamma.ts';
import { summed } from './series.ts';

/** The fraction has its last digit long before so many steps. */
const MOST_STEPS = 10_000;

/**
 * P(X ≥ `x`) of a χ² variable with `freedom` degrees of freedom: the regularised incomplete gamma function Q(ν/2, x/2).
 * Below its middle by the series (DLMF 8.11.4), above by the continued fraction (DLMF 8.9.2) with Lentz's method; both
 * from memory.
 */
export function chiSquareTail(x: number, freedom: number): number {
  const [a, z] = [freedom / 2, Math.max(0, x) / 2];
  const front = Math.exp(a * Math.log(z) - z - logGamma(a));
  if (z < a) return 1 - front * summed(1 / a, (nth) => z / (a + nth + 1));
  let b = z + 1 - a;
  let c = Infinity;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < MOST_STEPS; n++) {
    const step = n * (a - n);
    b += 2;
    d = 1 / (step * d + b);
    c = b + step / c;
    const factor = c * d;
    fraction *= factor;
    if (factor === 1) break;
  }
  return front * fraction;
}
