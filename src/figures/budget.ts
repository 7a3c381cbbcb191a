import type { Input, Measured } from '../uncertainty/measured.ts';

/** What one input brings to the uncertainty of a figure. */
export interface Share {
  readonly input: Input;
  /** |c·u|: the standard uncertainty this input alone would give, in the figure's unit. */
  readonly contribution: number;
  /** Its part of the variance, between 0 and 1. */
  readonly share: number;
}

/** The uncertainty budget of a figure (JCGM 100:2008, 5.1.2), largest share first. */
export function budgetOf(figure: Measured): Share[] {
  const parts = [...figure.contributions];
  const variance = parts.reduce((sum, [, part]) => sum + part, 0);
  // Of an exact figure no share is above zero.
  return parts
    .map(([input, part]) => ({ input, contribution: Math.sqrt(part), share: part / variance }))
    .filter(({ share }) => share > 0)
    .toSorted((a, b) => b.share - a.share);
}

/** How much better an instrument is tried when asked what an improvement would gain. */
export const BETTER = 10;

/** The standard uncertainty a figure would have if one input had a tenth of its own. */
export function improvedBy(figure: Measured, { share }: Share): number {
  return figure.u.toNumber() * Math.sqrt(1 - share + share / BETTER ** 2);
}
