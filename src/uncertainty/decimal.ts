import { Decimal as DecimalJs } from 'decimal.js';

/**
 * The project's only decimal type: 34 significant digits, rounding half to even (as IEEE 754 decimal128).
 *
 * Made once, here. Mixing constructors would let the left operand decide the precision of a result.
 * decimal.js also accepts `0x1F`, `1_0` and `NaN`; nothing from a file may reach it except through
 * `trial/number.ts`, which has its own grammar.
 */
export const Decimal = DecimalJs.clone({
  precision: 34,
  rounding: DecimalJs.ROUND_HALF_EVEN,
  toExpNeg: -9e15,
  toExpPos: 9e15,
});
export type Decimal = DecimalJs;

export const ZERO = new Decimal(0);
export const ONE = new Decimal(1);

/** A value as it is shown in a sentence: exact where it is short, else eight digits. */
export const brief = (value: Decimal): string =>
  (value.sd() <= 10 ? value : value.toSignificantDigits(8)).toFixed();

/** A decimal from what was computed in doubles (a root, a logarithm): the 15 digits of it that count. */
export const asDecimal = (double: number): Decimal => new Decimal(double.toPrecision(15));
