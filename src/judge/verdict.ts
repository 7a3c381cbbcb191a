import type { Effect } from '../trial/catalogue.ts';
import type { SILENCES } from './silence.ts';
import type { Outcome } from './decide.ts';

/** What a trial comes to. */
export type Verdict = 'pass' | 'fail' | 'inconclusive';

/** Why it comes to that; the first that holds, in this order. */
export type Ground =
  | 'voids-missed'
  | 'fails-missed'
  | 'open'
  | (typeof SILENCES)[number]
  | 'no-fails-limit'
  | 'all-met'
  /** Strictly taken: a trial that would pass, but for what must be known before relying on it. */
  | 'caveats';

/**
 * The verdict of a trial over its judged limits: a missed limit that voids makes it prove nothing,
 * whatever else it shows; else a missed one that fails condemns what was tried; else an open limit that counts leaves it inconclusive, and
 * so does what no limit speaks of and must not be passed over, and a trial with no limit that could fail it.
 */
export function verdictOf(
  judged: readonly { readonly effect: Effect; readonly outcome: Outcome }[],
  silences: readonly { readonly code: (typeof SILENCES)[number] }[],
): {
  readonly verdict: Verdict;
  readonly ground: Ground;
} {
  const some = (effects: readonly Effect[], outcome: Outcome): boolean =>
    judged.some((limit) => effects.includes(limit.effect) && limit.outcome === outcome);
  if (some(['voids'], 'missed')) return { verdict: 'inconclusive', ground: 'voids-missed' };
  if (some(['fails'], 'missed')) return { verdict: 'fail', ground: 'fails-missed' };
  if (some(['fails', 'voids'], 'open')) return { verdict: 'inconclusive', ground: 'open' };
  const [silence] = silences;
  if (silence !== undefined) return { verdict: 'inconclusive', ground: silence.code };
  if (!judged.some(({ effect }) => effect === 'fails'))
    return { verdict: 'inconclusive', ground: 'no-fails-limit' };
  return { verdict: 'pass', ground: 'all-met' };
}
