import { mostFailing } from '../statistics/hypergeometric.ts';
import type { Step } from '../statistics/sampling-plan.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import type { OneLot } from './gathered-lot.ts';
import { judgeInspection, type JudgedInspection, together } from './judged-inspection.ts';
import { type Next, nextOf } from './next.ts';
import { type LotRule, sequentialRule, singleRule } from './rule.ts';
import { CONSUMER_RISK, probability, type Terms, termsOf } from './terms.ts';
import type { Tried } from './tried.ts';

/** What the trials of a lot say of it. */
export interface JudgedLot {
  readonly lot: OneLot;
  readonly size: number;
  /** Null where no limiting quality was agreed: then nothing is decided. */
  readonly decided: { readonly terms: Terms; readonly rule: LotRule; readonly next: Next | null } | null;
  /** What the trials alone come to. */
  readonly byTrials: Step;
  /** Null where nothing was looked at on delivery, and nothing agreed of it. */
  readonly inspection: JudgedInspection | null;
  readonly decision: Step;
  /** In the order they count: by their days where every trial has one, else as given. */
  readonly tried: readonly Tried[];
  readonly byDay: boolean;
  /** How many of them passed or failed: the others say nothing. */
  readonly counted: number;
  readonly failed: number;
  /** After how many tried and failed the rule rejected the lot; null where it did not. */
  readonly rejectedAt: { readonly counted: number; readonly failed: number } | null;
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
function judgeLot(
  lot: OneLot,
  size: number,
  decides: { readonly terms: Terms; readonly rule: LotRule } | null,
  confidence: Decimal,
  inspection: JudgedInspection | null,
): JudgedLot {
  const { tried, byDay } = ordered(lot.tried);
  let [counted, failed] = [0, 0];
  let rejectedAt: JudgedLot['rejectedAt'] = null;
  for (const { said } of tried) {
    if (said === 'says-nothing') continue;
    counted += 1;
    if (said === 'fails') failed += 1;
    if (decides?.rule.step(counted, failed) === 'reject') rejectedAt ??= { counted, failed };
  }
  const byTrials: Step = rejectedAt
    ? 'reject'
    : decides === null || counted === 0
      ? 'go-on'
      : decides.rule.step(counted, failed);
  const next = decides && byTrials === 'go-on' ? nextOf(decides.rule, size, counted, failed) : null;
  return {
    lot,
    size,
    decided: decides && { ...decides, next },
    byTrials,
    inspection,
    decision: decisionOf(decides === null, failed, byTrials, inspection),
    tried,
    byDay,
    counted,
    failed,
    rejectedAt,
    mostFailing: mostFailing(size, counted, failed, probability(confidence)),
    confidence,
  };
}

/**
 * Trials and inspection together. Where nothing was agreed of trials the inspection decides alone, unless a cartridge
 * failed: what no term speaks of is not passed over.
 */
function decisionOf(
  onlyInspected: boolean,
  failed: number,
  byTrials: Step,
  inspection: JudgedInspection | null,
): Step {
  const found = inspection?.decision ?? null;
  const own = onlyInspected && failed === 0 && inspection && inspection.classes.length > 0 ? [] : [byTrials];
  return together([...own, ...(found === null ? [] : [found])]) ?? byTrials;
}

/**
 * A lot judged by the terms its trials name, or that stand in for them, with one of the rules.
 *
 * @param size at least as many as were tried, and as were inspected; @param wanted confidence of the largest failing
 * shares, in percent; null for 100 % less the consumer's risk
 * @throws NotDerived where what was agreed are no terms, or no terms for the rule
 */
export function judgeByTerms(
  lot: OneLot,
  size: number,
  kind: LotRule['kind'],
  wanted: Decimal | null,
): JudgedLot {
  const { agreement } = lot;
  const terms = agreement.limitingQuality === null ? null : termsOf(size, agreement);
  const decides = terms && { terms, rule: kind === 'single' ? singleRule(terms) : sequentialRule(terms) };
  const risk = terms?.limiting.risk ?? agreement.consumerRisk ?? CONSUMER_RISK;
  return judgeLot(
    lot,
    size,
    decides,
    wanted ?? new Decimal(100).minus(risk),
    judgeInspection(lot, size, wanted),
  );
}
