import type { Path } from './path.ts';

/** Why a figure has no value. Data only; `output/words.ts` puts it into words. */
export type Reason =
  /** A reading that is not in the file (yet). */
  | { readonly code: 'reading-missing'; readonly path: Path }
  /** The trial has no part that the figure could be derived for. */
  | { readonly code: 'no-such-part'; readonly part: string }
  | { readonly code: 'divisor-zero'; readonly divisor: string }
  | { readonly code: 'logarithm-of-zero'; readonly of: string; readonly path: Path }
  | { readonly code: 'outside-formula'; readonly path: Path; readonly range: string }
  | { readonly code: 'bounds-conflict' }
  | { readonly code: 'coverage-zero'; readonly path: Path }
  | { readonly code: 'usage-below-non-image'; readonly path: Path }
  | { readonly code: 'capacities-differ'; readonly path: Path }
  | { readonly code: 'cartridge-changed' }
  | { readonly code: 'container-changed' }
  | { readonly code: 'no-readings'; readonly path: Path }
  /** Planned: something the plan rests on was not given. */
  | { readonly code: 'not-given'; readonly path: Path }
  | { readonly code: 'too-many-batches'; readonly most: number; readonly path: Path }
  /** Planned: no number of cartridges supports a claim that is no less than the yield expected. */
  | { readonly code: 'claim-above-expected'; readonly path: Path }
  /** Planned: what machines and coverage differ by is more than the margin of the claim. */
  | { readonly code: 'claim-beyond-trying'; readonly most: number; readonly path: Path }
  /** Planned: a lot of the acceptable quality would be one of the limiting quality. */
  | { readonly code: 'qualities-too-close'; readonly path: Path }
  /** Planned: the largest error of the scale alone takes more than there is. */
  | { readonly code: 'error-above-margin'; readonly path: Path }
  /** Planned: what is expected leaves no margin to the limit. */
  | { readonly code: 'no-margin'; readonly path: Path };

/**
 * Thrown where a formula meets something it cannot be evaluated with, and caught in one place of each
 * room, which keeps the reason: figures in `figures/derive.ts`, plans in `plan/planned.ts`. It lets a
 * formula read as a formula: `waste.times(1000).over(pages, 'pages')`.
 *
 * It is no Error: nothing went wrong, a trial has dozens of them, and a stack would be gathered for each.
 */
export class NotDerived {
  constructor(readonly reason: Reason) {}
}

/** What a formula comes to; null where something it needs is not there, for those who do not ask why. */
export function ifDerived<T>(formula: () => T): T | null {
  try {
    return formula();
  } catch (refusal) {
    if (refusal instanceof NotDerived) return null;
    throw refusal;
  }
}
