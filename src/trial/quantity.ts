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
  /** The form to write, where it was typed in another one of the same meaning. */
  readonly write?: string;
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

/** Units as people type them, in small letters, by what they mean; a degree alone is one of the usual scale. */
const TYPED_UNITS = new Map<string, string>(
  (
    [
      ['g', 'gram, grams, gramme, grammes, g.'],
      ['kg', 'kilogram, kilograms, kilo, kilos, kgs, kg.'],
      ['mg', 'milligram, milligrams'],
      ['oz', 'ounce, ounces'],
      ['lb', 'pound, pounds, lbs'],
      ['mm', 'millimetre, millimetres, millimeter, millimeters'],
      ['cm', 'centimetre, centimetres, centimeter, centimeters'],
      ['in', 'inch, inches'],
      [
        '°C',
        '°, degree, degrees, deg, ° c, c, degrees c, degree c, deg c, degc, celsius, degrees celsius, \u2103',
      ],
      ['°F', '° f, f, degrees f, degree f, deg f, degf, fahrenheit, degrees fahrenheit, \u2109'],
      ['K', 'kelvin'],
      ['%', 'percent, per cent, pct, rh, % rh, %rh'],
      ['g/m²', 'g/m2, gsm'],
      ['page', 'p., pp.'],
    ] as const
  ).flatMap(([unit, words]) =>
    // Mg is a million times mg, and G is no unit of mass.
    [...(unit === 'mg' || unit === 'g' ? [] : [unit]), ...words.split(', ')].map(
      (word) => [word.toLowerCase(), unit] as const,
    ),
  ),
);

/** The unit that a word was meant for, capitals or not, the ordinal sign for a degree; null where it is none. */
const unitMeant = (written: string): string | null =>
  TYPED_UNITS.get(
    written
      .replace(/\u00ba/g, '°')
      .replace(/\s+/g, ' ')
      .toLowerCase(),
  ) ?? null;

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

/** A fault with the ways to write it that would be taken, each as it is best written; those that would not are left out. */
function taken<T>(
  fault: Fault,
  read: (text: string) => Read<T>,
  best: (value: T, text: string) => string,
): Fault {
  if (fault.code !== 'comma' && fault.code !== 'grouped-digits') return fault;
  const write = fault.write.flatMap((text) => {
    const outcome = read(text);
    return 'value' in outcome ? [best(outcome.value, text)] : [];
  });
  return { ...fault, write: [...new Set(write)] };
}

/**
 * Reads a quantity in the key's own unit: a number with its unit, or a bare number. A unit written out, or in other
 * letters, is taken where it can mean one thing only; `write` then has the form to use.
 *
 * 0 °C and 0.01 °C below absolute zero are told apart by the ranges of `kind`, which are in its own unit.
 */
export function readQuantity(text: string, kind: Kind): Read<Quantity> {
  const number = readNumber(text.trim());
  const again = (other: string): Read<Quantity> => readQuantity(other, kind);
  const best = ({ write }: Quantity, other: string): string => write ?? other;
  if ('fault' in number) return { fault: taken(number.fault, again, best) };
  const { value, resolution, rest } = number.value;
  const pointed = kind.whole ? THOUSANDS_POINTED.exec(text.trim()) : null;
  if (pointed) {
    const write = [text.trim().replaceAll('.', '')];
    return { fault: taken({ code: 'grouped-digits', written: text, write }, again, best) };
  }
  const into = unitNamed(kind.unit);
  const as = (unit: string): Unit => (unit === '' || unit === kind.unit ? into : unitNamed(unit));
  const meant = as(rest).dimension === into.dimension ? rest : (unitMeant(rest) ?? rest);
  const from = as(meant);
  if (from.dimension !== into.dimension) {
    return { fault: { code: 'unknown-unit', written: text, unit: rest, accepted: acceptedUnits(kind.unit) } };
  }
  const scale = (x: Decimal): Decimal =>
    from === into ? x : x.times(from.over[0]).times(into.over[1]).div(from.over[1]).div(into.over[0]);
  const converted = scale(kind.difference || from.zero === undefined ? value : value.plus(from.zero));
  const digits = text
    .trim()
    .slice(0, text.trim().length - rest.length)
    .trim();
  const quantity = {
    value: converted,
    resolution: scale(resolution),
    text: text.trim(),
    ...(meant === rest ? {} : { write: `${digits} ${meant}` }),
  };

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
  /** One unit of the last digit written. */
  readonly resolution: Decimal;
  /** As written. */
  readonly text: string;
  /** The form to write, where it was typed in another one of the same meaning. */
  readonly write?: string;
}

/** An amount of money as a quantity: its unit is its currency. */
export function readMoney(text: string): Read<Quantity> {
  const price = readPrice(text);
  if ('fault' in price) return price;
  const { amount: value, ...rest } = price.value;
  return { value: { value, ...rest } };
}

/** Signs and words of a currency that stand for one alone: a dollar or a pound is that of several countries. */
const CURRENCIES: ReadonlyMap<string, string> = new Map([
  ['€', 'EUR'],
  ['euro', 'EUR'],
  ['euros', 'EUR'],
]);

/** Signs that stand for several currencies, and those they stand for most often. */
const SHARED: ReadonlyMap<string, readonly string[]> = new Map([
  ['$', ['USD', 'CAD', 'AUD']],
  ['£', ['GBP']],
  ['¥', ['JPY', 'CNY']],
  ['kr', ['SEK', 'NOK', 'DKK']],
]);

function unknownCurrency(text: string, currency: string, digits: string): Fault {
  const codes = SHARED.get(currency.toLowerCase()) ?? ['EUR'];
  return {
    code: 'unknown-currency',
    written: text,
    currency,
    write: codes.map((code) => `${digits} ${code}`),
  };
}

/** A currency in front of its amount. */
const IN_FRONT = /^([a-z]{3}|[\u20ac$\u00a3\u00a5])\s*(\d.*)$/is;

export function readPrice(text: string): Read<Price> {
  const written = text.trim().replace(IN_FRONT, '$2 $1');
  const number = readNumber(written);
  const best = ({ write }: Price, other: string): string => write ?? other;
  if ('fault' in number) return { fault: taken(number.fault, readPrice, best) };
  const { value, resolution, rest } = number.value;
  const currency = CURRENCIES.get(rest.toLowerCase()) ?? rest.toUpperCase();
  if (!currencies.codes.includes(currency))
    return { fault: unknownCurrency(text, rest, written.slice(0, written.length - rest.length).trim()) };
  if (value.isNegative()) return { fault: { code: 'too-low', written: text, least: 0, unit: currency } };
  const plain = currency === rest && written === text.trim();
  const digits = written.slice(0, written.length - rest.length).trim();
  const price = { amount: value, currency, resolution, text: text.trim() };
  return { value: plain ? price : { ...price, write: `${digits} ${currency}` } };
}
