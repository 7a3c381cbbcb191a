import { type Derived, type Figure, isDerived } from '../figures/figure.ts';
import type { Assessed } from '../judge/assess.ts';
import { repeated as ifRepeated } from '../judge/repeated.ts';
import type { Measured } from '../uncertainty/measured.ts';
import { padEnd, padStart, width, wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import { severityWord, shown, shownBeside, tidy } from './numbers.ts';
import type { Paint } from './paint.ts';
import { beside, table } from './text-table.ts';
import { reasonWords } from './reason-words.ts';

/** The figures of a verdict in lines for people. */

export type WithValue = Derived & { readonly result: Measured };

export const withValue = (one: Derived): WithValue[] =>
  isDerived(one.result) ? [{ ...one, result: one.result }] : [];

/** A figure's name for people, with what it is of. */
export const nameOf = ({ figure, of, stat }: Pick<Derived, 'figure' | 'of' | 'stat'>): string =>
  harmless([figure.title, stat, of].filter((part) => part !== null).join(', '));

/** A unit for people; a pure number has none to show. */
export const unitOf = (unit: string): string => (unit === '1' ? '' : unit);

/** A value with its uncertainty in one piece, that of the readings unless another is given; a sign before a bound. */
export function cellOf({ result, unit }: WithValue, expanded = result.u.times(2)): string {
  const word = severityWord(result.value, unit);
  if (word !== null) return word;
  const { value, U } = shown(result.value, expanded);
  const sign = { exact: '', at_least: '≥', at_most: '≤' }[result.bound];
  return `${sign}${value}${U === '' ? '' : `±${U}`}`;
}

interface Row {
  readonly name: string;
  readonly bound: string;
  /** Before the decimal point, with the sign. */
  readonly whole: string;
  /** From the decimal point on. */
  readonly part: string;
  readonly U: string;
  readonly unit: string;
}

/** Common practice, no source. */
const SHEETS_IN_A_REAM = 500;

const BOUND = { exact: '', at_least: 'at least', at_most: 'at most' } as const;

function rowOf(derived: WithValue): Row {
  const { value, u, bound } = derived.result;
  const { value: printed, U } = shown(value, u.times(2));
  const [whole = '', fraction] = printed.split('.');
  const reams =
    derived.figure.name === 'sheets'
      ? ` (${tidy(value.div(SHEETS_IN_A_REAM))} reams of ${SHEETS_IN_A_REAM})`
      : '';
  const total =
    derived.figure.per === 'cartridge' && derived.of === null && derived.stat === null && !derived.alone;
  return {
    name: `${nameOf(derived)}${total ? ', in all' : ''}${reams}`,
    bound: BOUND[bound],
    whole,
    part: fraction === undefined ? '' : `.${fraction}`,
    U: U === '' ? '' : `± ${U}`,
    unit: unitOf(derived.unit),
  };
}

/** Figures one line each, their decimal points one below the other. */
export function rows(figures: readonly Derived[]): string[] {
  const all = figures.flatMap(withValue).map(rowOf);
  const widest = (key: keyof Row): number => Math.max(0, ...all.map((row) => width(row[key])));
  const [bound, whole, part, U] = [widest('bound'), widest('whole'), widest('part'), widest('U')];
  const name = Math.min(widest('name'), 36);
  const lines = all.flatMap((row) => {
    const value = `${padStart(row.whole, whole)}${padEnd(row.part, part)}`;
    return beside(
      row.name,
      name,
      `${padEnd(row.bound, bound)} ${value} ${padEnd(row.U, U)} ${row.unit}`.trimEnd(),
    );
  });
  return [...lines, ...refusals(figures)];
}

/** Figures that a formula refused, though its readings are there. */
function refusals(derived: readonly Derived[]): string[] {
  const said = derived.flatMap((one) => {
    if (isDerived(one.result)) return [];
    if (one.result.code === 'reading-missing' || one.result.code === 'no-readings') return [];
    return [`${nameOf({ ...one, stat: null })}: not derived; ${reasonWords(one.result)}.`];
  });
  return [...new Set(said)].flatMap((line) => wrap(harmless(line), '  ', '    '));
}

/** Figures of the parts of a trial as a table, a column for each part. */
function parts(figures: readonly Derived[], paint: Paint): string[] {
  const values = figures.flatMap(withValue);
  const heads = [...new Set(figures.flatMap(({ of }) => of ?? []))];
  const names = [...new Set(values.map(({ figure }) => figure))];
  const lines = names.map((figure) => {
    const own = new Map(values.flatMap((one) => (one.figure === figure ? [[one.of, one] as const] : [])));
    const [first] = own.values();
    const unit = unitOf(first?.unit ?? '');
    return {
      name: `${figure.short ?? figure.title}${unit === '' ? '' : `, ${unit}`}`,
      cells: heads.map((of) => {
        const found = own.get(of);
        return found === undefined ? '' : cellOf(found);
      }),
    };
  });
  return [...(lines.length === 0 ? [] : table(heads.map(harmless), lines, paint)), ...refusals(figures)];
}

const several = (derived: readonly Derived[]): boolean =>
  new Set(derived.flatMap(({ figure, of }) => (figure.per === 'cartridge' ? (of ?? []) : []))).size > 1;

/** Figures of the run; of its only cartridge too, where there is but one. */
export function runFigures(derived: readonly Derived[]): Derived[] {
  const alone = !several(derived);
  return derived.filter(({ figure, of, stat }) => {
    if (COMPARED.has(figure.name) || RATES.has(figure.name)) return false;
    if (figure.per === 'trial') return true;
    return (
      figure.per === 'cartridge' &&
      (alone ? stat === null && (of !== null || !repeated(derived, figure)) : of === null)
    );
  });
}

/** The same in lines. */
export const runLines = (derived: readonly Derived[]): string[] => rows(runFigures(derived));

/** With one named cartridge the figure in all says nothing new. */
const repeated = (derived: readonly Derived[], figure: Figure): boolean =>
  derived.some((one) => one.figure === figure && one.of !== null);

/** Figures of the cartridges, where there are several. */
export const cartridgeFigures = (derived: readonly Derived[]): Derived[] =>
  several(derived)
    ? derived.filter(
        ({ figure, of }) => figure.per === 'cartridge' && of !== null && !COMPARED.has(figure.name),
      )
    : [];

/** The same as a table. */
export const cartridgeLines = (derived: readonly Derived[], paint: Paint): string[] =>
  parts(cartridgeFigures(derived), paint);

/** Figures of the control patches. */
export const patchLines = (derived: readonly Derived[], paint: Paint): string[] =>
  parts(
    derived.filter(({ figure }) => figure.per === 'patch'),
    paint,
  );

/** Shown where candidate and reference stand side by side. */
const COMPARED: ReadonlySet<string> = new Set(['waste_ratio', 'usage_ratio', 'yield_ratio']);
/** Shown with the events they count. */
const RATES: ReadonlySet<string> = new Set(['jams_per_thousand', 'stops_per_thousand']);

/** Figures of the air: a line each, with the least, mean and greatest beside each other. */
export function ambientLines(derived: readonly Derived[], paint: Paint): string[] {
  const figures = derived.filter(({ figure }) => figure.per === 'readings');
  const values = figures.flatMap(withValue);
  const names = [...new Set(values.map(({ figure }) => figure))];
  const heads = ['least', 'mean', 'greatest'];
  const lines = names.map((figure) => ({
    name: `${figure.title}, ${figure.unit}`,
    cells: heads.map((stat) => {
      const found = values.find((one) => one.figure === figure && one.stat === stat);
      return found === undefined ? '' : cellOf(found);
    }),
  }));
  return [...(lines.length === 0 ? [] : table(heads, lines, paint)), ...refusals(figures)];
}

/** What ± means, where any was printed, and what is known beside it of figures that no limit is on. */
export function legend({ derived, judged, agreed }: Assessed): string[] {
  const valued = derived.flatMap(withValue);
  const values = valued.map(({ result }) => result);
  const unjudged = valued.filter(({ figure, of, stat }) =>
    judged.every(({ derived: one }) => one.figure !== figure || one.of !== of || one.stat !== stat),
  );
  const again = unjudged.flatMap((one) => {
    const U = ifRepeated(one.result, one, agreed.decision)?.expanded(2);
    return U === undefined ? [] : [`${nameOf(one)} ± ${shownBeside(U, U)} ${unitOf(one.unit)}`.trimEnd()];
  });
  const said = [
    ...(values.some(({ u }) => !u.isZero())
      ? [
          '± is U, k = 2 (about 95 %), of the readings: repeated trials may scatter more.',
          'What has none is a count, or was taken as exact.',
        ]
      : []),
    ...(values.some(({ bound }) => bound !== 'exact') ? ['≥ is at least, ≤ at most.'] : []),
    ...(again.length === 0 ? [] : [`If repeated: ${again.join('; ')}.`]),
  ];
  return said.length === 0 ? [] : ['', ...wrap(said.join(' '), '  ')];
}
