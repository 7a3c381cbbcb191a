/**
 * Of more rows than a trial is reckoned with, those that tell: of each stretch its first and last, and the rows with
 * the least and the greatest of everything that limits speak of, so that least and greatest are those of all rows.
 */

/** A logger writes as many in a week, one a minute. */
export const MOST_WHOLE = 10_000;

/** Stretches a long table is cut into, beside those that the times of the trial cut. */
const STRETCHES = 600;

/** What the least and greatest are looked for of a row; null where it has none. */
export type Told = readonly (number | null)[];

export class Thinning<Row> {
  readonly kept: Row[] = [];
  private readonly size: number;
  private count = 0;
  private border = 0;
  private first: { row: Row; index: number } | null = null;
  private last: { row: Row; index: number } | null = null;
  private least: ({ row: Row; index: number; value: number } | undefined)[] = [];
  private greatest: ({ row: Row; index: number; value: number } | undefined)[] = [];
  private index = 0;

  /** `borders`, in order, are times at which what counts may change: no stretch reaches across one. */
  constructor(
    rows: number,
    private readonly borders: readonly number[],
  ) {
    this.size = rows <= MOST_WHOLE ? 1 : Math.ceil(rows / STRETCHES);
  }

  get whole(): boolean {
    return this.size === 1;
  }

  /** Takes the next row; one that cannot be read, with `told` null, is always kept. */
  add(row: Row, told: Told | null, seconds: number | null): void {
    if (this.whole) {
      this.kept.push(row);
      return;
    }
    const border = seconds === null ? this.border : below(this.borders, seconds);
    if (told === null || border !== this.border || this.count >= this.size) this.close();
    this.border = border;
    if (told === null) {
      this.kept.push(row);
      return;
    }
    const here = { row, index: (this.index += 1) };
    this.count += 1;
    this.first ??= here;
    this.last = here;
    for (const [which, value] of told.entries()) {
      if (value === null) continue;
      const [low, high] = [this.least[which], this.greatest[which]];
      if (low === undefined || value < low.value) this.least[which] = { ...here, value };
      if (high === undefined || value > high.value) this.greatest[which] = { ...here, value };
    }
  }

  /** Ends the stretch: what tells of it is kept, in the order of the table. */
  close(): void {
    const told = [this.first, this.last, ...this.least, ...this.greatest].filter((one) => one != null);
    const each = new Map(told.map(({ index, row }) => [index, row]));
    for (const [, row] of [...each].toSorted(([a], [b]) => a - b)) this.kept.push(row);
    [this.count, this.first, this.last] = [0, null, null];
    [this.least, this.greatest] = [[], []];
  }
}

/** How many of some numbers in order are below or at `x`. */
function below(rising: readonly number[], x: number): number {
  let [low, high] = [0, rising.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((rising[middle] ?? Infinity) <= x) low = middle + 1;
    else high = middle;
  }
  return low;
}
