import type { Weight } from '../trial/catalogue.ts';
import type { SILENCES } from './silence.ts';
import type { Outcome } from './decide.ts';

/** What a trial comes to. */
export type Verdict = 'pass' | 'fail' | 'inconclusive';

/** Why it comes to that; the first that holds, in this order. */
export type Ground =
  | 'condition-missed'
  | 'reject-missed'
  | 'open'
  | (typeof SILENCES)[number]
  | 'no-reject-limit'
  | 'all-met'
  /** Strictly taken: a trial that would pass, but for what must be known before relying on it. */
  | 'caveats';

/**
 * The verdict of a trial over its judged limits: a missed condition voids the trial whatever else it
 * shows; else a missed reject limit fails it; else an open limit that counts leaves it inconclusive, and
 * so does what no limit speaks of and must not be passed over, and a trial with no reject limit at all.
 */
export function verdictOf(
  judged: readonly { readonly weight: Weight; readonly outcome: Outcome }[],
  silences: readonly { readonly code: (typeof SILENCES)[number] }[],
): {
  readonly verdict: Verdict;
  readonly ground: Ground;
} {
  const some = (weights: readonly Weight[], outcome: Outcome): boolean =>
    judged.some((limit) => weights.includes(limit.weight) && limit.outcome === outcome);
  if (some(['condition'], 'missed')) return { verdict: 'inconclusive', ground: 'condition-missed' };
  if (some(['reject'], 'missed')) return { verdict: 'fail', ground: 'reject-missed' };
  if (some(['reject', 'condition'], 'open')) return { verdict: 'inconclusive', ground: 'open' };
  const [silence] = silences;
  if (silence !== undefined) return { verdict: 'inconclusive', ground: silence.code };
  if (!judged.some(({ weight }) => weight === 'reject'))
    return { verdict: 'inconclusive', ground: 'no-reject-limit' };
  return { verdict: 'pass', ground: 'all-met' };
}
