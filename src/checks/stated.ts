import type { Derived } from '../figures/figure.ts';
import { isDerived } from '../figures/figure.ts';
import { SEVERITY, type Stat } from '../trial/catalogue.ts';
import type { Problem, Slip } from '../problems/problem.ts';
import type { Quantity } from '../trial/quantity.ts';
import { SEVERITIES } from '../trial/schema/severities.ts';
import type { Run } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import type { Path } from '../uncertainty/path.ts';
import type { Check } from './check.ts';
import { valueOf } from '../judge/facts.ts';

interface Stated {
  readonly figure: string;
  readonly value: Quantity;
  readonly of: string | null;
  readonly stat: Stat | null;
  readonly path: Path;
}

type StatedData =
  Quantity | { readonly value: Quantity; readonly of?: string | null; readonly stat?: Stat | null };

/** The figures a draft report states, one by one. */
function statements(stated: object | null | undefined): Stated[] {
  return Object.entries((stated ?? {}) as Record<string, StatedData | readonly StatedData[] | null>).flatMap(
    ([figure, data]) => {
      if (data === null) return [];
      const one = (entry: StatedData, path: Path): Stated =>
        'resolution' in entry
          ? { figure, value: entry, of: null, stat: null, path }
          : { figure, value: entry.value, of: entry.of ?? null, stat: entry.stat ?? null, path };
      const at = ['stated', figure];
      return Array.isArray(data)
        ? (data as readonly StatedData[]).map((entry, index) => one(entry, [...at, index]))
        : [one(data as StatedData, at)];
    },
  );
}

/**
 * The derived figure a statement speaks of. Without `of` and `stat`: the figure of the whole, else that of
 * the only part, else the least, else the mean.
 */
function spokenOf({ figure, of, stat }: Stated, derived: readonly Derived[]): Derived | undefined {
  const own = derived.filter((one) => one.figure.name === figure);
  if (of !== null || stat !== null) {
    const whole = of === 'total' ? null : of;
    return own.find((one) => one.of === whole && one.stat === stat);
  }
  const parts = own.filter((one) => one.of !== null);
  return (
    own.find((one) => one.of === null && one.stat === null) ??
    (parts.length === 1 ? parts[0] : undefined) ??
    own.find((one) => one.stat === 'least' && one.figure.per === 'cartridge') ??
    own.find((one) => one.stat === 'mean')
  );
}

/** Whether a statement agrees with a value: apart by no more than half a unit of its last place. */
export const agrees = (stated: Quantity, derived: Decimal): boolean =>
  stated.value.minus(derived).abs().lte(stated.resolution.div(2));

/** What a draft report states is what the readings say. */
export const statedAgree: Check = ({ trial, derived }) =>
  statements(trial.data.stated).flatMap((stated): Problem[] => {
    const { figure, value, path } = stated;
    const found = spokenOf(stated, derived);
    if (found === undefined) return [{ code: 'stated-unknown-part', figure, of: stated.of ?? '', path }];
    const { result, of, stat, unit } = found;
    if (!isDerived(result)) return [];
    if (value.currency !== undefined && value.currency !== unit) {
      return [{ code: 'stated-in-other-currency', figure, stated: value.text, prices: unit, path }];
    }
    const common = { figure, of, stat, stated: value.text, path };
    if (agrees(value, result.value)) {
      const { bound } = result;
      return bound === 'exact' ? [] : [{ code: 'stated-as-exact', ...common, bound }];
    }
    const slip = slipOf(value, found, result.value, trial.run, derived);
    return [{ code: 'stated-differs', ...common, derived: asStated(result.value, value, unit), unit, slip }];
  });

/** A derived value as a sentence holds it beside a stated one: to one place more, or the word of a severity. */
function asStated(value: Decimal, stated: Quantity, unit: string): string {
  if (unit === SEVERITY) return SEVERITIES[value.toNumber()] ?? '';
  return value.toDecimalPlaces(placesOf(stated) + 1).toFixed();
}

/** Decimal places a quantity was written to. */
const placesOf = ({ resolution }: Quantity): number => Math.max(0, resolution.decimalPlaces());

/** What is left of a value that was divided and multiplied back. */
const ROUNDING = new Decimal('1e-30');

/** Whether a statement is a candidate rightly rounded, give or take the rounding of the candidate itself. */
const fits = (stated: Quantity, candidate: Decimal | null | undefined): boolean =>
  candidate != null &&
  stated.value.minus(candidate).abs().minus(candidate.abs().times(ROUNDING)).lte(stated.resolution.div(2));

/** The slip that most likely led from the derived value to the stated one; null where none fits. */
function slipOf(
  stated: Quantity,
  found: Derived,
  value: Decimal,
  run: Run,
  derived: readonly Derived[],
): Slip | null {
  const {
    figure: { name },
    of,
  } = found;
  const is = (candidate: Decimal | null | undefined): boolean => fits(stated, candidate);
  const pages = valueOf(derived, 'pages')?.value;
  const sheets = valueOf(derived, 'sheets')?.value;
  if (is(untared(found, run, derived))) return 'tare-not-taken-off';
  if (is(totalFor(value, name, of, run, pages))) return 'total-for-thousand';
  if (name === 'sheets' && is(pages)) return 'sheets-for-pages';
  // Sheets are taken for pages once; nobody takes them for sheets of sheets.
  if (name !== 'sheets' && isPaged(found) && pages && sheets) {
    if (is(value.times(sheets).div(pages)) || is(value.times(pages).div(sheets))) return 'sheets-for-pages';
  }
  if (is(value.negated())) return 'start-and-end-exchanged';
  if (name === 'fixing' && is(new Decimal(10000).div(value))) return 'start-and-end-exchanged';
  return digitSlip(stated, value);
}

/** What a figure for a thousand pages is a share of: the price of a cartridge, else the total of the run. */
function totalFor(
  value: Decimal,
  name: string,
  of: string | null,
  run: Run,
  pages: Decimal | undefined,
): Decimal | null | undefined {
  if (name === 'cost_per_thousand')
    return run.cartridges.find((cartridge) => cartridge.name === of)?.price?.amount;
  return name.endsWith('_per_thousand') && pages ? value.times(pages).div(1000) : null;
}

/** Whether a figure rests on what the meter of the trial says. */
const isPaged = ({ result }: Derived): boolean =>
  isDerived(result) && result.restsOn.some(([section]) => section === 'meter');

/**
 * The figure as it comes out when the empty container is left on the scale; null where it does not rest on that. It
 * grows with the waste, or it falls: its own sensitivity to the tare says which.
 */
function untared({ result }: Derived, { containers }: Run, derived: readonly Derived[]): Decimal | null {
  const waste = valueOf(derived, 'waste_mass');
  if (!isDerived(result) || waste === null || waste.value.isZero()) return null;
  const tares = new Set(containers.map(({ tare }) => tare.path));
  const toTare = [...result.sensitivities].find(([{ path }]) => tares.has(path))?.[1];
  const finals = [...waste.sensitivities].reduce(
    (sum, [input, c]) => sum.plus(input.value.times(Math.max(0, c))),
    new Decimal(0),
  );
  if (toTare === undefined) return null;
  const factor = finals.div(waste.value);
  return toTare < 0 ? result.value.times(factor) : result.value.div(factor);
}

/** Slips of the digits alone: what was written against the value as it would be written rightly. */
function digitSlip(stated: Quantity, value: Decimal): Slip | null {
  const places = placesOf(stated);
  const is = stated.value.abs().toFixed(places);
  const right = rightly(value, places);
  // A digit lost or doubled behind the point changes the number of places.
  const near = [...right, ...rightly(value, places - 1), ...rightly(value, places + 1)];
  if (right.some((should) => swapped(is, should))) return 'digits-swapped';
  if (places > 0 && pointMoved(stated, value)) return 'point-moved';
  if (near.some((should) => shorterByOne(should, is))) return 'digit-dropped';
  if (near.some((should) => doubled(is, should))) return 'digit-doubled';
  return pointMoved(stated, value) ? 'point-moved' : null;
}

/** A value rounded to so many places, both ways where it lies between two. */
const rightly = (value: Decimal, places: number): string[] =>
  places < 0
    ? []
    : [Decimal.ROUND_HALF_UP, Decimal.ROUND_HALF_DOWN].map((way) => value.abs().toFixed(places, way));

/** Whether two digits of one number, changed about, give the other: their difference is a multiple of 9. */
function swapped(a: string, b: string): boolean {
  if (a.length !== b.length) return false;
  const differing = Array.from(a).flatMap((digit, index) => (digit === b[index] ? [] : [index]));
  const [i, j] = differing;
  return differing.length === 2 && i !== undefined && j !== undefined && a[i] === b[j] && a[j] === b[i];
}

/** Whether leaving one digit out of the longer number gives the shorter. */
const shorterByOne = (longer: string, shorter: string): boolean =>
  longer.length === shorter.length + 1 &&
  Array.from(longer).some(
    (digit, index) => digit !== '.' && longer.slice(0, index) + longer.slice(index + 1) === shorter,
  );

/** Whether one number is the other with one of its digits written twice. */
const doubled = (longer: string, shorter: string): boolean =>
  longer.length === shorter.length + 1 &&
  Array.from(shorter).some(
    (digit, index) => digit !== '.' && shorter.slice(0, index) + digit + shorter.slice(index) === longer,
  );

const MOST_PLACES = 6;

/** Whether the stated number is the value times a power of ten, as far as its digits tell. */
function pointMoved(stated: Quantity, value: Decimal): boolean {
  for (let places = 1; places <= MOST_PLACES; places++) {
    const factor = new Decimal(`1e${places}`);
    if (!stated.value.isZero() && (agrees(stated, value.times(factor)) || agrees(stated, value.div(factor))))
      return true;
  }
  return false;
}
