import { otherClicksSoFar } from '../figures/pages.ts';
import { counterEnd } from '../trial/meter.ts';
import type { Trial } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { daysFor, hoursFor } from './hours.ts';
import { planned, valueOf } from './planned.ts';

/** Where a batch ends, and the readings are taken. */
export interface Checkpoint {
  /** Counted from 1. */
  readonly batch: number;
  /** Pages of the trial printed by then. */
  readonly pages: Decimal;
  /** Meter reading to stop at; null while the meter's start has not been read. */
  readonly end: Decimal | null;
  /** Day of the run, counted from 1; null where speed or hours are not given. */
  readonly day: number | null;
}

/** As many batches as a trial file takes. */
const MOST = 10_000;

/** Pages in a batch unless the file says otherwise; common practice, no source. */
const BATCH = new Decimal(1000);

export const batchOf = ({ data }: Trial): Decimal => data.target?.batch?.value ?? BATCH;

/**
 * The checkpoints of a run of so many pages; the last is its end.
 *
 * @throws NotDerived `too-many-batches`
 */
export function checkpointsOf(trial: Trial, pages: Decimal): readonly Checkpoint[] {
  const batch = batchOf(trial);
  const batches = pages.div(batch).ceil();
  if (batches.gt(MOST)) {
    throw new NotDerived({ code: 'too-many-batches', most: MOST, path: ['target', 'batch'] });
  }
  return Array.from({ length: batches.toNumber() }, (_, index) => {
    const done = Decimal.min(batch.times(index + 1), pages);
    return {
      batch: index + 1,
      pages: done,
      end: meterAfter(trial, done),
      day: valueOf(planned(() => daysFor(trial, hoursFor(trial, done)))),
    };
  });
}

/**
 * What the meter shows after so many pages of the trial, and the others printed so far, as its counter shows it; null
 * while its start has not been read.
 */
export function meterAfter({ data, run }: Trial, pages: Decimal): Decimal | null {
  const { start, clicksPerPage } = run.meter;
  if (start.measured === null) return null;
  const clicks = pages.times(clicksPerPage).plus(otherClicksSoFar(run));
  const end = start.measured.value.plus(clicks).ceil();
  return data.meter?.digits ? end.mod(counterEnd(data.meter.digits)) : end;
}
