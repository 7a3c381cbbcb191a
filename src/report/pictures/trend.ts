import { dot, lineY, ruleY, text } from '@observablehq/plot';
import { BOUND_WORDS } from '../../output/numbers.ts';
import { SIGNALS } from '../../output/pool-text.ts';
import type { Trend } from '../../pool/trend.ts';
import type { Signal } from '../../statistics/control-chart.ts';
import type { Bound } from '../../uncertainty/measured.ts';
import type { Picture } from '../content.ts';
import { named } from '../values.ts';
import { ACCENT, around, INK, PAPER, picture, tick } from './draw.ts';

interface Point {
  readonly nth: number;
  readonly value: number;
  readonly bound: Bound;
  readonly day: string;
  readonly signals: readonly Signal[];
}

const short = (value: number): string => tick(Number(value.toPrecision(5)));

/** Names of days that fit below the points. */
const MOST_DAYS = 8;

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
  const lines = [
    { word: 'upper limit', at: upper, dash: '7 4' },
    { word: 'centre', at: centre, dash: 'none' },
    { word: 'lower limit', at: lower, dash: '7 4' },
  ];
  const [low, high] = around([...drawn.map(({ value }) => value), lower, upper]);
  const every = Math.ceil(drawn.length / MOST_DAYS);
  const exact = drawn.filter(({ bound }) => bound === 'exact');
  const bounded = drawn.filter(({ bound }) => bound !== 'exact');
  const signalled = drawn.filter(({ signals }) => signals.length > 0);
  const what = `${figure.replaceAll('_', ' ')}${of === null ? '' : ` of ${of}`}`;
  const unit = points[0]?.unit ?? '';
  return [
    picture({
      title: `Trend of ${named(what, unit)}`,
      alternative: [
        `Centre ${short(centre)}, control limits ${short(lower)} to ${short(upper)}.`,
        ...drawn
          .slice(0, 60)
          .map(
            ({ day, value, bound, signals }) =>
              `${day}: ${BOUND_WORDS[bound]}${short(value)}${signals.length > 0 ? `, ${signals.map((one) => SIGNALS[one]).join(', ')}` : ''}.`,
          ),
        ...(drawn.length > 60 ? [`And ${drawn.length - 60} more.`] : []),
      ].join(' '),
      key: `Full line: centre; dashed: control limits (mean moving range / 1.128 × 3).${signalled.length > 0 ? ' Open diamond: a signal.' : ' No point gives a signal.'}${bounded.length > 0 ? ' Triangle: only a bound, up where it is at least so much, down where it is at most.' : ''}`,
      options: {
        height: 260,
        marginLeft: 64,
        marginRight: 120,
        marginTop: 24,
        marginBottom: 46,
        x: {
          type: 'linear',
          domain: [0.6, drawn.length + 0.4],
          label: 'day of the trial',
          labelAnchor: 'center',
          labelArrow: 'none',
          ticks: drawn.filter(({ nth }) => (nth - 1) % every === 0).map(({ nth }) => nth),
          tickFormat: (nth: number) => drawn[nth - 1]?.day ?? '',
        },
        y: { domain: [low, high], label: null, ticks: 5, tickFormat: tick },
      },
      marks: [
        ...lines.map(({ at, dash }) => ruleY([at], { stroke: INK, strokeDasharray: dash })),
        text(lines, {
          x: drawn.length + 0.4,
          y: 'at',
          dx: 8,
          textAnchor: 'start',
          text: ({ word, at }: (typeof lines)[number]) => `${word} ${short(at)}`,
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
        text([named(what, unit)], { frameAnchor: 'top-left', dx: -58, dy: -22, textAnchor: 'start' }),
      ],
    }),
  ];
}
