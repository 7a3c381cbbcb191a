import { normalQuantile } from './normal.ts';
import { noncentralStudent, toleranceFactor } from './tolerance.ts';
import { firstWhole } from './solve.ts';

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
const MOST = 1000;

/** Fewer than two tell no deviation. */
const FEWEST = 2;

/**
 * The smallest plan by variables for a lower limit, pieces normal, the deviation estimated from the sample: the factor
 * is the exact one-sided tolerance factor at the limiting share, so that the consumer's risk holds; the sample is the
 * smallest with which the producer's risk holds too. P(accept) at a share p is P(T > k√n) of the non-central t with
 * n − 1 degrees of freedom and the shift z√n, z the normal deviate that p exceeds. Null where the two shares are too
 * close to be told apart by any number.
 */
export function variablesPlan(good: ShareRisk, bad: ShareRisk): VariablesPlan | null {
  const factorFor = (sample: number): number => toleranceFactor(sample, 1 - bad.share, 1 - bad.risk);
  const z = normalQuantile(1 - good.share);
  const enough = (sample: number): boolean => {
    const root = Math.sqrt(sample);
    return noncentralStudent(factorFor(sample) * root, sample - 1, z * root) <= good.risk;
  };
  const known = knownSize(good, bad);
  let above = known;
  while (above <= MOST && !enough(above)) above *= 2;
  // Never fewer than with the deviation known.
  const sample = firstWhole(enough, known - 1, above);
  return sample <= MOST ? { sample, factor: factorFor(sample) } : null;
}

/** The same with the deviation known from before: P(accept) at a share p is Φ(√n (z − k)). */
export function variablesPlanKnown(good: ShareRisk, bad: ShareRisk): VariablesPlan | null {
  const sample = knownSize(good, bad);
  const factor = normalQuantile(1 - bad.share) + normalQuantile(1 - bad.risk) / Math.sqrt(sample);
  return sample <= MOST ? { sample, factor } : null;
}

/** ((z(α) + z(β)) / (z(p₁) − z(p₂)))², rounded up: the fewest with the deviation known. */
function knownSize(good: ShareRisk, bad: ShareRisk): number {
  const risks = normalQuantile(1 - good.risk) + normalQuantile(1 - bad.risk);
  const apart = normalQuantile(1 - good.share) - normalQuantile(1 - bad.share);
  return Math.max(FEWEST, Math.ceil((risks / apart) ** 2));
}
