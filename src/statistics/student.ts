import { logGamma } from './gamma.ts';
import { solve } from './solve.ts';

/**
 * The regularised incomplete beta function Iₓ(a, b), by its continued fraction (DLMF 8.17.22, from
 * memory) evaluated with Lentz's method.
 */
export function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(
    a * Math.log(x) + b * Math.log1p(-x) + logGamma(a + b) - logGamma(a) - logGamma(b) - Math.log(a),
  );
  const tiny = 1e-300;
  let f = 1;
  let c = 1;
  let d = 0;
  for (let i = 0; i < 1000; i++) {
    const m = i >> 1;
    const term =
      i === 0
        ? 1
        : i % 2 === 0
          ? (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
          : -((a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 + term * d;
    c = 1 + term / c;
    if (Math.abs(d) < tiny) d = tiny;
    if (Math.abs(c) < tiny) c = tiny;
    d = 1 / d;
    f *= c * d;
    if (Math.abs(1 - c * d) < 1e-16) break;
  }
  return front * (f - 1);
}

/** P(T ≤ t) for Student's t with `freedom` degrees of freedom, which need not be whole. */
export function studentDistribution(t: number, freedom: number): number {
  const tail = incompleteBeta(freedom / (freedom + t * t), freedom / 2, 0.5) / 2;
  return t > 0 ? 1 - tail : tail;
}

/** The quantile of Student's t: the t that is exceeded with probability 1 − `probability`. */
export function studentQuantile(probability: number, freedom: number): number {
  if (probability < 0.5) return -studentQuantile(1 - probability, freedom);
  const beyond = 1 - probability;
  const tail = (t: number): number => incompleteBeta(freedom / (freedom + t * t), freedom / 2, 0.5) / 2;
  return probability === 0.5 ? 0 : solve((t) => beyond - tail(t), 0, 10);
}
