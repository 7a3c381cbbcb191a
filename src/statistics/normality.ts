import { binomialUpper } from './binomial.ts';
import { normalDistribution, normalQuantile } from './normal.ts';
import { meanOf, sumOf } from './sample.ts';

/** How far a sample is from normal. */
export interface Normality {
  /** Anderson and Darling's A², corrected for the size of the sample. */
  readonly statistic: number;
  /** Exceeded by one normal sample in twenty. */
  readonly critical: number;
  readonly normal: boolean;
}

/** Fewer values do not tell a normal distribution from another. */
const ENOUGH = 15;
const CRITICAL = 0.752;

/**
 * Anderson and Darling's test for normality with mean and deviation of the sample itself: A² = −n − Σ (2i − 1)(ln Φᵢ +
 * ln (1 − Φₙ₊₁₋ᵢ))/n, times 1 + 0.75/n + 2.25/n², against 0.752 at 5 % (D'Agostino and Stephens, Goodness-of-Fit
 * Techniques (1986), table 4.7; from memory, the level held by simulation). Null of fewer than 15 values, and where
 * all are one.
 */
export function normality(values: readonly number[]): Normality | null {
  const n = values.length;
  if (n < ENOUGH) return null;
  const mean = meanOf(values);
  const sd = Math.sqrt(sumOf(values.map((x) => (x - mean) ** 2)) / (n - 1));
  if (sd === 0) return null;
  const z = values.map((x) => (x - mean) / sd).toSorted((a, b) => a - b);
  const terms = z.map((own, i) => {
    const opposite = z[n - 1 - i] ?? own;
    return (2 * i + 1) * (Math.log(normalDistribution(own)) + Math.log(normalDistribution(-opposite)));
  });
  const square = -n - sumOf(terms) / n;
  const statistic = square * (1 + 0.75 / n + 2.25 / n ** 2);
  return { statistic, critical: CRITICAL, normal: statistic <= CRITICAL };
}

/** Where a normal sample has its value of one rank, in standard deviations from the mean. */
export interface NormalScore {
  readonly median: number;
  /** Beyond each of these it is found once in forty. */
  readonly low: number;
  readonly high: number;
}

/**
 * The normal scores of n values by rank, the least first. A probability plot has the values over the medians: those
 * of a normal sample lie about a straight line.
 *
 * The median of the i-th of n is Φ⁻¹ of that of a beta distribution with i and n + 1 − i, which Filliben
 * (Technometrics 17 (1975) 111; NIST/SEMATECH e-Handbook, 1.3.3.21, from memory) gives to three digits and which is
 * worked out here; so are its quantiles of 2.5 and 97.5 %. The beta distribution function at p is the probability
 * of i or more among n chances of p each.
 */
export const normalScores = (n: number): NormalScore[] =>
  Array.from({ length: n }, (_, below) => {
    const at = (probability: number): number => normalQuantile(binomialUpper(below, n, probability));
    return { median: at(0.5), low: at(0.025), high: at(0.975) };
  });
