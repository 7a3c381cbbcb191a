/**
 * The zero of a rising function between two places, by bisection to the last digit. Where it is negative
 * at `high` still, the bracket is widened upwards.
 */
export function solve(rising: (x: number) => number, low: number, high: number): number {
  let [below, above] = [low, high];
  for (let doubled = 0; rising(above) < 0 && doubled < 200; doubled++) above += above - low;
  for (let step = 0; step < 300; step++) {
    const middle = (below + above) / 2;
    if (middle <= below || middle >= above) break;
    if (rising(middle) < 0) below = middle;
    else above = middle;
  }
  return (below + above) / 2;
}

/**
 * The smallest whole number above `below` for which something holds, by halving: it holds for `above`, and with a number
 * for every greater one; what it is for `below` is not asked.
 */
export function firstWhole(holds: (n: number) => boolean, below: number, above: number): number {
  let [low, high] = [below, above];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}
