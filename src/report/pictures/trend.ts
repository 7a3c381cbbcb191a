import { dot, lineY, ruleY, text } from '@observablehq/plot';
import { BOUND_WORDS } from '../../output/numbers.ts';
import { SIGNALS } from '../../output/pool-text.ts';
import type { Trend, TrendPoint } from '../../pool/trend.ts';
import type { Signal } from '../../statistics/control-chart.ts';
import type { Bound } from '../../uncertainty/measured.ts';
import type { Picture } from '../content.ts';
import { named } from '../values.ts';
import { ACCENT, around, forBoth, INK, namedBelow, PAPER, picture, tick } from './draw.ts';

interface Point {
  readonly nth: number;
  readonly value: number;
  readonly bound: Bound;
  readonly day: string;
  readonly signals: readonly Signal[];
}

const short = (value: number): string => tick(Number(value.toPrecision(5)));

/** Names of days that fit below the points, each beside the next. */
const [MOST_DAYS, MOST_DAYS_SLIM] = [5, 2];

/** Labels nearer to each other than this share of the height would touch. */
const APART = 0.08;

/** A level across the picture, with its name beside it. */
interface Level {
  readonly word: string;
  readonly at: number;
  readonly dash: string;
  /** Where its name stands. */
  readonly label: number;
}

/** Levels with their names moved apart, from the highest down. */
function apart(levels: readonly Omit<Level, 'label'>[], least: number): Level[] {
  let above = Infinity;
  return levels
    .toSorted((a, b) => b.at - a.at)
    .map((level) => {
      above = Math.min(level.at, above - least);
      return { ...level, label: above };
    });
}

/** A figure over the trials in the order of their days, with the control limits. */
export function trendPicture({ figure, of, points, chart }: Trend): Picture[] {
  if (chart === null) return [];
  const drawn = points.map(({ value, day, bound, charted }, index): Point => ({
    nth: index + 1,
    value,
    bound,
    day: day ?? 'no day',
    signals: charted?.signals ?? [],
  }));
  const { centre, lower, upper } = chart;
  const agreed = sameAgreed(points);
  const edges = [
    ...(agreed?.min == null ? [] : [{ word: 'agreed, at least', at: agreed.min, dash: '2 2' }]),
    ...(agreed?.max == null ? [] : [{ word: 'agreed, at most', at: agreed.max, dash: '2 2' }]),
  ];
  const exact = drawn.filter(({ bound }) => bound === 'exact');
  const bounded = drawn.filter(({ bound }) => bound !== 'exact');
  const [low, high] = around([
    ...drawn.map(({ value }) => value),
    lower,
    upper,
    ...edges.map(({ at }) => at),
  ]);
  const lines = apart(
    [
      { word: 'upper control limit', at: upper, dash: '7 4' },
      { word: 'centre', at: centre, dash: 'none' },
      { word: 'lower control limit', at: lower, dash: '7 4' },
      ...edges,
    ],
    (high - low) * APART,
  );
  const signalled = drawn.filter(({ signals }) => signals.length > 0);
  const what = `${figure.replaceAll('_', ' ')}${of === null ? '' : ` of ${of}`}`;
  const unit = points[0]?.unit ?? '';
  return [
    picture({
      title: `Trend of ${named(what, unit)}`,
      alternative: [
        `Centre ${short(centre)}, control limits ${short(lower)} to ${short(upper)}.`,
        ...edges.map(({ word, at }) => `${word} ${short(at)}.`),
        ...drawn
          .slice(0, 60)
          .map(
            ({ day, value, bound, signals }) =>
              `${day}: ${BOUND_WORDS[bound]}${short(value)}${signals.length > 0 ? `, ${signals.map((one) => SIGNALS[one]).join(', ')}` : ''}.`,
          ),
        ...(drawn.length > 60 ? [`And ${drawn.length - 60} more.`] : []),
      ].join(' '),
      key: `Full line: centre; dashed: control limits, which the trials themselves make (mean moving range / 1.128 × 3)${edges.length > 0 ? '; dotted: what was agreed' : ''}.${signalled.length > 0 ? ' Open diamond: a signal.' : ' No point gives a signal.'}${bounded.length > 0 ? ' Triangle: only a bound, up where it is at least so much, down where it is at most.' : ''}${low > 0 ? ' The axis does not begin at zero.' : ''}`,
      ...forBoth((slim) => ({
        options: {
          height: 260,
          marginLeft: slim ? 44 : 64,
          marginRight: slim ? 100 : 170,
          marginTop: 24,
          marginBottom: 46,
          x: {
            type: 'linear',
            domain: [0.6, drawn.length + 0.4],
            ...namedBelow('day of the trial'),
            ticks: daysShown(drawn.length, slim ? MOST_DAYS_SLIM : MOST_DAYS),
            tickFormat: (nth: number) => drawn[nth - 1]?.day ?? '',
          },
          y: { domain: [low, high], label: null, ticks: 5, tickFormat: tick },
        },
        marks: [
          ...lines.map(({ at, dash }) => ruleY([at], { stroke: INK, strokeDasharray: dash })),
          text(lines, {
            x: drawn.length + 0.4,
            y: 'label',
            dx: 8,
            textAnchor: 'start',
            text: ({ word, at }: Level) => `${slim ? SLIM_WORDS[word] : word} ${short(at)}`,
          }),
          lineY(exact, { x: 'nth', y: 'value', stroke: ACCENT, strokeWidth: 1.5 }),
          dot(bounded, {
            x: 'nth',
            y: 'value',
            r: 4,
            symbol: 'triangle',
            rotate: ({ bound }: Point) => (bound === 'at_least' ? 0 : 180),
            fill: PAPER,
            stroke: INK,
            strokeWidth: 2,
          }),
          dot(exact, {
            x: 'nth',
            y: 'value',
            r: ({ signals }: Point) => (signals.length > 0 ? 6 : 4),
            symbol: ({ signals }: Point) => (signals.length > 0 ? 'diamond' : 'circle'),
            fill: ({ signals }: Point) => (signals.length > 0 ? PAPER : ACCENT),
            stroke: ({ signals }: Point) => (signals.length > 0 ? INK : ACCENT),
            strokeWidth: 2,
          }),
          text([named(what, unit)], {
            frameAnchor: 'top-left',
            dx: slim ? -40 : -58,
            dy: -22,
            textAnchor: 'start',
          }),
        ],
      })),
    }),
  ];
}

/** Names of the levels where few letters have room. */
const SLIM_WORDS: Readonly<Record<string, string>> = {
  'upper control limit': 'upper',
  centre: 'centre',
  'lower control limit': 'lower',
  'agreed, at least': 'at least',
  'agreed, at most': 'at most',
};

/** Points whose day is named: the first, and as many more as have room, evenly. */
function daysShown(points: number, most: number): number[] {
  const every = Math.ceil(points / most);
  return Array.from({ length: Math.ceil(points / every) }, (_, nth) => 1 + nth * every);
}

/** What all trials were agreed to keep to; null where they were not agreed alike. */
function sameAgreed(points: Trend['points']): TrendPoint['agreed'] {
  const [first] = points;
  return first !== undefined &&
    points.every(({ agreed }) => agreed?.min === first.agreed?.min && agreed?.max === first.agreed?.max)
    ? first.agreed
    : null;
}
