import type { Reading, Run } from '../trial/trial.ts';
import { Measured } from '../uncertainty/measured.ts';
import { ifDerived, NotDerived } from '../uncertainty/not-derived.ts';
import { unlistedContainer } from './changes.ts';
import { need, type RunFigure } from './figure.ts';
import { pagesOf } from './pages.ts';
import { alikeInTrial, groupsBetween, otherIn } from './stretches.ts';

/**
 * Waste collected during the run, in grams, over every container used.
 *
 * @throws NotDerived where a container was changed that is not listed: its waste is in none of the weighings
 */
export function wasteMassOf(run: Run): Measured {
  if (run.containers.length === 0) {
    throw new NotDerived({ code: 'reading-missing', path: [...run.path, 'waste_container'] });
  }
  if (unlistedContainer(run) !== null) throw new NotDerived({ code: 'container-changed' });
  return Measured.sum(run.containers.map(({ tare, final }) => need(final).minus(need(tare))));
}

/** A weighing of the waste container, and where the meter stood. */
export interface ContainerWeighing {
  readonly at: Reading;
  /** g */
  readonly mass: Reading;
}

/** The weighings of the only container of a run that were taken, in the order of the meter; none of several. */
export function weighingsOfContainer(run: Run): readonly ContainerWeighing[] {
  const { meter, containers, batches } = run;
  const [only, ...others] = containers;
  if (only === undefined || others.length > 0 || unlistedContainer(run) !== null) return [];
  return [
    { at: meter.start, mass: only.tare },
    ...batches.map(({ end, containerMass }) => ({ at: end, mass: containerMass })),
    { at: meter.end, mass: only.final },
  ].filter(({ at, mass }) => at.measured !== null && mass.measured !== null);
}

/** What so small a share of the pages left in the container is not worth telling apart; common practice, no source. */
const FEW_OTHER_PAGES = 0.02;

/** Whether more than a few of the pages were not of the trial, where nobody knows when they were printed. */
function hasManyOtherPages(run: Run): boolean {
  const { otherPages } = run.meter;
  if (otherPages.isZero()) return false;
  const pages = ifDerived(() => pagesOf(run));
  return pages !== null && otherPages.gt(pages.value.plus(otherPages).times(FEW_OTHER_PAGES));
}

/**
 * Waste of the pages of the trial, in grams. That of other batches comes off where the container was weighed before
 * and after each of them; else it is in it, and the waste of the trial is at most that in the container. So is that of
 * `other_pages`, where these are more than a few.
 */
export function wasteOfTrial(run: Run): Measured {
  const waste = wasteMassOf(run);
  const other = otherIn(run);
  if (other === null) return hasManyOtherPages(run) ? waste.as('at_most') : waste;
  const weighings = weighingsOfContainer(run);
  const weighedAt = ({ measured: stop }: Reading): Measured | null =>
    weighings.find(({ at }) => stop !== null && at.measured?.value.eq(stop.value))?.mass.measured ?? null;
  const known = other.all.flatMap(({ from, to }, index, all) => {
    // One that follows another of them has no end of its own to be weighed at.
    if (all[index - 1]?.to === from) return [];
    const last = all.find((one, place) => place >= index && all[place + 1]?.from !== one.to);
    const [before, after] = [weighedAt(from), weighedAt(last?.to ?? to)];
    return [before === null || after === null ? null : after.minus(before)];
  });
  const less = known.reduce<Measured>((rest, one) => (one === null ? rest : rest.minus(one)), waste);
  return known.includes(null) ? less.as('at_most') : less;
}

/** What the container held when the trial had printed so many pages. */
export interface WasteSoFar {
  /** Clicks of the meter since the start. */
  readonly clicks: Measured;
  /** g */
  readonly waste: Measured;
}

/**
 * Waste at every weighing of the only container, in the order of the meter. `apart`: pages and waste of other batches
 * are taken out; where they cannot be told apart, both are in it.
 */
export function wasteOnTheWay(run: Run): { readonly apart: boolean; readonly soFar: readonly WasteSoFar[] } {
  const weighings = weighingsOfContainer(run);
  const [first, ...others] = weighings;
  if (first === undefined) return { apart: true, soFar: [] };
  const steps = others.map(({ at, mass }, index) => {
    const before = weighings[index] ?? first;
    return {
      clicks: need(at).minus(need(before.at)),
      waste: need(mass).minus(need(before.mass)),
      kinds: ifDerived(() => groupsBetween(run, before.at, at, alikeInTrial)),
    };
  });
  const apart =
    run.meter.otherPages.isZero() &&
    (!run.batches.some(({ other }) => other) || steps.every(({ kinds }) => kinds?.length === 1));
  const nothing = (reading: Reading): Measured => need(reading).minus(need(reading));
  let last: WasteSoFar = { clicks: nothing(first.at), waste: nothing(first.mass) };
  const soFar = [last];
  for (const { clicks, waste, kinds } of steps) {
    if (apart && kinds?.[0]?.first.other === true) continue;
    last = { clicks: last.clicks.plus(clicks), waste: last.waste.plus(waste) };
    soFar.push(last);
  }
  return { apart, soFar };
}

export const wasteMass: RunFigure = {
  name: 'waste_mass',
  title: 'waste mass',
  unit: 'g',
  per: 'trial',
  formula: {
    words:
      'What the waste container weighs after the run, less what it weighed empty; of all containers together. The waste of other batches is in it.',
    symbols: 'Σ (final − tare)',
  },
  source: 'difference of two weighings; common practice, no source',
  derive: wasteMassOf,
};
