import type { Batch, Conditions, Reading, Run } from '../trial/trial.ts';
import { type Decimal, ZERO } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import type { Path } from '../uncertainty/path.ts';
import { need } from './figure.ts';

/** The stretches of a run, each with what its pages were printed under: a batch, or what follows the last of them. */

/** What pages were printed as. */
export interface Printed {
  readonly under: Conditions;
  /** Printed on this meter, not of the trial. */
  readonly other: boolean;
  /** Pages that are not of the trial, of which no coverage is given. */
  readonly uncovered: boolean;
}

export interface Stretch extends Printed {
  readonly from: Reading;
  readonly to: Reading;
}

/** Whether two stretches are one for what is asked. */
export type Alike = (one: Printed, other: Printed) => boolean;

/** Pages that are alike. */
export interface Group {
  /** The first stretch of them. */
  readonly first: Stretch;
  readonly all: readonly Stretch[];
  /** Clicks of the meter. */
  readonly clicks: Measured;
}

/** Every figure asks. */
const ofRun = new WeakMap<Run, readonly Stretch[]>();

/** Whether a run has batches that differ from it: printed under something else, or not of the trial. */
const differs = (run: Run): boolean =>
  run.batches.some(
    ({ other, paper, duplexShare, coverages }) =>
      other || paper !== run.paper || duplexShare !== run.duplexShare || coverages !== run.coverages,
  );

/** What the pages of a batch were printed as. */
export const printedAs = (batch: Batch, run: Run): Printed => ({
  under: batch,
  other: batch.other,
  uncovered: batch.other && batch.coverages === run.coverages,
});

/** The coverage that is not given, of the first pages that are not of the trial and have none; null where none is. */
export function uncoveredIn(run: Run): Path | null {
  const without = run.batches.find((batch) => printedAs(batch, run).uncovered);
  return without === undefined ? null : [...without.path, 'coverage'];
}

/** Whether a reading of the meter lies in pages that are not of the trial. @throws NotDerived */
export function isInOther(run: Run): (at: Decimal) => boolean {
  const others = otherIn(run)?.all ?? [];
  return (at) => others.some(({ from, to }) => need(from).value.lt(at) && need(to).value.gte(at));
}

/** The stretches of a run in the order of the meter; one where no batch differs from the run. */
export function stretchesOf(run: Run): readonly Stretch[] {
  const known = ofRun.get(run);
  if (known !== undefined) return known;
  const { start, end } = run.meter;
  const stretches: Stretch[] = [];
  let from = start;
  if (differs(run))
    for (const batch of run.batches) {
      stretches.push({ from, to: batch.end, ...printedAs(batch, run) });
      from = batch.end;
    }
  stretches.push({ from, to: end, under: run, other: false, uncovered: false });
  ofRun.set(run, stretches);
  return stretches;
}

/** A value is that of another reading: the same number, with the same inputs. */
function same(one: Reading, other: Reading): boolean {
  const [a, b] = [one.measured, other.measured];
  if (a === null || b === null) return a === b && one.path === other.path;
  const inputs = [...a.sensitivities.keys()];
  return (
    a.value.eq(b.value) &&
    a.sensitivities.size === b.sensitivities.size &&
    inputs.every((input) => b.sensitivities.has(input))
  );
}

/** Printed at the same coverage in a slot, or both at none that is known. */
export const alikeInCoverage =
  (slot: string | null): Alike =>
  (one, other) =>
    one.uncovered === other.uncovered &&
    (one.under.coverages === other.under.coverages ||
      same(one.under.coverage(slot), other.under.coverage(slot)));

/** Printed on the same paper. */
export const alikeInPaper: Alike = ({ under: { paper: one } }, { under: { paper: other } }) =>
  one === other ||
  (one.width.eq(other.width) && one.height.eq(other.height) && one.grammage.eq(other.grammage));

/** Printed with the same two-sided share. */
export const alikeInDuplex: Alike = ({ under: one }, { under: other }) =>
  one.duplexShare.value.eq(other.duplexShare.value);

/** Printed under the same conditions: coverage of every slot, paper, two-sided share; and both of the trial, or neither. */
export const alikeInAll: Alike = (one, other) => {
  const slots = new Set([...one.under.coverages.keys(), ...other.under.coverages.keys()]);
  return (
    alikeInTrial(one, other) &&
    alikeInPaper(one, other) &&
    alikeInDuplex(one, other) &&
    [...slots].every((slot) => alikeInCoverage(slot)(one, other))
  );
};

/**
 * Those printed under one kind of conditions, the kind with most of the meter: at another coverage, on other paper, or
 * of pages that are not of the trial there is another rate of waste.
 */
export function ofOneKind<T>(
  some: readonly T[],
  printedOf: (one: T) => Printed | null,
  clicksOf: (one: T) => Decimal,
): readonly T[] {
  const kinds: { readonly as: Printed; readonly own: T[] }[] = [];
  for (const one of some) {
    const as = printedOf(one);
    if (as === null) continue;
    const kind = kinds.find((known) => alikeInAll(known.as, as));
    if (kind === undefined) kinds.push({ as, own: [one] });
    else kind.own.push(one);
  }
  const most = kinds.map(({ own }) => ({
    own,
    clicks: own.reduce((sum, one) => sum.plus(clicksOf(one)), ZERO),
  }));
  return most.toSorted((a, b) => b.clicks.cmp(a.clicks))[0]?.own ?? [];
}

/** Both of the trial, or neither. */
export const alikeInTrial: Alike = (one, other) => one.other === other.other;

/**
 * The pages between two readings of the meter, in groups of what is alike, in order. Where a checkpoint lies between
 * two stretches that are alike, its reading counts for nothing.
 *
 * @throws NotDerived `reading-missing` where it is not known how far a stretch goes
 */
export function groupsBetween(run: Run, from: Reading, to: Reading, alike: Alike): readonly Group[] {
  const groups: { first: Stretch; all: Stretch[]; clicks: Measured }[] = [];
  for (const stretch of joined(stretchesOf(run), alike)) {
    const begins = later(stretch.from, from);
    if (need(begins).value.gte(need(to).value)) break;
    const ends = sooner(stretch.to, to);
    if (need(ends).value.lte(need(begins).value)) continue;
    const clicks = need(ends).minus(need(begins));
    const group = groups.find(({ first }) => alike(first, stretch));
    if (group === undefined) groups.push({ first: stretch, all: [...stretch.all], clicks });
    else {
      group.all.push(...stretch.all);
      group.clicks = group.clicks.plus(clicks);
    }
  }
  return groups;
}

const later = (one: Reading, other: Reading): Reading =>
  need(one).value.gt(need(other).value) ? one : other;
const sooner = (one: Reading, other: Reading): Reading =>
  need(one).value.lt(need(other).value) ? one : other;

/** Stretches that follow one another and are alike as one. */
function joined(stretches: readonly Stretch[], alike: Alike): (Stretch & { readonly all: Stretch[] })[] {
  const whole: (Stretch & { readonly all: Stretch[] })[] = [];
  for (const stretch of stretches) {
    const last = whole.at(-1);
    if (last !== undefined && alike(last, stretch)) {
      last.all.push(stretch);
      whole[whole.length - 1] = { ...last, to: stretch.to };
    } else whole.push({ ...stretch, all: [stretch] });
  }
  return whole;
}

/** Pages of the whole run in groups of what is alike. @throws NotDerived */
export const groupsIn = (run: Run, alike: Alike): readonly Group[] =>
  groupsBetween(run, run.meter.start, run.meter.end, alike);

/** The stretches that are not of the trial; none of most runs. @throws NotDerived */
export const otherIn = (run: Run): Group | null =>
  stretchesOf(run).some(({ other }) => other)
    ? (groupsIn(run, alikeInTrial).find(({ first }) => first.other) ?? null)
    : null;

/**
 * What the pages of the trial come to: `of` gives it for pages of one kind. Of several kinds it is the mean over the
 * meter, times the pages of the trial.
 *
 * @throws NotDerived
 */
export function overPagesOfTrial(
  run: Run,
  pages: Measured,
  alike: Alike,
  of: (pages: Measured, under: Conditions) => Measured,
): Measured {
  const [only, ...others] = stretchesOf(run);
  if (only !== undefined && others.length === 0) return of(pages, only.under);
  const groups = groupsIn(run, (one, other) => alikeInTrial(one, other) && alike(one, other)).filter(
    ({ first }) => !first.other,
  );
  if (groups.length < 2) return of(pages, groups[0]?.first.under ?? run);
  const sum = Measured.sum(groups.map(({ clicks, first }) => of(clicks, first.under)));
  return pages.times(sum).over(Measured.sum(groups.map(({ clicks }) => clicks)), 'pages');
}
