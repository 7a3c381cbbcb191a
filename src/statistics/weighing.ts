/** Values weighted by the inverse of their covariance. */

/** A symmetric matrix by its rows. */
export type Matrix = readonly (readonly number[])[];

/** Multiplies a vector by the inverse of a covariance matrix. */
export type Weigh = (values: readonly number[]) => number[];

export const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, one, i) => sum + one * (b[i] ?? NaN), 0);

/**
 * The inverse of a covariance matrix as what it does to a vector: of `variances` on the diagonal and `shared` beside it,
 * or null where the values share nothing.
 */
export function weighBy(variances: readonly number[], shared: Matrix | null): Weigh {
  if (shared === null) {
    const weights = variances.map((variance) => 1 / variance);
    return (values) => values.map((value, i) => (weights[i] ?? NaN) * value);
  }
  const lower = cholesky(
    variances.map((variance, i) => variances.map((_, j) => (i === j ? variance : (shared[i]?.[j] ?? NaN)))),
  );
  const at = (i: number, j: number): number => lower[i]?.[j] ?? NaN;
  return (values) => {
    const forward: number[] = [];
    for (const [i, value] of values.entries()) {
      const known = forward.reduce((sum, one, j) => sum + at(i, j) * one, 0);
      forward.push((value - known) / at(i, i));
    }
    /** From the last to the first. */
    const back: number[] = [];
    for (const [i, value] of [...forward.entries()].toReversed()) {
      const known = back.reduce((sum, one, k) => sum + at(forward.length - 1 - k, i) * one, 0);
      back.push((value - known) / at(i, i));
    }
    return back.toReversed();
  };
}

/** The lower triangle L with L Lᵀ the matrix (Cholesky), which has to be positive definite. */
function cholesky(matrix: Matrix): number[][] {
  const lower: number[][] = matrix.map((row) => row.map(() => NaN));
  for (const [i, row] of lower.entries())
    for (let j = 0; j <= i; j++) {
      const other = lower[j] ?? [];
      let rest = matrix[i]?.[j] ?? NaN;
      for (let k = 0; k < j; k++) rest -= (row[k] ?? NaN) * (other[k] ?? NaN);
      row[j] = i === j ? Math.sqrt(rest) : rest / (other[j] ?? NaN);
    }
  return lower;
}
