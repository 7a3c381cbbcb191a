import { otherPagesIn } from '../figures/pages.ts';
import { printedAs } from '../figures/stretches.ts';
import { wasteOfTrial } from '../figures/waste-mass.ts';
import type { Problem } from '../problems/problem.ts';
import { ifDerived } from '../uncertainty/not-derived.ts';
import { shortNumber } from './short-number.ts';
import type { Check } from './check.ts';

/** What is taken of batches that are not of the trial, and what is not known of them. */

/** Where nothing says how other pages were covered, they count for nothing in yields at reference coverage. */
export const otherCoverageKnown: Check = ({ trial: { run } }) => {
  const others = run.batches.filter(({ other }) => other);
  const [first] = others;
  const pages = otherPagesIn(run);
  if (first === undefined || pages.isZero() || run.coverages.size === 0) return [];
  // Of several batches of which some have one, the number of the others is not worth working out.
  if (others.some((batch) => !printedAs(batch, run).uncovered)) return [];
  return [{ code: 'other-coverage-taken', pages: shortNumber(pages), path: [...first.path, 'other'] }];
};

/** What other pages left in the container is not known where it was not weighed before and after them. */
export const otherWasteKnown: Check = ({ trial: { run } }) => {
  if (ifDerived(() => wasteOfTrial(run))?.bound !== 'at_most') return [];
  const inBatch = run.batches.find(({ other }) => other);
  const path = inBatch ? [...inBatch.path, 'other'] : [...run.path, 'meter', 'other_pages'];
  return [{ code: 'other-waste-unknown', pages: shortNumber(otherPagesIn(run)), path } satisfies Problem];
};
