import { dot, lineY, rect, ruleX, ruleY, text } from '@observablehq/plot';
import type { Assessed } from '../../judge/assess.ts';
import type { Limit } from '../../judge/limits.ts';
import type { AmbientReading } from '../../trial/trial.ts';
import type { Picture } from '../content.ts';
import { named, valueOfFigure, valueText, withUnit } from '../values.ts';
import { ACCENT, around, BAND, forBoth, INK, namedBelow, picture, QUIET, tick } from './draw.ts';
import { timeAxis } from './time-axis.ts';

interface Point {
  readonly at: number;
  readonly value: number;
  readonly U: number;
}

/** More readings than this are a line without dots. */
const MOST_DOTS = 200;

/** Temperature and humidity over the run, with the band that limits keep them to. */
export const roomPictures = (result: Assessed): Picture[] => [
  ...overRun(result, 'temperature', 'temperature', '°C', ({ temperature }) => temperature),
  ...overRun(result, 'humidity', 'relative humidity', '%', ({ humidity }) => humidity),
];

function overRun(
  result: Assessed,
  figure: 'temperature' | 'humidity',
  title: string,
  unit: string,
  pick: (reading: AmbientReading) => AmbientReading['temperature'],
): Picture[] {
  const { ambient } = result.trial.run;
  const read = ambient.filter((reading) => pick(reading)?.measured != null);
  const dated = read.every(({ at }) => at !== null) && new Set(read.map(({ at }) => at?.seconds)).size > 1;
  const points = read.map((reading, index): Point => {
    const measured = pick(reading)?.measured;
    return {
      at: dated ? (reading.at?.seconds ?? 0) : index + 1,
      value: measured?.value.toNumber() ?? 0,
      U: measured?.u.times(2).toNumber() ?? 0,
    };
  });
  if (points.length === 0) return [];
  const limits = result.agreed.limits.filter((limit) => limit.figure.name === figure);
  const each = limits.filter(({ stat }) => stat !== 'mean');
  const ofMean = limits.filter(({ stat }) => stat === 'mean');
  const edges = (some: readonly Limit[]): number[] =>
    some.flatMap(({ min, max }) => [min, max].flatMap((edge) => edge?.toNumber() ?? []));
  const [low, high] = around([...edges(limits), ...points.flatMap(({ value, U }) => [value - U, value + U])]);
  const [from, to] = [points[0]?.at ?? 0, points.at(-1)?.at ?? 1];
  const span = to - from || 1;
  const [left, right] = dated ? [from - span * 0.03, to + span * 0.03] : [0.7, points.length + 0.3];
  const scale = (slim: boolean) =>
    dated ? timeAxis(from, to, read[0]?.at ?? null, slim) : plainAxis(points.length, slim);
  const x = (at: number): Date | number => (dated ? new Date(at * 1000) : at);
  const few = points.length <= MOST_DOTS;
  const stats = (['least', 'mean', 'greatest'] as const).flatMap((stat) => {
    const found = valueOfFigure(result.derived, figure, null, stat);
    return found === null ? [] : [`${stat} ${withUnit(found)}`];
  });
  const mean = valueOfFigure(result.derived, figure, null, 'mean');
  return [
    picture({
      title: `${named(title, unit)}, over the run`,
      alternative: `${points.length} readings${dated ? ` from ${read[0]?.at?.text ?? ''} to ${read.at(-1)?.at?.text ?? ''}` : ''}: ${stats.join(', ')}. ${limitWords(each, ofMean, unit)}`,
      key: [
        few ? 'Dots: the readings, with ± U.' : 'Line: the readings.',
        ...(each.length > 0 ? ['Shaded: where the limits keep every reading.'] : []),
        ...(ofMean.length > 0 ? ['Dashed: limits of the mean.'] : []),
        ...(mean ? [`Dotted: the mean, ${valueText(mean)} ${unit}.`] : []),
        ...(unit === '%' && low > 0 ? ['The axis does not begin at zero.'] : []),
      ].join(' '),
      ...forBoth((slim) => ({
        options: {
          height: 218,
          marginLeft: 56,
          marginRight: 20,
          marginTop: 22,
          marginBottom: 44,
          x: scale(slim),
          y: {
            domain: [low, high],
            label: null,
            ticks: 5,
            tickFormat: tick,
          },
        },
        marks: [
          ...each.map(({ min, max }) =>
            rect([0], {
              x1: x(left),
              x2: x(right),
              y1: min?.toNumber() ?? low,
              y2: max?.toNumber() ?? high,
              fill: BAND,
            }),
          ),
          ruleY(edges(each), { stroke: INK, strokeWidth: 1.5 }),
          ruleY(edges(ofMean), { stroke: INK, strokeDasharray: '6 4' }),
          ruleY(mean ? [mean.result.value.toNumber()] : [], { stroke: QUIET, strokeDasharray: '1 3' }),
          lineY(points, { x: (p: Point) => x(p.at), y: 'value', stroke: ACCENT, strokeWidth: 1.5 }),
          ...(few
            ? [
                ruleX(
                  points.filter(({ U }) => U > 0),
                  {
                    x: (p: Point) => x(p.at),
                    y1: (p: Point) => p.value - p.U,
                    y2: (p: Point) => p.value + p.U,
                    stroke: ACCENT,
                  },
                ),
                dot(points, { x: (p: Point) => x(p.at), y: 'value', r: 3, fill: ACCENT }),
              ]
            : []),
          text([named(title, unit)], { frameAnchor: 'top-left', dx: -50, dy: -14, textAnchor: 'start' }),
        ],
      })),
    }),
  ];
}

const plainAxis = (readings: number, slim: boolean) => ({
  domain: [0.7, readings + 0.3],
  ...namedBelow('reading, in the order of the file'),
  ticks: Math.min(slim ? 5 : 10, readings),
  tickFormat: (value: number) => (Number.isInteger(value) ? tick(value) : ''),
});

function limitWords(each: readonly Limit[], ofMean: readonly Limit[], unit: string): string {
  const said = (limits: readonly Limit[], of: string): string[] =>
    limits.map(({ min, max, stat }) => {
      const range = [min && `at least ${min.toFixed()}`, max && `at most ${max.toFixed()}`].filter(Boolean);
      return `Limit of ${stat ?? of}: ${range.join(' and ')} ${unit}.`;
    });
  return [...said(each, 'every reading'), ...said(ofMean, 'mean')].join(' ') || 'No limit was agreed.';
}
