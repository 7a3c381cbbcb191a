import { Decimal } from '../uncertainty/decimal.ts';

/** Mean and standard deviation (n − 1) of a sample, in decimals: no digit of the data is lost. */
export function meanAndDeviation(values: readonly Decimal[]): {
  readonly mean: Decimal;
  /** Null of fewer than two values. */
  readonly sd: Decimal | null;
} {
  const sum = (all: readonly Decimal[]): Decimal =>
    all.reduce((total, one) => total.plus(one), new Decimal(0));
  const mean = sum(values).div(values.length);
  if (values.length < 2) return { mean, sd: null };
  const squares = values.map((value) => value.minus(mean)).map((apart) => apart.times(apart));
  return {
    mean,
    sd: sum(squares)
      .div(values.length - 1)
      .sqrt(),
  };
}

/** Sum of doubles. */
export const sumOf = (values: readonly number[]): number => values.reduce((total, x) => total + x, 0);

/** Mean of doubles, told from the first of them: where all are alike it is that value, to the last digit. */
export function meanOf(values: readonly number[]): number {
  const first = values[0] ?? NaN;
  return first + sumOf(values.map((x) => x - first)) / values.length;
}
