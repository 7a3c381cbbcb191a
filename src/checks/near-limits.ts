import { isDerived } from '../figures/figure.ts';
import { conformance } from '../limits/decide.ts';
import type { Judged } from '../limits/judge.ts';
import type { Agreed } from '../limits/limits.ts';
import type { Problem } from '../trial/problem.ts';

/** Limits met or missed by less than the readings can tell, under the simple rule. */
export function nearLimits(judged: readonly Judged[], { decision }: Agreed): Problem[] {
  if (decision.rule !== 'simple') return [];
  return judged.flatMap(({ limit, derived, outcome, room, weight }): Problem[] => {
    const { result, figure, of, stat, unit } = derived;
    if (!isDerived(result) || room === null || outcome === 'open' || weight === 'warn') return [];
    const U = result.u.times(2);
    if (U.isZero() || room.abs().gte(U) || result.bound !== 'exact') return [];
    return [
      {
        code: 'within-uncertainty',
        figure: figure.name,
        of,
        stat,
        room: room.abs().toFixed(),
        U: U.toFixed(),
        unit,
        probability: conformance(result.value, result.u, limit).toFixed(2),
        path: limit.origin.kind === 'inline' ? limit.path : [],
      },
    ];
  });
}
