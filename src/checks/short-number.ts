import type { Decimal } from '../uncertainty/decimal.ts';
import type { Measured } from '../uncertainty/measured.ts';

/** Numbers as problems carry them: text, for the words to shape. */

export const shortNumber = (value: Decimal): string => value.toSignificantDigits(6).toFixed();

/** A value and U for the words, with every digit that could be printed. */
export const withU = ({ value, u }: Measured): readonly [value: string, U: string] => [
  value.toFixed(),
  u.times(2).toFixed(),
];
