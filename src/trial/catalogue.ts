/** Which of several readings a figure speaks of. */
export const STATS = ['least', 'greatest', 'mean'] as const;
export type Stat = (typeof STATS)[number];

/** What it means that a limit is missed: it condemns what was tried, it voids the trial, or it only advises. */
export const EFFECTS = ['fails', 'voids', 'advises'] as const;
export type Effect = (typeof EFFECTS)[number];

/** The same as files of before say it, under `weight`. */
export const WEIGHTS = ['reject', 'condition', 'warn'] as const;
export const EFFECT_OF = { reject: 'fails', condition: 'voids', warn: 'advises' } as const satisfies Record<
  (typeof WEIGHTS)[number],
  Effect
>;

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
  readonly per: 'trial' | 'cartridge' | 'patch' | 'readings' | 'findings' | 'prints';
  /** The stats it comes with. */
  readonly stats: readonly Stat[];
  /** Whether the figure in all is derived beside those of its parts; limits call it `of: total`. */
  readonly total: boolean;
  /** The effect of a limit on it that names none. */
  readonly effect: Effect;
}

export type Catalogue = readonly FigureEntry[];
