import { normalDistribution, normalQuantile } from './normal.ts';
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
 * The fewest from two on that are enough, where every greater number is too, looked for around a guess; null where
 * `MOST` is not.
 */
function fewest(guess: number, enough: (sample: number) => boolean): number | null {
  let above = Math.min(MOST, Math.max(FEWEST, Math.round(guess)));
  let below = FEWEST - 1;
  let step = 1 + Math.round(above / 50);
  if (enough(above)) {
    while (above - step > below && enough(above - step)) {
      above -= step;
      step *= 2;
    }
    below = Math.max(below, above - step);
  } else {
    do {
      if (above === MOST) return null;
      below = above;
      above = Math.min(MOST, above + step);
      step *= 2;
    } while (!enough(above));
  }
  return firstWhole(enough, below, above);
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
  // An estimated deviation takes about 1 + k²/2 times as many as a known one: from memory, and a guess only.
  const known = knownSize(good, bad);
  const factor = normalQuantile(1 - bad.share) + normalQuantile(1 - bad.risk) / Math.sqrt(known);
  const guess = known * (1 + factor ** 2 / 2);
  if (guess > 2 * MOST) return null;
  const sample = fewest(guess, (n) => {
    const root = Math.sqrt(n);
    return noncentralStudent(factorFor(n) * root, n - 1, shift * root) <= good.risk;
  });
  return sample === null ? null : { sample, factor: factorFor(sample) };
}

/** ((z(α) + z(β)) / (z(p₁) − z(p₂)))²: with the deviation known, before it is rounded up. */
const knownSize = (good: ShareRisk, bad: ShareRisk): number =>
  ((normalQuantile(1 - good.risk) + normalQuantile(1 - bad.risk)) /
    (normalQuantile(1 - good.share) - normalQuantile(1 - bad.share))) **
  2;

/** The same with the deviation known from before: P(accept) at a share p is Φ(√n (z − k)). */
export function variablesPlanKnown(good: ShareRisk, bad: ShareRisk): VariablesPlan | null {
  const factorFor = (sample: number): number =>
    normalQuantile(1 - bad.share) + normalQuantile(1 - bad.risk) / Math.sqrt(sample);
  const z = normalQuantile(1 - good.share);
  const enough = (n: number): boolean =>
    normalDistribution(Math.sqrt(n) * (z - factorFor(n))) >= 1 - good.risk;
  const sample = fewest(knownSize(good, bad), enough);
  return sample === null ? null : { sample, factor: factorFor(sample) };
}
