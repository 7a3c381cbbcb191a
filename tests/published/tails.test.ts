import { describe, expect, test } from 'vitest';
import { normalDistribution, normalHazard, normalQuantile, normalTail } from '../../src/statistics/normal.ts';
import { poissonAtLeast, poissonAtMost, poissonLower, poissonUpper } from '../../src/statistics/poisson.ts';

/*
 * Tails of the normal and the Poisson distribution down to 1e-300 and up to a million events. Computed by tails.py
 * in this folder (Python 3.11.7, mpmath, 60 digits).
 */

/** Apart by no more than the twelfth significant digit. */
const close = (value: number, expected: number): void => {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(5e-12 * Math.abs(expected));
};

type Row = readonly number[];

describe('normal', () => {
  const TAILS: readonly Row[] = [
    [0, 0.5],
    [0.5, 0.308537538725987],
    [1, 0.158655253931457],
    [1.5, 0.0668072012688581],
    [1.99, 0.0232954677502118],
    [2, 0.0227501319481792],
    [2.5, 0.00620966532577614],
    [3, 0.00134989803163009],
    [5, 2.86651571879194e-7],
    [7.5, 3.1908916729109e-14],
    [9, 1.12858840595384e-19],
    [12, 1.77648211207768e-33],
    [20, 2.75362411860623e-89],
    [30, 4.90671392714819e-198],
    [37, 5.72557122252458e-300],
  ];

  test.each(TAILS)('P(Z > %d)', (z = 0, tail = 0) => {
    close(normalTail(z), tail);
    close(normalTail(-z), 1 - tail);
    close(normalDistribution(-z), tail);
  });

  test('the hazard is the density over the tail, on both sides of where it changes its way', () => {
    for (const [z = 0, tail = 0] of TAILS)
      close(normalHazard(z), Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI) / tail);
  });

  test('the quantile of a small probability: Φ(−5) and Φ(−7.5)', () => {
    close(normalQuantile(2.86651571879194e-7), -5);
    close(normalQuantile(3.1908916729109e-14), -7.5);
  });
});

describe('Poisson', () => {
  test('up to 16 and 17 of a mean of 40 it is the sum e⁻⁴⁰ Σ 40ᵏ/k!, to twelve digits', () => {
    for (const count of [16, 17]) {
      let [term, sum] = [1, 1];
      for (let k = 1; k <= count; k++) {
        term *= 40 / k;
        sum += term;
      }
      expect(Math.abs(poissonAtMost(count, 40) / (Math.exp(-40) * sum) - 1)).toBeLessThan(1e-12);
    }
  });

  test.each<Row>([
    [0, 2, 0.135335283236613],
    [3, 10, 0.0103360506759257],
    [10, 60, 1.74423565464223e-15],
    [100, 200, 3.72364121520168e-15],
    [100, 700, 3.98556273450591e-178],
    [3800, 3925, 0.0230100550133758],
    [3900, 4026, 0.0235342858308158],
    [10000, 12000, 3.99462848555498e-79],
    [100000, 101000, 0.000817207813677239],
    [1000000, 1002000, 0.0228582308126269],
    [1000000, 1030000, 3.36041480810077e-194],
    [40, 800, 6.28948798521364e-280],
  ])('P(X ≤ %i) of mean %d', (count = 0, mean = 0, tail = 0) => {
    close(poissonAtMost(count, mean), tail);
    close(poissonAtLeast(count + 1, mean), 1 - tail);
  });

  test.each<Row>([
    [1, 1e-300, 1.0e-300],
    [5, 0.001, 8.3263918642115e-18],
    [60, 10, 6.52190332781837e-27],
    [200, 100, 9.34315007298839e-19],
    [3925, 3800, 0.0221381607629168],
    [12000, 10000, 5.65458075000861e-84],
    [101000, 100000, 0.000799801041554541],
    [1002000, 1000000, 0.0228041319036958],
    [1030000, 1000000, 4.19504822901787e-196],
  ])('P(X ≥ %i) of mean %d', (count = 0, mean = 0, tail = 0) => {
    close(poissonAtLeast(count, mean), tail);
    close(poissonAtMost(count - 1, mean), 1 - tail);
  });

  test.each<Row>([
    [0, 9, 0, 43.6281491133321],
    [1, 9, 1.12858840595384e-19, 47.5099173722745],
    [10, 9, 0.058012256357137, 71.3478580196758],
    [100, 9, 34.5522960020944, 219.728423114466],
    [3800, 2, 3677.71440397456, 3925.30177847121],
    [3900, 2, 3776.10268968427, 4026.91328446153],
    [10000, 3, 9702.66496399604, 10303.6832972759],
    [100000, 9, 97180.5580199974, 102873.789043659],
    [1000000, 2, 998001.000166593, 1002002.00083326],
    [1000000, 9, 991026.648141668, 1009027.68964169],
    [25, 12, 0.508270754047, 141.387438155143],
    [1000, 20, 493.023788864926, 1773.10480216914],
  ])('bounds of %i events at a factor of %d', (count = 0, factor = 0, lower = 0, upper = 0) => {
    close(poissonLower(count, normalTail(factor)), lower);
    close(poissonUpper(count, normalTail(factor)), upper);
  });
});
