import type { Agreed, Limit } from '../judge/limits.ts';
import type { Trial } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { lapsedBy, type Lapsed } from './calibration.ts';
import { type SlotNeed, slotNeeds } from './cartridges.ts';
import { type Checkpoint, checkpointsOf } from './checkpoints.ts';
import { dayAfter, daysFor, hoursFor } from './hours.ts';
import { type Drawing, type LotPlan, lotPlanOf } from './lot.ts';
import { reamsFor } from './paper.ts';
import { from, type Planned, planned, valueOf } from './planned.ts';
import { type Replicates, replicatesOf } from './replicates.ts';
import { pagesOf, paperMassFor, sheetsFor } from './run.ts';
import { type ScaleNeed, scaleNeed } from './scale.ts';
import { changesWithin, containersFor, wasteFor } from './waste.ts';
import { partsWorn, type WornPart } from './wear.ts';

/** What a trial asks for before it is run; each with the reason where it cannot be told. */
export interface Plan {
  readonly trial: Trial;
  readonly pages: Planned<Decimal>;
  readonly sheets: Planned<Decimal>;
  readonly reams: Planned<number>;
  /** kg */
  readonly paperMass: Planned<Decimal>;
  readonly hours: Planned<Decimal>;
  readonly days: Planned<number>;
  /** The last day, YYYY-MM-DD, when every day from the first is one of printing. */
  readonly lastDay: Planned<string | null>;
  readonly slots: readonly SlotNeed[];
  /** g */
  readonly waste: Planned<Decimal>;
  readonly containers: Planned<number>;
  /** Pages after which the container is full. */
  readonly changes: readonly Decimal[];
  readonly checkpoints: Planned<readonly Checkpoint[]>;
  readonly worn: readonly WornPart[];
  readonly lapsed: readonly Lapsed[];
  readonly scale: Planned<ScaleNeed>;
  readonly replicates: Replicates;
  /** How the lot is to be tried; null where the trial names no terms for it. */
  readonly lot: LotPlan | null;
  /** What it must keep to. */
  readonly limits: readonly Limit[];
  /** Limits the air has to keep to. */
  readonly ambientLimits: readonly Limit[];
}

/**
 * The plan of a trial. `shares` of failing cartridges, in percent, are those the plan is to speak of; by `drawing` it
 * says which cartridges of the lot are to be taken.
 */
export function planOf(
  trial: Trial,
  agreed: Agreed,
  shares?: readonly Decimal[],
  drawing: Drawing | null = null,
): Plan {
  const pages = planned(() => pagesOf(trial));
  const sheets = planned(() => sheetsFor(trial, from(pages)));
  const hours = planned(() => hoursFor(trial, from(pages)));
  const days = planned(() => daysFor(trial, from(hours)));
  const containers = planned(() => containersFor(trial, from(pages)));
  const head = typeof trial.data.trial === 'string' ? null : trial.data.trial;
  const first = head?.started?.day ?? null;
  const lastDay = planned(() => (first === null ? null : dayAfter(first, Math.max(0, from(days) - 1))));
  const known = valueOf(pages);
  const last = valueOf(lastDay) ?? head?.finished?.day ?? first;
  return {
    trial,
    pages,
    sheets,
    reams: planned(() => reamsFor(trial, from(sheets))),
    paperMass: planned(() => paperMassFor(trial, from(pages))),
    hours,
    days,
    lastDay,
    slots: known === null ? [] : slotNeeds(trial, known, agreed.referenceCoverage),
    waste: planned(() => wasteFor(trial, from(pages))),
    containers,
    changes: valueOf(planned(() => changesWithin(trial, from(pages)))) ?? [],
    checkpoints: planned(() => checkpointsOf(trial, from(pages))),
    worn: known === null ? [] : partsWorn(trial, known),
    lapsed: last === null ? [] : lapsedBy(trial, last),
    scale: planned(() => scaleNeed(trial, agreed, from(pages), valueOf(containers) ?? 1)),
    replicates: replicatesOf(trial, shares),
    lot: lotPlanOf(trial, agreed, drawing),
    limits: agreed.limits,
    ambientLimits: agreed.limits.filter(({ figure }) => figure.per === 'readings'),
  };
}
