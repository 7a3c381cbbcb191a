import { Decimal } from '../../uncertainty/decimal.ts';
import type { Path } from '../../uncertainty/path.ts';
import { paperOf } from '../paper.ts';
import type { Problem } from '../../problems/problem.ts';
import type { Quantity } from '../quantity.ts';
import type { RunData } from '../schema/trial.ts';
import { valuesIn } from '../by-slot.ts';
import type { RunRule, TrialRule } from './rule.ts';

type CoverageValue = Quantity | { value: Quantity | null; tolerance?: Quantity | null };

interface RangeValue {
  readonly from?: Quantity | null | undefined;
  readonly to?: Quantity | null | undefined;
}

type UsageValue = Quantity | ({ value: Quantity | null } & RangeValue);

/** A tolerance is smaller than the coverage it belongs to. */
export const coverageRules: RunRule = ({ coverage, batches }, path) => [
  ...coverageFaults(coverage, [...path, 'coverage']),
  ...(batches ?? []).flatMap((batch, index) =>
    coverageFaults(batch.coverage, [...path, 'batches', index, 'coverage']),
  ),
];

/** What is wrong with a coverage, or with those of a map by slot; `at` is where it stands. */
export const coverageFaults = (coverage: RunData['coverage'], at: Path): Problem[] =>
  valuesIn<CoverageValue>(coverage as CoverageValue | null | undefined, at).flatMap(
    ([one, place]): Problem[] => {
      if ('resolution' in one || !one.value || !one.tolerance) return [];
      if (one.tolerance.value.lte(one.value.value)) return [];
      const [value, tolerance] = [one.value.text, one.tolerance.text];
      return [{ code: 'tolerance-exceeds-value', value, tolerance, path: [...place, 'tolerance'] }];
    },
  );

/** Of coverages tried both ends are known or neither, the least not above the greatest; `at` is what they belong to. */
export function rangeFaults({ from, to }: RangeValue, at: Path): Problem[] {
  if ((from === undefined) !== (to === undefined))
    return [{ code: 'usage-amiss', what: 'half-a-range', path: [...at, from === undefined ? 'to' : 'from'] }];
  if (!from || !to) return [];
  return from.value.gt(to.value)
    ? [{ code: 'usage-amiss', what: 'range-reversed', path: [...at, 'from'] }]
    : [];
}

/** Coverages that toner at no coverage was tried at. */
export const usageRules: RunRule = ({ non_image_usage: usage }, path) =>
  valuesIn<UsageValue>(usage as UsageValue | string | null | undefined, [...path, 'non_image_usage']).flatMap(
    ([one, place]) => ('resolution' in one ? [] : rangeFaults(one, place)),
  );

/** The printable area is not empty. */
export const borderRule: TrialRule = ({ printable_border: border, paper }) => {
  if (!border) return [];
  const { width, height } = paperOf(paper);
  if (border.value.times(2).lt(Decimal.min(width, height))) return [];
  return [{ code: 'border-exceeds-paper', border: border.text, path: ['printable_border'] }];
};
