import { type Derived, isDerived } from '../figures/figure.ts';
import type { Problem } from '../trial/problem.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import type { Reason } from '../uncertainty/not-derived.ts';
import { decide, guardBand, type Outcome, roomOf } from './decide.ts';
import type { Agreed, Limit } from './limits.ts';

/** Why a limit is open: the figure has no value, or its value cannot decide. */
export type OpenReason =
  | Reason
  | { readonly code: 'only-at-least' }
  | { readonly code: 'only-at-most' }
  | { readonly code: 'within-guard-band'; readonly band: Decimal };

/** One figure held against one limit. */
export interface Judged {
  readonly limit: Limit;
  readonly derived: Derived;
  readonly outcome: Outcome;
  /** Positive on the good side; null where the figure has no value. */
  readonly room: Decimal | null;
  /** Null unless open. */
  readonly reason: OpenReason | null;
  readonly weight: Limit['weight'];
}

/**
 * Every agreed limit held against every figure it holds for, and what is wrong with limits for parts
 * the trial has not.
 */
export function judge(
  derived: readonly Derived[],
  agreed: Agreed,
): { readonly judged: readonly Judged[]; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const judged = agreed.limits.flatMap((limit) => {
    const figures = derived.filter(({ figure }) => figure.name === limit.figure.name);
    const targets = figures.filter((figure) => holdsFor(limit, figure));
    if (targets.length === 0) problems.push(notApplied(limit, figures));
    return targets.map((target) => judgeOne(limit, target, agreed));
  });
  return { judged, problems };
}

/** Whether a limit holds for a figure: of every part unless said, and of every reading unless said. */
function holdsFor({ figure, of, stat }: Limit, derived: Derived): boolean {
  if (figure.per === 'readings') return stat === null ? derived.stat !== 'mean' : derived.stat === stat;
  if (derived.stat !== stat) return false;
  return of === null || derived.of === of || (derived.of?.startsWith(`${of}#`) ?? false);
}

function notApplied({ figure, of, origin, path }: Limit, figures: readonly Derived[]): Problem {
  const name = of ?? '';
  if (origin.kind !== 'inline') {
    return { code: 'limit-not-applied', figure: figure.name, of: name, from: origin.name, path: [] };
  }
  const parts = figures.flatMap((derived) => derived.of ?? []);
  return { code: 'limit-of-unknown-part', figure: figure.name, of: name, parts, path: [...path, 'of'] };
}

function judgeOne(limit: Limit, derived: Derived, { decision }: Agreed): Judged {
  const { result } = derived;
  const { weight } = limit;
  if (!isDerived(result)) return { limit, derived, outcome: 'open', room: null, reason: result, weight };
  const outcome = decide(result, limit, decision);
  const room = roomOf(result.value, limit);
  if (outcome !== 'open') return { limit, derived, outcome, room, reason: null, weight };
  const reason: OpenReason =
    result.bound === 'at_least'
      ? { code: 'only-at-least' }
      : result.bound === 'at_most'
        ? { code: 'only-at-most' }
        : { code: 'within-guard-band', band: guardBand(result, decision) };
  return { limit, derived, outcome, room, reason, weight };
}
