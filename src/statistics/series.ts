/** What one term after the other adds, from the first on, until it adds nothing; `ratio` leads from each to the next. */
export function summed(first: number, ratio: (nth: number) => number): number {
  let sum = 0;
  let term = first;
  for (let nth = 0; sum + term > sum; nth++) {
    sum += term;
    term *= ratio(nth);
  }
  return sum;
}
