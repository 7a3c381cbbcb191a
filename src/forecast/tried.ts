import { weighingsOfCartridge } from '../figures/cartridge-weighings.ts';
import { unlistedCartridge } from '../figures/changes.ts';
import { type Derived, isDerived } from '../figures/figure.ts';
import { coverageBetween, coverageOfGroup, coverageOfTrial } from '../figures/mean-coverage.ts';
import {
  type Alike,
  alikeInCoverage,
  groupsBetween,
  type Stretch,
  uncoveredIn,
} from '../figures/stretches.ts';
import { weighingsOfContainer } from '../figures/waste-mass.ts';
import type { Assessed } from '../judge/assess.ts';
import { doubted } from '../judge/doubt/all.ts';
import type { OpenReason } from '../judge/judge.ts';
import { lotOf } from '../trial/lot.ts';
import { machineOf } from '../trial/machine.ts';
import type { Cartridge, Reading, Run } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import { ifDerived, NotDerived } from '../uncertainty/not-derived.ts';

/** What one cartridge took for each page, or one run left as waste, at one coverage. */
export interface TriedPoint {
  readonly file: string;
  /** % of the page; of waste, of all slots together. */
  readonly coverage: number;
  readonly coverageU: number;
  /** mg a page */
  readonly mass: number;
  /** Standard uncertainty from the readings, above zero; in mg. */
  readonly massU: number;
  /** Of the cartridge; null where the file gives none, and of waste. */
  readonly serial: string | null;
  /** The cartridge, or the run, that it is of: one tried at several coverages has a point at each. */
  readonly source: object;
  /** Covariances in mg² with other points of it, by the weighings that belong to both. */
  readonly shared: ReadonlyMap<TriedPoint, number>;
}

/** Toner a cartridge can give, in g, with its standard uncertainty. */
export interface Usable {
  readonly mass: number;
  readonly u: number;
}

/** Everything the trials say of one slot of one side. */
export interface TriedSlot {
  readonly slot: string | null;
  readonly points: TriedPoint[];
  /** Of cartridges fitted new, run until exhausted, and weighed before and after. */
  readonly emptied: Usable[];
  /** Fill less what is left when exhausted, as the files state it. */
  readonly filled: Usable[];
  /** Of a cartridge, each once, as an amount and its currency. */
  readonly prices: { readonly amount: Decimal; readonly currency: string }[];
}

/** The candidate, or what it is held against. */
export class TriedSide {
  readonly slots = new Map<string | null, TriedSlot>();
  readonly waste: TriedPoint[] = [];
  /** Of the waste container, in g, each once. */
  readonly capacities: number[] = [];

  slot(slot: string | null): TriedSlot {
    const known = this.slots.get(slot);
    if (known !== undefined) return known;
    const added: TriedSlot = { slot, points: [], emptied: [], filled: [], prices: [] };
    this.slots.set(slot, added);
    return added;
  }
}

/** A cartridge that gives no point, and why. */
export interface LeftOut {
  readonly file: string;
  readonly name: string | null;
  readonly reason: OpenReason | { readonly code: 'failed' };
}

/** What trials say of toner and waste at their coverages; a trial can be let go once it is taken in. */
export class Tried {
  readonly candidate = new TriedSide();
  readonly reference = new TriedSide();
  readonly leftOut: LeftOut[] = [];
  /** How many trials were taken in. */
  trials = 0;
  /** Trials that do not say in which machine. */
  unnamed = 0;
  /** Files of trials that prove nothing, since a limit that voids them was missed. */
  readonly voided: string[] = [];
  /** Machines by serial, else label, as people know them. */
  readonly machines = new Map<string, string>();
  /** What the trials have in common or do not, each with the first file that says it. */
  readonly models = new Map<string, string>();
  readonly speeds = new Map<string, string>();
  readonly papers = new Map<string, string>();
  readonly lots = new Map<string, string>();
  readonly settings = new Map<string, string>();

  take(result: Assessed): void {
    const { trial, file, ground } = result;
    const { machine, printing } = trial.data;
    const say = (of: Map<string, string>, what: string | null | undefined): void => {
      if (what != null && !of.has(what)) of.set(what, file);
    };
    this.trials += 1;
    if (ground === 'voids-missed') this.voided.push(file);
    const named = machineOf(trial);
    if (named === null) this.unnamed += 1;
    else if (!this.machines.has(named))
      this.machines.set(
        named,
        [machine?.label, machine?.serial].filter((one) => one != null).join(', serial '),
      );
    say(this.models, machine?.model);
    say(this.speeds, machine?.rated_speed?.value.toFixed());
    say(this.settings, printing?.settings);
    for (const cartridge of trial.run.cartridges) say(this.lots, lotOf(cartridge, trial));
    for (const run of [trial.run, trial.reference])
      for (const { paper } of run ? [run, ...run.batches] : [])
        say(this.papers, `${paper.width.toFixed()} × ${paper.height.toFixed()} mm`);
    takeRun(this.candidate, trial.run, result.derived, result, this.leftOut);
    if (trial.reference) takeRun(this.reference, trial.reference, result.reference, result, this.leftOut);
  }
}

/** What a run says; a cartridge that says nothing is named among those left out. */
function takeRun(
  side: TriedSide,
  run: Run,
  derived: readonly Derived[],
  { file, doubts }: Assessed,
  leftOut: LeftOut[],
): void {
  const found = (figure: string, of: string | null): Measured | OpenReason => {
    const one = derived.find(
      (entry) => entry.figure.name === figure && entry.of === of && entry.stat === null,
    );
    if (one === undefined) return { code: 'no-such-part', part: of ?? figure };
    return isDerived(one.result) ? (doubted(one.result, doubts) ?? one.result) : one.result;
  };
  for (const cartridge of run.cartridges) {
    const { slot, name, price, failed } = cartridge;
    const tried = side.slot(slot);
    if (price && !tried.prices.some((one) => one.currency === price.currency && one.amount.eq(price.amount)))
      tried.prices.push(price);
    if (failed) {
      leftOut.push({ file, name, reason: { code: 'failed' } });
      continue;
    }
    const several = atCoverages(run, weighingsOfCartridge(cartridge, run), [slot], -1);
    if (several.length > 1 && unlistedCartridge(run, slot) === null) {
      const { points, doubtful } = pointsOf(file, several, cartridge.serial, doubts);
      tried.points.push(...points);
      leftOut.push(...doubtful.map((reason) => ({ file, name, reason })));
    } else {
      const used = found('toner_per_page', name);
      const coverage = known(() => exactCoverage(cartridge, run), doubts);
      if (!(used instanceof Measured) || !(coverage instanceof Measured)) {
        const reason = [used, coverage].find((one) => !(one instanceof Measured));
        if (reason !== undefined && !(reason instanceof Measured)) leftOut.push({ file, name, reason });
        continue;
      }
      tried.points.push(pointOf(file, { coverage, mass: used }, cartridge.serial));
    }
    const emptied = found('toner_used', name);
    if (cartridge.exhausted && cartridge.fresh && emptied instanceof Measured)
      tried.emptied.push(usableOf(emptied));
    const filled = statedFill(cartridge);
    if (filled !== null && doubted(filled, doubts) === null) tried.filled.push(usableOf(filled));
  }
  const slots = [...new Set(run.cartridges.map(({ slot }) => slot))];
  const wastes = atCoverages(run, weighingsOfContainer(run), slots, 1);
  if (wastes.length > 1) side.waste.push(...pointsOf(file, wastes, null, doubts).points);
  else {
    const waste = found('waste_per_thousand', null);
    const coverage = known(() => coverageOfTrial(run, slots), doubts);
    // Grams for a thousand pages are milligrams for one.
    if (waste instanceof Measured && waste.bound === 'exact' && coverage instanceof Measured)
      side.waste.push(pointOf(file, { coverage, mass: waste }, null));
  }
  for (const { capacity } of run.containers) {
    const held = capacity?.toNumber();
    if (held !== undefined && !side.capacities.includes(held)) side.capacities.push(held);
  }
}

/** The coverage of the pages a cartridge printed. @throws NotDerived where that of other pages among them is not known */
function exactCoverage({ slot, from, to }: Cartridge, run: Run): Measured {
  const { mean } = coverageBetween(run, slot, from, to);
  const unknown = mean.bound === 'exact' ? null : uncoveredIn(run);
  if (unknown !== null) throw new NotDerived({ code: 'reading-missing', path: unknown });
  return mean;
}

/** A value, unless it cannot be derived or rests on a reading in doubt. */
function known(formula: () => Measured, doubts: Assessed['doubts']): Measured | OpenReason {
  try {
    const value = formula();
    return doubted(value, doubts) ?? value;
  } catch (refusal) {
    if (refusal instanceof NotDerived) return refusal.reason;
    throw refusal;
  }
}

/** What pages of one coverage took or left. */
interface AtCoverage {
  /** % of the page */
  readonly coverage: Measured;
  /** mg a page */
  readonly mass: Measured;
}

/** A weighing, and where the meter stood. */
interface Weighing {
  readonly at: Reading;
  readonly mass: Reading;
}

/**
 * What the pages of each coverage took, between weighings that have pages of one coverage alone between them: those of
 * one coverage together, in all slots. Pages that are not of the trial count where their own coverage is known.
 *
 * @param sign of what the mass does as pages are printed
 */
function atCoverages(
  run: Run,
  weighings: readonly Weighing[],
  slots: readonly (string | null)[],
  sign: 1 | -1,
): readonly AtCoverage[] {
  const alike: Alike = (one, other) => slots.every((slot) => alikeInCoverage(slot)(one, other));
  const kinds: { readonly first: Stretch; coverage: Measured; mass: Measured; clicks: Measured }[] = [];
  for (const [index, { at, mass }] of weighings.entries()) {
    const before = weighings[index - 1];
    if (before?.mass.measured == null || mass.measured === null) continue;
    const [group, ...others] = ifDerived(() => groupsBetween(run, before.at, at, alike)) ?? [];
    if (group === undefined || others.length > 0 || group.first.uncovered) continue;
    const coverage = ifDerived(() => Measured.sum(slots.map((slot) => coverageOfGroup(group, slot))));
    if (coverage === null) continue;
    const moved = mass.measured.minus(before.mass.measured).times(sign);
    const kind = kinds.find(({ first }) => alike(first, group.first));
    if (kind === undefined) kinds.push({ first: group.first, coverage, mass: moved, clicks: group.clicks });
    else {
      kind.coverage = kind.coverage.among([coverage]);
      kind.mass = kind.mass.plus(moved);
      kind.clicks = kind.clicks.plus(group.clicks);
    }
  }
  const milligrams = run.meter.clicksPerPage.times(1000);
  return kinds.flatMap(
    ({ coverage, mass, clicks }) =>
      ifDerived(() => [{ coverage, mass: mass.times(milligrams).over(clicks, 'pages') }]) ?? [],
  );
}

/** The points of one cartridge or run at several coverages, and why others are none. */
function pointsOf(
  file: string,
  several: readonly AtCoverage[],
  serial: string | null,
  doubts: Assessed['doubts'],
): { readonly points: readonly TriedPoint[]; readonly doubtful: readonly OpenReason[] } {
  const source = {};
  const doubtful: OpenReason[] = [];
  const made = several.flatMap((one) => {
    const doubt = doubted(one.mass, doubts) ?? doubted(one.coverage, doubts);
    if (doubt !== null) doubtful.push(doubt);
    const shared = new Map<TriedPoint, number>();
    return doubt === null ? [{ one, shared, point: pointOf(file, one, serial, source, shared) }] : [];
  });
  for (const { one, shared } of made)
    for (const other of made)
      if (other.one !== one) shared.set(other.point, one.mass.covariance(other.one.mass));
  return { points: made.map(({ point }) => point), doubtful };
}

const pointOf = (
  file: string,
  { coverage, mass }: AtCoverage,
  serial: string | null,
  source: object = {},
  shared: TriedPoint['shared'] = new Map(),
): TriedPoint => ({
  file,
  coverage: coverage.value.toNumber(),
  coverageU: coverage.u.toNumber(),
  mass: mass.value.toNumber(),
  massU: mass.u.toNumber(),
  serial,
  source,
  shared,
});

const usableOf = (mass: Measured): Usable => ({ mass: mass.value.toNumber(), u: mass.u.toNumber() });

/** Fill less what is left in an exhausted cartridge; nothing is taken to be left where the file does not say. */
function statedFill({ fillMass, residualMass }: Cartridge): Measured | null {
  const { measured: fill } = fillMass;
  return fill && (residualMass.measured === null ? fill : fill.minus(residualMass.measured));
}

/** Why trials make no common line. */
export type Mixture =
  | { readonly kind: 'models'; readonly of: ReadonlyMap<string, string> }
  | { readonly kind: 'speeds'; readonly of: ReadonlyMap<string, string> }
  | { readonly kind: 'papers'; readonly of: ReadonlyMap<string, string> };

/** What keeps trials from making a common line; null where nothing does. */
export function mixtureIn({ models, speeds, papers }: Tried): Mixture | null {
  if (models.size > 1) return { kind: 'models', of: models };
  if (speeds.size > 1) return { kind: 'speeds', of: speeds };
  return papers.size > 1 ? { kind: 'papers', of: papers } : null;
}
