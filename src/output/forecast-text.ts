import { LEVEL, studentFactor } from '../forecast/estimate.ts';
import { type Fit, massAt, rangeOf } from '../forecast/fit.ts';
import {
  type Forecast,
  type ForecastResult,
  isForecast,
  type SideResult,
  type SlotForecast,
  type SlotResult,
} from '../forecast/forecast.ts';
import type { Mix } from '../forecast/mix.ts';
import type { TriedPoint } from '../forecast/tried.ts';
import { asDecimal } from '../uncertainty/decimal.ts';
import { padEnd, wrap as wrapAt } from './columns.ts';
import {
  count,
  digits,
  dominatesWords,
  floorWords,
  forecastRemarks,
  lackOfFitWords,
  leftOutWords,
  endWords,
  percentWords,
  valueWords,
  withHalfWidth,
  withheldWords,
} from './forecast-words.ts';
import { harmless } from './harmless.ts';
import { shownBeside } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';
import { table, type TableRow } from './text-table.ts';

/** Toner against coverage, and what a mix takes, in lines for people. */

/** Lines that do not part a number from its unit. */
const wrap = (text: string, first = '', hanging?: string): string[] =>
  wrapAt(text.replace(/(?<=\d) (?=%|mg)|(?<=\u00b1) (?=\d)/g, '\u00a0'), first, hanging);

const line = (word: string, said: string): string[] => wrap(said, `  ${padEnd(word, 28)}`);

/** For people. */
export function forecastText(result: ForecastResult, paint: Paint = PLAIN): string {
  const { candidate, reference, mix, leftOut } = result;
  const remarks = forecastRemarks(result);
  const lines = [
    ...sideLines(candidate, '', paint),
    ...(reference === null ? [] : sideLines(reference, ', reference', paint)),
    ...(mix === null ? [] : mixLines(result, mix, paint)),
    ...(leftOut.length > 0 ? [paint.strong('LEFT OUT')] : []),
    ...leftOut.flatMap((one) => wrap(harmless(leftOutWords(one)), '  ', '    ')),
    ...(leftOut.length > 0 ? [''] : []),
    ...(remarks.length > 0 ? [paint.strong('TO KNOW BEFORE RELYING ON IT')] : []),
    ...remarks.flatMap((one) => wrap(harmless(one), '  ! ', '    ')),
    ...(remarks.length > 0 ? [''] : []),
    ...wrap(
      'This speaks of the cartridges and machines tried, between the coverages tried. ± is U for 95 %, by Student’s t; it holds the line, the coverages, and how cartridges scatter. Beside a single point it is U = 2u of its readings.',
    ),
  ];
  return `${lines.join('\n')}\n`;
}

function sideLines({ slots, waste }: SideResult, which: string, paint: Paint): string[] {
  return [
    ...slots.flatMap((one) => slotLines(one, which, paint)),
    ...(waste.fit === null
      ? []
      : fitLines(`WASTE AGAINST COVERAGE OF ALL SLOTS${which}`, waste.fit, 'run', paint)),
  ];
}

function slotLines({ slot, tried, fit }: SlotResult, which: string, paint: Paint): string[] {
  const head = `TONER AGAINST COVERAGE${slot === null ? '' : `, ${slot}`}${which}`;
  if (fit !== null) return fitLines(head, fit, 'cartridge', paint);
  const coverages = [...new Set(tried.points.map(({ coverage }) => coverage))];
  return [
    ...wrap(harmless(head), '', '  ').map(paint.strong),
    ...wrap(`No line: ${withheldWords({ code: 'no-line', coverages })}.`, '  '),
    '',
  ];
}

function fitLines(head: string, fit: Fit, of: 'cartridge' | 'run', paint: Paint): string[] {
  const { line: drawn, freedom, n, sources, levels, scatter } = fit;
  const [least, greatest] = rangeOf(fit);
  const t = freedom < 1 ? 2 : studentFactor(freedom);
  const half = (variance: number): number => t * Math.sqrt(variance);
  const r = drawn.covariance / Math.sqrt(drawn.varIntercept * drawn.varSlope);
  return [
    ...wrap(harmless(head), '', '  ').map(paint.strong),
    ...wrap(
      `m = m0 + m1 × c: m in mg a page, c in percent of the page. ${sources < n ? `${n} points of ${count(sources, of)}` : count(n, of)} at ${count(levels.length, 'coverage')} from ${percentWords(least)} to ${percentWords(greatest)}.`,
      '  ',
    ),
    '',
    ...line('m0, at no coverage', `${withHalfWidth(drawn.intercept, half(drawn.varIntercept))} mg`),
    ...line('m1, for each percent', `${withHalfWidth(drawn.slope, half(drawn.varSlope))} mg`),
    ...line('their correlation', r.toFixed(3)),
    ...line(
      'degrees of freedom',
      freedom < 1 ? 'none; ± is U = 2u of the readings' : `${freedom}; ± is U = ${t.toFixed(2)} u`,
    ),
    ...line(
      `scatter of the ${of}s`,
      freedom < 1
        ? 'not known'
        : scatter === 0
          ? 'none beside the readings'
          : `${digits(100 * scatter, 2)} % of what they ${of === 'run' ? 'leave' : 'take'}`,
    ),
    ...line('floor', floorWords(fit, t)),
    ...line('lack of fit', lackOfFitWords(fit)),
    '',
    ...pointTable(fit, paint),
    '',
  ];
}

/** Every point with what the model says of it. */
function pointTable(fit: Fit, paint: Paint): string[] {
  const points = fit.levels.flatMap((level) => level.points);
  const beside = (value: number, { massU }: TriedPoint): string =>
    shownBeside(asDecimal(value), asDecimal(2 * massU));
  return table(
    ['coverage, %', 'measured, mg', 'model', 'residual'],
    points.map((point): TableRow => {
      const model = massAt(fit, point.coverage);
      return {
        name: harmless(point.file),
        cells: [
          withHalfWidth(point.coverage, 2 * point.coverageU),
          withHalfWidth(point.mass, 2 * point.massU),
          beside(model, point),
          beside(point.mass - model, point),
        ],
      };
    }),
    paint,
  );
}

/** A column of what a mix takes. */
interface Column {
  readonly head: string;
  readonly slot: SlotResult;
  readonly of: SlotForecast;
}

function mixLines(result: ForecastResult, mix: Mix, paint: Paint): string[] {
  const { candidate, reference, pagesPerMonth } = result;
  const columns = [
    ...columnsOf(candidate, reference === null ? '' : 'candidate'),
    ...(reference === null ? [] : columnsOf(reference, 'reference')),
  ];
  const row = (name: string, forecast: (of: SlotForecast) => Forecast | null, unit = ''): TableRow[] =>
    rows(
      name,
      columns.map(({ of }) => forecast(of)),
      columns.map(({ of }) => (unit === 'currency' ? of.currency : unit) ?? ''),
    );
  return [
    ...wrap(harmless(`WHAT THE MIX TAKES${mix.name === null ? '' : `: ${mix.name}`}`), '', '  ').map(
      paint.strong,
    ),
    ...wrap(harmless(kindWords(mix)), '  '),
    ...(pagesPerMonth === null ? [] : [`  ${pagesPerMonth} pages a month.`]),
    '',
    ...table(
      columns.map(({ head }) => harmless(head)),
      [
        {
          name: 'coverage, %',
          cells: columns.map(({ of: { coverage } }) =>
            coverage === null ? '–' : withHalfWidth(Number(digits(coverage.value, 4)), 2 * coverage.u),
          ),
        },
        ...row('toner a page, mg', (of) => of.usage),
        ...row('yield of a cartridge', (of) => of.yield),
        ...row('cost of 1000 pages', (of) => of.costPerThousand, 'currency'),
        ...row('cartridges a year', (of) => of.cartridgesPerYear),
        ...row('cost a year', (of) => of.costPerYear, 'currency'),
      ],
      paint,
    ),
    '',
    ...columns.flatMap(({ head, slot, of }) => saidOf(head, slot, of)),
    ...inAllLines(result, paint),
  ];
}

function columnsOf({ slots }: SideResult, side: string): Column[] {
  return slots.flatMap((slot): Column[] => {
    const head = [slot.slot ?? '', side].filter(Boolean).join(', ');
    return slot.mix === null ? [] : [{ head: head === '' ? 'the cartridge' : head, slot, of: slot.mix }];
  });
}

/** A number and, below it, between what 95 % of such numbers lie; no row where nothing was asked for. */
function rows(name: string, forecasts: readonly (Forecast | null)[], units: readonly string[]): TableRow[] {
  if (forecasts.every((one) => one === null)) return [];
  const told = (one: Forecast | null, unit: string): string =>
    one === null || !isForecast(one) ? '–' : `${valueWords(one)} ${unit}`.trimEnd();
  const between = (one: Forecast | null): string => {
    if (one === null || !isForecast(one) || one.interval === null) return '';
    const end = endWords(one);
    return `${end(one.interval.lower)} and ${end(one.interval.upper)}`;
  };
  const ends = forecasts.map(between);
  return [
    { name, cells: forecasts.map((one, index) => told(one, units[index] ?? '')) },
    ...(ends.every((end) => end === '') ? [] : [{ name: `  ${100 * LEVEL} % between`, cells: ends }]),
  ];
}

/** Most kinds that are named. */
const MOST_KINDS = 6;

const kindWords = ({ kinds, file, countedBy }: Mix): string =>
  countedBy !== null
    ? `${file}: ${count(kinds.length, 'page')} counted by ${countedBy}.`
    : kinds.length > MOST_KINDS
      ? `${file}: ${kinds.length} kinds of page.`
      : `${file}: ${kinds.map(({ name, share }) => `${name} ${digits(100 * share, 3)} %`).join(', ')}.`;

/** What dominates, or why there is no forecast. */
function saidOf(head: string, slot: SlotResult, of: SlotForecast): string[] {
  const reasons = [
    ['', of.usage],
    ['yield: ', of.yield],
    ['cost: ', of.costPerThousand],
  ] as const;
  const why = new Map<string, string>();
  for (const [word, one] of reasons) {
    const said = isForecast(one) ? null : withheldWords(one);
    if (said !== null && !why.has(said)) why.set(said, `${word}${said}`);
  }
  const dominates = dominatesWords(slot);
  const said = [
    ...[...why.values()].map((one) => `not forecast: ${one}.`),
    ...(dominates === null ? [] : [dominates]),
  ];
  return said.flatMap((one) => [...wrap(harmless(`${head}: ${one}`), '  ', '    '), '']);
}

/** What goes for all slots together: cost and waste, candidate beside reference. */
function inAllLines({ candidate, reference }: ForecastResult, paint: Paint): string[] {
  const sides = [
    { head: reference === null ? 'all slots' : 'candidate', side: candidate },
    ...(reference === null ? [] : [{ head: 'reference', side: reference }]),
  ];
  const several = sides.some(({ side }) => side.slots.length > 1);
  const row = (name: string, of: (side: SideResult) => Forecast | null, money = false): TableRow[] =>
    rows(
      name,
      sides.map(({ side }) => of(side)),
      sides.map(({ side }) => (money ? (side.total?.currency ?? '') : '')),
    );
  const wasted = sides.some(({ side }) => side.waste.points.length > 0);
  const all = [
    ...(several ? row('cost of 1000 pages', ({ total }) => total?.costPerThousand ?? null, true) : []),
    ...(several ? row('cost a year', ({ total }) => total?.costPerYear ?? null, true) : []),
    ...(wasted ? row('waste a page, mg', ({ waste }) => waste.mix?.waste ?? null) : []),
    ...(wasted ? row('waste containers a year', ({ waste }) => waste.mix?.containersPerYear ?? null) : []),
    ...row('machine stops a year', ({ stopsPerYear }) => stopsPerYear),
  ];
  if (all.length === 0) return [];
  const why = sides.flatMap(({ head, side: { waste } }) =>
    waste.points.length === 0
      ? []
      : [waste.mix?.waste, waste.mix?.containersPerYear].flatMap((one) =>
          one && !isForecast(one) ? [`${head}, waste: not forecast: ${withheldWords(one)}.`] : [],
        ),
  );
  const stops = sides.flatMap(({ head, side: { stopsPerYear } }) =>
    stopsPerYear && !isForecast(stopsPerYear)
      ? [`${head}, machine stops: not forecast: ${withheldWords(stopsPerYear)}.`]
      : [],
  );
  return [
    ...table(
      sides.map(({ head }) => head),
      all,
      paint,
    ),
    '',
    ...[...new Set([...why, ...stops])].flatMap((one) => [...wrap(harmless(one), '  ', '    '), '']),
  ];
}
