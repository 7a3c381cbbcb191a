import type { Read } from '../problems/problem.ts';
import { readNumber } from '../trial/number.ts';
import { acceptedUnits, type Kind, readQuantity } from '../trial/quantity.ts';
import type { Path } from '../uncertainty/path.ts';

/** What a key of a trial takes, as far as a note has to know it to write a unit behind a bare number. */

export const METER: Kind = { unit: 'page', whole: true, least: 0 };
export const MASS: Kind = { unit: 'g', least: 0 };
export const TEMPERATURE: Kind = { unit: '°C', least: -273.15 };
export const PERCENT: Kind = { unit: '%', least: 0, greatest: 100 };

const BY_KEY: Readonly<Record<string, Kind>> = {
  tare: MASS,
  final: MASS,
  container_mass: MASS,
  start_mass: MASS,
  end_mass: MASS,
  fill_mass: MASS,
  residual_mass: MASS,
  temperature: TEMPERATURE,
  humidity: PERCENT,
  coverage: PERCENT,
  duplex_share: PERCENT,
  start: METER,
  end: METER,
  installed_at: METER,
  removed_at: METER,
  exhausted_at: METER,
  failed_at: METER,
  rated_yield: METER,
  other_pages: METER,
};

/** The kind of the reading at a path; null where a note need not know it, and the trial's own rules see to it. */
export function kindAt(path: Path): Kind | null {
  // A mass may be a list: its values are of the kind of their key.
  const key = path.findLast((step) => typeof step === 'string');
  if (path.includes('cartridge_mass')) return MASS;
  if (path.includes('gauge')) return PERCENT;
  if (path.includes('check')) return MASS;
  return typeof key === 'string' && Object.hasOwn(BY_KEY, key) ? (BY_KEY[key] ?? null) : null;
}

/** A reading as it is written in the file: its digits as typed, and the unit of its key where none was. */
export function asWritten(typed: string, kind: Kind): Read<string> {
  const text = typed.trim();
  const quantity = readQuantity(text, kind);
  if ('fault' in quantity) return quantity;
  const number = readNumber(text);
  if ('fault' in number) return { value: text };
  const { rest } = number.value;
  const digits = text.slice(0, text.length - rest.length).trim();
  if (kind.unit === 'page') return { value: digits };
  const unit = acceptedUnits(kind.unit).includes(rest) ? rest : kind.unit;
  const written = `${digits} ${unit}`;
  const again = readQuantity(written, kind);
  // A word for another unit than the key's own stays as it was typed.
  return { value: 'value' in again && again.value.value.eq(quantity.value.value) ? written : text };
}

/**
 * Weighings as typed, one after the other: `1069g, 1070g`. A comma between two digits is that of a decimal, which is
 * refused where it is read.
 */
export const weighingsIn = (typed: readonly string[]): readonly string[] =>
  typed.flatMap((one) => one.split(/(?<=\p{L}\s*),|,(?=\s)/u).map((part) => part.trim()));

/** Whether two texts are the same reading, to the same digit. */
export function sameReading(a: string, b: string, kind: Kind | null): boolean {
  if (a.trim() === b.trim()) return true;
  if (kind === null) return false;
  const [one, other] = [readQuantity(a, kind), readQuantity(b, kind)];
  return (
    'value' in one &&
    'value' in other &&
    one.value.value.eq(other.value.value) &&
    one.value.resolution.eq(other.value.resolution)
  );
}
