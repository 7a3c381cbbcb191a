import { coverageBetween, type MeanCoverage } from '../figures/mean-coverage.ts';
import type { Problem } from '../problems/problem.ts';
import { valueOf } from '../judge/facts.ts';
import type { Run } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { ifDerived } from '../uncertainty/not-derived.ts';
import type { Check } from './check.ts';

const NEARLY = new Decimal('1e-20');

/** The coverage of the reference cartridge in a slot; of the reference run where no such cartridge is listed. */
function coverageOfReference(reference: Run, slot: string | null): MeanCoverage {
  const { from, to } = reference.cartridges.find((one) => one.slot === slot) ?? {
    from: reference.meter.start,
    to: reference.meter.end,
  };
  return coverageBetween(reference, slot, from, to);
}

/** Candidate and reference were printed at the same coverage; else their ratios compare two things at once. */
export const sameCoverage: Check = ({ trial: { run, reference } }) => {
  if (reference === null) return [];
  return run.cartridges.flatMap(({ slot, name, from, to }): Problem[] => {
    const [own, theirs] = [
      ifDerived(() => coverageBetween(run, slot, from, to)),
      ifDerived(() => coverageOfReference(reference, slot)),
    ];
    // Of pages whose coverage is not known the mean is only a bound, and tells no difference.
    if (own?.mean.bound !== 'exact' || theirs?.mean.bound !== 'exact') return [];
    // A mean over pages is rounded in its last digits.
    if (own.mean.value.minus(theirs.mean.value).abs().lte(NEARLY)) return [];
    const shortNumber = (value: Decimal): string => value.toSignificantDigits(4).toFixed();
    return [
      {
        code: 'coverage-differs',
        slot: name ?? '',
        candidate: shortNumber(own.mean.value),
        reference: shortNumber(theirs.mean.value),
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
