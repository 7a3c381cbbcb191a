import { type Derived, isDerived, need } from '../figures/figure.ts';
import type { Assessed } from '../judge/assess.ts';
import { doubted } from '../judge/doubt/all.ts';
import type { OpenReason } from '../judge/judge.ts';
import { lotOf } from '../trial/lot.ts';
import { machineOf } from '../trial/machine.ts';
import type { Cartridge, Reading, Run } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import { ifDerived } from '../uncertainty/not-derived.ts';

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
  /** Machines by serial, else label, as people know them. */
  readonly machines = new Map<string, string>();
  /** What the trials have in common or do not, each with the first file that says it. */
  readonly models = new Map<string, string>();
  readonly speeds = new Map<string, string>();
  readonly papers = new Map<string, string>();
  readonly lots = new Map<string, string>();
  readonly settings = new Map<string, string>();

  take(result: Assessed): void {
    const { trial, file } = result;
    const { machine, printing } = trial.data;
    const say = (of: Map<string, string>, what: string | null | undefined): void => {
      if (what != null && !of.has(what)) of.set(what, file);
    };
    this.trials += 1;
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
      if (run) say(this.papers, `${run.paper.width.toFixed()} × ${run.paper.height.toFixed()} mm`);
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
    const used = found('toner_per_page', name);
    const coverage = run.coverage(slot);
    const reason = failed
      ? ({ code: 'failed' } as const)
      : !(used instanceof Measured)
        ? used
        : (coverageReason(coverage, doubts) ?? null);
    if (reason !== null || !(used instanceof Measured) || coverage.measured === null) {
      if (reason !== null) leftOut.push({ file, name, reason });
      continue;
    }
    tried.points.push(pointOf(file, coverage.measured, used, cartridge.serial));
    const emptied = found('toner_used', name);
    if (cartridge.exhausted && cartridge.fresh && emptied instanceof Measured)
      tried.emptied.push(usableOf(emptied));
    const filled = statedFill(cartridge);
    if (filled !== null && doubted(filled, doubts) === null) tried.filled.push(usableOf(filled));
  }
  const waste = found('waste_per_thousand', null);
  const covered = coverageInAll(run);
  // Grams for a thousand pages are milligrams for one.
  if (waste instanceof Measured && covered !== null && doubted(covered, doubts) === null)
    side.waste.push(pointOf(file, covered, waste, null));
  for (const { capacity } of run.containers) {
    const held = capacity?.toNumber();
    if (held !== undefined && !side.capacities.includes(held)) side.capacities.push(held);
  }
}

function coverageReason(coverage: Reading, doubts: Assessed['doubts']): OpenReason | null {
  if (coverage.measured === null) return { code: 'reading-missing', path: coverage.path };
  return doubted(coverage.measured, doubts);
}

const pointOf = (file: string, coverage: Measured, mass: Measured, serial: string | null): TriedPoint => ({
  file,
  coverage: coverage.value.toNumber(),
  coverageU: coverage.u.toNumber(),
  mass: mass.value.toNumber(),
  massU: mass.u.toNumber(),
  serial,
});

const usableOf = (mass: Measured): Usable => ({ mass: mass.value.toNumber(), u: mass.u.toNumber() });

/** Fill less what is left in an exhausted cartridge; nothing is taken to be left where the file does not say. */
function statedFill({ fillMass, residualMass }: Cartridge): Measured | null {
  const { measured: fill } = fillMass;
  return fill && (residualMass.measured === null ? fill : fill.minus(residualMass.measured));
}

/** Coverage of all slots of a run together; null where one is not known. */
const coverageInAll = (run: Run): Measured | null =>
  ifDerived(() => {
    const slots = [...new Set(run.cartridges.map(({ slot }) => slot))];
    return Measured.sum(slots.map((slot) => need(run.coverage(slot))));
  });

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
