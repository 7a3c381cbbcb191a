import { Decimal } from '../uncertainty/decimal.ts';
import { Measured, type Partial } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { ReadAt } from './figure.ts';

/** The value least by number. The list is not empty. */
export const leastOf = (values: readonly Measured[]): Measured =>
  values.reduce((least, value) => (value.value.lt(least.value) ? value : least));

export const greatestOf = (values: readonly Measured[]): Measured =>
  values.reduce((greatest, value) => (value.value.gt(greatest.value) ? value : greatest));

/**
 * The least of several values of which some are only bounds: exact when the smallest exact value is
 * not above any at-least value, else at least the smallest of all.
 *
 * @throws NotDerived `bounds-conflict` where some are at least and some at most
 */
export function leastWithBounds(values: readonly Measured[]): Measured {
  const smallest = leastOf(values);
  const bounds = new Set(values.map(({ bound }) => bound));
  if (bounds.has('at_least') && bounds.has('at_most')) throw new NotDerived({ code: 'bounds-conflict' });
  if (bounds.has('at_most')) return smallest.as('at_most');
  const exact = values.find(({ bound, value }) => bound === 'exact' && value.eq(smallest.value));
  return exact ?? smallest.as('at_least');
}

/**
 * The mean of readings: weighted by time with the trapezoidal rule where every reading says when it was
 * taken and time passes between them, else plain. The readings are in order of time.
 */
export function meanOf(readings: readonly ReadAt[]): Measured {
  const times = readings.flatMap(({ at }) => (at === null ? [] : [at.seconds]));
  const span = (times.at(-1) ?? 0) - (times[0] ?? 0);
  const weighted = times.length === readings.length && span > 0;
  const share = (index: number): Decimal => {
    if (!weighted) return new Decimal(1).div(readings.length);
    const here = times[index] ?? 0;
    const before = times[index - 1] ?? here;
    const after = times[index + 1] ?? here;
    return new Decimal(after - before).div(2 * span);
  };
  const weights = readings.map((_, index) => share(index));
  const value = readings.reduce(
    (sum, { measured }, index) => sum.plus(measured.value.times(weights[index] ?? 0)),
    new Decimal(0),
  );
  return Measured.of(
    value,
    readings.map(({ measured }, index): Partial => [measured, weights[index] ?? 0]),
  );
}
