import { type LotRule, sequentialRule, singleRule } from '../../src/lot/rule.ts';
import { type Terms, termsOf } from '../../src/lot/terms.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import type { Random } from '../fuzz/random.ts';

/**
 * How often lots are judged wrongly, over simulated lots: lots of exactly the limiting quality that are accepted, and
 * lots of exactly the acceptable quality that are rejected. Cartridges are drawn one after the other at random, without
 * putting them back, until the rule decides.
 */
export interface Setting {
  readonly size: number;
  /** % */
  readonly limiting: number;
  readonly acceptable: number;
  readonly rule: LotRule['kind'];
}

export const SETTINGS: readonly Setting[] = (['single', 'sequential'] as const).flatMap((rule) => [
  { size: 60, limiting: 25, acceptable: 4, rule },
  { size: 120, limiting: 20, acceptable: 2, rule },
  { size: 400, limiting: 10, acceptable: 1, rule },
  { size: 2000, limiting: 8, acceptable: 2, rule },
]);

/** Risks agreed, as shares. */
export const CONSUMER = 0.1;
export const PRODUCER = 0.05;

export function wronglyJudged(
  lots: number,
  random: Random,
  { size, limiting, acceptable, rule: kind }: Setting,
): { readonly accepted: number; readonly rejected: number; readonly tried: number } {
  const terms: Terms = termsOf(size, {
    limitingQuality: new Decimal(limiting),
    consumerRisk: new Decimal(100 * CONSUMER),
    acceptableQuality: new Decimal(acceptable),
    producerRisk: new Decimal(100 * PRODUCER),
  });
  const rule = kind === 'single' ? singleRule(terms) : sequentialRule(terms);
  let [accepted, rejected, all] = [0, 0, 0];
  for (let lot = 0; lot < lots; lot++) {
    const bad = drawn(rule, size, terms.limiting.failing, random);
    const good = drawn(rule, size, terms.acceptable?.failing ?? 0, random);
    if (bad.decision === 'accept') accepted += 1;
    if (good.decision === 'reject') rejected += 1;
    all += good.tried;
  }
  return { accepted: accepted / lots, rejected: rejected / lots, tried: all / lots };
}

/** A lot whose cartridges are drawn one by one until the rule decides. */
function drawn(
  { step }: LotRule,
  size: number,
  failing: number,
  random: Random,
): { readonly decision: 'accept' | 'reject'; readonly tried: number } {
  let failed = 0;
  for (let tried = 1; tried <= size; tried++) {
    const left = size - tried + 1;
    if (random.next() * left < failing - failed) failed += 1;
    const decision = step(tried, failed);
    if (decision !== 'go-on') return { decision, tried };
  }
  throw new Error('the whole lot was tried, and nothing was decided');
}
