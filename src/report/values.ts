import { expandedOf } from '../checks/near-limits.ts';
import { type Derived, isDerived } from '../figures/figure.ts';
import type { Judged } from '../judge/judge.ts';
import type { Stat } from '../trial/catalogue.ts';
import type { Quantity } from '../trial/quantity.ts';
import { BOUND_WORDS, severityWord, shown, shownBeside } from '../output/numbers.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { typeset } from './typeset.ts';
import { unitOf, type WithValue, withValue } from '../output/text-figures.ts';

/** Values as the report writes them: a bound is a word, never only a sign. */

/** A value with its uncertainty, that of the readings unless another is given. */
export function valueText({ result, unit }: Omit<WithValue, 'bounds'>, expanded = result.u.times(2)): string {
  const word = severityWord(result.value, unit);
  if (word !== null) return word;
  const { value, U } = shown(result.value, expanded);
  return typeset(`${BOUND_WORDS[result.bound]}${value}${U === '' ? '' : ` ± ${U}`}`);
}

/** The same with its unit. */
export const withUnit = (one: WithValue, expanded?: Decimal): string =>
  [valueText(one, expanded), wordUnit(one)].filter(Boolean).join('\u00a0');

/** The value of a judged figure with the uncertainty that decides; null where it has no value. */
export const judgedValue = (one: Judged): string | null =>
  withValue(one.derived).map((valued) => withUnit(valued, expandedOf(one, valued.result)))[0] ?? null;

/** What ± is, where that of repeated trials decides; else nothing. */
export function ifRepeated({ repeated, derived: { result, unit } }: Judged): string[] {
  if (repeated === null || !isDerived(result)) return [];
  const U = result.u.times(2);
  const own = `± ${shownBeside(U, U)} ${unitWord(unit)}`.trimEnd();
  return [
    typeset(
      `± is U if the trial is repeated; ${U.isZero() ? 'the readings are taken as exact' : `the readings alone have ${own}`}.`,
    ),
  ];
}

/** The unit of a value as a word behind it, which may be several pages. */
export const wordUnit = ({ unit, result }: WithValue): string =>
  unit === 'page' || unit === 'sheet'
    ? `${unit}${result.value.eq(1) && result.u.isZero() ? '' : 's'}`
    : unitWord(unit);

/** A unit beside a number; of a pure number and of a severity there is none. */
export const unitWord = (unit: string): string => (unit === 'severity' ? '' : unitOf(unit));

/** A heading or axis with its unit. */
export const named = (title: string, unit: string): string => {
  const word = unit === 'page' || unit === 'sheet' ? `${unit}s` : unitWord(unit);
  return word === '' ? title : `${title}, ${word}`;
};

/** A figure of a trial, where it was derived. */
export function valueOfFigure(
  derived: readonly Derived[],
  name: string,
  of: string | null = null,
  stat: Stat | null = null,
): WithValue | null {
  const found = derived.find((one) => one.figure.name === name && one.of === of && one.stat === stat);
  return (found && withValue(found)[0]) ?? null;
}

/** A quantity as written, in the unit it is kept in. */
export const quantityText = (quantity: Quantity | null | undefined, unit: string): string =>
  quantity == null ? '' : `${quantity.value.toFixed()} ${unitWord(unit)}`.trimEnd();
