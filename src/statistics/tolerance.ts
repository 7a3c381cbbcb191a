import { binomialTail } from './binomial.ts';
import { chiNodes } from './chi.ts';
import { normalDistribution, normalQuantile } from './normal.ts';
import { solve } from './solve.ts';
import { meanOf, sumOf } from './sample.ts';

/** Enough for ten digits of a factor. */
const STEPS = 600;

/** P(T ≤ t) of the non-central t with ν degrees of freedom: the mean of Φ(t s − δ) over s = χ/√ν. */
export function noncentralStudent(t: number, freedom: number, shift: number): number {
  return sumOf(chiNodes(freedom, STEPS).map(([s, weight]) => weight * normalDistribution(t * s - shift)));
}

/**
 * The exact one-sided tolerance factor k of a normal sample of n: with the given confidence at least
 * `share` of the population lies above mean − k·s. From the non-central t (NIST/SEMATECH e-Handbook
 * 7.2.6.3, seen second-hand).
 */
export function toleranceFactor(n: number, share: number, confidence: number): number {
  const root = Math.sqrt(n);
  const shift = normalQuantile(share) * root;
  return solve((k) => noncentralStudent(k * root, n - 1, shift) - confidence, 0, 4);
}

/**
 * The rank, from the smallest, of the value of a sample of n that `share` of any population lies above with the given
 * confidence; null where n is too small, as below 22 for 90 % with 90 %. At least so many of the sample lie in the
 * rest of the population: P(X ≥ rank) ≥ confidence for the binomial of n and 1 − share. S. S. Wilks, Annals of
 * Mathematical Statistics 12 (1941) 91 (from memory).
 */
export function toleranceRank(n: number, share: number, confidence: number): number | null {
  let rank = 0;
  while (binomialTail(rank + 1, n, 1 - share) >= confidence) rank += 1;
  return rank === 0 ? null : rank;
}

/** Steps over each of two deviations: four digits of a bound. */
const GROUP_STEPS = 40;

/**
 * What `share` of a population of groups lies above, with the given confidence, from values in at least two groups
 * that scatter normally between and within: the generalized confidence bound of a one-way random model, from the
 * means of the groups where their sizes differ (K. Krishnamoorthy and T. Mathew, Statistical Tolerance Regions (2009),
 * chapter 5; from memory). The deviations of the means and within the groups are drawn as what was seen over χ/√ν, and
 * the mean as normal about what was seen; integrated here, where the book draws. Its level is held by simulation.
 *
 * Null of fewer than two groups, and where their means do not differ.
 */
export function toleranceOverGroups(
  groups: readonly (readonly number[])[],
  share: number,
  confidence: number,
): number | null {
  const count = groups.length;
  if (count < 2) return null;
  const means = groups.map(meanOf);
  const centre = meanOf(means);
  const between = Math.sqrt(sumOf(means.map((mean) => (mean - centre) ** 2)) / (count - 1));
  if (between === 0) return null;
  const freedom = sumOf(groups.map((group) => group.length - 1));
  const squares = sumOf(groups.flatMap((group, i) => group.map((x) => (x - (means[i] ?? x)) ** 2)));
  /** Share of the variance within groups that a mean of a group has not. */
  const rest = 1 - sumOf(groups.map((group) => 1 / group.length)) / count;
  const within = chiNodes(freedom, GROUP_STEPS);
  const variance = freedom === 0 ? 0 : squares / freedom;
  const z = normalQuantile(share);
  const nodes = chiNodes(count - 1, GROUP_STEPS).flatMap(([s, weight]) =>
    within.map(([e, own]) => {
      const ofMeans = between / s;
      const whole = Math.sqrt(ofMeans ** 2 + rest * (variance / e ** 2));
      return { weight: weight * own, below: z * whole, u: ofMeans / Math.sqrt(count) };
    }),
  );
  const reached = (bound: number): number =>
    sumOf(nodes.map(({ weight, below, u }) => weight * normalDistribution((bound - centre + below) / u)));
  let low = centre - between;
  while (reached(low) > 1 - confidence) low -= centre - low;
  return solve((bound) => reached(bound) - (1 - confidence), low, centre);
}
