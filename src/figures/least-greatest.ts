import type { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';

/** The value least by number; it rests on all of them. The list is not empty. */
export const leastOf = (values: readonly Measured[]): Measured =>
  values.reduce((least, value) => (isBefore(value, least, -1) ? value : least)).among(values);

export const greatestOf = (values: readonly Measured[]): Measured =>
  values.reduce((greatest, value) => (isBefore(value, greatest, 1) ? value : greatest)).among(values);

/**
 * Whether a value is further out on one side than another. Of equal ones it is the one that decides less: the
 * one with the greater uncertainty. So the order of the readings does not matter.
 */
function isBefore(value: Measured, other: Measured, side: 1 | -1): boolean {
  const order = value.value.cmp(other.value) * side;
  if (order !== 0) return order > 0;
  return value.u.gt(other.u);
}

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
  const exact = values.filter(({ bound, value }) => bound === 'exact' && value.eq(smallest.value));
  return exact.length > 0 ? leastOf(exact).among(values) : smallest.as('at_least');
}
