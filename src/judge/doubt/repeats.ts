import type { Quantity } from '../../trial/quantity.ts';
import type { Reading, Run } from '../../trial/trial.ts';
import { brief, Decimal } from '../../uncertainty/decimal.ts';
import { runsOf } from '../facts.ts';
import type { Contradiction, DoubtRule } from './doubt.ts';

/** Every mass of a run that may have been weighed several times. */
const weighedIn = ({ containers, batches, cartridges }: Run): Reading[] => [
  ...containers.flatMap(({ tare, final }) => [tare, final]),
  ...batches.flatMap(({ containerMass, cartridgeMasses }) => [containerMass, ...cartridgeMasses.values()]),
  ...cartridges.flatMap(({ startMass, endMass, residualMass }) => [startMass, endMass, residualMass]),
];

/** Further from the others than so many g, and so many times the resolution, is far; common practice, no source. */
const FAR = new Decimal(10);
const FAR_STEPS = 10;

/** How far a value is from the middle of the others; of two middle ones, from the nearer. */
function apart(value: Decimal, others: readonly Decimal[]): Decimal {
  const sorted = others.toSorted((a, b) => a.cmp(b));
  const half = (sorted.length - 1) / 2;
  const middle = [sorted[Math.floor(half)] ?? value, sorted[Math.ceil(half)] ?? value];
  return Decimal.min(...middle.map((one) => one.minus(value).abs()));
}

/** One thing weighed several times weighs the same. */
export const repeatsAgree: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) =>
    weighedIn(run).flatMap(({ path, repeats }): Contradiction[] => {
      if (repeats === undefined) return [];
      const own = facts.trial.data.instruments?.scale?.resolution?.value;
      const farthest = Decimal.max(FAR, (own ?? finest(repeats)).times(FAR_STEPS));
      const values = repeats.map(({ value }) => value);
      const far = values.flatMap((value, index) =>
        apart(value, values.toSpliced(index, 1)).gt(farthest) ? [index] : [],
      );
      const [first] = far;
      if (first === undefined) return [];
      const fault = {
        code: 'weighings-apart',
        written: `${brief(values[first] ?? farthest)} g`,
        others: values.flatMap((value, index) => (index === first ? [] : [`${brief(value)} g`])),
      } as const;
      return [{ fault, path: [...path, first], readings: far.map((index) => [...path, index]) }];
    }),
  );

const finest = (repeats: readonly Quantity[]): Decimal =>
  Decimal.min(...repeats.map(({ resolution }) => resolution));
