import { normalQuantile } from './normal.ts';
import { studentQuantile } from './student.ts';

/** Degrees of freedom from which on Student's t is the normal z to four digits. */
const AS_GOOD_AS_NORMAL = 100_000;

/** Fewer than two tell no deviation. */
const FEWEST = 2;

/**
 * How many to try so that a mean is known well enough, with the deviation `sd` taken as known:
 * N = (Σ z)² (sd/apart)².
 *
 * To show a mean to be more than a value from which it is `apart`: the probabilities are the confidence
 * and the power, one-sided. For an interval of half-width `apart`: the one probability 1 − (1 − C)/2.
 *
 * NIST/SEMATECH e-Handbook 7.2.2.2 (seen second-hand).
 *
 * @param sd not negative; @param apart more than zero, in the unit of `sd`
 */
export function sampleSizeNormal(sd: number, apart: number, probabilities: readonly number[]): number {
  const z = probabilities.reduce((sum, probability) => sum + normalQuantile(probability), 0);
  return Math.max(FEWEST, Math.ceil(((z * sd) / apart) ** 2));
}

/**
 * The same with the deviation estimated from the sample itself: Student's t in place of z, iterated until
 * the number is the one its own degrees of freedom ask for.
 */
export function sampleSizeStudent(sd: number, apart: number, probabilities: readonly number[]): number {
  let n = sampleSizeNormal(sd, apart, probabilities);
  for (; n <= AS_GOOD_AS_NORMAL; n++) {
    const freedom = n - 1;
    const t = probabilities.reduce((sum, probability) => sum + studentQuantile(probability, freedom), 0);
    if (((t * sd) / apart) ** 2 <= n) break;
  }
  return n;
}
