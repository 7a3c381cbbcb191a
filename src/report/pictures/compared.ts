import { dot, ruleY, tickX } from '@observablehq/plot';
import type { Assessed } from '../../judge/assess.ts';
import type { WithValue } from '../../output/text-figures.ts';
import type { Picture } from '../content.ts';
import { named, valueOfFigure, valueText } from '../values.ts';
import { inPieces } from './pieces.ts';
import { ACCENT, around, forBoth, INK, namedBelow, PAPER, picture, rowsOf, tick } from './draw.ts';

/** Candidate and reference beside each other: toner per page, and waste. */
export const comparedPictures = (result: Assessed): Picture[] => [
  ...beside(result, 'toner_per_page'),
  ...beside(result, 'waste_per_thousand'),
];

interface Pair {
  readonly row: number;
  readonly name: string;
  readonly candidate: WithValue;
  readonly reference: WithValue;
}

interface Mark {
  readonly row: number;
  readonly value: number;
  readonly U: number;
  readonly whose: 'candidate' | 'reference';
}

function beside({ derived, reference }: Assessed, figure: string): Picture[] {
  const pairs = derived
    .filter((one) => one.figure.name === figure && one.stat === null)
    .flatMap(({ of, figure: { title } }) => {
      const [candidate, theirs] = [valueOfFigure(derived, figure, of), valueOfFigure(reference, figure, of)];
      return candidate && theirs ? [{ name: of ?? title, candidate, reference: theirs }] : [];
    });
  return inPieces(pairs).map((some) => pictureOf(some.map((pair, row) => ({ ...pair, row }))));
}

function pictureOf(pairs: readonly Pair[]): Picture {
  const { figure: one, unit } = pairs[0]?.candidate ?? { figure: { title: '' }, unit: '' };
  const marks = pairs.flatMap(({ row, candidate, reference: theirs }): Mark[] =>
    (
      [
        ['candidate', candidate],
        ['reference', theirs],
      ] as const
    ).map(([whose, value]) => ({
      row,
      whose,
      value: value.result.value.toNumber(),
      U: value.result.u.times(2).toNumber(),
    })),
  );
  const rows = (slim: boolean) =>
    rowsOf(
      pairs.map(({ name }) => name),
      slim,
    );
  const domain = around(marks.flatMap(({ value, U }) => [value - U, value + U]));
  const of = (whose: Mark['whose']): Mark[] => marks.filter((mark) => mark.whose === whose);
  const barsOf = (whose: Mark['whose'], dy: number) => [
    ruleY(of(whose), {
      y: 'row',
      x1: (m: Mark) => m.value - m.U,
      x2: (m: Mark) => m.value + m.U,
      dy,
      stroke: whose === 'candidate' ? ACCENT : INK,
      strokeWidth: 1.5,
    }),
    tickX(
      of(whose).flatMap(({ row, value, U }) => [value - U, value + U].map((edge) => ({ row, edge }))),
      {
        y: 'row',
        x: 'edge',
        dy,
        insetTop: 13,
        insetBottom: 13,
        stroke: whose === 'candidate' ? ACCENT : INK,
      },
    ),
    dot(of(whose), {
      y: 'row',
      x: 'value',
      dy,
      r: 5,
      symbol: whose === 'candidate' ? 'circle' : 'square',
      fill: whose === 'candidate' ? ACCENT : PAPER,
      stroke: whose === 'candidate' ? ACCENT : INK,
      strokeWidth: 1.5,
    }),
  ];
  return picture({
    title: `${named(one.title, unit)}: candidate and reference`,
    alternative: pairs
      .map(
        ({ name, candidate, reference: theirs }) =>
          `${name}: candidate ${valueText(candidate)}, reference ${valueText(theirs)} ${unit}.`,
      )
      .join(' '),
    key: `Filled circle: candidate; open square: reference${marks.some(({ U }) => U > 0) ? '; bar with ends: ± U' : ''}.${domain[0] > 0 ? ' The axis does not begin at zero.' : ''}`,
    ...forBoth((slim) => ({
      options: {
        height: 58 + 36 * pairs.length,
        marginTop: 8,
        marginBottom: 44,
        marginLeft: rows(slim).space,
        marginRight: 24,
        x: {
          domain,
          ...namedBelow(named(one.title, unit)),
          ticks: slim ? 4 : 6,
          tickFormat: tick,
        },
        y: rows(slim).axis,
      },
      marks: [
        ruleY(
          pairs.map(({ row }) => row),
          { stroke: INK, strokeOpacity: 0.15 },
        ),
        ...barsOf('reference', 6),
        ...barsOf('candidate', -6),
      ],
    })),
  });
}
