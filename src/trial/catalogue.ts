/** Which of several readings a figure speaks of. */
export const STATS = ['least', 'greatest', 'mean'] as const;
export type Stat = (typeof STATS)[number];

/** How much a limit weighs: it condemns the lot, it voids the trial, or it warns. */
export const WEIGHTS = ['reject', 'condition', 'warn'] as const;
export type Weight = (typeof WEIGHTS)[number];

/** Units that are no units: money, told by its currency, and the order of severities. */
export const CURRENCY = 'currency';
export const SEVERITY = 'severity';

/**
 * What the format needs to know of a figure so that limits on it and statements of it can be read.
 * The list itself is made in `figures/list.ts`; the format is given it, and knows no figure by name.
 */
export interface FigureEntry {
  readonly name: string;
  readonly title: string;
  readonly unit: string;
  /** What the figure is derived for: the trial as a whole, or each of its parts. */
  readonly per: 'trial' | 'cartridge' | 'patch' | 'readings' | 'findings';
  /** The stats it comes with. */
  readonly stats: readonly Stat[];
  /** Whether the figure in all is derived beside those of its parts; limits call it `of: total`. */
  readonly total: boolean;
  /** The weight of a limit on it that names none. */
  readonly weight: Weight;
}

export type Catalogue = readonly FigureEntry[];
