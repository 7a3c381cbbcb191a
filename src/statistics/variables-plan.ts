import { normalDistribution, normalQuantile } from './normal.ts';
import { noncentralStudent, toleranceFactor } from './tolerance.ts';

/** A lot is accepted where mean − factor × deviation of so many pieces keeps to a lower limit. */
export interface VariablesPlan {
  readonly sample: number;
  readonly factor: number;
}

/** A share of pieces below the limit, and how often a lot of it may be judged wrongly; both between 0 and 1. */
export interface ShareRisk {
  readonly share: number;
  readonly risk: number;
}

/** More than this no one would try. */
const MOST = 5000;

/** Fewer than two tell no deviation. */
const FEWEST = 2;

/** The fewest from two on that are enough, where every greater number is too; null where `MOST` is not. */
function fewest(enough: (sample: number) => boolean): number | null {
  let above = FEWEST;
  while (!enough(above)) {
    if (above === MOST) return null;
    above = Math.min(MOST, 2 * above);
  }
  let below = above === FEWEST ? FEWEST - 1 : Math.max(FEWEST, Math.floor(above / 2));
  while (above - below > 1) {
    const middle = Math.floor((below + above) / 2);
    if (enough(middle)) above = middle;
    else below = middle;
  }
  return above;
}

/**
 * The smallest plan by variables for a lower limit, pieces normal, the deviation estimated from the sample: the factor
 * is the exact one-sided tolerance factor at the limiting share, so that the consumer's risk holds; the sample is the
 * smallest with which the producer's risk holds too. P(accept) at a share p is P(T > k√n) of the non-central t with
 * n − 1 degrees of freedom and the shift z√n, z the normal deviate that p exceeds. Null where the two shares are too
 * close to be told apart by any number.
 */
export function variablesPlan(good: ShareRisk, bad: ShareRisk): VariablesPlan | null {
  const factorFor = (sample: number): number => toleranceFactor(sample, 1 - bad.share, 1 - bad.risk);
  const shift = normalQuantile(1 - good.share);
  const sample = fewest((n) => {
    const root = Math.sqrt(n);
    return noncentralStudent(factorFor(n) * root, n - 1, shift * root) <= good.risk;
  });
  return sample === null ? null : { sample, factor: factorFor(sample) };
}

/** The same with the deviation known from before: P(accept) at a share p is Φ(√n (z − k)). */
export function variablesPlanKnown(good: ShareRisk, bad: ShareRisk): VariablesPlan | null {
  const factorFor = (sample: number): number =>
    normalQuantile(1 - bad.share) + normalQuantile(1 - bad.risk) / Math.sqrt(sample);
  const z = normalQuantile(1 - good.share);
  const sample = fewest((n) => normalDistribution(Math.sqrt(n) * (z - factorFor(n))) >= 1 - good.risk);
  return sample === null ? null : { sample, factor: factorFor(sample) };
}
