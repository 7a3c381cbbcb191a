/**
 * The zero of a rising function between two places, by bisection to the last digit. Where it is negative
 * at `high` still, the bracket is widened upwards until it is not; where it never is, the answer is Infinity.
 */
export function solve(rising: (x: number) => number, low: number, high: number): number {
  let [below, above] = [low, high];
  while (above < Infinity && rising(above) < 0) above += above - low;
  for (;;) {
    const middle = (below + above) / 2;
    if (middle <= below || middle >= above) return middle;
    if (rising(middle) < 0) below = middle;
    else above = middle;
  }
}

/**
 * The smallest whole number above `below` for which something holds, by halving: it holds for `above`, and with a number
 * for every greater one; what it is for `below` is not asked.
 */
export function firstWhole(holds: (n: number) => boolean, below: number, above: number): number {
  let [low, high] = [below, above];
  while (high - low > 1) {
    const middle = Math.trunc((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}
