import { pagesWithOther } from '../figures/pages.ts';
import { wasteMassOf } from '../figures/waste-mass.ts';
import { wastePerThousandOf } from '../figures/waste-per-thousand.ts';
import type { Run, Trial } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import type { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { given, planned, valueOf } from './planned.ts';
import { weighed } from './progress.ts';

/** Waste expected, and what it is expected from. */
export interface WasteRate {
  /** g per thousand pages */
  readonly rate: Decimal;
  readonly from: 'target' | 'reference' | 'run';
}

/**
 * Waste per thousand pages to reckon with: as planned, else that of this run so far, else that of the
 * reference run. @throws NotDerived
 */
export function wasteRate(trial: Trial): WasteRate {
  const { data, reference } = trial;
  const target = data.target?.waste_per_thousand?.value;
  if (target) return { rate: target, from: 'target' };
  const now = weighed(trial);
  const soFar = now && valueOf(planned(() => rateSoFar(now.run)));
  if (soFar) return { rate: soFar.value, from: 'run' };
  const seen = reference && valueOf(planned(() => wastePerThousandOf(reference)));
  if (seen) return { rate: seen.value, from: 'reference' };
  throw new NotDerived({ code: 'not-given', path: ['target', 'waste_per_thousand'] });
}

/**
 * Waste for every thousand pages to go on with: of the trial; where that of other pages is in the container and was not
 * weighed apart, of all pages that filled it. @throws NotDerived
 */
export function rateSoFar(run: Run): Measured {
  const ofTrial = wastePerThousandOf(run);
  return ofTrial.bound === 'exact'
    ? ofTrial
    : wasteMassOf(run).times(1000).over(pagesWithOther(run), 'pages');
}

/** Waste of so many pages, in g. @throws NotDerived */
export const wasteFor = (trial: Trial, pages: Decimal): Decimal =>
  wasteRate(trial).rate.times(pages).div(1000);

/**
 * Pages until a container is full: by its capacity and the waste expected, or by the pages it is rated
 * for; the fewer of both. @throws NotDerived
 */
export function pagesToFull(trial: Trial): Decimal {
  const { waste_container: data } = trial.data;
  const rated = (Array.isArray(data) ? data[0] : data)?.rated_life?.value ?? null;
  const capacity = trial.run.containers[0]?.capacity ?? null;
  if (capacity === null && rated !== null) return rated;
  const holds = given(capacity, 'waste_container', 'capacity');
  const { rate } = rated === null ? wasteRate(trial) : (valueOf(planned(() => wasteRate(trial))) ?? NONE);
  const full = rate.isZero() ? null : holds.times(1000).div(rate);
  if (full === null) return rated ?? new Decimal(Infinity);
  return rated === null ? full : Decimal.min(full, rated);
}

const NONE = { rate: new Decimal(0) };

/** Containers for so many pages. @throws NotDerived */
export function containersFor(trial: Trial, pages: Decimal): number {
  const each = pagesToFull(trial);
  return each.isFinite() ? Math.max(1, pages.div(each).ceil().toNumber()) : 1;
}

/** Pages after which the container is to be changed, as many as the plan lists. @throws NotDerived */
export function changesWithin(trial: Trial, pages: Decimal): readonly Decimal[] {
  const each = pagesToFull(trial);
  const containers = containersFor(trial, pages);
  return Array.from({ length: Math.min(containers - 1, MOST_LISTED) }, (_, index) =>
    each.times(index + 1).floor(),
  );
}

const MOST_LISTED = 20;
