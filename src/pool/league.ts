import { Decimal } from '../uncertainty/decimal.ts';
import type { PooledCartridge } from './cartridge.ts';

/** What groups are compared by, beside their yields. */

/** What a thousand pages cost in cartridges of a group. */
export interface Cost {
  readonly perThousand: Decimal;
  readonly currency: string;
  /** At most so much: some were not exhausted, and would have printed more for the same money. */
  readonly bound: 'exact' | 'at_most';
}

/** A group in short. */
export interface InShort {
  readonly trials: number;
  /** Days of its first and last trial; null where none tells its day. */
  readonly firstDay: string | null;
  readonly lastDay: string | null;
  /** Mean over its trials of their waste per thousand pages, in g; null where not every trial has it. */
  readonly waste: Decimal | null;
  /** Null where not every cartridge has a price in the same currency. */
  readonly cost: Cost | null;
}

/** What a group yielded: of how many cartridges, in pages on the mean, and how many of them were not exhausted. */
interface Yielded {
  readonly n: number;
  readonly mean: Decimal | null;
  readonly atLeast: number;
}

/** A group in short. Waste is of whole trials: of a trial with cartridges of several groups it counts in each. */
export function inShort(group: Yielded, cartridges: readonly PooledCartridge[]): InShort {
  const trials = [...new Map(cartridges.map((one) => [one.file, one])).values()];
  const days = trials.flatMap(({ day }) => day ?? []).toSorted();
  const wastes = trials.flatMap(({ waste }) => waste ?? []);
  const known = wastes.length === trials.length && wastes.length > 0;
  return {
    trials: trials.length,
    firstDay: days[0] ?? null,
    lastDay: days.at(-1) ?? null,
    waste: known ? wastes.reduce((sum, one) => sum.plus(one)).div(wastes.length) : null,
    cost: costOf(group, cartridges),
  };
}

/**
 * 1000 × what the cartridges cost in all / the pages they yielded in all. A cartridge that failed was paid for and
 * counts with its price, and with none of the pages.
 */
function costOf({ n, mean, atLeast }: Yielded, cartridges: readonly PooledCartridge[]): Cost | null {
  const sound = cartridges.filter(({ doubted }) => !doubted);
  const prices = sound.flatMap(({ price }) => price ?? []);
  const [first] = prices;
  if (first === undefined || mean === null || mean.isZero() || prices.length < sound.length) return null;
  if (prices.some(({ currency }) => currency !== first.currency)) return null;
  const paid = prices.reduce((sum, { amount }) => sum.plus(amount), new Decimal(0));
  return {
    perThousand: paid.times(1000).div(mean.times(n)),
    currency: first.currency,
    bound: atLeast > 0 ? 'at_most' : 'exact',
  };
}

/** Groups of one slot beside each other, the greatest mean yield first; those without a mean at the end. */
export const byMeanYield = <G extends Pick<Yielded, 'mean'>>(groups: readonly G[]): G[] =>
  groups.toSorted((a, b) => {
    if (a.mean === null || b.mean === null) return Number(a.mean === null) - Number(b.mean === null);
    return b.mean.cmp(a.mean);
  });
