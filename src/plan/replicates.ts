import { demonstrationSize } from '../statistics/demonstration.ts';
import { sampleSizeNormal, sampleSizeStudent } from '../statistics/sample-size.ts';
import type { Trial } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { given, type Planned, planned, valueOf } from './planned.ts';

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
  /** To support the claim; null where none is made. */
  readonly claim: Planned<SampleSize> | null;
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

/** Three machines with three cartridges each: ISO/IEC 19752, seen second-hand only. */
export const FEWEST = 9;

const USUAL = new Decimal(90);

/** Shares of failing cartridges the plan is told for unless another is asked for, in percent. */
const SHARES = [10, 5, 2].map((share) => new Decimal(share));

/** Cartridges to try, for what the file wants to be said of them. `shares` of failing ones, in percent. */
export function replicatesOf({ data: { target } }: Trial, shares: readonly Decimal[] = SHARES): Replicates {
  const confidence = target?.confidence?.value ?? USUAL;
  const power = target?.power?.value ?? USUAL;
  const [level, chance] = [probabilityOf(confidence), probabilityOf(power)];
  const deviation = (): Decimal => given(target?.expected_sd, 'target', 'expected_sd').value;

  const size = (apart: Decimal, probabilities: readonly (number | null)[]): SampleSize => {
    const sure = probabilities.map((one) => given(one, 'target', 'confidence'));
    const [sd, gap] = [deviation().toNumber(), apart.toNumber()];
    return { normal: sampleSizeNormal(sd, gap, sure), student: sampleSizeStudent(sd, gap, sure) };
  };
  const claimed = target?.claim?.value;
  const claim = claimed
    ? planned(() => {
        const apart = given(target.expected_yield, 'target', 'expected_yield').value.minus(claimed);
        deviation();
        if (!apart.gt(0)) throw new NotDerived({ code: 'claim-above-expected', path: ['target', 'claim'] });
        return size(apart, [level, chance]);
      })
    : null;
  const wanted = target?.half_width?.value;
  const halfWidth = wanted ? planned(() => size(wanted, [level === null ? null : (1 + level) / 2])) : null;

  const sizes = [claim, halfWidth].flatMap((one) => (one === null ? [] : (valueOf(one)?.student ?? [])));
  return {
    confidence,
    power,
    claim,
    halfWidth,
    needed: sizes.length === 0 ? null : Math.max(FEWEST, ...sizes),
    failing: shares.flatMap((share) => {
      const p = probabilityOf(share);
      if (p === null || level === null) return [];
      return [{ share, sizes: [0, 1, 2].map((allowed) => demonstrationSize(p, level, allowed)) }];
    }),
  };
}

/** Percent as a probability; certainty takes no number of cartridges, and gives none. */
function probabilityOf(percent: Decimal): number | null {
  const share = percent.div(100).toNumber();
  return share > 0 && share < 1 ? share : null;
}
