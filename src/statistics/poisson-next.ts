/** A count that is not there yet, with the interval it is expected in. */
export interface NextCount {
  readonly mean: number;
  /** Standard deviation, of the count itself and of the rate as it is known. */
  readonly sd: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * How many events there will be in `next` pages, after `count` in `seen` pages at one steady rate.
 *
 * The rate is known as a gamma distribution with shape count + ½ (the prior of Jeffreys), so that the next count is
 * negative binomial: its quantiles at (1 − level)/2 and (1 + level)/2 are the bounds. Common practice, no source.
 *
 * @param seen pages, above zero
 */
export function nextCount(count: number, seen: number, next: number, level: number): NextCount {
  const shape = count + 0.5;
  const tail = (1 - level) / 2;
  const upper = negativeBinomialQuantile(shape, seen / (seen + next), 1 - tail);
  return {
    mean: (count * next) / seen,
    sd: Math.sqrt(((shape * next) / seen) * (1 + next / seen)),
    lower: negativeBinomialQuantile(shape, seen / (seen + next), tail),
    upper,
  };
}

/** More than any year of any machine has. */
const MOST = 10_000_000;

/** The least k with P(K ≤ k) ≥ p, P(K = k) = Γ(k + r) / (k! Γ(r)) qʳ (1 − q)ᵏ; summed by logarithms. */
function negativeBinomialQuantile(r: number, q: number, p: number): number {
  let logOf = r * Math.log(q);
  const [step, below] = [Math.log(1 - q), Math.log(p)];
  let sum = 0;
  for (let k = 0; k < MOST; k++) {
    sum += Math.exp(logOf);
    if (Math.log(sum) >= below) return k;
    logOf += Math.log((k + r) / (k + 1)) + step;
  }
  return MOST;
}
