import { unlistedContainer } from '../figures/changes.ts';
import { otherClicksSoFar, pagesOf as pagesPrinted } from '../figures/pages.ts';
import type { Batch, Run, Trial } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import { ifDerived } from '../uncertainty/not-derived.ts';
import { dayAfter } from './hours.ts';

/** A run that has begun and whose end has not been read: how far it has come, and what is to come. */

/** The run as it stood at a checkpoint: its meter ends there, and the container weighs what it did there. */
export interface Progress {
  readonly run: Run;
  readonly batch: Batch;
  /** page */
  readonly pages: Measured;
}

/** The checkpoints with a reading, of a run that goes on; none of one that has ended or not begun. */
function reached(run: Run): readonly Batch[] {
  if (run.meter.end.measured !== null || run.meter.start.measured === null) return [];
  return run.batches.filter(({ end }) => end.measured !== null);
}

/** A run that has begun, with a checkpoint read, and has not ended. */
export const isUnderWay = ({ run }: Trial): boolean => reached(run).length > 0;

/** As the last checkpoint left it; null where there is none, or the run has ended. */
export function progressOf({ run }: Trial): Progress | null {
  const batch = reached(run).at(-1);
  return batch === undefined ? null : progressAt(run, batch);
}

/**
 * As the last weighing of the waste container left it; null where it was not weighed on the way, or where it is not
 * known what is in the containers before.
 */
export function weighed({ run }: Trial): Progress | null {
  const batch = reached(run)
    .filter(({ containerMass }) => containerMass.measured !== null)
    .at(-1);
  const before = run.containers.slice(0, -1);
  const last = run.containers.at(-1);
  if (batch === undefined || last === undefined) return null;
  if (last.tare.measured === null || last.final.measured !== null || unlistedContainer(run) !== null)
    return null;
  return before.every(({ final }) => final.measured !== null) ? progressAt(run, batch) : null;
}

/** Null where the end of a batch that is not of the trial was not read on the way: its pages are not known. */
function progressAt(run: Run, batch: Batch): Progress | null {
  const containers = run.containers.map((container, index) =>
    index === run.containers.length - 1 ? { ...container, final: batch.containerMass } : container,
  );
  const then = { ...run, meter: { ...run.meter, end: batch.end }, containers };
  const pages = ifDerived(() => pagesPrinted(then));
  return pages && { run: then, batch, pages };
}

/** The run carried on to so many pages in which nothing more happens and nothing more is weighed. */
export function carriedOn({ run }: Progress, pages: Decimal): Run {
  const { meter } = run;
  const end = meter.start.measured?.plus(
    Measured.exact(pages.plus(meter.otherPages).times(meter.clicksPerPage).plus(otherClicksSoFar(run))),
  );
  return { ...run, meter: { ...meter, end: { path: meter.end.path, measured: end ?? null } } };
}

/** How fast it went, and how long the rest takes at that speed. */
export interface Outlook {
  /** Pages a printing hour. */
  readonly speed: Decimal;
  /** Printing hours left. */
  readonly hours: Decimal;
  /** The day it ends at the earliest, YYYY-MM-DD; null where the hours of a day are not given. */
  readonly day: string | null;
}

/** From the batches that say when they began and ended; null where none does. */
export function outlook(trial: Trial, pages: Decimal): Outlook | null {
  const { run, data } = trial;
  const now = progressOf(trial);
  if (now === null) return null;
  let printed = new Decimal(0);
  const hours = new Map<string, number>();
  let from = run.meter.start.measured;
  for (const { end, started, finished } of reached(run)) {
    const before = from;
    from = end.measured;
    if (!before || !end.measured || !started || !finished) continue;
    if (started.kind === 'date' || finished.kind === 'date') continue;
    printed = printed.plus(end.measured.value.minus(before.value).div(run.meter.clicksPerPage));
    const took = (finished.seconds - started.seconds) / 3600;
    hours.set(finished.day, (hours.get(finished.day) ?? 0) + took);
  }
  const total = [...hours.values()].reduce((sum, one) => sum + one, 0);
  if (!(total > 0) || !printed.gt(0)) return null;
  const speed = printed.div(total);
  const left = Decimal.max(0, pages.minus(now.pages.value)).div(speed);
  const lastDay = [...hours.keys()].toSorted().at(-1);
  const daily = data.target?.hours_per_day?.value;
  if (!daily || lastDay === undefined) return { speed, hours: left, day: null };
  const today = Decimal.max(0, daily.minus(hours.get(lastDay) ?? 0));
  const further = Decimal.max(0, left.minus(today)).div(daily).ceil().toNumber();
  return { speed, hours: left, day: dayAfter(lastDay, further) };
}
