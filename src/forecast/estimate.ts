import { normalQuantile } from '../statistics/normal.ts';
import { studentQuantile } from '../statistics/student.ts';

/** Where a part of an uncertainty comes from. */
export type Part =
  'readings' | 'cartridges-tried' | 'coverages-tried' | 'coverage-of-mix' | 'next-cartridge' | 'usable-toner';

/** One part of a relative variance, and how many degrees of freedom it is known with. */
export interface PartOf {
  readonly part: Part;
  readonly variance: number;
  readonly freedom: number;
}

/** Parts that come of the fit are too large or too small together: their degrees of freedom are those of one. */
const OF_THE_FIT: ReadonlySet<Part> = new Set([
  'readings',
  'cartridges-tried',
  'coverages-tried',
  'next-cartridge',
]);

/** A forecast number with the interval it is expected in. */
export interface Estimate {
  readonly value: number;
  /** Standard uncertainty. */
  readonly u: number;
  /** Half-width of the interval as far as it is even on both sides: t · u. */
  readonly U: number;
  readonly freedom: number;
  /** 95 % of such numbers lie between; null where the scatter of cartridges is not known, or nearly nothing is. */
  readonly interval: { readonly lower: number; readonly upper: number } | null;
  /** Of a count, which is whole and not even on both sides: no half-width is told. */
  readonly whole?: true;
}

/** Both sides together. */
export const LEVEL = 0.95;

/** Beyond this an interval says no more than that the number is not known. */
const MOST_FACTOR = 5;

/** Student's t for an interval of 95 %; of many degrees of freedom the normal quantile. */
export const studentFactor = (freedom: number): number =>
  freedom > 1e6 ? normalQuantile((1 + LEVEL) / 2) : studentQuantile((1 + LEVEL) / 2, freedom);

/**
 * A number above zero with its relative variance in parts. The degrees of freedom are those of Welch and Satterthwaite
 * (JCGM 100:2008, G.4.1, from memory). The interval is even in the logarithm: the number is a product and quotient of others, and
 * never below zero.
 */
export function estimateOf(value: number, parts: readonly PartOf[], scatterKnown: boolean): Estimate {
  const variance = parts.reduce((sum, part) => sum + part.variance, 0);
  const [ofFit, others] = [
    parts.filter(({ part }) => OF_THE_FIT.has(part)),
    parts.filter(({ part }) => !OF_THE_FIT.has(part)),
  ];
  const fitted = ofFit.reduce((sum, part) => sum + part.variance, 0);
  const under =
    fitted ** 2 / (ofFit[0]?.freedom ?? Infinity) +
    others.reduce((sum, part) => sum + part.variance ** 2 / part.freedom, 0);
  // Cut to a whole number, as G.4.1 has it; of one part alone it is one, but for rounding.
  const freedom = under === 0 ? Infinity : Math.floor(variance ** 2 / under + 1e-9);
  const relative = Math.sqrt(variance);
  const half = studentFactor(freedom) * relative;
  return {
    value,
    u: value * relative,
    U: value * half,
    freedom,
    interval:
      scatterKnown && half <= MOST_FACTOR
        ? { lower: value * Math.exp(-half), upper: value * Math.exp(half) }
        : null,
  };
}
