import { isDerived } from '../figures/figure.ts';
import { conformance, marginOf } from '../judge/decide.ts';
import type { Judged } from '../judge/judge.ts';
import { type Agreed, type Limit, placeOf } from '../judge/limits.ts';
import type { Repeated } from '../judge/repeated.ts';
import type { Problem } from '../problems/problem.ts';
import { normalTail } from '../statistics/normal.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import type { Measured } from '../uncertainty/measured.ts';

/** Beyond each end of value ± 2u lies so much of a normal distribution. */
const BEYOND = normalTail(2);

/** U of a judged figure: if repeated, where that is known, else 2u of its readings. */
export const expandedOf = ({ repeated: again }: Judged, result: Measured): Decimal =>
  again?.expanded(2) ?? result.u.times(2);

/** What the true value may well be: between the figure's own bounds where it has better ones than ± U. */
function rangeOf(judged: Judged, result: Measured): readonly [lower: Decimal, upper: Decimal] {
  const bounds = judged.derived.bounds?.(BEYOND);
  if (bounds) return [bounds.lower, bounds.upper];
  const U = expandedOf(judged, result);
  return [result.value.minus(U), result.value.plus(U)];
}

/** The value of a figure whose limit is met or missed by less than the readings can tell; null of any other. */
function nearOf(judged: Judged): Measured | null {
  const { limit, outcome, effect } = judged;
  const { result } = judged.derived;
  if (outcome === 'open' || effect === 'advises' || !isDerived(result) || result.bound !== 'exact')
    return null;
  const [lower, upper] = rangeOf(judged, result);
  return [limit.min, limit.max].some((edge) => edge?.gt(lower) && edge.lt(upper)) ? result : null;
}

/** Whether a limit is met or missed by less than the readings can tell. */
export const isNear = (judged: Judged): boolean => nearOf(judged) !== null;

/** The probability that the true value keeps to a limit; if repeated, where that is known. */
function probabilityOf(result: Measured, limit: Limit, again: Repeated | null): number {
  if (again === null) return conformance(result.value, result.u, limit, result.widestHalf);
  const upTo = (edge: Decimal): number => again.upTo(edge, result.value);
  return (limit.max === null ? 1 : upTo(limit.max)) - (limit.min === null ? 0 : upTo(limit.min));
}

/** A probability to two digits; never so that it looks certain. */
const inWords = (p: number): string =>
  p > 0.995 ? 'more than 0.99' : p < 0.005 ? 'less than 0.01' : p.toFixed(2);

/** Limits met or missed by less than the readings can tell, under the simple rule. */
export function nearLimits(judged: readonly Judged[], { decision }: Agreed): Problem[] {
  if (decision.rule !== 'simple') return [];
  return judged.flatMap((one): Problem[] => {
    const result = nearOf(one);
    if (result === null) return [];
    const { limit, derived } = one;
    const { figure, of, stat, unit, bounds } = derived;
    const named = { figure: figure.name, of, stat, unit, path: placeOf(limit) };
    if (bounds) {
      const { lower, upper } = bounds(BEYOND);
      return [{ code: 'events-few', ...named, lower: lower.toFixed(), upper: upper.toFixed() }];
    }
    return [
      {
        code: 'within-uncertainty',
        ...named,
        margin: marginOf(result, limit).abs().toFixed(),
        U: expandedOf(one, result).toFixed(),
        repeated: one.repeated !== null,
        probability: inWords(probabilityOf(result, limit, one.repeated)),
      },
    ];
  });
}
