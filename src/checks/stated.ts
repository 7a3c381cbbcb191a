import type { Derived } from '../figures/figure.ts';
import { isDerived } from '../figures/figure.ts';
import type { Stat } from '../trial/catalogue.ts';
import type { Problem, Slip } from '../trial/problem.ts';
import type { Quantity } from '../trial/quantity.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import type { Path } from '../uncertainty/path.ts';
import type { Check } from './check.ts';
import { valueOf } from './check.ts';

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
    const common = { figure, of, stat, stated: value.text, path };
    if (agrees(value, result.value)) {
      return result.bound === 'exact' ? [] : [{ code: 'stated-as-exact', ...common }];
    }
    const shown = result.value.toDecimalPlaces(Math.max(0, -exponent(value.resolution)) + 1).toFixed();
    return [
      {
        code: 'stated-differs',
        ...common,
        derived: shown,
        unit,
        slip: slipOf(value, result.value, figure, derived),
      },
    ];
  });

const exponent = (power: Decimal): number => power.log(10).round().toNumber();

/** The slip that most likely led from the derived value to the stated one; null where none fits. */
export function slipOf(
  stated: Quantity,
  value: Decimal,
  figure: string,
  derived: readonly Derived[],
): Slip | null {
  const fits = (candidate: Decimal | null): boolean => candidate !== null && agrees(stated, candidate);
  const pages = valueOf(derived, 'pages')?.value ?? null;
  const sheets = valueOf(derived, 'sheets')?.value ?? null;
  if (TARED.has(figure) && fits(untared(value, figure, derived))) return 'tare-not-taken-off';
  if (figure.endsWith('_per_thousand') && pages && fits(value.times(pages).div(1000)))
    return 'total-for-thousand';
  if (pages && sheets && !pages.isZero() && !sheets.isZero() && PAGED.has(figure)) {
    if (fits(value.times(sheets).div(pages)) || fits(value.times(pages).div(sheets)))
      return 'sheets-for-pages';
  }
  if (!value.isZero() && fits(value.negated())) return 'start-and-end-exchanged';
  if (figure === 'fixing' && !value.isZero() && fits(new Decimal(10000).div(value)))
    return 'start-and-end-exchanged';
  return digitSlip(stated, value);
}

/** Figures that hang on the tare, and on the pages. */
const TARED: ReadonlySet<string> = new Set([
  'waste_mass',
  'waste_per_thousand',
  'container_life',
  'waste_fraction',
]);
const PAGED: ReadonlySet<string> = new Set([
  'pages',
  'waste_per_thousand',
  'container_life',
  'yield',
  'yield_at_reference',
  'yield_to_rating',
  'toner_per_page',
  'projected_yield',
  'projected_yield_at_reference',
  'cost_per_thousand',
  'jams_per_thousand',
  'stops_per_thousand',
]);

/** The figure as it comes out when the empty container is left on the scale. */
function untared(value: Decimal, figure: string, derived: readonly Derived[]): Decimal | null {
  const waste = valueOf(derived, 'waste_mass');
  if (waste === null || waste.value.isZero()) return null;
  const finals = [...waste.sensitivities].reduce(
    (sum, [input, c]) => (c > 0 ? sum.plus(input.value.times(c)) : sum),
    new Decimal(0),
  );
  const factor = finals.div(waste.value);
  if (finals.isZero()) return null;
  return figure === 'container_life' ? value.div(factor) : value.times(factor);
}

/** Slips of the digits alone: compared as whole numbers of the stated last place. */
function digitSlip(stated: Quantity, value: Decimal): Slip | null {
  const inPlaces = (x: Decimal): Decimal => x.div(stated.resolution);
  const wrote = inPlaces(stated.value).abs();
  const meant = inPlaces(value).abs().toDecimalPlaces(0, Decimal.ROUND_HALF_UP);
  const [is, should] = [wrote.toFixed(0), meant.toFixed(0)];
  if (wrote.minus(meant).mod(9).isZero() && swapped(is, should)) return 'digits-swapped';
  const whole = stated.resolution.gte(1);
  if (!whole && pointMoved(stated, value)) return 'point-moved';
  if (shorterByOne(should, is)) return 'digit-dropped';
  if (doubled(is, should)) return 'digit-doubled';
  return pointMoved(stated, value) ? 'point-moved' : null;
}

/** Whether two digits of one number, changed about, give the other. */
function swapped(a: string, b: string): boolean {
  const [x, y] = [a.padStart(b.length, '0'), b.padStart(a.length, '0')];
  const differing = Array.from(x).flatMap((digit, index) => (digit === y[index] ? [] : [index]));
  const [i, j] = differing;
  return differing.length === 2 && i !== undefined && j !== undefined && x[i] === y[j] && x[j] === y[i];
}

/** Whether leaving one digit out of the longer number gives the shorter. */
const shorterByOne = (longer: string, shorter: string): boolean =>
  longer.length === shorter.length + 1 &&
  Array.from(longer).some((_, index) => longer.slice(0, index) + longer.slice(index + 1) === shorter);

/** Whether one number is the other with one of its digits written twice. */
const doubled = (longer: string, shorter: string): boolean =>
  longer.length === shorter.length + 1 &&
  Array.from(shorter).some(
    (digit, index) => shorter.slice(0, index) + digit + shorter.slice(index) === longer,
  );

const MOST_PLACES = 6;

/** Whether the stated number is the value times a power of ten, as far as its digits tell. */
function pointMoved(stated: Quantity, value: Decimal): boolean {
  for (let places = 1; places <= MOST_PLACES; places++) {
    const factor = new Decimal(10).pow(places);
    if (!stated.value.isZero() && (agrees(stated, value.times(factor)) || agrees(stated, value.div(factor))))
      return true;
  }
  return false;
}
