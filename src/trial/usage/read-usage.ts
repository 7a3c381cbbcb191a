import type { Problem } from '../../problems/problem.ts';
import type { Source } from '../../text/source.ts';
import type { Decimal } from '../../uncertainty/decimal.ts';
import { inFileOrder, parse, READABLE } from '../read.ts';
import { type UsageData, usageSchema } from '../schema/usage.ts';

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

/** A usage file from its source, or everything that is wrong with it. */
export function readUsage(source: Source): {
  readonly usage: Usage | null;
  readonly problems: readonly Problem[];
} {
  if (source.problems.some(({ code }) => !READABLE.has(code)))
    return { usage: null, problems: source.problems };
  const { data: parsed, problems: shape } = parse(usageSchema, [], source.data);
  const problems = inFileOrder([...source.problems, ...shape], source);
  if (parsed === null || problems.length > 0) return { usage: null, problems };
  const { model, machines, slots } = (parsed as UsageData).usage;
  return {
    usage: {
      model: model ?? null,
      machines: (machines ?? []).filter((one) => one !== ''),
      slots: slots.map(({ slot, m0, u_m0: u, cartridges, from, to }) => ({
        slot: slot ?? null,
        m0: m0.value,
        u: u.value,
        cartridges: cartridges?.value ?? null,
        from: from?.value ?? null,
        to: to?.value ?? null,
      })),
    },
    problems: [],
  };
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
