import { type Derived, isDerived } from '../figures/figure.ts';
import { conformance } from '../judge/decide.ts';
import type { Judged } from '../judge/judge.ts';
import type { Agreed } from '../judge/limits.ts';
import type { Problem } from '../problems/problem.ts';
import { normalTail } from '../statistics/normal.ts';
import type { Decimal } from '../uncertainty/decimal.ts';

/** Beyond each end of value ± 2u lies so much of a normal distribution. */
const BEYOND = normalTail(2);

/** What the true value may well be: between the figure's own bounds where it has better ones than ± 2u. */
function rangeOf({ result, bounds }: Derived): readonly [lower: Decimal, upper: Decimal] | null {
  if (!isDerived(result) || result.bound !== 'exact') return null;
  if (bounds) {
    const { lower, upper } = bounds(BEYOND);
    return [lower, upper];
  }
  const U = result.u.times(2);
  return U.isZero() ? null : [result.value.minus(U), result.value.plus(U)];
}

/** Whether a limit is met or missed by less than the readings can tell. */
export function isNear({ limit, derived, outcome, effect }: Judged): boolean {
  if (outcome === 'open' || effect === 'advises') return false;
  const range = rangeOf(derived);
  return range !== null && [limit.min, limit.max].some((edge) => edge?.gt(range[0]) && edge.lt(range[1]));
}

/** A probability to two digits; never so that it looks certain. */
const inWords = (p: number): string =>
  p > 0.995 ? 'more than 0.99' : p < 0.005 ? 'less than 0.01' : p.toFixed(2);

/** Limits met or missed by less than the readings can tell, under the simple rule. */
export function nearLimits(judged: readonly Judged[], { decision }: Agreed): Problem[] {
  if (decision.rule !== 'simple') return [];
  return judged.filter(isNear).flatMap(({ limit, derived, margin }): Problem[] => {
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
        U: result.u.times(2).toFixed(),
        probability: inWords(conformance(result.value, result.u, limit, result.widestHalf)),
      },
    ];
  });
}
