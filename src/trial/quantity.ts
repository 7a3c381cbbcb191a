import type { Decimal } from '../uncertainty/decimal.ts';
import currencies from '../../shared/currencies.json' with { type: 'json' };
import { readNumber } from './number.ts';
import type { Fault, Read } from '../problems/problem.ts';

/** A quantity from a file, in its key's own unit. */
export interface Quantity {
  readonly value: Decimal;
  /** One unit of the last digit written, in the key's own unit. */
  readonly resolution: Decimal;
  /** As written. */
  readonly text: string;
  /** Of money, its ISO 4217 code. */
  readonly currency?: string;
  /** Of one thing weighed several times, the single values; `value` is their mean. */
  readonly repeats?: readonly Quantity[];
}

/** What a key takes: the unit of a bare number, and the range that is possible at all. */
export interface Kind {
  readonly unit: string;
  readonly whole?: boolean;
  readonly least?: number;
  readonly greatest?: number;
  /** A step on the scale rather than a point of it: 1 °F is 5/9 °C, not -17.2 °C. */
  readonly difference?: boolean;
}

interface Unit {
  readonly dimension: string;
  /** Base units in one of this unit, as a fraction. */
  readonly over: readonly [numerator: string, denominator: string];
  /** Added before scaling, to reach the base unit's zero. */
  readonly zero?: string;
}

/** Exact conversion factors: NIST SP 811 (2008), appendix B.8. The base units are g, mm and °C. */
const UNITS: Readonly<Record<string, Unit>> = {
  mg: { dimension: 'mass', over: ['1', '1000'] },
  g: { dimension: 'mass', over: ['1', '1'] },
  kg: { dimension: 'mass', over: ['1000', '1'] },
  oz: { dimension: 'mass', over: ['28.349523125', '1'] },
  lb: { dimension: 'mass', over: ['453.59237', '1'] },
  mm: { dimension: 'length', over: ['1', '1'] },
  cm: { dimension: 'length', over: ['10', '1'] },
  in: { dimension: 'length', over: ['25.4', '1'] },
  '°C': { dimension: 'temperature', over: ['1', '1'] },
  C: { dimension: 'temperature', over: ['1', '1'] },
  '°F': { dimension: 'temperature', over: ['5', '9'], zero: '-32' },
  F: { dimension: 'temperature', over: ['5', '9'], zero: '-32' },
  K: { dimension: 'temperature', over: ['1', '1'], zero: '-273.15' },
  page: { dimension: 'page', over: ['1', '1'] },
  pages: { dimension: 'page', over: ['1', '1'] },
  sheet: { dimension: 'sheet', over: ['1', '1'] },
  sheets: { dimension: 'sheet', over: ['1', '1'] },
};

/** A unit that is not in the table stands for itself alone: %, g/m², GU and the like. */
const unitNamed = (name: string): Unit =>
  (Object.hasOwn(UNITS, name) ? UNITS[name] : undefined) ?? { dimension: name, over: ['1', '1'] };

/** The units a key with this own unit accepts, its own first. */
export function acceptedUnits(own: string): string[] {
  const { dimension } = unitNamed(own);
  const others = Object.keys(UNITS).filter((name) => UNITS[name]?.dimension === dimension && name !== own);
  return own === '1' ? [] : [own, ...others];
}

/** A count whose thousands look set apart by points: 9.000 is nine, and seldom meant so. */
const THOUSANDS_POINTED = /^[+-]?[1-9]\d{0,2}(?:\.\d{3})+(?![\d.eE])/;

/** Of the ways a number may have been meant, those that a count can be. */
function countMeant(fault: Fault): Fault {
  if (fault.code !== 'comma' && fault.code !== 'grouped-digits') return fault;
  const whole = fault.write.filter((one) => !one.includes('.'));
  return whole.length === 0 ? fault : { ...fault, write: whole };
}

/**
 * Reads a quantity in the key's own unit: a number with its unit, or a bare number.
 *
 * 0 °C and 0.01 °C below absolute zero are told apart by the ranges of `kind`, which are in its own unit.
 */
export function readQuantity(text: string, kind: Kind): Read<Quantity> {
  const number = readNumber(text.trim());
  if ('fault' in number) return { fault: kind.whole ? countMeant(number.fault) : number.fault };
  const { value, resolution, rest } = number.value;
  const pointed = kind.whole ? THOUSANDS_POINTED.exec(text.trim()) : null;
  if (pointed) {
    const write = [text.trim().replaceAll('.', '')];
    return { fault: { code: 'grouped-digits', written: text, write } };
  }
  const into = unitNamed(kind.unit);
  const from = rest === '' || rest === kind.unit ? into : unitNamed(rest);
  if (rest !== '' && from.dimension !== into.dimension) {
    return { fault: { code: 'unknown-unit', written: text, unit: rest, accepted: acceptedUnits(kind.unit) } };
  }
  const scale = (x: Decimal): Decimal =>
    from === into ? x : x.times(from.over[0]).times(into.over[1]).div(from.over[1]).div(into.over[0]);
  const converted = scale(kind.difference || from.zero === undefined ? value : value.plus(from.zero));
  const quantity = { value: converted, resolution: scale(resolution), text: text.trim() };

  if (kind.whole && !converted.isInteger()) return { fault: { code: 'not-whole', written: text } };
  if (kind.least !== undefined && converted.lt(kind.least)) {
    return { fault: { code: 'too-low', written: text, least: kind.least, unit: kind.unit } };
  }
  if (kind.greatest !== undefined && converted.gt(kind.greatest)) {
    return { fault: { code: 'too-high', written: text, greatest: kind.greatest, unit: kind.unit } };
  }
  return { value: quantity };
}

/** A price with its ISO 4217 code. */
export interface Price {
  readonly amount: Decimal;
  readonly currency: string;
}

/** An amount of money as a quantity: its unit is its currency. */
export function readMoney(text: string): Read<Quantity> {
  const price = readPrice(text);
  const number = readNumber(text.trim());
  if ('fault' in price) return price;
  if ('fault' in number) return number;
  const { amount: value, currency } = price.value;
  return { value: { value, resolution: number.value.resolution, text: text.trim(), currency } };
}

export function readPrice(text: string): Read<Price> {
  const number = readNumber(text.trim());
  if ('fault' in number) return number;
  const { value, rest } = number.value;
  if (!currencies.codes.includes(rest))
    return { fault: { code: 'unknown-currency', written: text, currency: rest } };
  if (value.isNegative()) return { fault: { code: 'too-low', written: text, least: 0, unit: rest } };
  return { value: { amount: value, currency: rest } };
}
