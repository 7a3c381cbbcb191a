import type { Reading, Run } from '../../trial/trial.ts';
import { Decimal } from '../../uncertainty/decimal.ts';
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
    const from = index === 0 ? start : (bounds[index - 1] ?? null);
    const to = index === run.containers.length - 1 ? end : (bounds[index] ?? null);
    const onTheWay = run.batches.flatMap(({ end: stop, containerMass }): Weighing[] => {
      const at = stop.measured?.value ?? null;
      if (containerMass.measured === null || at === null) return [];
      const inside =
        (index === 0 || from === null || at.gt(from)) &&
        (index === run.containers.length - 1 || to === null || at.lt(to));
      return inside ? [{ at, mass: containerMass }] : [];
    });
    return [{ at: from, mass: tare }, ...onTheWay, { at: to, mass: final }];
  });
}

/** What the container took between two weighings. */
export interface Stretch {
  readonly before: Weighing;
  readonly after: Weighing;
  /** Clicks of the meter. */
  readonly clicks: Decimal;
  /** g */
  readonly waste: Measured;
}

/** The stretches between the weighings that were taken, in which pages were printed. */
export function stretchesOf(weighings: readonly Weighing[]): Stretch[] {
  const read = weighings.filter(({ at, mass }) => at !== null && mass.measured !== null);
  return read.slice(1).flatMap((after, index): Stretch[] => {
    const before = read[index];
    if (!before?.mass.measured || !after.mass.measured || before.at === null || after.at === null) return [];
    const clicks = after.at.minus(before.at);
    return clicks.gt(0)
      ? [{ before, after, clicks, waste: after.mass.measured.minus(before.mass.measured) }]
      : [];
  });
}

/** Two stretches that follow each other, as one. */
export function joined(first: Stretch, second: Stretch): Stretch {
  const waste = first.waste.plus(second.waste);
  return { before: first.before, after: second.after, clicks: first.clicks.plus(second.clicks), waste };
}

/** g for a thousand clicks */
export const rateOf = ({ waste, clicks }: Stretch): number => waste.value.div(clicks).times(1000).toNumber();

/** Standard uncertainty of that, from the weighings alone. */
export const uOfRate = ({ waste, clicks }: Stretch): number => waste.u.div(clicks).times(1000).toNumber();

/** g for a thousand clicks over several stretches. */
export function rateOver(stretches: readonly Stretch[]): number {
  const [waste, clicks] = stretches.reduce(
    ([mass, pages], stretch) => [mass.plus(stretch.waste.value), pages.plus(stretch.clicks)],
    [new Decimal(0), new Decimal(0)],
  );
  return waste.div(clicks).times(1000).toNumber();
}
