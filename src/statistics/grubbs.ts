import type { Decimal } from '../uncertainty/decimal.ts';
import { meanAndDeviation } from './sample.ts';
import { studentQuantile } from './student.ts';

/** The value furthest from the mean, and whether it is an outlier. */
export interface Grubbs {
  /** Place of the value in the sample. */
  readonly index: number;
  /** Its distance from the mean in standard deviations. */
  readonly G: number;
  readonly critical: number;
  readonly outlier: boolean;
}

/**
 * Grubbs' two-sided test for one outlier in a normal sample: G against (n−1)/√n · √(t²/(n−2+t²)), t at
 * α/(2n) with n − 2 degrees (NIST/SEMATECH e-Handbook 1.3.5.17.1, from memory). Null of fewer than three
 * values, or where all are alike.
 */
export function grubbs(values: readonly Decimal[], alpha = 0.05): Grubbs | null {
  const n = values.length;
  const { mean, sd } = meanAndDeviation(values);
  if (n < 3 || sd === null || sd.isZero()) return null;
  const apart = values.map((value) => value.minus(mean).abs().div(sd).toNumber());
  const G = Math.max(...apart);
  const t = studentQuantile(1 - alpha / (2 * n), n - 2);
  const critical = ((n - 1) / Math.sqrt(n)) * Math.sqrt((t * t) / (n - 2 + t * t));
  return { index: apart.indexOf(G), G, critical, outlier: G > critical };
}
