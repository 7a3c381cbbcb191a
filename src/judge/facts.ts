import { type Derived, isDerived } from '../figures/figure.ts';
import type { Agreed } from './limits.ts';
import type { Stat } from '../trial/catalogue.ts';
import type { Run, Trial } from '../trial/trial.ts';
import type { Measured } from '../uncertainty/measured.ts';

/** A trial, and what follows from it. */
export interface Facts {
  readonly trial: Trial;
  readonly derived: readonly Derived[];
  /** The reference run's figures; none without such a run. */
  readonly reference: readonly Derived[];
  readonly agreed: Agreed;
}

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

/** Both runs of a trial, each with its figures. */
export const runsOf = ({
  trial: { run, reference: theirs },
  derived,
  reference,
}: Facts): readonly { readonly run: Run; readonly figures: readonly Derived[] }[] => [
  { run, figures: derived },
  ...(theirs === null ? [] : [{ run: theirs, figures: reference }]),
];
