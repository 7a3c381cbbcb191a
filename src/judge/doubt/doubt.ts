import type { Fault } from '../../problems/problem.ts';
import type { Reading } from '../../trial/trial.ts';
import type { Path } from '../../uncertainty/path.ts';
import type { Facts } from '../facts.ts';

/** A contradiction found: what it is, where it is told, and the readings of which one must be wrong. */
export interface Contradiction {
  readonly fault: Fault;
  readonly path: Path;
  readonly readings: readonly Path[];
}

/** A look for readings that cannot all be true: a pure function that names the ones it doubts. */
export type DoubtRule = (facts: Facts) => readonly Contradiction[];

/** The places of readings that were taken, in the order given. */
export const taken = (...readings: readonly (Reading | null | undefined)[]): Path[] =>
  readings.flatMap((reading) => (reading?.measured ? [reading.path] : []));
