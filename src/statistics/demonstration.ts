import { binomialAtMost } from './binomial.ts';
import { keeps } from './risk.ts';
import { firstWhole } from './solve.ts';

/**
 * How many to try so that no more than `allowed` failures among them show the failing share to be at most
 * `share`: the smallest n for which so few would be seen with a probability of at most 1 − `confidence`
 * if more than `share` failed (exact binomial). Without failures it is ln(1 − C)/ln(1 − p), rounded up.
 *
 * @param share between 0 and 1, both left out; @param confidence likewise
 */
export function demonstrationSize(share: number, confidence: number, allowed: number): number {
  const shown = (n: number): boolean => keeps(binomialAtMost(allowed, n, share), 1 - confidence);
  let above = allowed + 1;
  while (!shown(above)) above *= 2;
  return firstWhole(shown, allowed, above);
}
