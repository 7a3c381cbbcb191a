import { meanAndDeviation } from '../statistics/sample.ts';
import { type Comparison, equivalence, type Sample, welch } from '../statistics/welch.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import type { PooledCartridge } from './cartridge.ts';

/** Two groups of cartridges of one slot held against each other. */
export interface Against {
  readonly slot: string | null;
  /** What is compared: cartridges, or the means of their machines where every machine is named. */
  readonly by: 'cartridges' | 'machines';
  readonly first: Sample | null;
  readonly second: Sample | null;
  /** Cartridges that were not run until exhausted: with any, the groups cannot be compared. */
  readonly unfinished: number;
  /** Null where they cannot be compared, or neither group scatters. */
  readonly comparison: Comparison | null;
  /** Margin asked for, in pages, and whether the means were shown to be that close. */
  readonly margin: number | null;
  readonly p: number | null;
  readonly equivalent: boolean | null;
}

/** A sample of two values or more; null of fewer. */
function sampleOf(values: readonly Decimal[]): Sample | null {
  const { mean, sd } = meanAndDeviation(values);
  return sd && { n: values.length, mean: mean.toNumber(), sd: sd.toNumber() };
}

/** The mean of each machine's cartridges. */
function machineMeans(cartridges: readonly PooledCartridge[]): Decimal[] {
  const machines = [...new Set(cartridges.map(({ machine }) => machine))];
  return machines.map((machine) => {
    const own = cartridges.filter((one) => one.machine === machine).map(({ pages }) => pages);
    return meanAndDeviation(own).mean;
  });
}

/**
 * Welch's intervals for difference and ratio of two groups' means, slot by slot; and, within a margin,
 * equivalence by two one-sided tests at the level that leaves the same interval. Cartridges of one machine are not
 * independent of each other: where the machines are named and there are several, their means are compared. What was
 * not exhausted has no yield yet, and leaving it out would favour the short ones: then nothing is compared.
 */
export function compareGroups(
  first: readonly PooledCartridge[],
  second: readonly PooledCartridge[],
  level: number,
  margin: number | null,
): Against[] {
  const slots = [...new Set([...first, ...second].map(({ slot }) => slot))];
  return slots.map((slot): Against => {
    const good = [first, second].map((group) =>
      group.filter((one) => one.slot === slot && !one.failed && !one.doubted),
    );
    const [one = [], other = []] = good;
    const both = [...one, ...other];
    const unfinished = both.filter(({ exhausted }) => !exhausted).length;
    const named = both.every(({ machine }) => machine !== null);
    const by = named && new Set(both.map(({ machine }) => machine)).size > 1 ? 'machines' : 'cartridges';
    const values = (group: readonly PooledCartridge[]): Decimal[] =>
      by === 'machines' ? machineMeans(group) : group.map(({ pages }) => pages);
    const [a, b] = [sampleOf(values(one)), sampleOf(values(other))];
    const none = {
      slot,
      by,
      first: a,
      second: b,
      unfinished,
      comparison: null,
      margin,
      p: null,
      equivalent: null,
    } as const;
    if (unfinished > 0 || a === null || b === null || a.sd + b.sd === 0) return none;
    const p = margin === null ? null : equivalence(a, b, margin);
    return {
      ...none,
      comparison: welch(a, b, level),
      p,
      equivalent: p === null ? null : p <= (1 - level) / 2,
    };
  });
}
