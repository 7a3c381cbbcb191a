import { solve } from './solve.ts';

/** Terms so much smaller than their sum are below its last digit, however many of them follow. */
const NOTHING = 1e-20;

/** P(from ≤ X ≤ to) for `trials` independent chances of probability `share` each, between 0 and 1. */
function sumOfTerms(from: number, to: number, trials: number, share: number): number {
  let sum = 0;
  let logTerm = trials * Math.log1p(-share);
  for (let k = 0; k <= to; k++) {
    const term = Math.exp(logTerm);
    if (k >= from) sum += term;
    // Beyond the mean the terms fall, and faster with every step.
    if (k > trials * share && term <= sum * NOTHING) break;
    logTerm += Math.log((trials - k) / (k + 1)) + Math.log(share) - Math.log1p(-share);
  }
  return Math.min(1, sum);
}

/** P(X ≥ count) for `trials` independent chances of probability `share` each. */
export function binomialTail(count: number, trials: number, share: number): number {
  if (share >= 1) return count <= trials ? 1 : 0;
  return sumOfTerms(count, trials, trials, share);
}

/** P(X ≤ count) for `trials` independent chances, no fewer than `count`, of probability `share` each, between 0 and 1. */
export const binomialAtMost = (count: number, trials: number, share: number): number =>
  sumOfTerms(0, count, trials, share);

/** The exact upper bound of a share, `count` of `trials` seen: Clopper and Pearson, Biometrika 26 (1934) 404. */
export function binomialUpper(count: number, trials: number, probability: number): number {
  if (count >= trials) return 1;
  const beyond = (share: number): number => binomialTail(count + 1, trials, share) - probability;
  return solve(beyond, 0, 1);
}
