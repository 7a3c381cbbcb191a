import { Decimal, ONE, ZERO } from '../uncertainty/decimal.ts';
import type { Fault, Read } from '../problems/problem.ts';

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

const powers = new Map<number, Decimal>();

/** The few resolutions there are, made once. */
function powerOfTen(exponent: number): Decimal {
  const known = powers.get(exponent);
  if (known !== undefined) return known;
  const power = new Decimal(`1e${exponent}`);
  powers.set(exponent, power);
  return power;
}

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
  if (/^([,.'\u2019_]|\s+\d)/.test(text.slice(all.length))) return { fault: misread(text) };

  const exponent = Number(found[5] ?? '0');
  if (digits.replace('.', '').length > MOST_DIGITS)
    return { fault: { code: 'too-many-digits', written: text } };
  if (Math.abs(exponent) > 40) {
    const zero = /^[0.]*$/.test(digits);
    if (!zero)
      return { fault: { code: exponent > 0 ? 'number-too-large' : 'number-too-small', written: text } };
    return { value: { value: ZERO, resolution: ONE, rest } };
  }
  const value = new Decimal(exponent === 0 ? `${sign}${digits}` : `${sign}${digits}e${exponent}`);
  const decimals = (found[3] ?? found[4] ?? '').length;
  // The exponent of its first digit tells nearly always.
  if (value.e >= LARGEST.e && value.abs().gt(LARGEST)) {
    return { fault: { code: 'number-too-large', written: text } };
  }
  if (!value.isZero() && value.e < SMALLEST.e) return { fault: { code: 'number-too-small', written: text } };
  return {
    value: {
      value: value.isZero() ? ZERO : value,
      resolution: powerOfTen(exponent - decimals),
      rest,
    },
  };
}

/** A run of digits with marks between them, its sign before and what follows it: a unit, an exponent. */
const MARKED = /^([+-]?)(\d+(?:[\s.,'\u2019_]+\d+)*)(.*)$/s;

/** Says what kind of slip keeps `text` from being a number, and how it is written instead. */
function misread(text: string): Fault {
  const [, sign = '', body = '', tail = ''] = MARKED.exec(text.trim()) ?? [];
  const after = tail.replace(/^[.,'\u2019_]+/, '').trim();
  const unit = /^[eE][+-]?\d/.test(after) || after === '' ? after : ` ${after}`;
  const write = readings(body).map((number) => `${sign}${number}${unit}`);
  if (body.includes(',') || tail.startsWith(',')) return { code: 'comma', written: text, write };
  if (/\D/.test(body)) return { code: 'grouped-digits', written: text, write };
  return { code: 'not-a-number', written: text };
}

/** What marked digits can have meant: one number, or two where a comma may be a decimal or a thousands mark. */
function readings(body: string): string[] {
  const joined = body.replace(/\D/g, '');
  const groups = body.split(/\D+/);
  const marks = body.match(/\D+/g) ?? [];
  const last = marks.at(-1) ?? '';
  const cut = joined.length - (groups.at(-1)?.length ?? 0);
  const pointed = `${joined.slice(0, cut)}.${joined.slice(cut)}`;
  const once = marks.filter((mark) => mark === last).length === 1;
  const grouped =
    /^[1-9]\d{0,2}$/.test(groups[0] ?? '') && groups.slice(1).every((group) => group.length === 3);
  if (last !== '.' && last !== ',') return [joined];
  if (marks.length === 1) return last === ',' ? (grouped ? [pointed, joined] : [pointed]) : [pointed];
  return once || !grouped ? [pointed] : [joined];
}
