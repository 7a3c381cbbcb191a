import { type GatheredLot, type Mixed, oneLot } from '../lot/gathered-lot.ts';
import { judgeByTerms, type JudgedLot } from '../lot/judged-lot.ts';
import type { LotRule } from '../lot/rule.ts';
import { NOTHING_AGREED } from '../lot/terms.ts';
import { NotDerived, type Reason } from '../uncertainty/not-derived.ts';

/** What trials and inspection say of the lot, or why nothing is said of it. */
export type LotSaid =
  | { readonly judged: JudgedLot }
  | { readonly mixed: Mixed }
  /** Its size is not said, or is less than was tried or inspected. */
  | { readonly unsized: string }
  | { readonly refused: Reason };

/** The lot that trials are of; null where nothing was agreed of it. */
export function lotSaid(gathered: GatheredLot, rule: LotRule['kind']): LotSaid | null {
  if (!gathered.agreed) return null;
  const lot = oneLot(gathered, { lot: null, size: null, agreement: NOTHING_AGREED });
  if ('kind' in lot) return { mixed: lot };
  const { id, size, tried, inspected } = lot;
  if (size === null || size < Math.max(tried.length, inspected.length)) return { unsized: id };
  try {
    return { judged: judgeByTerms(lot, size, rule, null) };
  } catch (refusal) {
    if (refusal instanceof NotDerived) return { refused: refusal.reason };
    throw refusal;
  }
}
