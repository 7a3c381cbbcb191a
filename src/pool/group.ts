import { binomialUpper } from '../statistics/binomial.ts';
import { censoredNormal, type Estimate } from '../statistics/censored.ts';
import { type Grubbs, grubbs } from '../statistics/grubbs.ts';
import { randomEffects } from '../statistics/random-effects.ts';
import { meanAndDeviation } from '../statistics/sample.ts';
import { studentQuantile } from '../statistics/student.ts';
import { toleranceFactor } from '../statistics/tolerance.ts';
import { asDecimal, Decimal } from '../uncertainty/decimal.ts';
import type { PooledCartridge } from './cartridge.ts';

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
}

/** The pooled yields of one slot, and of one lot where lots are kept apart. */
export interface Group {
  readonly slot: string | null;
  readonly lot: string | null;
  readonly confidence: Confidence;
  /** Cartridges whose yields are pooled. */
  readonly n: number;
  /** How many of them were not exhausted. */
  readonly atLeast: number;
  /** Cartridges that failed; they count in the failure share only. */
  readonly failed: number;
  /** Cartridges whose yields rest on readings in doubt; they are not pooled, and no claim is decided without them. */
  readonly doubted: number;
  readonly machines: number;
  /** Pooled cartridges of trials that do not name their machine: with any, there is no bound over machines. */
  readonly unnamed: number;
  readonly mean: Decimal | null;
  readonly sd: Decimal | null;
  readonly t: number | null;
  readonly lowerBound: Decimal | null;
  readonly upperBound: Decimal | null;
  readonly clusteredLowerBound: Decimal | null;
  readonly betweenMachineSd: Decimal | null;
  readonly withinMachineSd: Decimal | null;
  readonly commonU: Decimal | null;
  readonly toleranceBound: Decimal | null;
  readonly failureUpperBound: number | null;
  /** Maximum likelihood with the yields that are only at least so much; shown, never decided on. */
  readonly likelihood: Estimate | null;
  /** The exhausted cartridge furthest from the mean. */
  readonly furthest: (Grubbs & { readonly cartridge: PooledCartridge }) | null;
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
): { lower: Decimal; upper: Decimal } | null {
  if (values.length < 2) return null;
  const { mean, sd } = meanAndDeviation(values);
  if (sd === null) return null;
  const t = asDecimal(studentQuantile(quantileOf(confidence), values.length - 1));
  const half = t.times(sd).div(new Decimal(values.length).sqrt());
  return { lower: mean.minus(half), upper: mean.plus(half) };
}

const smaller = (a: Decimal | null, b: Decimal | null): Decimal | null =>
  a && b ? Decimal.min(a, b) : (a ?? b);

/** Cartridges of one slot pooled: mean, bounds, machines, failures, and what may be claimed. */
export function poolGroup(
  fitted: readonly PooledCartridge[],
  slot: string | null,
  lot: string | null,
  confidence: Confidence,
  claimed: Decimal | null,
): Group {
  const sound = fitted.filter(({ doubted }) => !doubted);
  const good = sound.filter(({ failed }) => !failed);
  const exhausted = good.filter((one) => one.exhausted);
  const all = good.map(({ pages }) => pages);
  const full = exhausted.map(({ pages }) => pages);
  const { mean, sd } = good.length > 0 ? meanAndDeviation(all) : { mean: null, sd: null };
  const n = good.length;
  const [ofAll, ofExhausted] = [bounds(all, confidence), bounds(full, confidence)];
  const lowerBound = ofExhausted && smaller(ofAll?.lower ?? null, ofExhausted.lower);
  const upperBound = ofAll && ofExhausted ? Decimal.max(ofAll.upper, ofExhausted.upper) : null;
  const machines = new Set(good.flatMap(({ machine }) => machine ?? []));
  const unnamed = good.filter(({ machine }) => machine === null).length;
  const named = unnamed === 0;
  const byMachine = [...machines].map((machine) =>
    exhausted.filter((one) => one.machine === machine).map(({ pages }) => pages),
  );
  const effects = named ? randomEffects(byMachine) : { between: null, within: null };
  const machineMeans = byMachine
    .filter((group) => group.length > 0)
    .map((group) => meanAndDeviation(group).mean);
  const clustered = named ? bounds(machineMeans, confidence) : null;
  const test = grubbs(full);
  const outlier = test && exhausted[test.index];
  const group = {
    slot,
    lot,
    confidence,
    n,
    atLeast: n - exhausted.length,
    failed: sound.length - n,
    doubted: fitted.length - sound.length,
    machines: machines.size,
    unnamed,
    mean,
    sd,
    t: n < 2 ? null : studentQuantile(quantileOf(confidence), n - 1),
    lowerBound,
    upperBound,
    clusteredLowerBound: clustered?.lower ?? null,
    betweenMachineSd: effects.between,
    withinMachineSd: effects.within,
    commonU: n === 0 ? null : asDecimal(good.reduce((sum, { coverageU }) => sum + coverageU, 0) / n),
    toleranceBound: ofExhausted && smaller(tolerance(all, confidence), tolerance(full, confidence)),
    failureUpperBound:
      sound.length === 0 ? null : binomialUpper(sound.length - n, sound.length, confidence.level),
    likelihood:
      exhausted.length < n
        ? censoredNormal(
            full.map((x) => x.toNumber()),
            good.filter((one) => !one.exhausted).map(({ pages }) => pages.toNumber()),
          )
        : null,
    furthest: test && outlier ? { ...test, cartridge: outlier } : null,
  };
  return { ...group, claim: claimed && judgeClaim(group, all, full, claimed) };
}

/** Pages that 90 % of the cartridges exceed, with the confidence asked for; null of fewer than two. */
function tolerance(values: readonly Decimal[], { level }: Confidence): Decimal | null {
  if (values.length < 2) return null;
  const { mean, sd } = meanAndDeviation(values);
  if (sd === null) return null;
  const bound = mean.minus(sd.times(asDecimal(toleranceFactor(values.length, TOLERANCE_SHARE, level))));
  // No cartridge prints fewer than no pages.
  return Decimal.max(bound, 0);
}

/**
 * A claim is supported when every bound there is reaches it, and refused when the upper bound stays below
 * it; it is not decided on fewer than three exhausted cartridges, nor where most were not exhausted, nor while
 * a yield is in doubt.
 */
function judgeClaim(
  group: Omit<Group, 'claim'>,
  all: readonly Decimal[],
  full: readonly Decimal[],
  pages: Decimal,
): Claim {
  const { lowerBound, clusteredLowerBound, upperBound, n, doubted } = group;
  const enough = full.length >= FEWEST_EXHAUSTED && full.length * 2 >= n;
  if (enough && doubted === 0 && lowerBound !== null) {
    const lowers = [lowerBound, ...(clusteredLowerBound ? [clusteredLowerBound] : [])];
    if (lowers.every((bound) => bound.gte(pages)))
      return { pages, supported: true, more: 0, moreMachines: false };
    if (upperBound?.lt(pages)) return { pages, supported: false, more: null, moreMachines: false };
  }
  const more = moreFor(all, full, group.confidence, pages);
  return { pages, supported: null, more, moreMachines: clusteredLowerBound?.lt(pages) ?? false };
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
): number | null {
  const enough = [all, full]
    .filter((values) => values.length > 1)
    .map((values) => {
      const { mean, sd } = meanAndDeviation(values);
      const [margin, s] = [mean.minus(pages).toNumber(), sd?.toNumber() ?? 0];
      return (more: number): boolean => {
        const n = values.length + more;
        return margin > 0 && (studentQuantile(quantileOf(confidence), n - 1) * s) / Math.sqrt(n) <= margin;
      };
    });
  const reach = (values: readonly Decimal[]): boolean =>
    values.length > 0 && meanAndDeviation(values).mean.gt(pages);
  if (enough.length === 0 || !reach(all) || (full.length > 1 && !reach(full))) return null;
  const fewest = Math.max(0, FEWEST_EXHAUSTED - full.length, all.length - 2 * full.length);
  for (let more = fewest; all.length + more <= MOST_CARTRIDGES; more++) {
    if (enough.every((holds) => holds(more))) return more;
  }
  return null;
}

/** Cartridges by slot, and by lot where asked for; in the order they were met. */
export function groupsOf(
  cartridges: readonly PooledCartridge[],
  byLot: boolean,
): { slot: string | null; lot: string | null; cartridges: PooledCartridge[] }[] {
  const groups = new Map<
    string,
    { slot: string | null; lot: string | null; cartridges: PooledCartridge[] }
  >();
  for (const cartridge of cartridges) {
    const lot = byLot ? cartridge.lot : null;
    const key = JSON.stringify([cartridge.slot, lot]);
    const group = groups.get(key) ?? { slot: cartridge.slot, lot, cartridges: [] };
    group.cartridges.push(cartridge);
    groups.set(key, group);
  }
  return [...groups.values()];
}
