import { otherIn, printedAs } from '../figures/stretches.ts';
import { wasteOfTrial } from '../figures/waste-mass.ts';
import type { Problem } from '../problems/problem.ts';
import type { Run } from '../trial/trial.ts';
import { ifDerived } from '../uncertainty/not-derived.ts';
import { shortNumber } from './short-number.ts';
import type { Check } from './check.ts';

/** What is taken of batches that are not of the trial, and what is not known of them. */

const pagesOfOther = (run: Run): string | null => {
  const other = ifDerived(() => otherIn(run));
  return other === null ? null : shortNumber(other.clicks.value.div(run.meter.clicksPerPage));
};

/** Where nothing says how other pages were covered, they count for nothing in yields at reference coverage. */
export const otherCoverageKnown: Check = ({ trial: { run } }) => {
  const without = run.batches.find((batch) => printedAs(batch, run).uncovered);
  const pages = pagesOfOther(run);
  if (without === undefined || pages === null || run.coverages.size === 0) return [];
  const own = run.batches.some((batch) => batch.other && !printedAs(batch, run).uncovered);
  // Of several batches of which some have one, the number of the others is not worth working out.
  return own ? [] : [{ code: 'other-coverage-taken', pages, path: [...without.path, 'other'] }];
};

/** What other pages left in the container is not known where it was not weighed before and after them. */
export const otherWasteKnown: Check = ({ trial: { run } }) => {
  const waste = ifDerived(() => wasteOfTrial(run));
  const pages = pagesOfOther(run);
  const first = run.batches.find(({ other }) => other);
  if (waste?.bound !== 'at_most' || pages === null || first === undefined) return [];
  return [{ code: 'other-waste-unknown', pages, path: [...first.path, 'other'] } satisfies Problem];
};
