import type { Decimal } from '../../uncertainty/decimal.ts';

/** Toner a page at no coverage in one slot, as a fit found it. */
export interface SlotUsage {
  readonly slot: string | null;
  /** mg a page, and its standard uncertainty */
  readonly m0: Decimal;
  readonly u: Decimal;
  readonly cartridges: Decimal | null;
  /** Coverages tried, in percent of the page. */
  readonly from: Decimal | null;
  readonly to: Decimal | null;
}

/** A usage file. */
export interface Usage {
  readonly model: string | null;
  readonly machines: readonly string[];
  readonly slots: readonly SlotUsage[];
}

/** What a usage file says of a slot; one of a single slot is taken for the only one there is. */
export function usageOf({ slots }: Usage, slot: string | null, only: boolean): SlotUsage | null {
  const named = slots.find((one) => one.slot === slot);
  const [single] = slots;
  return (
    named ??
    (only && slots.length === 1 && (single?.slot === null || slot === null) ? (single ?? null) : null)
  );
}
