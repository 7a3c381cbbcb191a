import { studentFactor } from '../../forecast/estimate.ts';
import { type Fit, massAt, rangeOf } from '../../forecast/fit.ts';
import {
  type Forecast,
  type ForecastResult,
  isForecast,
  type SideResult,
  type SlotForecast,
} from '../../forecast/forecast.ts';
import type { Mix } from '../../forecast/mix.ts';
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
} from '../../output/forecast-words.ts';
import { shownBeside } from '../../output/numbers.ts';
import { asDecimal } from '../../uncertainty/decimal.ts';
import { type Block, heading, list, paragraph, type Section, table } from '../content.ts';
import { fittedLine } from '../pictures/fitted-line.ts';
import { forReaders } from '../for-readers.ts';

/** Toner and waste against coverage, and what a customer's pages take: for a report on several trials. */

const SIDES = { candidate: '', reference: ', reference' } as const;

/** The sections of a forecast; none where the trials make no line. */
export function forecastSections(result: ForecastResult): Section[] {
  const { candidate, reference, mix, leftOut } = result;
  const lines = [
    ...fitBlocks(candidate, 'candidate'),
    ...(reference === null ? [] : fitBlocks(reference, 'reference')),
  ];
  if (lines.length === 0) return [];
  const remarks = forecastRemarks(result).map(forReaders);
  return [
    ...(mix === null ? [] : [mixSection(result, mix)]),
    {
      title: 'Toner and waste against coverage',
      blocks: [
        paragraph(
          'Fitted is m = m0 + m1 × c: m in mg a page, c in percent of the page. ± is U for 95 %, by Student’s t; it holds the line, the coverages, and how cartridges scatter. It speaks of the cartridges and machines tried, between the coverages tried.',
        ),
        ...list(remarks.filter((remark) => remark !== '')),
        ...lines,
        ...(leftOut.length === 0
          ? []
          : [heading('Left out of the lines'), ...list(leftOut.map(leftOutWords))]),
      ],
    },
  ];
}

function fitBlocks({ slots, waste }: SideResult, side: keyof typeof SIDES): Block[] {
  return [
    ...slots.flatMap(({ slot, fit }) =>
      fit === null ? [] : oneFit(fit, `Toner${slot === null ? '' : `, ${slot}`}${SIDES[side]}`, 'cartridge'),
    ),
    ...(waste.fit === null ? [] : oneFit(waste.fit, `Waste${SIDES[side]}`, 'run')),
  ];
}

function oneFit(fit: Fit, name: string, of: 'cartridge' | 'run'): Block[] {
  const { line, freedom, n, levels, scatter } = fit;
  const [least, greatest] = rangeOf(fit);
  const t = freedom < 1 ? 2 : studentFactor(freedom);
  const half = (variance: number): number => t * Math.sqrt(variance);
  return [
    heading(name),
    paragraph(
      `${count(n, of)} at ${count(levels.length, 'coverage')} from ${percentWords(least)} to ${percentWords(greatest)}.`,
    ),
    ...fittedLine(fit, name, of),
    {
      kind: 'facts',
      pairs: [
        ['m0, at no coverage', [`${withHalfWidth(line.intercept, half(line.varIntercept))} mg`]],
        ['m1, for each percent', [`${withHalfWidth(line.slope, half(line.varSlope))} mg`]],
        [
          `scatter of the ${of}s`,
          [
            freedom < 1
              ? 'not known'
              : scatter === 0
                ? 'none beside the readings'
                : `${digits(100 * scatter, 2)} %`,
          ],
        ],
        ['degrees of freedom', [freedom < 1 ? 'none; ± is U = 2u of the readings' : String(freedom)]],
        ['floor', [floorWords(fit, t)]],
        ['lack of fit', [lackOfFitWords(fit)]],
      ],
    },
    ...table(
      `${name}: every ${of}, with what the line says of it`,
      [
        { text: 'trial' },
        { text: 'coverage, %', numeric: true },
        { text: 'measured, mg', numeric: true },
        { text: 'line', numeric: true },
        { text: 'residual', numeric: true },
      ],
      levels
        .flatMap(({ points }) => points)
        .map((point) => {
          const said = massAt(fit, point.coverage);
          const beside = (value: number): string => shownBeside(asDecimal(value), asDecimal(2 * point.massU));
          return [
            point.file,
            withHalfWidth(point.coverage, 2 * point.coverageU),
            withHalfWidth(point.mass, 2 * point.massU),
            beside(said),
            beside(point.mass - said),
          ];
        }),
    ),
  ];
}

/** A number with its U and, beside it, between what 95 of 100 such numbers lie. */
function told(one: Forecast | null, unit = ''): string {
  if (one === null || !isForecast(one)) return '–';
  const value = `${valueWords(one)} ${unit}`.trimEnd();
  if (one.interval === null) return value;
  const end = endWords(one);
  return `${value} (between ${end(one.interval.lower)} and ${end(one.interval.upper)})`;
}

function mixSection({ candidate, reference, pagesPerMonth }: ForecastResult, mix: Mix): Section {
  const sides = [
    { name: reference === null ? '' : 'candidate', side: candidate },
    ...(reference === null ? [] : [{ name: 'reference', side: reference }]),
  ];
  const columns = sides.flatMap(({ name, side }) =>
    side.slots.flatMap((slot) =>
      slot.mix === null
        ? []
        : [{ head: [slot.slot, name].filter(Boolean).join(', ') || 'the cartridge', slot, of: slot.mix }],
    ),
  );
  const row = (name: string, cell: (of: SlotForecast) => string): string[] => [
    name,
    ...columns.map(({ of }) => cell(of)),
  ];
  const whole = (name: string, cell: (side: SideResult) => string): string[][] => {
    const cells = sides.map(({ side }) => cell(side));
    return cells.every((one) => one === '–') ? [] : [[name, ...cells]];
  };
  const money = (of: { readonly currency: string | null }): string => of.currency ?? '';
  const withheld = columns.flatMap(({ head, of }) =>
    isForecast(of.usage) ? [] : [`${head}: not forecast: ${withheldWords(of.usage)}.`],
  );
  const dominates = columns.flatMap(({ head, slot }) => {
    const said = dominatesWords(slot);
    return said === null ? [] : [`${head}: ${said}`];
  });
  return {
    title: `What the mix takes${mix.name === null ? '' : `: ${mix.name}`}`,
    blocks: [
      paragraph(
        `${mix.kinds.length > MOST_KINDS ? count(mix.kinds.length, 'kind of page', 'kinds of page') : mix.kinds.map(({ name, share }) => `${name} ${digits(100 * share, 3)} %`).join(', ')}.${pagesPerMonth === null ? '' : ` ${pagesPerMonth} pages a month.`} ± is U for 95 %; in brackets, between what 95 of 100 such numbers lie.`,
      ),
      ...table(
        'What the pages take, slot by slot',
        [{ text: '' }, ...columns.map(({ head }) => ({ text: head, numeric: true }))],
        [
          row('coverage, %', ({ coverage }) =>
            coverage === null ? '–' : withHalfWidth(Number(digits(coverage.value, 4)), 2 * coverage.u),
          ),
          row('toner a page, mg', (of) => told(of.usage)),
          row('yield of a cartridge', (of) => told(of.yield)),
          row('cost of 1000 pages', (of) => told(of.costPerThousand, money(of))),
          ...(pagesPerMonth === null
            ? []
            : [
                row('cartridges a year', (of) => told(of.cartridgesPerYear)),
                row('cost a year', (of) => told(of.costPerYear, money(of))),
              ]),
        ],
      ),
      ...table(
        'In all',
        [{ text: '' }, ...sides.map(({ name }) => ({ text: name || 'all slots', numeric: true }))],
        [
          ...whole('cost of 1000 pages', ({ total }) =>
            told(total?.costPerThousand ?? null, total?.currency ?? ''),
          ),
          ...whole('cost a year', ({ total }) => told(total?.costPerYear ?? null, total?.currency ?? '')),
          ...whole('waste a page, mg', ({ waste }) => told(waste.mix?.waste ?? null)),
          ...whole('waste containers a year', ({ waste }) => told(waste.mix?.containersPerYear ?? null)),
          ...whole('machine stops a year', ({ stopsPerYear }) => told(stopsPerYear)),
        ],
      ),
      ...list([...withheld, ...dominates].map(forReaders)),
    ],
  };
}

/** More kinds are counted, not named. */
const MOST_KINDS = 6;
