import { SEVERITY } from '../trial/catalogue.ts';
import { SEVERITIES } from '../trial/schema/severities.ts';
import type { Bound } from '../uncertainty/measured.ts';
import { asDecimal, type Decimal, ZERO } from '../uncertainty/decimal.ts';

/** Digits beyond which a decimal is taken to be rounded rather than exact; results carry 34. */
const MOST_EXACT_DIGITS = 25;

/** A decimal for other programs: every digit where exact, else 12 significant ones. No exponent, no -0. */
export function fullDigits(value: Decimal): string {
  const shown = value.sd() <= MOST_EXACT_DIGITS ? value : value.toSignificantDigits(12);
  return shown.isZero() ? '0' : shown.toFixed();
}

/** Decimal places that leave U two significant digits; negative when U has more than two before the point. */
const placesFor = (U: Decimal): number => 1 - U.toSignificantDigits(2).e;

function atPlaces(value: Decimal, places: number): string {
  const rounded = places >= 0 ? value.toDecimalPlaces(places) : value.toNearest(`1e${-places}`);
  return (rounded.isZero() ? ZERO : rounded).toFixed(Math.max(0, places));
}

/** A value and its expanded uncertainty for people. */
export interface Shown {
  readonly value: string;
  /** Empty where the value is exact. */
  readonly U: string;
}

/** U rounded to two significant digits, the value to the same place; an exact value in full. */
export function shown(value: Decimal, U: Decimal): Shown {
  if (U.isZero()) return { value: tidy(value), U: '' };
  const places = placesFor(U);
  return { value: atPlaces(value, places), U: atPlaces(U, places) };
}

/** Something told beside a figure (the margin to its limit), to the same place as the figure. */
export const shownBeside = (value: Decimal, U: Decimal): string =>
  U.isZero() ? tidy(value) : atPlaces(value, placesFor(U));

/** A number as agreed or written, with all its digits; one that does not end is cut after the third decimal. */
export function exactly(value: Decimal): string {
  const digits = value.sd() <= MOST_EXACT_DIGITS ? value : value.toDecimalPlaces(3);
  return digits.isZero() ? '0' : digits.toFixed();
}

/** An exact number for people: no more than three decimals, or three digits of what is smaller than one. */
export function tidy(value: Decimal): string {
  const digits = value.abs().lt(1) ? value.toSignificantDigits(3) : value.toDecimalPlaces(3);
  return digits.isZero() ? '0' : digits.toFixed();
}

/** The word of a severity, which a figure holds as its place in the order of severities; null of any other unit. */
export const severityWord = (value: Decimal, unit: string): string | null =>
  unit === SEVERITY ? (SEVERITIES[value.toNumber()] ?? null) : null;

/** A value for other programs: its digits, or the word of a severity. */
export const figureValue = (value: Decimal, unit: string): string =>
  severityWord(value, unit) ?? fullDigits(value);

/** A share between 0 and 1 in percent. */
export const percent = (share: number): Decimal => asDecimal(share).times(100);

/** A number with all its digits as text for other programs; null where there is none. */
export const digitsOrNull = (value: Decimal | number | null | undefined): string | null =>
  value == null ? null : fullDigits(typeof value === 'number' ? asDecimal(value) : value);

/** Words before a value that is only a bound. */
export const BOUND_WORDS: Readonly<Record<Bound, string>> = {
  exact: '',
  at_least: 'at least ',
  at_most: 'at most ',
};
