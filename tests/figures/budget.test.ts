import { expect, test } from 'vitest';
import { budgetOf, improvedBy } from '../../src/figures/budget.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { type Input, Measured } from '../../src/uncertainty/measured.ts';

/* The uncertainty budget of a figure, JCGM 100:2008, 5.1.2, worked by hand: u² = Σ (cᵢ uᵢ)². */

const input = (u: number): Input => ({
  path: [`u${u}`],
  value: new Decimal(1),
  unit: 'g',
  u: new Decimal(u),
});

test('3 g and 2 × 2 g are 5 g: the larger part is 16/25 of the variance and stands first', () => {
  const [three, two, none] = [input(3), input(2), input(0)].map((one) =>
    Measured.reading(new Decimal(1), [one]),
  );
  if (three === undefined || two === undefined || none === undefined) throw new Error('there are three');
  const sum = three.plus(two.times(2)).plus(none);
  const budget = budgetOf(sum);
  expect(budget.map(({ input: { path }, contribution, share }) => [path[0], contribution, share])).toEqual([
    ['u2', 4, 16 / 25],
    ['u3', 3, 9 / 25],
  ]);
  // With a tenth of it, √(3² + 0.4²); with a tenth of the other, √(0.3² + 4²).
  expect(budget.map((share) => improvedBy(sum, share))).toEqual([
    expect.closeTo(Math.sqrt(9.16), 12),
    expect.closeTo(Math.sqrt(16.09), 12),
  ]);
  expect(budgetOf(none)).toEqual([]);
});
