import { studentDistribution, studentQuantile } from './student.ts';

/** A sample by its numbers. */
export interface Sample {
  readonly n: number;
  readonly mean: number;
  readonly sd: number;
}

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** Two means held against each other, neither deviation taken for the other's. */
export interface Comparison {
  readonly difference: number;
  readonly t: number;
  readonly freedom: number;
  /** Two-sided interval of the difference. */
  readonly interval: Interval;
  /** Two-sided interval of the ratio, by Fieller; null where the second mean could be zero. */
  readonly ratio: Interval | null;
}

/** The difference of two means, the variance of each, and Satterthwaite's degrees of freedom. */
function apart(a: Sample, b: Sample) {
  const [va, vb] = [a.sd ** 2 / a.n, b.sd ** 2 / b.n];
  const freedom = (va + vb) ** 2 / (va ** 2 / (a.n - 1) + vb ** 2 / (b.n - 1));
  return { difference: a.mean - b.mean, va, vb, error: Math.sqrt(va + vb), freedom };
}

/**
 * Welch's comparison of two means, with Satterthwaite's degrees of freedom (NIST/SEMATECH e-Handbook
 * 7.3.1, seen second-hand). `confidence` is two-sided, between 0 and 1.
 */
export function welch(a: Sample, b: Sample, confidence: number): Comparison {
  const { difference, va, vb, error, freedom } = apart(a, b);
  const quantile = studentQuantile((1 + confidence) / 2, freedom);
  const g = (quantile ** 2 * vb) / b.mean ** 2;
  const ratio = a.mean / b.mean;
  const half = (quantile / b.mean) * Math.sqrt(va * (1 - g) + ratio ** 2 * vb);
  return {
    difference,
    t: difference / error,
    freedom,
    interval: { low: difference - quantile * error, high: difference + quantile * error },
    ratio: g < 1 ? { low: (ratio - half) / (1 - g), high: (ratio + half) / (1 - g) } : null,
  };
}

/**
 * Equivalence by two one-sided tests (Schuirmann 1987, from memory): the larger p of the tests that the
 * difference is above −margin and below +margin. Equivalent at α when it is at most α, which is when the
 * 1 − 2α interval lies inside the margins.
 */
export function equivalence(a: Sample, b: Sample, margin: number): number {
  const { difference, error, freedom } = apart(a, b);
  const above = 1 - studentDistribution((difference + margin) / error, freedom);
  const below = studentDistribution((difference - margin) / error, freedom);
  return Math.max(above, below);
}
