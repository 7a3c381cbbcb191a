import { binomialUpper } from '../statistics/binomial.ts';
import { censoredNormal, type Estimate } from '../statistics/censored.ts';
import { type Grubbs, grubbs } from '../statistics/grubbs.ts';
import { type Normality, normality } from '../statistics/normality.ts';
import { randomEffects } from '../statistics/random-effects.ts';
import { meanAndDeviation } from '../statistics/sample.ts';
import { studentQuantile } from '../statistics/student.ts';
import { toleranceFactor, toleranceOverGroups, toleranceRank } from '../statistics/tolerance.ts';
import { asDecimal, Decimal, ZERO } from '../uncertainty/decimal.ts';
import type { PooledCartridge } from './cartridge.ts';
import { byText } from '../trial/by-text.ts';
import { type InShort, inShort } from './league.ts';
import { type Overlap, overlapIn } from './overlap.ts';
import { firstWhole } from '../statistics/solve.ts';

/** With which confidence a bound holds, and on which side. */
export interface Confidence {
  /** Between 0 and 1. */
  readonly level: number;
  readonly tail: 'one-sided' | 'two-sided';
}

/** Probability of the quantile a bound is taken at. */
export const quantileOf = ({ level, tail }: Confidence): number =>
  tail === 'one-sided' ? level : (1 + level) / 2;

/** What may be said of a claimed yield; null where it cannot be decided yet. */
export interface Claim {
  readonly pages: Decimal;
  readonly supported: boolean | null;
  /** Exhausted cartridges it would still take, should mean and deviation stay; null where no number would do. */
  readonly more: number | null;
  /** The bound over the machines' means falls short too, which more cartridges alone do not mend. */
  readonly moreMachines: boolean;
  /** The numbers would support or refuse it, but of so few cartridges or machines, with failures or of trials that prove nothing, none is decided. */
  readonly forThese: 'supported' | 'refused' | null;
}

/** What cartridges of one slot may be kept apart by. */
export const KEPT_APART = ['lot', 'supplier', 'machine', 'month'] as const;
export type Apart = (typeof KEPT_APART)[number];

/** What the cartridges of a group have in common: a lot, a supplier, a machine or a month; null where they name none. */
export interface InCommon {
  readonly by: Apart;
  readonly key: string | null;
}

/** The pooled yields of one slot, and of one lot, supplier, machine or month where these are kept apart. */
export interface Group {
  readonly slot: string | null;
  readonly inCommon: InCommon | null;
  readonly confidence: Confidence;
  /** Cartridges whose yields are pooled. */
  readonly n: number;
  /** How many of them were not exhausted. */
  readonly atLeast: number;
  /** Cartridges that failed; they count in the failure share only. */
  readonly failed: number;
  /** Cartridges whose yields rest on readings in doubt; they are not pooled, and no claim is decided without them. */
  readonly doubted: number;
  /** Pooled cartridges of trials that prove nothing, since a limit that voids them was missed. */
  readonly voided: number;
  /** Two cartridges that were in one slot of one machine at once, if their readings are right; null where none were. */
  readonly overlap: Overlap<PooledCartridge> | null;
  readonly machines: number;
  /** Pooled cartridges of trials that do not name their machine: with any, there is no bound over machines. */
  readonly unnamed: number;
  readonly mean: Decimal | null;
  readonly sd: Decimal | null;
  readonly t: number | null;
  readonly lowerBound: Decimal | null;
  readonly upperBound: Decimal | null;
  /**
   * Of the mean of the machines' means: of all cartridges pooled. Null where some were not exhausted, which count in the
   * mean but cannot count here.
   */
  readonly clusteredLowerBound: Decimal | null;
  readonly betweenMachineSd: Decimal | null;
  readonly withinMachineSd: Decimal | null;
  readonly commonU: Decimal | null;
  /**
   * The bounds with the uncertainty that all trials share in them; a claim rests on these. The clustered one is of the
   * exhausted cartridges, whether or not there are others: a claim must keep to it too.
   */
  readonly withCommon: {
    readonly lower: Decimal | null;
    readonly clustered: Decimal | null;
    readonly upper: Decimal | null;
  };
  readonly toleranceBound: Decimal | null;
  /** The same where machines scatter too, of exhausted cartridges in named machines alone; null of fewer than two. */
  readonly toleranceOverMachines: Decimal | null;
  /** The same whatever the distribution, of exhausted cartridges alone; null where there are too few. */
  readonly toleranceFree: Decimal | null;
  /** How far the yields are from normal, where all were exhausted and enough to tell; null where not. */
  readonly normality: Normality | null;
  readonly failureUpperBound: number | null;
  /** Maximum likelihood with the yields that are only at least so much; shown, never decided on. */
  readonly likelihood: Estimate | null;
  /** The exhausted cartridge furthest from the mean. */
  readonly furthest: (Grubbs & { readonly cartridge: PooledCartridge }) | null;
  /** What it is compared with other groups by. */
  readonly inShort: InShort;
  readonly claim: Claim | null;
}

/** Share of the cartridges that the tolerance bound speaks of. */
export const TOLERANCE_SHARE = 0.9;
/** A claim is not decided on fewer exhausted cartridges. */
const FEWEST_EXHAUSTED = 3;
/** No one would try more. */
const MOST_CARTRIDGES = 10_000;

/** mean ± t·s/√n of a sample; null of fewer than two. */
function bounds(
  values: readonly Decimal[],
  confidence: Confidence,
): { mean: Decimal; lower: Decimal; upper: Decimal } | null {
  const { mean, sd } = meanAndDeviation(values);
  if (sd === null) return null;
  const t = asDecimal(studentQuantile(quantileOf(confidence), values.length - 1));
  const half = t.times(sd).div(new Decimal(values.length).sqrt());
  return { mean, lower: mean.minus(half), upper: mean.plus(half) };
}

/** The smaller of two bounds; null where one of them is not there. */
const smaller = (a: Decimal | null | undefined, b: Decimal | null | undefined): Decimal | null =>
  a && b ? Decimal.min(a, b) : null;

/** Cartridges of one slot pooled: mean, bounds, machines, failures, and what may be claimed. */
export function poolGroup(
  fitted: readonly PooledCartridge[],
  slot: string | null,
  inCommon: InCommon | null,
  confidence: Confidence,
  claimed: Decimal | null,
  few: boolean,
): Group {
  const sound = fitted.filter(({ doubted }) => !doubted);
  const good = sound.filter(({ failed }) => !failed);
  const exhausted = good.filter((one) => one.exhausted);
  const all = good.map(({ pages }) => pages);
  const full = exhausted.map(({ pages }) => pages);
  const { mean, sd } = good.length > 0 ? meanAndDeviation(all) : { mean: null, sd: null };
  const n = good.length;
  const [ofAll, ofExhausted] = [bounds(all, confidence), bounds(full, confidence)];
  const lowerBound = smaller(ofAll?.lower, ofExhausted?.lower);
  // A yield that was not run to its end bounds no mean from above.
  const upperBound = exhausted.length === n ? (ofAll?.upper ?? null) : null;
  const machines = new Set(good.flatMap(({ machine }) => machine ?? []));
  const unnamed = good.filter(({ machine }) => machine === null).length;
  // Where one is not named there is nothing to be said of machines.
  const own = unnamed > 0 ? [] : [...new Set(exhausted.map(({ machine }) => machine))];
  const byMachine = own.map((machine) =>
    exhausted.filter((one) => one.machine === machine).map(({ pages }) => pages),
  );
  const effects = randomEffects(byMachine);
  const clustered = bounds(
    byMachine.map((group) => meanAndDeviation(group).mean),
    confidence,
  );
  const commonU = n === 0 ? null : asDecimal(good.reduce((sum, { coverageU }) => sum + coverageU, 0) / n);
  const common = commonHalfWidth(commonU, confidence);
  const uppers = [
    withCommon(upperBound, mean, common, 1),
    withCommon(clustered?.upper, clustered?.mean, common, 1),
  ].flatMap((bound) => bound ?? []);
  const upperWithCommon = upperBound === null ? null : Decimal.max(...uppers);
  const test = grubbs(full);
  const [furthest = null] = exhausted.flatMap((cartridge, index) =>
    test?.index === index ? [{ ...test, cartridge }] : [],
  );
  const group = {
    slot,
    inCommon,
    confidence,
    n,
    atLeast: n - exhausted.length,
    failed: sound.length - n,
    doubted: fitted.length - sound.length,
    voided: good.filter(({ voided }) => voided).length,
    overlap: overlapIn(fitted),
    machines: machines.size,
    unnamed,
    mean,
    sd,
    t: n < 2 ? null : studentQuantile(quantileOf(confidence), n - 1),
    lowerBound,
    upperBound,
    clusteredLowerBound: exhausted.length === n ? (clustered?.lower ?? null) : null,
    betweenMachineSd: effects.between,
    withinMachineSd: effects.within,
    commonU,
    withCommon: {
      lower: withCommon(lowerBound, mean, common),
      clustered: withCommon(clustered?.lower, clustered?.mean, common),
      upper: upperWithCommon,
    },
    toleranceBound: smaller(tolerance(all, confidence), tolerance(full, confidence)),
    toleranceOverMachines: exhausted.length === n ? overMachines(byMachine, confidence) : null,
    toleranceFree: exhausted.length === n ? distributionFree(full, confidence) : null,
    normality: exhausted.length === n ? normality(full.map((x) => x.toNumber())) : null,
    failureUpperBound:
      sound.length === 0 ? null : binomialUpper(sound.length - n, sound.length, confidence.level),
    likelihood:
      exhausted.length < n
        ? censoredNormal(
            full.map((x) => x.toNumber()),
            good.filter((one) => !one.exhausted).map(({ pages }) => pages.toNumber()),
          )
        : null,
    furthest,
    inShort: inShort({ n, mean, atLeast: n - exhausted.length }, fitted),
  };
  return { ...group, claim: claimed && judgeClaim(group, all, full, claimed, common, few) };
}

/**
 * How far the uncertainty that all trials share reaches at the confidence of the bounds, in pages. It is that of a
 * coverage known within a tolerance, taken as rectangular (JCGM 100:2008, 4.3.7): a = √3 u, and its quantile of
 * probability q is a (2q − 1).
 */
const commonHalfWidth = (u: Decimal | null, confidence: Confidence): Decimal =>
  (u ?? ZERO).times(Math.sqrt(3) * (2 * quantileOf(confidence) - 1));

/**
 * A bound with the common uncertainty in it: its distance from the mean and the common half-width are independent,
 * and add as squares. `npm run claims` shows by simulation that the level holds.
 */
function withCommon(
  bound: Decimal | null | undefined,
  centre: Decimal | null | undefined,
  common: Decimal,
  side: 1 | -1 = -1,
): Decimal | null {
  if (!bound || !centre) return null;
  const wider = bound.minus(centre).pow(2).plus(common.pow(2)).sqrt();
  return centre.plus(wider.times(side));
}

/** Tolerance factors worked out so far, which takes some milliseconds each: groups are often of one size. */
const factors = new Map<string, number>();

function factorFor(n: number, level: number): number {
  const key = `${n} ${level}`;
  const factor = factors.get(key) ?? toleranceFactor(n, TOLERANCE_SHARE, level);
  factors.set(key, factor);
  return factor;
}

/** Pages that 90 % of the cartridges exceed, with the confidence asked for; null of fewer than two. */
function tolerance(values: readonly Decimal[], { level }: Confidence): Decimal | null {
  const { mean, sd } = meanAndDeviation(values);
  if (sd === null) return null;
  const bound = mean.minus(sd.times(asDecimal(factorFor(values.length, level))));
  // No cartridge prints fewer than no pages.
  return Decimal.max(bound, 0);
}

function overMachines(groups: readonly (readonly Decimal[])[], { level }: Confidence): Decimal | null {
  const numbers = groups.map((group) => group.map((x) => x.toNumber()));
  const bound = toleranceOverGroups(numbers, TOLERANCE_SHARE, level);
  return bound === null ? null : asDecimal(Math.max(bound, 0));
}

function distributionFree(values: readonly Decimal[], { level }: Confidence): Decimal | null {
  const rank = toleranceRank(values.length, TOLERANCE_SHARE, level);
  return rank === null ? null : (values.toSorted((a, b) => a.cmp(b))[rank - 1] ?? null);
}

/** What the yield standards ask for, second-hand: claims on fewer are for these cartridges alone. */
export const FEWEST_CARTRIDGES = 9;
export const FEWEST_MACHINES = 3;

/**
 * A claim is supported when every bound there is, the common uncertainty in it, reaches it; and refused when the
 * upper bound stays below it, which there is only where all were exhausted. It is not decided on fewer than three
 * exhausted cartridges, nor where most were not exhausted, nor while a yield is in doubt; nor, unless that is said to
 * be enough, on fewer than nine cartridges or three machines, with failures, or on trials that prove nothing.
 */
function judgeClaim(
  group: Omit<Group, 'claim'>,
  all: readonly Decimal[],
  full: readonly Decimal[],
  pages: Decimal,
  common: Decimal,
  few: boolean,
): Claim {
  const { withCommon: bound, n, machines, failed, doubted, voided } = group;
  const moreMachines = bound.clustered?.lt(pages) === true;
  const sound = full.length >= FEWEST_EXHAUSTED && full.length * 2 >= n && doubted === 0;
  const reached = sound && bound.lower?.gte(pages) === true && !moreMachines;
  const refused = sound && bound.upper?.lt(pages) === true;
  const spoilt = failed > 0 || voided > 0;
  const enough = few || (n >= FEWEST_CARTRIDGES && machines >= FEWEST_MACHINES && !spoilt);
  if (enough && reached) return { pages, supported: true, more: 0, moreMachines: false, forThese: null };
  if (enough && refused) return { pages, supported: false, more: null, moreMachines: false, forThese: null };
  const forThese = reached ? 'supported' : refused ? 'refused' : null;
  const more = moreFor(all, full, group.confidence, pages, common);
  return { pages, supported: null, more, moreMachines, forThese };
}

/**
 * How many more exhausted cartridges it would take for the bound of all and that of the exhausted ones
 * alone to reach the claim, should their means and deviations stay; null where no number would do.
 */
function moreFor(
  all: readonly Decimal[],
  full: readonly Decimal[],
  confidence: Confidence,
  pages: Decimal,
  common: Decimal,
): number | null {
  const enough = [all, full].flatMap((values) => {
    const { mean, sd } = meanAndDeviation(values);
    if (sd === null) return [];
    const margin = mean.minus(pages).toNumber();
    return (more: number): boolean => {
      const n = values.length + more;
      const half = (studentQuantile(quantileOf(confidence), n - 1) * sd.toNumber()) / Math.sqrt(n);
      return Math.hypot(half, common.toNumber()) <= margin;
    };
  });
  if (enough.length === 0) return null;
  const fewest = Math.max(0, FEWEST_EXHAUSTED - full.length, all.length - 2 * full.length);
  const holds = (more: number): boolean => enough.every((one) => one(more));
  // More cartridges never make it harder: the fewest that hold lie between too few and enough.
  const most = Math.max(fewest, MOST_CARTRIDGES - all.length);
  return holds(most) ? firstWhole(holds, fewest - 1, most) : null;
}

/** Where a cartridge belongs: `2026-03` is a month, the others are as they are named. */
const KEY_OF: Readonly<Record<Apart, (cartridge: PooledCartridge) => string | null>> = {
  lot: ({ lot }) => lot,
  supplier: ({ supplier }) => supplier,
  machine: ({ machine }) => machine,
  month: ({ day }) => day?.slice(0, 7) ?? null,
};

/** Cartridges of one slot, and of one lot, supplier, machine or month where these are kept apart. */
export interface Together {
  readonly slot: string | null;
  readonly inCommon: InCommon | null;
  readonly cartridges: PooledCartridge[];
}

/**
 * Cartridges by slot, in the order the slots were met; and by lot, supplier, machine or month where asked for: then in
 * the order of their names, those that name none at the end.
 */
export function groupsOf(cartridges: readonly PooledCartridge[], by: Apart | null): Together[] {
  const groups = new Map<string, Together>();
  for (const cartridge of cartridges) {
    const { slot } = cartridge;
    const key = by && KEY_OF[by](cartridge);
    const of = JSON.stringify([slot, key]);
    const group = groups.get(of) ?? { slot, inCommon: by && { by, key }, cartridges: [] };
    groups.set(of, group);
    group.cartridges.push(cartridge);
  }
  const slots = [...new Set(cartridges.map(({ slot }) => slot))];
  return [...groups.values()].toSorted(
    (a, b) =>
      order(a.inCommon?.key ?? null, b.inCommon?.key ?? null) ||
      slots.indexOf(a.slot) - slots.indexOf(b.slot),
  );
}

const order = (a: string | null, b: string | null): number =>
  Number(a === null) - Number(b === null) || byText(a ?? '', b ?? '');
