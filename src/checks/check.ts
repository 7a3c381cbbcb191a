import { type Derived, isDerived } from '../figures/figure.ts';
import type { Agreed } from '../limits/limits.ts';
import type { Stat } from '../trial/catalogue.ts';
import type { Problem } from '../trial/problem.ts';
import type { Trial } from '../trial/trial.ts';
import type { Measured } from '../uncertainty/measured.ts';

/** What a check looks at: the trial, and what follows from it. */
export interface Facts {
  readonly trial: Trial;
  readonly derived: readonly Derived[];
  /** The reference run's figures; none without such a run. */
  readonly reference: readonly Derived[];
  readonly agreed: Agreed;
}

/** A pure look at a trial as a good supervisor takes it: what should be said before anyone relies on it. */
export type Check = (facts: Facts) => Problem[];

/** The value of a figure, or null where it has none. */
export function valueOf(
  derived: readonly Derived[],
  figure: string,
  of: string | null = null,
  stat: Stat | null = null,
): Measured | null {
  const found = derived.find((one) => one.figure.name === figure && one.of === of && one.stat === stat);
  return found !== undefined && isDerived(found.result) ? found.result : null;
}
