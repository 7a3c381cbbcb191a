/** P(X ≤ count) for `trials` independent chances of probability `share` each. */
function atMost(count: number, trials: number, share: number): number {
  let logTerm = trials * Math.log1p(-share);
  let sum = 0;
  for (let k = 0; k <= Math.min(count, trials); k++) {
    sum += Math.exp(logTerm);
    logTerm += Math.log((trials - k) / (k + 1)) + Math.log(share) - Math.log1p(-share);
  }
  return sum;
}

/**
 * How many to try so that no more than `allowed` failures among them show the failing share to be at most
 * `share`: the smallest n for which so few would be seen with a probability of at most 1 − `confidence`
 * if more than `share` failed (exact binomial). Without failures it is ln(1 − C)/ln(1 − p), rounded up.
 *
 * @param share between 0 and 1, both left out; @param confidence likewise
 */
export function demonstrationSize(share: number, confidence: number, allowed: number): number {
  const shown = (n: number): boolean => atMost(allowed, n, share) <= (1 - confidence) * (1 + 1e-12);
  let above = allowed + 1;
  while (!shown(above)) above *= 2;
  let below = above === allowed + 1 ? allowed : above / 2;
  while (above - below > 1) {
    const middle = Math.floor((below + above) / 2);
    if (shown(middle)) above = middle;
    else below = middle;
  }
  return above;
}
