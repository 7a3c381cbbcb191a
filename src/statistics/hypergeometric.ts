import { keeps } from './risk.ts';
import { deviance, stirlingError } from './saddle-point.ts';
import { summed } from './series.ts';
import { firstWhole } from './solve.ts';

/** Pieces drawn from a lot without putting them back: how many of those drawn are of the failing ones. */
export interface Drawing {
  /** Pieces in the lot. */
  readonly lot: number;
  /** How many of them fail. */
  readonly failing: number;
  /** Pieces drawn. */
  readonly sample: number;
}

/**
 * P(X = count) for `trials` chances of probability `share`, 0 < share < 1, in the form that keeps its digits:
 * C. Loader, Fast and Accurate Computation of Binomial Probabilities (2000), from memory.
 */
function binomialDensity(count: number, trials: number, share: number): number {
  if (count === 0) return Math.exp(trials * Math.log1p(-share));
  if (count === trials) return Math.exp(trials * Math.log(share));
  const rest = trials - count;
  const log =
    stirlingError(trials) -
    stirlingError(count) -
    stirlingError(rest) -
    deviance(count, trials * share) -
    deviance(rest, trials * (1 - share));
  return Math.exp(log) / Math.sqrt((2 * Math.PI * count * rest) / trials);
}

/**
 * P(X = count), 0 < sample < lot: the product of the binomial densities of the failing and the good ones over that of
 * all, each at the share drawn, so that no factorial of a large lot is ever formed.
 */
function density(count: number, { lot, failing, sample }: Drawing): number {
  const share = sample / lot;
  return (
    (binomialDensity(count, failing, share) * binomialDensity(sample - count, lot - failing, share)) /
    binomialDensity(sample, lot, share)
  );
}

/**
 * P(X ≤ count): no more than so many failing ones among those drawn; exact (hypergeometric), to 12 digits however
 * small it is, for lots of a hundred thousand and more.
 */
export function hypergeometricAtMost(count: number, drawing: Drawing): number {
  const { lot, failing, sample } = drawing;
  if (count < Math.max(0, sample - (lot - failing))) return 0;
  if (count >= Math.min(sample, failing)) return 1;
  if (count > (sample * failing) / lot) return 1 - hypergeometricAtLeast(count + 1, drawing);
  return summed(density(count, drawing), (nth) => {
    const x = count - nth;
    return (x * (lot - failing - sample + x)) / ((failing - x + 1) * (sample - x + 1));
  });
}

/** P(X ≥ count): at least so many failing ones among those drawn. */
function hypergeometricAtLeast(count: number, drawing: Drawing): number {
  const { lot, failing, sample } = drawing;
  return summed(density(count, drawing), (nth) => {
    const x = count + nth;
    return ((failing - x) * (sample - x)) / ((x + 1) * (lot - failing - sample + x + 1));
  });
}

/**
 * The most failing pieces a lot can hold that what was seen does not rule out: the greatest number for which so few
 * failing ones among those drawn still had a probability of more than 1 − `confidence`. It is the one-sided exact
 * bound for a lot of pieces, as Clopper and Pearson's is for a share (J. Katz, JASA 48 (1953) 256, from memory).
 */
export function mostFailing(lot: number, sample: number, seen: number, confidence: number): number {
  const ruledOut = (failing: number): boolean =>
    keeps(hypergeometricAtMost(seen, { lot, failing, sample }), 1 - confidence);
  const tooMany = lot - (sample - seen) + 1;
  return firstWhole(ruledOut, seen, tooMany) - 1;
}
