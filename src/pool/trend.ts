import type { Assessed } from '../judge/assess.ts';
import type { Time } from '../trial/time.ts';
import type { Bound } from '../uncertainty/measured.ts';
import { isDerived } from '../figures/figure.ts';
import { byText } from '../trial/by-text.ts';
import { type ChartPoint, type ControlChart, controlChart } from '../statistics/control-chart.ts';

/** One trial's value of the figure that is followed over time. */
export interface TrendPoint {
  readonly file: string;
  /** Day of the trial, as the file tells it; null where it does not. */
  readonly day: string | null;
  /** Its time on that day, where the file tells it. */
  readonly seconds: number;
  readonly value: number;
  /** A bound where the cartridge was not exhausted, or an input is one. */
  readonly bound: Bound;
  readonly unit: string;
  /** What was agreed of it; null where nothing was. */
  readonly agreed: { readonly min: number | null; readonly max: number | null } | null;
}

/** A trial's value, and what the chart says of it; null of one that is only a bound. */
export interface ChartedPoint extends TrendPoint {
  readonly charted: ChartPoint | null;
}

/** A figure over trials in the order of their days. */
export interface Trend {
  readonly figure: string;
  readonly of: string | null;
  readonly points: readonly ChartedPoint[];
  /** Centre and limits of the exact values alone; null of fewer than two. */
  readonly chart: ControlChart | null;
}

/** The time a trial is of: when it began, else ended, else its first dated reading. */
export function timeOf({ trial: { data, run } }: Assessed): Time | null {
  const head = typeof data.trial === 'string' ? null : data.trial;
  const times = [
    head?.started,
    head?.finished,
    ...run.batches.flatMap(({ started, finished }) => [started, finished]),
    ...run.ambient.map(({ at }) => at),
  ];
  return times.find((time) => time != null) ?? null;
}

/** The value of a figure in a trial, its mean where it is of readings, its least where it is of cartridges. */
export function trendPoint(result: Assessed, figure: string, of: string | null): TrendPoint | null {
  const own = result.derived.filter((one) => one.figure.name === figure && one.of === of);
  const found = own.find(({ stat }) => stat === null) ?? own.find(({ stat }) => stat === 'mean') ?? own[0];
  const only = found ?? (of === null ? result.derived.find((one) => one.figure.name === figure) : undefined);
  if (only === undefined || !isDerived(only.result)) return null;
  const { bound } = only.result;
  const value = only.result.value.toNumber();
  const time = timeOf(result);
  const limit = result.judged.find(({ derived }) => derived === only)?.limit;
  return {
    file: result.file,
    day: time?.day ?? null,
    seconds: time?.seconds ?? 0,
    value,
    bound,
    unit: only.unit,
    agreed: limit ? { min: limit.min?.toNumber() ?? null, max: limit.max?.toNumber() ?? null } : null,
  };
}

/** After every day of an ISO 8601 calendar. */
const LAST = '9999-99-99';

/**
 * The chart of points in the order of their days; those without one keep their place at the end. What is only a bound
 * is kept in its place, and neither counts in centre and limits nor is held against them.
 */
export function trendOf(figure: string, of: string | null, points: readonly TrendPoint[]): Trend {
  const ordered = points.toSorted((a, b) => byText(a.day ?? LAST, b.day ?? LAST) || a.seconds - b.seconds);
  const exact = ordered.filter(({ bound }) => bound === 'exact');
  const chart = exact.length < 2 ? null : controlChart(exact.map(({ value }) => value));
  const charted = new Map(exact.map((point, index) => [point, chart?.points[index] ?? null]));
  return {
    figure,
    of,
    points: ordered.map((point) => ({ ...point, charted: charted.get(point) ?? null })),
    chart,
  };
}
