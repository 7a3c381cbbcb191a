import { meanOf } from './sample.ts';

/** Individuals and moving ranges of a figure over trials, in order of time. */

/** Constants of a moving range of two: NIST/SEMATECH e-Handbook 6.3.2.2 (from memory). */
const D2 = 1.128;
const D4 = 3.267;

/** Why a point calls for a look. */
export type Signal = 'above-upper' | 'below-lower' | 'range-above-upper' | 'run-of-eight';

export interface ChartPoint {
  readonly value: number;
  /** Distance from the point before; null of the first. */
  readonly range: number | null;
  readonly signals: readonly Signal[];
}

export interface ControlChart {
  readonly centre: number;
  readonly lower: number;
  readonly upper: number;
  readonly meanRange: number;
  readonly rangeUpper: number;
  readonly points: readonly ChartPoint[];
}

/** So many in a row on one side of the centre are a signal (Western Electric, from memory). */
const RUN = 8;

/** The chart of at least two values: centre ± 3 · mean moving range / 1.128. */
export function controlChart(values: readonly number[]): ControlChart {
  const centre = meanOf(values);
  const ranges = values.slice(1).map((x, index) => Math.abs(x - (values[index] ?? x)));
  const meanRange = meanOf(ranges);
  const [lower, upper] = [centre - (3 * meanRange) / D2, centre + (3 * meanRange) / D2];
  const rangeUpper = D4 * meanRange;
  const points = values.map((value, index): ChartPoint => {
    const range = ranges[index - 1] ?? null;
    const signals: Signal[] = [];
    if (value > upper) signals.push('above-upper');
    if (value < lower) signals.push('below-lower');
    if (range !== null && range > rangeUpper) signals.push('range-above-upper');
    const last = values.slice(Math.max(0, index - RUN + 1), index + 1);
    const oneSide = last.every((x) => x > centre) || last.every((x) => x < centre);
    if (last.length === RUN && oneSide) signals.push('run-of-eight');
    return { value, range, signals };
  });
  return { centre, lower, upper, meanRange, rangeUpper, points };
}

/** Points of a chart, and how often a signal is seen over so many where nothing changed. */
const FALSE_ALARMS: readonly (readonly [points: number, share: number])[] = [
  [4, 0],
  [5, 0.006],
  [6, 0.018],
  [8, 0.03],
  [10, 0.047],
  [12, 0.066],
  [15, 0.098],
  [20, 0.151],
  [25, 0.202],
  [30, 0.255],
  [40, 0.348],
  [50, 0.43],
  [75, 0.595],
  [100, 0.711],
  [150, 0.856],
  [200, 0.927],
  [300, 0.982],
  [500, 0.999],
];

/**
 * How often at least one of the rules above signals over so many points of independent normal values that did not
 * change, between 0 and 1. Simulated, 200 000 sets each (tests/statistics/false-alarms.py); straight between them.
 */
export function falseAlarms(points: number): number {
  const next = FALSE_ALARMS.findIndex(([n]) => n >= points);
  const [above, below] = [FALSE_ALARMS.at(next), FALSE_ALARMS[next - 1]];
  if (above === undefined || below === undefined) return above?.[1] ?? NaN;
  return below[1] + ((above[1] - below[1]) * (points - below[0])) / (above[0] - below[0]);
}
