import { isDerived } from '../figures/figure.ts';
import { conformance } from '../judge/decide.ts';
import type { Judged } from '../judge/judge.ts';
import type { Agreed } from '../judge/limits.ts';
import type { Problem } from '../problems/problem.ts';

/** Whether a limit is met or missed by less than U = 2u, so less than the readings can tell. */
export function withinU({ derived: { result }, outcome, margin, effect }: Judged): boolean {
  if (!isDerived(result) || margin === null || outcome === 'open' || effect === 'advises') return false;
  return !result.u.isZero() && margin.abs().lt(result.u.times(2)) && result.bound === 'exact';
}

/** Limits met or missed by less than the readings can tell, under the simple rule. */
export function nearLimits(judged: readonly Judged[], { decision }: Agreed): Problem[] {
  if (decision.rule !== 'simple') return [];
  return judged.filter(withinU).flatMap(({ limit, derived, margin }): Problem[] => {
    const { result, figure, of, stat, unit } = derived;
    if (!isDerived(result) || margin === null) return [];
    return [
      {
        code: 'within-uncertainty',
        figure: figure.name,
        of,
        stat,
        margin: margin.abs().toFixed(),
        U: result.u.times(2).toFixed(),
        unit,
        probability: conformance(result.value, result.u, limit).toFixed(2),
        path: limit.origin.kind === 'inline' ? limit.path : [],
      },
    ];
  });
}
