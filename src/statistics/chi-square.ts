import { logGamma } from './gamma.ts';

/** Terms and steps are below the last digit long before this many. */
const MOST_STEPS = 10_000;

/**
 * P(X ≥ `x`) of a χ² variable with `freedom` degrees of freedom: the regularised incomplete gamma function Q(ν/2, x/2).
 * Below its middle by the series (DLMF 8.11.4), above by the continued fraction (DLMF 8.9.2) with Lentz's method; both
 * from memory.
 */
export function chiSquareTail(x: number, freedom: number): number {
  if (x <= 0) return 1;
  const [a, z] = [freedom / 2, x / 2];
  const front = Math.exp(a * Math.log(z) - z - logGamma(a));
  if (z < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; n < MOST_STEPS && term > 1e-17 * sum; n++) {
      term *= z / (a + n);
      sum += term;
    }
    return 1 - front * sum;
  }
  let b = z + 1 - a;
  let c = Infinity;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < MOST_STEPS; n++) {
    const step = n * (a - n);
    b += 2;
    d = 1 / (step * d + b);
    c = b + step / c;
    fraction *= c * d;
    if (Math.abs(c * d - 1) < 1e-16) break;
  }
  return front * fraction;
}
