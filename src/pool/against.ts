import { meanAndDeviation } from '../statistics/sample.ts';
import { type Comparison, equivalence, type Sample, welch } from '../statistics/welch.ts';
import type { PooledCartridge } from './cartridge.ts';

/** Two groups of cartridges of one slot held against each other: exhausted ones only. */
export interface Against {
  readonly slot: string | null;
  readonly first: Sample | null;
  readonly second: Sample | null;
  /** Null where one of the groups has fewer than two exhausted cartridges, or neither scatters. */
  readonly comparison: Comparison | null;
  /** Margin asked for, in pages, and whether the means were shown to be that close. */
  readonly margin: number | null;
  readonly p: number | null;
  readonly equivalent: boolean | null;
}

function sampleOf(cartridges: readonly PooledCartridge[], slot: string | null): Sample | null {
  const pages = cartridges
    .filter((one) => one.slot === slot && one.exhausted && !one.failed)
    .map((one) => one.pages);
  if (pages.length < 2) return null;
  const { mean, sd } = meanAndDeviation(pages);
  return { n: pages.length, mean: mean.toNumber(), sd: sd?.toNumber() ?? 0 };
}

/**
 * Welch's intervals for difference and ratio of two groups' means, slot by slot; and, within a margin,
 * equivalence by two one-sided tests at the level that leaves the same interval.
 */
export function compareGroups(
  first: readonly PooledCartridge[],
  second: readonly PooledCartridge[],
  level: number,
  margin: number | null,
): Against[] {
  const slots = [...new Set([...first, ...second].map(({ slot }) => slot))];
  return slots.map((slot) => {
    const [a, b] = [sampleOf(first, slot), sampleOf(second, slot)];
    const scatter = a !== null && b !== null && a.sd + b.sd > 0;
    if (!scatter) return { slot, first: a, second: b, comparison: null, margin, p: null, equivalent: null };
    const p = margin === null ? null : equivalence(a, b, margin);
    return {
      slot,
      first: a,
      second: b,
      comparison: welch(a, b, level),
      margin,
      p,
      equivalent: p === null ? null : p <= (1 - level) / 2,
    };
  });
}
