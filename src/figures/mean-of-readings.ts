import { asDecimal, ZERO } from '../uncertainty/decimal.ts';
import { type Input, Measured } from '../uncertainty/measured.ts';
import type { Path } from '../uncertainty/path.ts';
import type { ReadAt } from './figure.ts';
import { firstAtLeast, type Interval, whilePrinting } from './printing-times.ts';

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
  const [first = NaN, last = NaN] = [days[0], days.at(-1)];
  const counted = whilePrinting(readings, printing);
  const sampled = counted.length < 2 ? readings : counted;
  if (days.length < readings.length || last <= first) return scattered(plain(counted), sampled, from);
  const weights = weightsOver(days, timed && printing !== null ? printing : [[first, last]]);
  const whole = [...weights.values()].reduce((sum, weight) => sum + weight, 0);
  const mean = Measured.weighted(
    readings.map(({ measured }, index) => [measured, weights.get(index) ?? 0] as const),
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
 * How much each reading counts, by its index, in the mean of the straight lines between them over some intervals, in
 * whole parts of a second; before the first and after the last reading the air is taken as in it. Both lists are in
 * order. One that is not in it counts for nothing.
 */
function weightsOver(times: readonly number[], intervals: readonly Interval[]): ReadonlyMap<number, number> {
  const weights = new Map<number, number>();
  const add = (index: number, weight: number): void =>
    void weights.set(index, (weights.get(index) ?? 0) + weight);
  for (const [from, to] of intervals) {
    const end = firstAtLeast(times, to);
    for (let next = firstAtLeast(times, from); next <= end; next++) {
      const [left, right] = [times[next - 1], times[next]];
      const [a, b] = [Math.max(left ?? from, from), Math.min(right ?? to, to)];
      // Of two readings at one time neither is before the other.
      if (b <= a) continue;
      const whole = Math.round((b - a) * PARTS);
      if (left === undefined) add(next, whole);
      else if (right === undefined) add(next - 1, whole);
      else {
        const later = Math.round((whole * ((a + b) / 2 - left)) / (right - left));
        add(next - 1, whole - later);
        add(next, later);
      }
    }
  }
  return weights;
}

/** The mean with the part of its uncertainty that comes from readings taken only now and then. */
function scattered(mean: Measured, readings: readonly ReadAt[], { path, unit }: Unsampled): Measured {
  const x = readings.map(({ measured }) => measured.value.toNumber());
  const squares = x.slice(1).reduce((sum, value, i) => sum + (value - (x[i] ?? value)) ** 2, 0);
  if (squares === 0) return mean;
  const u = asDecimal(Math.sqrt(squares / (2 * (x.length - 1)) / x.length));
  const unsampled: Input = { path, value: mean.value, unit, u };
  return Measured.sum([mean, Measured.reading(ZERO, [unsampled])]);
}
