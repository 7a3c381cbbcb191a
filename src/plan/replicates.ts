import { FEWEST_CARTRIDGES, FEWEST_MACHINES, quantileOf } from '../pool/group.ts';
import { claimPower, type Layout, type Scatter } from '../statistics/claim-power.ts';
import { demonstrationSize } from '../statistics/demonstration.ts';
import { sampleSizeNormal, sampleSizeStudent } from '../statistics/sample-size.ts';
import type { Trial } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { given, type Planned, planned, valueOf } from './planned.ts';
import { firstWhole } from '../statistics/solve.ts';

/** A number of cartridges: with the deviation taken as known, and with it estimated from them. */
export interface SampleSize {
  readonly normal: number;
  readonly student: number;
}

/** How many cartridges it takes to say what is to be said of them. */
export interface Replicates {
  /** Percent. */
  readonly confidence: Decimal;
  readonly power: Decimal;
  /**
   * Cartridges over machines that support the claim: the fewest machines that can, then more machines where they
   * take fewer cartridges in all; null where no claim is made.
   */
  readonly claim: Planned<readonly Layout[]> | null;
  /** For an interval of the half-width wanted; null where none is. */
  readonly halfWidth: Planned<SampleSize> | null;
  /** To have: the greatest of these, and never fewer than nine; null where none follows. */
  readonly needed: number | null;
  /** To show that no more than a share fails. */
  readonly failing: readonly FailingShare[];
}

/** Numbers to try by how many of them may fail. */
export interface FailingShare {
  /** Percent. */
  readonly share: Decimal;
  /** With none failed, one, two. */
  readonly sizes: readonly number[];
}

const USUAL = new Decimal(90);

/** Shares of failing cartridges the plan is told for unless another is asked for, in percent. */
const SHARES = [10, 5, 2].map((share) => new Decimal(share));

/** More machines, and more cartridges in each, no one would try. */
const MOST_MACHINES = 8;
const MOST_EACH = 300;

/** Cartridges to try, for what the file wants to be said of them. `shares` of failing ones, in percent. */
export function replicatesOf(
  { data: { target }, run }: Trial,
  shares: readonly Decimal[] = SHARES,
): Replicates {
  const confidence = target?.confidence?.value ?? USUAL;
  const power = target?.power?.value ?? USUAL;
  const [level, chance] = [probabilityOf(confidence), probabilityOf(power)];
  const deviation = (): Decimal => given(target?.expected_sd, 'target', 'expected_sd').value;

  const claimed = target?.claim?.value;
  const claim = claimed
    ? planned(() => {
        const expected = given(target.expected_yield, 'target', 'expected_yield').value;
        const apart = expected.minus(claimed);
        const within = deviation().toNumber();
        if (!apart.gt(0)) throw new NotDerived({ code: 'claim-above-expected', path: ['target', 'claim'] });
        const sure = given(level, 'target', 'confidence');
        const quantile = quantileOf({ level: sure, tail: 'one-sided' });
        const between = target.expected_machine_sd?.value.toNumber() ?? 0;
        const u = expected.toNumber() * relativeCoverageU(run);
        const scatter = { within, between, common: { u, half: Math.sqrt(3) * u * (2 * quantile - 1) } };
        return layoutsFor(apart.toNumber(), scatter, quantile, given(chance, 'target', 'power'));
      })
    : null;
  const wanted = target?.half_width?.value;
  const halfWidth = wanted
    ? planned((): SampleSize => {
        const sure = [(1 + given(level, 'target', 'confidence')) / 2];
        const [sd, gap] = [deviation().toNumber(), wanted.toNumber()];
        return { normal: sampleSizeNormal(sd, gap, sure), student: sampleSizeStudent(sd, gap, sure) };
      })
    : null;

  const layout = ((claim && valueOf(claim)) ?? []).at(-1);
  const sizes = [
    layout && layout.machines * layout.each,
    halfWidth ? valueOf(halfWidth)?.student : undefined,
  ].flatMap((size) => size ?? []);
  return {
    confidence,
    power,
    claim,
    halfWidth,
    needed: sizes.length === 0 ? null : Math.max(FEWEST_CARTRIDGES, ...sizes),
    failing: shares.flatMap((share) => {
      const p = probabilityOf(share);
      if (p === null || level === null) return [];
      return [{ share, sizes: [0, 1, 2].map((allowed) => demonstrationSize(p, level, allowed)) }];
    }),
  };
}

/** The greatest relative uncertainty of a coverage, which all yields of a trial share. */
export function relativeCoverageU(run: Trial['run']): number {
  const coverages = run.cartridges.map(({ slot }) => run.coverage(slot).measured);
  return coverages.reduce((greatest, coverage) => {
    if (coverage === null || coverage.value.isZero()) return greatest;
    return Math.max(greatest, coverage.u.div(coverage.value).toNumber());
  }, 0);
}

/** @throws NotDerived where no layout would do */
function layoutsFor(gap: number, scatter: Scatter, quantile: number, power: number): Layout[] {
  const layouts: Layout[] = [];
  let fewest = Infinity;
  for (let machines = FEWEST_MACHINES; machines <= MOST_MACHINES; machines++) {
    const enough = (each: number): boolean => claimPower({ machines, each }, scatter, gap, quantile) >= power;
    const each = smallest(enough, Math.ceil(FEWEST_CARTRIDGES / machines), MOST_EACH);
    if (each === null || machines * each >= fewest) continue;
    fewest = machines * each;
    layouts.push({ machines, each });
  }
  if (layouts.length === 0)
    throw new NotDerived({ code: 'claim-beyond-trying', most: MOST_MACHINES, path: ['target', 'claim'] });
  return layouts;
}

/** The smallest whole number that is enough, where every greater one is too; null where `most` is not. */
function smallest(enough: (n: number) => boolean, least: number, most: number): number | null {
  if (enough(least)) return least;
  if (!enough(most)) return null;
  return firstWhole(enough, least, most);
}

/** Percent as a probability; certainty takes no number of cartridges, and gives none. */
function probabilityOf(percent: Decimal): number | null {
  const share = percent.div(100).toNumber();
  return share > 0 && share < 1 ? share : null;
}
