import { brief, Decimal } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import type { Quantity } from './quantity.ts';

/** Most weighings a mass may be a list of. */
export const MOST_WEIGHINGS = 20;

/** The mean of several values, without uncertainty; exact as a ratio. */
export const meanOf = (values: readonly Quantity[]): Measured =>
  Measured.weighted(
    values.map(({ value }) => [Measured.exact(value), 1]),
    values.length,
  );

/** Weighings of one thing, in g, as one quantity: their mean, read as finely as the coarsest of them. */
export function repeated(values: readonly Quantity[]): Quantity {
  const [only] = values;
  if (only !== undefined && values.length === 1) return only;
  const { value } = meanOf(values);
  return {
    value,
    resolution: Decimal.max(...values.map(({ resolution }) => resolution)),
    text: `${brief(value)} g (mean of ${values.length})`,
    repeats: values,
  };
}

/**
 * Half of Student's t for n − 1 degrees of freedom at 95.45 %, the probability that k = 2 stands for, by n from 2 on
 * (JCGM 100:2008, table G.2, gives t itself to two decimals; these were computed with scipy).
 */
const HALF_T: readonly number[] = [
  6.983865, 2.263268, 1.653411, 1.434655, 1.324325, 1.258262, 1.214403, 1.183208, 1.159903, 1.141839,
  1.127431, 1.115674, 1.105899, 1.097644, 1.090581, 1.08447, 1.07913, 1.074425, 1.070247,
];

/** No standard deviation of readings is taken as smaller than this part of their resolution: r/√48. */
const LEAST_SCATTER = Math.sqrt(1 / 48);

/**
 * The type A standard uncertainty of the mean of n readings, in their unit: (s/√n) · t/2, with s their standard
 * deviation (JCGM 100:2008, 4.2.2 and 4.2.3) and t of n − 1 degrees of freedom for 95.45 %.
 *
 * A few readings show too small an s more often than too large a one, and ± 2 s/√n holds the true value far less than
 * 95 times in 100: seven in ten for n = 2. JCGM 101:2008, 6.4.9.4, takes the scaled t-distribution, whose variance
 * is (n − 1)/(n − 3) · s²/n; for n = 2 and 3 it has none. Here the factor is chosen so that ± 2u is the interval of
 * Student's t (JCGM 100:2008, G.3.2), which there is for every n. From n = 5 on it is the larger of the two; for
 * n = 4 it is 1.65 against 1.73, and the interval still holds 95.45 %.
 *
 * Beside other parts, normal or of the same kind, 2u holds no less than 95.45 % (the chi-squared distribution of one
 * degree of freedom is concave, so mixing such intervals by their squares loses nothing). A guard band of more than
 * 2u holds less than a normal distribution promises, since the tails of t are longer.
 *
 * Two readings to a whole gram are often the same though the scale scatters by a gram; s = 0 would then hold the true
 * value in 88 of 100. So s is at least that of an error within a quarter of the resolution, r/√48; with it ± 2u holds
 * 95 of 100 at every scatter (simulated).
 */
export function scatterOf(values: readonly Quantity[], resolution: Decimal): number {
  const n = values.length;
  const mean = meanOf(values).value;
  const squares = values.reduce((sum, { value }) => sum + value.minus(mean).toNumber() ** 2, 0);
  const s = Math.max(Math.sqrt(squares / (n - 1)), resolution.toNumber() * LEAST_SCATTER);
  return ((HALF_T[n - 2] ?? 0) * s) / Math.sqrt(n);
}
