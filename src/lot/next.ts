import type { LotRule } from './rule.ts';

/** What comes next while a lot is not decided. */
export interface Next {
  /** So many more that pass, and the lot is accepted. */
  readonly passes: number;
  /** So many more that fail, one after the other, and it is rejected; null where the lot has not so many. */
  readonly failures: number | null;
}

/** How many more that pass, or that fail, decide; the whole lot always does. */
export function nextOf({ step }: LotRule, size: number, counted: number, failed: number): Next {
  const left = size - counted;
  let passes = 1;
  while (passes < left && step(counted + passes, failed) !== 'accept') passes += 1;
  let failures = 1;
  while (failures <= left && step(counted + failures, failed + failures) !== 'reject') failures += 1;
  return { passes, failures: failures <= left ? failures : null };
}
