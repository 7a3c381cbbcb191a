import type { Doubt } from '../judge/doubt/all.ts';
import type { Facts } from '../judge/facts.ts';
import type { Silence } from '../judge/silence.ts';
import type { Problem } from '../problems/problem.ts';

/** What a check looks at: the trial, what follows from it, and what is in doubt. */
export interface Checkable extends Facts {
  readonly doubts: readonly Doubt[];
  readonly silences: readonly Silence[];
}

/** A pure look at a trial as a good supervisor takes it: what should be said before anyone relies on it. */
export type Check = (facts: Checkable) => Problem[];
