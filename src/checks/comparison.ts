import type { Problem } from '../problems/problem.ts';
import { valueOf } from '../judge/facts.ts';
import type { Check } from './check.ts';

/** Candidate and reference were printed at the same coverage; else their ratios compare two things at once. */
export const sameCoverage: Check = ({ trial: { run, reference } }) => {
  if (reference === null) return [];
  return run.cartridges.flatMap(({ slot, name }): Problem[] => {
    const [own, theirs] = [run.coverage(slot), reference.coverage(slot)];
    if (own.measured === null || theirs.measured === null) return [];
    if (own.measured.value.eq(theirs.measured.value)) return [];
    const shortNumber = (value: typeof own.measured.value): string => value.toSignificantDigits(4).toFixed();
    return [
      {
        code: 'coverage-differs',
        slot: name ?? '',
        candidate: shortNumber(own.measured.value),
        reference: shortNumber(theirs.measured.value),
        path: theirs.path,
      },
    ];
  });
};

/** Common practice, no source. */
const FEWEST_SHARE = 0.2;

/** The reference run is long enough to be held against. */
export const referenceLongEnough: Check = ({ derived, reference }) => {
  const own = valueOf(derived, 'pages');
  const theirs = valueOf(reference, 'pages');
  if (own === null || theirs === null || theirs.value.gte(own.value.times(FEWEST_SHARE))) return [];
  const [pages, trial] = [theirs.value.toFixed(), own.value.toFixed()];
  return [{ code: 'reference-short', pages, trial, path: ['reference', 'meter'] }];
};
