import type { AmbientReading, Run } from '../trial/trial.ts';
import { BESIDE, type Time } from '../trial/time.ts';
import { firstWhole } from '../statistics/solve.ts';

/** From when to when, in seconds. */
export type Interval = readonly [from: number, to: number];

const ofDay = ({ kind }: Time): boolean => kind !== 'date';

/**
 * When pages of the trial were printed, in order and apart from one another: its batches, where every one has both its times to
 * the minute; else the whole run, where it has; null where the file does not say.
 */
export function printingTimes({ batches, started, finished }: Run): readonly Interval[] | null {
  const own = batches.filter(({ other }) => !other);
  const spans = own.length > 0 ? own.map((one) => spanOf(one)) : [spanOf({ started, finished })];
  const told = spans.filter((one) => one !== null);
  const whole =
    told.length === spans.length ? told : [spanOf({ started, finished })].filter((one) => one !== null);
  if (whole.length === 0) return null;
  const joined: [number, number][] = [];
  for (const [from, to] of whole.toSorted(([a], [b]) => a - b)) {
    const last = joined.at(-1);
    if (last && from <= last[1]) last[1] = Math.max(last[1], to);
    else joined.push([from, to]);
  }
  return joined;
}

function spanOf({ started, finished }: { started: Time | null; finished: Time | null }): Interval | null {
  if (started === null || finished === null || !ofDay(started) || !ofDay(finished)) return null;
  return finished.seconds > started.seconds ? [started.seconds, finished.seconds] : null;
}

/**
 * The readings taken while pages were printed, or within half an hour of it. All of them where no reading was, or
 * where the file does not say when pages were printed; one without a time of day always counts.
 */
export function whilePrinting<R extends { readonly at: Time | null }>(
  readings: readonly R[],
  times: readonly Interval[] | null,
): readonly R[] {
  if (times === null) return readings;
  const ends = times.map(([, to]) => to + BESIDE);
  const counted = readings.filter(({ at }) => {
    if (at === null || !ofDay(at)) return true;
    const next = times[firstAtLeast(ends, at.seconds)];
    return next !== undefined && at.seconds >= next[0] - BESIDE;
  });
  return counted.length > 0 ? counted : readings;
}

/** Readings of the air that count for no figure, since nothing was printed then. */
export function besidePrinting(run: Run): readonly AmbientReading[] {
  const counted = new Set(whilePrinting(run.ambient, printingTimes(run)));
  return run.ambient.filter((one) => !counted.has(one));
}

/** Index of the first of rising numbers that is not below `x`; their count where all are. */
export const firstAtLeast = (rising: readonly number[], x: number): number =>
  firstWhole((index) => (rising[index] ?? Infinity) >= x, -1, rising.length);
