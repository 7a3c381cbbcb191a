import { Decimal } from '../uncertainty/decimal.ts';
import type { Fault, Read } from './problem.ts';

/** A number as written: its decimal value, the place of its last digit, and what follows it. */
export interface Written {
  readonly value: Decimal;
  /** One unit of the last digit: 1 for `948`, 0.1 for `948.0`. */
  readonly resolution: Decimal;
  /** What stands behind the number: a unit, or nothing. */
  readonly rest: string;
}

const NUMBER = /^([+-]?)(\d+(?:\.(\d*))?|\.(\d+))(?:[eE]([+-]?\d+))?/;
const LARGEST = new Decimal('1e12');
const SMALLEST = new Decimal('1e-12');
const MOST_DIGITS = 30;

/**
 * Reads the number at the start of `text`. Digits become a decimal as they stand; nothing passes
 * through binary floating point.
 *
 * Refused: commas, digit grouping, more than 30 digits, anything beyond 10^12 or (but for 0) below 10^-12.
 */
export function readNumber(text: string): Read<Written> {
  const found = NUMBER.exec(text);
  if (found === null) return { fault: misread(text) };
  const [all, sign = '', digits = ''] = found;
  const rest = text.slice(all.length).trim();
  if (/^[,.'’_]?\s?\d/.test(text.slice(all.length)) || /^[,.'’_]/.test(rest)) return { fault: misread(text) };

  const exponent = Number(found[5] ?? '0');
  if (digits.length > MOST_DIGITS) return { fault: { code: 'too-many-digits', written: text } };
  if (Math.abs(exponent) > 40) {
    const zero = /^[0.]*$/.test(digits);
    if (!zero)
      return { fault: { code: exponent > 0 ? 'number-too-large' : 'number-too-small', written: text } };
    return { value: { value: new Decimal(0), resolution: new Decimal(1), rest } };
  }
  const value = new Decimal(`${sign}${digits}e${exponent}`);
  const decimals = (found[3] ?? found[4] ?? '').length;
  if (value.abs().gt(LARGEST)) return { fault: { code: 'number-too-large', written: text } };
  if (!value.isZero() && value.abs().lt(SMALLEST)) {
    return { fault: { code: 'number-too-small', written: text } };
  }
  return {
    value: {
      value: value.isZero() ? new Decimal(0) : value,
      resolution: new Decimal(`1e${exponent - decimals}`),
      rest,
    },
  };
}

/** Says what kind of slip keeps `text` from being a number, and how it is written instead. */
function misread(text: string): Fault {
  const lump =
    /^[+-]?\d[\d\s.,'’_]*/
      .exec(text)?.[0]
      .trim()
      .replace(/[.,'’_]+$/, '') ?? '';
  const unit = text.slice(text.indexOf(lump) + lump.length).replace(/^[.,'’_]+/, '');
  const write = (number: string): string => `${number}${unit === '' ? '' : ` ${unit.trim()}`}`;
  if (/\d,\d/.test(lump)) {
    const groups = lump.split(/[.,\s'’_]/);
    const commas = lump.split(',').length - 1;
    const looksGrouped = groups.slice(1).every((group) => group.length === 3);
    const lastMark = lump.lastIndexOf(',') > lump.lastIndexOf('.') ? ',' : '.';
    const cut = lump.lastIndexOf(lastMark);
    const asPoint = `${lump.slice(0, cut).replace(/\D/g, '')}.${lump.slice(cut + 1).replace(/\D/g, '')}`;
    const asGroups = lump.replace(/\D/g, '');
    const either =
      commas > 1 && looksGrouped
        ? [asGroups]
        : looksGrouped && groups.length === 2
          ? [asPoint, asGroups]
          : [asPoint];
    return { code: 'comma', written: text, write: either.map(write) };
  }
  if (/\d[\s.'’_]+\d/.test(lump)) {
    return { code: 'grouped-digits', written: text, write: [write(lump.replace(/\D/g, ''))] };
  }
  return { code: 'not-a-number', written: text };
}
