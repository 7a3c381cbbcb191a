import { logGamma } from './gamma.ts';
import { solve } from './solve.ts';

/** The fraction has its last digit long before so many steps. */
const MOST_STEPS = 10_000;

/**
 * The regularised incomplete beta function Iₓ(a, b), by its continued fraction (DLMF 8.17.22, from
 * memory) evaluated with Lentz's method.
 */
export function incompleteBeta(x: number, a: number, b: number): number {
  const turn = (a + 1) / (a + b + 2);
  if (x > turn) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(
    a * Math.log(x) + b * Math.log1p(-x) + logGamma(a + b) - logGamma(a) - logGamma(b) - Math.log(a),
  );
  let c = Infinity;
  let d = 1;
  let fraction = 1;
  for (let i = 1; i < MOST_STEPS; i++) {
    const m = i >> 1;
    const step =
      i % 2 === 0
        ? (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
        : -((a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + step * d);
    c = 1 + step / c;
    const factor = c * d;
    fraction *= factor;
    if (factor === 1) break;
  }
  return front * fraction;
}

/** P(T ≥ |t|). */
const tailFrom = (t: number, freedom: number): number =>
  incompleteBeta(freedom / (freedom + t * t), freedom / 2, 0.5) / 2;

/** P(T ≤ t) for Student's t with `freedom` degrees of freedom, which need not be whole. */
export function studentDistribution(t: number, freedom: number): number {
  return t > 0 ? 1 - tailFrom(t, freedom) : tailFrom(t, freedom);
}

/** The quantile of Student's t: the t that is exceeded with probability 1 − `probability`. */
export function studentQuantile(probability: number, freedom: number): number {
  if (probability < 0.5) return -studentQuantile(1 - probability, freedom);
  return solve((t) => 1 - probability - tailFrom(t, freedom), 0, 10);
}
