import type { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';

/** The value least by number; it rests on all of them. The list is not empty. */
export const leastOf = (values: readonly Measured[]): Measured =>
  outermost(values, (one, other) => other.value.cmp(one.value));

export const greatestOf = (values: readonly Measured[]): Measured =>
  outermost(values, (one, other) => one.value.cmp(other.value));

/**
 * The value furthest out, `order` above zero where one is further out than another. Of equal ones it is the one that
 * decides less: the one with the greater uncertainty. So the order of the readings does not matter.
 */
const outermost = (
  values: readonly Measured[],
  order: (one: Measured, other: Measured) => number,
): Measured =>
  values
    .reduce((outer, value) => {
      const beyond = order(value, outer);
      return beyond > 0 || (beyond === 0 && value.u.gt(outer.u)) ? value : outer;
    })
    .among(values);

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
