import { isDerived } from '../figures/figure.ts';
import { conformance } from '../judge/decide.ts';
import type { Judged } from '../judge/judge.ts';
import type { Agreed, Limit } from '../judge/limits.ts';
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
function rangeOf(judged: Judged): readonly [lower: Decimal, upper: Decimal] | null {
  const { result, bounds } = judged.derived;
  if (!isDerived(result) || result.bound !== 'exact') return null;
  if (bounds) {
    const { lower, upper } = bounds(BEYOND);
    return [lower, upper];
  }
  const U = expandedOf(judged, result);
  return U.isZero() ? null : [result.value.minus(U), result.value.plus(U)];
}

/** Whether a limit is met or missed by less than the readings can tell. */
export function isNear(judged: Judged): boolean {
  const { limit, outcome, effect } = judged;
  if (outcome === 'open' || effect === 'advises') return false;
  const range = rangeOf(judged);
  return range !== null && [limit.min, limit.max].some((edge) => edge?.gt(range[0]) && edge.lt(range[1]));
}

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
  return judged.filter(isNear).flatMap((one): Problem[] => {
    const { limit, derived, margin } = one;
    const { result, figure, of, stat, unit, bounds } = derived;
    if (!isDerived(result) || margin === null) return [];
    const path = limit.origin.kind === 'inline' ? limit.path : [];
    const named = { figure: figure.name, of, stat, unit, path };
    if (bounds) {
      const { lower, upper } = bounds(BEYOND);
      return [{ code: 'events-few', ...named, lower: lower.toFixed(), upper: upper.toFixed() }];
    }
    return [
      {
        code: 'within-uncertainty',
        ...named,
        margin: margin.abs().toFixed(),
        U: expandedOf(one, result).toFixed(),
        repeated: one.repeated !== null,
        probability: inWords(probabilityOf(result, limit, one.repeated)),
      },
    ];
  });
}
