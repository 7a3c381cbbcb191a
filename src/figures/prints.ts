import type { Patch, Print, Reading, Run } from '../trial/trial.ts';
import type { Measured } from '../uncertainty/measured.ts';
import { need } from './figure.ts';

/** A reading of the last print less the same reading of another. */
export const change = (last: Reading, before: Reading): Measured => need(last).minus(need(before));

/**
 * The reference's print of a patch: as it stands with the patch, else the last print of that patch in the
 * reference run.
 */
export function referencePrint(patch: Patch, run: Run, has: (print: Print) => Reading): Reading {
  const own = has(patch.reference);
  if (own.measured !== null) return own;
  const theirs = run.against?.prints.patches.find(({ name }) => name === patch.name);
  const printed = theirs && has(theirs.last);
  return printed?.measured ? printed : own;
}
