import { figureKey } from '../figures/figure.ts';
import type { Limit } from '../judge/limits.ts';
import type { Tried } from './tried.ts';

/** A figure for which cartridges of one slot were judged by another limit, or one of them by none. */
export interface LimitsApart {
  readonly limit: Limit;
  /** Null where the second has no such limit. */
  readonly other: Limit | null;
  readonly files: readonly [of: string, ofOther: string];
}

const same = (one: Limit, other: Limit): boolean =>
  String(one.min) === String(other.min) &&
  String(one.max) === String(other.max) &&
  one.currency === other.currency &&
  one.effect === other.effect;

/** What is in the limits of one and not in those of the other. */
function apart(one: Tried, other: Tried): LimitsApart | null {
  for (const limit of one.limits) {
    const theirs = other.limits.filter((own) => figureKey(own) === figureKey(limit));
    if (!theirs.some((own) => same(limit, own)))
      return { limit, other: theirs[0] ?? null, files: [one.file, other.file] };
  }
  return null;
}

/** The first limit by which cartridges of one slot were not all judged; null where they were. */
export function limitsApart(tried: readonly Tried[]): LimitsApart | null {
  const first = new Map<string | null, Tried>();
  for (const one of tried) {
    const known = first.get(one.slot);
    if (known === undefined) first.set(one.slot, one);
    const found = known === undefined ? null : (apart(known, one) ?? apart(one, known));
    if (found !== null) return found;
  }
  return null;
}
