/** A kind of page, and how many of all pages are of it. */
export interface Kind {
  readonly name: string;
  /** Between 0 and 1. */
  readonly share: number;
  /** By slot, in percent of the page with its standard uncertainty; under null of every slot. */
  readonly coverages: ReadonlyMap<string | null, KindCoverage>;
}

export interface KindCoverage {
  readonly value: number;
  readonly u: number;
}

/** A device of Ghostscript that tells the coverage of each page. */
export type InkDevice = 'inkcov' | 'ink_cov';

/** What a customer prints. */
export interface Mix {
  readonly file: string;
  readonly name: string | null;
  readonly kinds: readonly Kind[];
  /** What counted the coverages, page by page; null where they were written down. */
  readonly countedBy: InkDevice | null;
}

/** The coverage of one slot in a kind of page; null where the mix does not say. */
export const coverageOf = ({ coverages }: Kind, slot: string | null): KindCoverage | null =>
  coverages.get(slot) ?? coverages.get(null) ?? null;
