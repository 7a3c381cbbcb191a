import { asDecimal, ZERO } from '../uncertainty/decimal.ts';
import { type Input, Measured } from '../uncertainty/measured.ts';
import type { Path } from '../uncertainty/path.ts';
import type { ReadAt } from './figure.ts';
import { type Interval, whilePrinting } from './printing-times.ts';

/** Where the readings stand, and their unit. */
interface Unsampled {
  readonly path: Path;
  readonly unit: string;
}

/** Parts of a second that the weights are counted in: whole numbers, so that a mean stays an exact ratio. */
const PARTS = 1000;

/**
 * The mean of readings in order of time. Where every one says when it was taken and time passes between them, it is
 * that of the straight lines from reading to reading, over the times of printing where the file gives them, else from
 * the first to the last; otherwise the plain mean of those that count.
 *
 * Its uncertainty has a part for what was not sampled: s/√n, with s² = Σ (xᵢ₊₁ − xᵢ)² / 2(n − 1), the mean square of
 * successive differences (von Neumann and others 1941, from memory), which a slow drift that the readings follow does
 * not enlarge. It is that of the readings that count, so that a cold night between two days of printing is no scatter;
 * of all of them where fewer than two count.
 */
export function meanOfReadings(
  readings: readonly ReadAt[],
  printing: readonly Interval[] | null,
  from: Unsampled,
): Measured {
  const times = readings.flatMap(({ at }) => (at === null || at.kind === 'date' ? [] : [at.seconds]));
  const days = readings.flatMap(({ at }) => (at === null ? [] : [at.seconds]));
  const timed = times.length === readings.length;
  const [first = 0, last = 0] = [days[0], days.at(-1)];
  const counted = whilePrinting(readings, printing);
  const sampled = counted.length < 2 ? readings : counted;
  if (days.length < readings.length || last <= first) return scattered(plain(counted), sampled, from);
  const weights = weightsOver(days, timed && printing !== null ? printing : [[first, last]]);
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = Measured.weighted(
    readings.map(({ measured }, index) => [measured, weights[index] ?? 0] as const),
    whole,
  );
  return scattered(mean, sampled, from);
}

const plain = (readings: readonly ReadAt[]): Measured =>
  Measured.weighted(
    readings.map(({ measured }) => [measured, 1] as const),
    readings.length,
  );

/**
 * How much each reading counts in the mean of the straight lines between them over some intervals, in whole parts of
 * a second; before the first and after the last reading the air is taken as in it. Both lists are in order.
 */
function weightsOver(times: readonly number[], intervals: readonly Interval[]): number[] {
  const weights = times.map(() => 0);
  const add = (index: number, weight: number): void => {
    weights[index] = (weights[index] ?? 0) + weight;
  };
  const [first = 0, last = 0, end] = [times[0], times.at(-1), times.length - 1];
  let at = 0;
  for (const [from, to] of intervals) {
    if (from < first) add(0, Math.round((Math.min(to, first) - from) * PARTS));
    if (to > last) add(end, Math.round((to - Math.max(from, last)) * PARTS));
    while (at < end - 1 && (times[at + 1] ?? 0) <= from) at += 1;
    for (let i = at; i < end && (times[i] ?? 0) < to; i++) {
      const [left = 0, right = 0] = [times[i], times[i + 1]];
      const [a, b] = [Math.max(left, from), Math.min(right, to)];
      if (b <= a) continue;
      const whole = Math.round((b - a) * PARTS);
      const later = Math.round((whole * ((a + b) / 2 - left)) / (right - left));
      add(i, whole - later);
      add(i + 1, later);
    }
  }
  return weights;
}

/** The mean with the part of its uncertainty that comes from readings taken only now and then. */
function scattered(mean: Measured, readings: readonly ReadAt[], { path, unit }: Unsampled): Measured {
  if (readings.length < 2) return mean;
  const x = readings.map(({ measured }) => measured.value.toNumber());
  const squares = x.slice(1).reduce((sum, value, i) => sum + (value - (x[i] ?? value)) ** 2, 0);
  if (squares === 0) return mean;
  const u = asDecimal(Math.sqrt(squares / (2 * (x.length - 1)) / x.length));
  const unsampled: Input = { path, value: mean.value, unit, u };
  return mean.plus(Measured.reading(ZERO, [unsampled]));
}
