import {
  alikeInAll,
  ofOneKind as oneKindOf,
  type Printed,
  stretchesOf as printedIn,
} from '../../figures/stretches.ts';
import type { Reading, Run } from '../../trial/trial.ts';
import type { Decimal } from '../../uncertainty/decimal.ts';
import type { Measured } from '../../uncertainty/measured.ts';

/** A weighing of a waste container, and where the meter stood. */
export interface Weighing {
  /** Meter reading in clicks, unrolled; null while it is not known. */
  readonly at: Decimal | null;
  readonly mass: Reading;
}

/**
 * Every weighing of each waste container of a run, in the order of the meter: empty, on the way, after the run.
 * Which container was weighed on the way is known where there is one; or where every change was noted with its
 * meter reading. At the reading of a change it may have been either, and that weighing is left out. Null for a
 * container of which that cannot be told.
 */
export function weighingsOf(run: Run): readonly (readonly Weighing[] | null)[] {
  const changes = (run.events ?? []).filter(({ kind }) => kind === 'container_change');
  const bounds = changes.flatMap(({ at }) => at ?? []).toSorted((a, b) => a.cmp(b));
  const [start, end] = [run.meter.start.measured?.value ?? null, run.meter.end.measured?.value ?? null];
  const known = changes.length === bounds.length && bounds.length === run.containers.length - 1;
  return run.containers.map(({ tare, final }, index) => {
    if (!known) return null;
    const [putIn, takenOut] = [bounds[index - 1], bounds[index]];
    const onTheWay = run.batches.flatMap(({ end: stop, containerMass }): Weighing[] => {
      const at = stop.measured?.value;
      const inside = at && !putIn?.gte(at) && !takenOut?.lte(at);
      return inside && containerMass.measured !== null ? [{ at, mass: containerMass }] : [];
    });
    return [{ at: putIn ?? start, mass: tare }, ...onTheWay, { at: takenOut ?? end, mass: final }];
  });
}

/** A weighing that was taken, where the meter is known to have stood. */
export interface Weighed {
  readonly at: Decimal;
  readonly mass: Reading;
  readonly measured: Measured;
}

/** What the container took between two weighings. */
export interface Stretch {
  readonly before: Weighed;
  readonly after: Weighed;
  /** Clicks of the meter. */
  readonly clicks: Decimal;
  /** g */
  readonly waste: Measured;
  /** g for a thousand clicks, as a double: what is asked of it are distances. */
  readonly rate: number;
  /** Standard uncertainty of that, from the weighings alone. */
  readonly u: number;
}

function stretch(before: Weighed, after: Weighed, clicks: Decimal, waste: Measured): Stretch {
  const rate = waste.value.div(clicks).times(1000).toNumber();
  return { before, after, clicks, waste, rate, u: waste.u.div(clicks).times(1000).toNumber() };
}

/** The stretches between the weighings that were taken, in which pages were printed. */
export function stretchesOf(weighings: readonly Weighing[]): Stretch[] {
  const read = weighings.flatMap(({ at, mass }): Weighed[] =>
    at !== null && mass.measured !== null ? [{ at, mass, measured: mass.measured }] : [],
  );
  return read.slice(1).flatMap((after, index): Stretch[] => {
    const before = read[index];
    if (before === undefined || after.at.lte(before.at)) return [];
    return [stretch(before, after, after.at.minus(before.at), after.measured.minus(before.measured))];
  });
}

/** What the pages of a stretch were printed under, where that is one kind of conditions; null where it is not. */
export function printedUnder(run: Run, { before, after }: Stretch): Printed | null {
  const [first, ...others] = printedIn(run).filter(
    ({ from, to }) => !from.measured?.value.gte(after.at) && !to.measured?.value.lte(before.at),
  );
  return first === undefined || others.some((other) => !alikeInAll(first, other)) ? null : first;
}

/** Those stretches that are printed under one kind of conditions, the kind with most of the meter. */
export function ofOneKind(run: Run, stretches: readonly Stretch[]): readonly Stretch[] {
  if (printedIn(run).length === 1) return stretches;
  return oneKindOf(
    stretches,
    (stretch) => printedUnder(run, stretch),
    ({ clicks }) => clicks,
  );
}

/** Two stretches that follow each other, as one. */
export const joined = (first: Stretch, second: Stretch): Stretch =>
  stretch(first.before, second.after, first.clicks.plus(second.clicks), first.waste.plus(second.waste));

/** Sums over several stretches, from which those over all but one or two of them follow at once. */
export interface Sums {
  readonly count: number;
  /** g */
  readonly waste: number;
  readonly clicks: number;
  /** Of the rates, of their squares, and of the squares of their uncertainties. */
  readonly rates: number;
  readonly squares: number;
  readonly variances: number;
}

const NONE: Sums = { count: 0, waste: 0, clicks: 0, rates: 0, squares: 0, variances: 0 };

const added = (sums: Sums, { waste, clicks, rate, u }: Stretch, sign: 1 | -1): Sums => ({
  count: sums.count + sign,
  waste: sums.waste + sign * waste.value.toNumber(),
  clicks: sums.clicks + sign * clicks.toNumber(),
  rates: sums.rates + sign * rate,
  squares: sums.squares + sign * rate ** 2,
  variances: sums.variances + sign * u ** 2,
});

export const sumsOf = (stretches: readonly Stretch[]): Sums =>
  stretches.reduce((sums, one) => added(sums, one, 1), NONE);

/** The sums without those of `left`, which are in them. */
export const sumsWithout = (sums: Sums, ...left: readonly Stretch[]): Sums =>
  left.reduce((rest, one) => added(rest, one, -1), sums);

/** g for a thousand clicks over all of them. */
export const rateOver = ({ waste, clicks }: Sums): number => (1000 * waste) / clicks;

/** Their scatter about that: the standard deviation of the single rates, of which there are two or more. */
export function scatterOf(sums: Sums): number {
  const rate = rateOver(sums);
  const squares = sums.squares - 2 * rate * sums.rates + sums.count * rate ** 2;
  return Math.sqrt(Math.max(0, squares) / (sums.count - 1));
}
