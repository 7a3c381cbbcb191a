import { mostFailing } from '../statistics/hypergeometric.ts';
import type { Step } from '../statistics/sampling-plan.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import type { OneLot } from './gathered-lot.ts';
import type { LotRule } from './rule.ts';
import { probability, type Terms } from './terms.ts';
import type { Tried } from './tried.ts';

/** What comes next while a lot is not decided. */
export interface Next {
  /** So many more that pass, and the lot is accepted. */
  readonly passes: number;
  /** So many more that fail, one after the other, and it is rejected; null where the lot has not so many. */
  readonly failures: number | null;
}

/** What the trials of a lot say of it. */
export interface JudgedLot {
  readonly lot: OneLot;
  readonly size: number;
  /** Null where no limiting quality was agreed: then nothing is decided. */
  readonly decided: { readonly terms: Terms; readonly rule: LotRule; readonly next: Next | null } | null;
  readonly decision: Step;
  /** In the order they count: by their days where every trial has one, else as given. */
  readonly tried: readonly Tried[];
  readonly byDay: boolean;
  /** How many of them passed or failed: the others say nothing. */
  readonly counted: number;
  readonly failed: number;
  /** The most failing cartridges the whole lot can hold, with this confidence. */
  readonly mostFailing: number;
  /** % */
  readonly confidence: Decimal;
}

/** The order in which cartridges count. */
function ordered(tried: readonly Tried[]): { readonly tried: readonly Tried[]; readonly byDay: boolean } {
  if (tried.some(({ day }) => day === null)) return { tried, byDay: false };
  const order = (a: Tried, b: Tried): number => {
    const [first, second] = [a.day ?? '', b.day ?? ''];
    return first < second ? -1 : first > second ? 1 : a.seconds - b.seconds;
  };
  return { tried: tried.toSorted(order), byDay: true };
}

/**
 * A lot judged by what was tried of it. A rejection stands once the rule has rejected; an acceptance only while it
 * holds for all that were tried, be they more than the rule asks for.
 *
 * @param size at least as many as were tried; @param confidence of the largest failing share, in percent
 */
export function judgeLot(
  lot: OneLot,
  size: number,
  decides: { readonly terms: Terms; readonly rule: LotRule } | null,
  confidence: Decimal,
): JudgedLot {
  const { tried, byDay } = ordered(lot.tried);
  let [counted, failed, rejected] = [0, 0, false];
  for (const { said } of tried) {
    if (said === 'says-nothing') continue;
    counted += 1;
    if (said === 'fails') failed += 1;
    rejected ||= decides?.rule.step(counted, failed) === 'reject';
  }
  const decision: Step = rejected
    ? 'reject'
    : decides === null || counted === 0
      ? 'go-on'
      : decides.rule.step(counted, failed);
  const next = decides && decision === 'go-on' ? nextOf(decides.rule, size, counted, failed) : null;
  return {
    lot,
    size,
    decided: decides && { ...decides, next },
    decision,
    tried,
    byDay,
    counted,
    failed,
    mostFailing: mostFailing(size, counted, failed, probability(confidence)),
    confidence,
  };
}

/** How many more that pass, or that fail, decide; the whole lot always does. */
function nextOf({ step }: LotRule, size: number, counted: number, failed: number): Next {
  const left = size - counted;
  let passes = 1;
  while (passes < left && step(counted + passes, failed) !== 'accept') passes += 1;
  let failures = 1;
  while (failures <= left && step(counted + failures, failed + failures) !== 'reject') failures += 1;
  return { passes, failures: failures <= left ? failures : null };
}
