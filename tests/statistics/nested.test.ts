import { describe, expect, test } from 'vitest';
import { nestedComponents, type NestedValue } from '../../src/statistics/nested.ts';
import { randomEffects } from '../../src/statistics/random-effects.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { Random } from '../fuzz/random.ts';

const of = (outer: string, inner: string, ...values: number[]): NestedValue[] =>
  values.map((value) => ({ value, outer, inner }));

describe('components of variance of a nested design', () => {
  test('two machines, two operators at each, two trials by each', () => {
    // Mean squares 6 (4 degrees), 12.5 (2) and 180.5 (1), computed with numpy 2.4.6; by hand σ²_inner = (12.5 − 6)/2 =
    // 3.25, σ²_outer = (180.5 − 12.5)/4 = 42, in all 51.25 = 180.5/4 + 12.5/4 + 6/2; degrees of freedom 51.25² /
    // (45.125²/1 + 3.125²/2 + 3²/4) = 1.2854.
    const { within, inner, outer, whole } = nestedComponents([
      ...of('A', '1', 10, 12),
      ...of('A', '2', 14, 16),
      ...of('B', '1', 20, 22),
      ...of('B', '2', 21, 27),
    ]);
    expect(within).toEqual({ sd: Math.sqrt(6), freedom: 4 });
    expect(inner.sd).toBeCloseTo(Math.sqrt(3.25), 12);
    expect(outer.sd).toBeCloseTo(Math.sqrt(42), 12);
    expect(whole?.sd).toBeCloseTo(Math.sqrt(51.25), 12);
    expect(whole?.freedom).toBeCloseTo(51.25 ** 2 / (45.125 ** 2 + 3.125 ** 2 / 2 + 9 / 4), 10);
  });

  test('of one factor, groups of different size, it is the one-way analysis, which R confirms', () => {
    const groups = [
      [10, 12, 13],
      [15, 16],
      [9, 10, 8, 11],
    ];
    const { within, inner, outer } = nestedComponents(
      groups.flatMap((group, i) => of(String(i), '', ...group)),
    );
    const oneWay = randomEffects(groups.map((group) => group.map((x) => new Decimal(x))));
    expect(inner).toEqual({ sd: null, freedom: 0 });
    expect(within.sd).toBeCloseTo(oneWay.within?.toNumber() ?? NaN, 12);
    expect(outer.sd).toBeCloseTo(oneWay.between?.toNumber() ?? NaN, 12);
  });

  test('unbalanced designs: each variance is met on average', () => {
    // Machines 4, operators 1, trials 2 in standard deviation; 3000 designs. An estimate below zero is set to zero, so
    // only the one within, and the whole, are without bias.
    const random = new Random(12);
    const sizes = [[3, 1], [2, 2, 1], [4]];
    let [within, whole] = [0, 0];
    const sets = 3000;
    for (let set = 0; set < sets; set++) {
      const values = sizes.flatMap((machine, i) => {
        const a = 4 * random.normal();
        return machine.flatMap((n, j) => {
          const b = random.normal();
          return of(String(i), String(j), ...Array.from({ length: n }, () => a + b + 2 * random.normal()));
        });
      });
      const found = nestedComponents(values);
      within += (found.within.sd ?? NaN) ** 2 / sets;
      whole += (found.whole?.sd ?? NaN) ** 2 / sets;
    }
    expect(within).toBeGreaterThan(3.8);
    expect(within).toBeLessThan(4.2);
    expect(whole).toBeGreaterThan(19.5);
    expect(whole).toBeLessThan(23.5);
  });

  test('without two values of one cell there is nothing to tell', () => {
    const none = (freedom: number) => ({ sd: null, freedom });
    expect(nestedComponents([...of('A', '1', 3), ...of('A', '2', 4), ...of('B', '1', 4)])).toEqual({
      within: none(0),
      inner: none(1),
      outer: none(1),
      whole: null,
    });
    expect(nestedComponents([])).toEqual({ within: none(0), inner: none(0), outer: none(0), whole: null });
  });
});
