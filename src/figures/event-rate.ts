import { poissonLower, poissonUpper } from '../statistics/poisson.ts';
import type { EventKind } from '../trial/schema/run.ts';
import type { Run } from '../trial/trial.ts';
import { asDecimal, Decimal } from '../uncertainty/decimal.ts';
import { type Input, Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { Bounds } from './figure.ts';
import { pagesOf } from './pages.ts';
import { isInOther, otherIn } from './stretches.ts';

/** How many events of a kind a run saw. @throws NotDerived where events were not recorded */
export function countOf(run: Run, kind: EventKind): number {
  if (run.events === null) throw new NotDerived({ code: 'reading-missing', path: [...run.path, 'events'] });
  return run.events.filter((event) => event.kind === kind).length;
}

/**
 * The same of the pages of the trial: what happened while other batches were printed is not of it.
 *
 * @throws NotDerived where an event does not say at which meter reading, so that it may be of either
 */
export function countInTrial(run: Run, kind: EventKind): number {
  const count = countOf(run, kind);
  if (otherIn(run) === null) return count;
  const inOther = isInOther(run);
  const own = (run.events ?? []).filter((event) => event.kind === kind);
  const unplaced = own.find(({ at }) => at === null);
  if (unplaced) throw new NotDerived({ code: 'reading-missing', path: [...unplaced.path, 'at'] });
  return own.filter(({ at }) => at === null || !inOther(at)).length;
}

/** Events of a kind for every thousand pages; a count has a standard uncertainty of its square root. */
export function ratePerThousand(run: Run, kind: EventKind): Measured {
  const count = new Decimal(countInTrial(run, kind));
  const input: Input = {
    path: [...run.path, 'events'],
    value: count,
    unit: kind,
    u: asDecimal(Math.sqrt(count.toNumber())),
  };
  const counted = Measured.reading(count, count.isZero() ? [] : [input], input.path);
  return counted.times(1000).over(pagesOf(run), 'pages');
}

/** Exact one-sided bounds of the rate, `tail` the probability beyond each of them, from the Poisson distribution. */
export function rateBounds(run: Run, kind: EventKind, tail: number): Bounds {
  const count = countInTrial(run, kind);
  const scale = pagesOf(run).value.div(1000);
  const rate = (mean: number): Decimal => asDecimal(mean).div(scale);
  return { lower: rate(poissonLower(count, tail)), upper: rate(poissonUpper(count, tail)) };
}
