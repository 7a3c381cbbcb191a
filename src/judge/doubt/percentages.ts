import { partsOf } from '../limits.ts';
import type { Quantity } from '../../trial/quantity.ts';
import type { RunData } from '../../trial/schema/trial.ts';
import type { Decimal } from '../../uncertainty/decimal.ts';
import type { Path } from '../../uncertainty/path.ts';
import type { Contradiction, DoubtRule } from './doubt.ts';

/** A percentage written as a fraction: 0.05 where 5 % is meant. */
const asFraction = (
  quantity: Quantity | null | undefined,
  path: Path,
  reading: Path = path,
): Contradiction[] =>
  quantity && !quantity.text.includes('%') && quantity.value.gt(0) && isFraction(quantity.value, path)
    ? [
        {
          fault: {
            code: 'fraction-for-percent',
            written: quantity.text,
            percent: quantity.value.times(100).toFixed(),
          },
          path,
          readings: [reading],
        },
      ]
    : [];

/** One is a percentage, but for a gauge, which is full at the start. */
const isFraction = (value: Decimal, path: Path): boolean =>
  value.lt(1) || (value.eq(1) && path.includes('gauge'));

/** The coverages of a run, each with its place. */
function coveragesOf(coverage: RunData['coverage'], path: Path): [Quantity | null | undefined, Path][] {
  if (coverage == null) return [];
  if ('resolution' in coverage) return [[coverage as Quantity, path]];
  return Object.entries(coverage as Record<string, Quantity | { value?: Quantity | null } | null>).map(
    ([slot, value]) => {
      const quantity = value === null || 'resolution' in value ? value : value.value;
      return [slot === 'tolerance' ? null : quantity, [...path, slot]];
    },
  );
}

/** Percentages were written as percentages. */
export const percentagesMeant: DoubtRule = ({ trial: { data, limits } }) => {
  const ofLimits = partsOf(limits).flatMap((part) =>
    'set' in part
      ? asFraction(part.set.reference_coverage, [...part.path, 'reference_coverage'], REFERENCE_COVERAGE)
      : [],
  );
  const ofRun = (run: RunData, path: Path): Contradiction[] => [
    ...coveragesOf(run.coverage, [...path, 'coverage']).flatMap(([value, at]) => asFraction(value, at)),
    ...asFraction(run.duplex_share, [...path, 'duplex_share']),
    ...(run.batches ?? []).flatMap(({ coverage, duplex_share: duplex }, index) => [
      ...coveragesOf(coverage, [...path, 'batches', index, 'coverage']).flatMap(([value, at]) =>
        asFraction(value, at),
      ),
      ...asFraction(duplex, [...path, 'batches', index, 'duplex_share']),
    ]),
    ...(run.cartridges ?? []).flatMap(({ gauge }, index) =>
      // A gauge goes from 100 % to a few: from 1 to less than that is meant as a fraction.
      gauge?.end?.value.lt(1)
        ? asFraction(gauge.start, [...path, 'cartridges', index, 'gauge', 'start'])
        : [],
    ),
    ...(run.ambient ?? []).flatMap(({ humidity }, index) =>
      asFraction(humidity, [...path, 'ambient', index, 'humidity']),
    ),
  ];
  return [...ofLimits, ...ofRun(data, []), ...(data.reference ? ofRun(data.reference, ['reference']) : [])];
};

/** Where the reference coverage stands, from whatever set of limits it comes. */
const REFERENCE_COVERAGE: Path = ['limits', 'reference_coverage'];
