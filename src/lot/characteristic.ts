import { hypergeometricAtMost } from '../statistics/hypergeometric.ts';
import { courseOf } from '../statistics/sampling-plan.ts';
import type { LotRule } from './rule.ts';
import type { Terms } from './terms.ts';

/** How often a lot of some quality is accepted. */
export interface Accepted {
  /** Failing cartridges in the lot. */
  readonly failing: number;
  /** Between 0 and 1. */
  readonly accepted: number;
}

/** How often a lot of so many cartridges, so many of them failing, is accepted by a rule; exact. */
export const acceptedOf = (rule: LotRule, size: number, failing: number): number =>
  rule.kind === 'single'
    ? hypergeometricAtMost(rule.plan.accept, { lot: size, failing, sample: rule.plan.sample })
    : courseOf(size, failing, rule.step).accepted;

/** Points of a curve: more are not told apart in a picture. */
const POINTS = 50;
/** How far beyond the limiting quality a curve goes, as a multiple of it. */
const BEYOND = 2;

/** The operating characteristic of a rule, from a lot in which none fail to well beyond the limiting quality. */
export function curveOf(rule: LotRule, { size, limiting, acceptable }: Terms): readonly Accepted[] {
  const most = Math.min(size, BEYOND * limiting.failing);
  const step = Math.max(1, Math.floor(most / POINTS));
  const all = new Set([acceptable?.failing ?? 0, limiting.failing, most]);
  for (let failing = 0; failing < most; failing += step) all.add(failing);
  return [...all]
    .toSorted((a, b) => a - b)
    .map((failing) => ({ failing, accepted: acceptedOf(rule, size, failing) }));
}
