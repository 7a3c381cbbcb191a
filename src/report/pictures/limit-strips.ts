import { barX, dot, ruleY, text, tickX } from '@observablehq/plot';
import { isDerived } from '../../figures/figure.ts';
import type { Decision } from '../../judge/limits.ts';
import { guardBand } from '../../judge/decide.ts';
import type { Judged } from '../../judge/judge.ts';
import { severityWord } from '../../output/numbers.ts';
import { limitText, marginText } from '../../output/text-limits.ts';
import { SEVERITY } from '../../trial/catalogue.ts';
import { asDecimal } from '../../uncertainty/decimal.ts';
import type { Picture } from '../content.ts';
import { named, valueText } from '../values.ts';
import { inPieces } from './pieces.ts';
import { ACCENT, around, BAND, INK, PAPER, picture, rowsOf, tick } from './draw.ts';

interface Strip {
  readonly row: number;
  readonly label: string;
  readonly judged: Judged;
  readonly value: number | null;
  readonly U: number;
  readonly min: number | null;
  readonly max: number | null;
  /** Width of the guard band; zero under the simple rule. */
  readonly guard: number;
}

/** Every limit of a trial as a strip, those on one figure in one picture. */
export function limitStrips(judged: readonly Judged[], decision: Decision): Picture[] {
  const figures = [...new Set(judged.map(({ derived }) => derived.figure))];
  return figures
    .flatMap((figure) => inPieces(judged.filter(({ derived }) => derived.figure === figure)))
    .map((some, index) => stripsOf(some, decision, index === 0 ? howToRead(judged, decision) : ''));
}

function stripOf(judged: Judged, row: number, decision: Decision): Strip {
  const { derived, limit } = judged;
  const result = isDerived(derived.result) ? derived.result : null;
  return {
    row,
    label: [derived.of, derived.stat].filter((part) => part !== null).join(', ') || derived.figure.title,
    judged,
    value: result?.value.toNumber() ?? null,
    U: result?.u.times(2).toNumber() ?? 0,
    min: limit.min?.toNumber() ?? null,
    max: limit.max?.toNumber() ?? null,
    guard: result === null ? 0 : guardBand(result, decision).toNumber(),
  };
}

const SYMBOL = { met: 'circle', missed: 'times', open: 'diamond' } as const;

function stripsOf(judged: readonly Judged[], decision: Decision, key: string): Picture {
  const strips = judged.map((one, index) => stripOf(one, index, decision));
  const { figure, unit } = judged[0]?.derived ?? { figure: { title: '' }, unit: '' };
  const edges = strips.flatMap(({ min, max, guard }) =>
    [min, max].flatMap((edge) => (edge === null ? [] : [edge - guard, edge + guard])),
  );
  const values = strips.flatMap(({ value, U }) => (value === null ? [] : [value - U, value + U]));
  const [low, high] = unit === SEVERITY ? [-0.4, 3.4] : around([...edges, ...values], 0.12);
  const rows = rowsOf(strips.map(({ label }) => label));
  const valued = strips.filter((strip) => strip.value !== null);
  const isOpenEnded = ({ judged: { derived } }: Strip, bound: string): boolean =>
    isDerived(derived.result) && derived.result.bound === bound;
  const guarded = strips.filter(({ guard }) => guard > 0);
  return picture({
    title: `${named(figure.title, unit)}: limits and margin`,
    alternative: strips.map(inWords).join(' '),
    key,
    options: {
      height: 58 + 34 * strips.length,
      marginTop: 8,
      marginBottom: 44,
      marginLeft: rows.space,
      marginRight: 156,
      x: {
        domain: [low, high],
        label: named(figure.title, unit),
        labelAnchor: 'center',
        labelArrow: 'none',
        ticks: unit === SEVERITY ? [0, 1, 2, 3] : 5,
        tickFormat: (value: number) => severityWord(asDecimal(value), unit) ?? tick(value),
      },
      y: rows.axis,
    },
    marks: [
      barX(strips, { y: 'row', x1: (s: Strip) => s.min ?? low, x2: (s: Strip) => s.max ?? high, fill: BAND }),
      tickX(
        strips.flatMap(({ row, min, max }) =>
          [min, max].flatMap((edge) => (edge === null ? [] : [{ row, edge }])),
        ),
        { y: 'row', x: 'edge', stroke: INK, strokeWidth: 2 },
      ),
      tickX(
        guarded.flatMap(({ row, min, max, guard }) =>
          [min, max].flatMap((edge) =>
            edge === null ? [] : [edge - guard, edge + guard].map((side) => ({ row, edge: side })),
          ),
        ),
        { y: 'row', x: 'edge', stroke: INK, strokeDasharray: '2 2' },
      ),
      ruleY(
        valued.filter((s) => isOpenEnded(s, 'at_least')),
        { y: 'row', x1: 'value', x2: high, stroke: ACCENT, strokeDasharray: '2 3', strokeWidth: 2 },
      ),
      ruleY(
        valued.filter((s) => isOpenEnded(s, 'at_most')),
        { y: 'row', x1: low, x2: 'value', stroke: ACCENT, strokeDasharray: '2 3', strokeWidth: 2 },
      ),
      ruleY(
        valued.filter(({ U }) => U > 0),
        {
          y: 'row',
          x1: (s: Strip) => (s.value ?? 0) - s.U,
          x2: (s: Strip) => (s.value ?? 0) + s.U,
          stroke: ACCENT,
          strokeWidth: 2,
        },
      ),
      tickX(
        valued
          .filter(({ U }) => U > 0)
          .flatMap(({ row, value, U }) => [(value ?? 0) - U, (value ?? 0) + U].map((end) => ({ row, end }))),
        { y: 'row', x: 'end', stroke: ACCENT, strokeWidth: 2, insetTop: 7, insetBottom: 7 },
      ),
      dot(valued, {
        y: 'row',
        x: 'value',
        r: 5,
        symbol: (s: Strip) => SYMBOL[s.judged.outcome],
        fill: (s: Strip) => (s.judged.outcome === 'met' ? ACCENT : PAPER),
        stroke: (s: Strip) => (s.judged.outcome === 'met' ? ACCENT : INK),
        strokeWidth: 2,
      }),
      text(strips, {
        y: 'row',
        x: high,
        dx: 10,
        textAnchor: 'start',
        fill: INK,
        text: (s: Strip) => said(s.judged),
      }),
    ],
  });
}

const said = (judged: Judged): string =>
  judged.margin === null ? `${judged.outcome}, no value` : `${judged.outcome}, margin ${marginText(judged)}`;

function inWords({ label, judged }: Strip): string {
  const { derived } = judged;
  const value = isDerived(derived.result) ? valueText({ ...derived, result: derived.result }) : 'not derived';
  return `${label}: ${value}, limit ${limitText(judged)}, ${said(judged)}.`;
}

/** How the strips are to be read; said at the first of them. */
function howToRead(judged: readonly Judged[], decision: Decision): string {
  const strips = judged.map((one, index) => stripOf(one, index, decision));
  const outcomes = new Set(strips.map(({ judged: { outcome } }) => outcome));
  const bounds = new Set(
    strips.flatMap(({ judged: { derived } }) => (isDerived(derived.result) ? derived.result.bound : [])),
  );
  const signs = [
    ...(outcomes.has('met') ? ['filled circle, met'] : []),
    ...(outcomes.has('missed') ? ['cross, missed'] : []),
    ...(outcomes.has('open') ? ['open diamond, open'] : []),
  ];
  return [
    'How to read the strips:',
    'shaded is where the limit is kept, an upright line the limit itself;',
    ...(strips.some(({ U }) => U > 0) ? ['a bar with ends is the value ± U;'] : []),
    ...(strips.some(({ guard }) => guard > 0) ? ['between dashed uprights is the guard band;'] : []),
    ...(bounds.has('at_least') ? ['dots to the right mean at least;'] : []),
    ...(bounds.has('at_most') ? ['dots to the left mean at most;'] : []),
    `${signs.join('; ')}.`,
  ].join(' ');
}
