import { describe, expect, test } from 'vitest';
import { falseAlarmWords } from '../../src/output/pool-words.ts';
import { controlChart, falseAlarms } from '../../src/statistics/control-chart.ts';
import { normality, normalScores } from '../../src/statistics/normality.ts';
import { toleranceFactor, toleranceOverGroups, toleranceRank } from '../../src/statistics/tolerance.ts';
import { Random } from '../fuzz/random.ts';
import { calledOdd } from './tolerance-level.ts';

describe('the tolerance bound of any distribution', () => {
  // Wilks 1941: 22 are the fewest for 90 % with 90 %. Ranks computed with scipy 1.17.1, stats.binom.sf.
  test.each([
    [21, null],
    [22, 1],
    [37, 1],
    [38, 2],
    [52, 3],
    [53, 3],
    [100, 6],
  ])('of %d values the rank %s from below', (n, rank) => {
    expect(toleranceRank(n, 0.9, 0.9)).toBe(rank);
  });

  test('one value lies above the median with one half: that is enough for a confidence of one half', () => {
    expect(toleranceRank(1, 0.5, 0.5)).toBe(1);
    expect(toleranceRank(1, 0.5, 0.51)).toBeNull();
  });
});

describe('the tolerance bound over machines', () => {
  test('of machines with one cartridge each it is that of their values: mean − k s', () => {
    // k(9, 0.90, 0.90) = 2.1329, computed with R 4.2.2 from the non-central t.
    const values = [9800, 10100, 9950, 10400, 10250, 9700, 10050, 10150, 9900];
    const mean = values.reduce((a, b) => a + b, 0) / 9;
    const sd = Math.sqrt(values.reduce((a, x) => a + (x - mean) ** 2, 0) / 8);
    const bound = toleranceOverGroups(
      values.map((x) => [x]),
      0.9,
      0.9,
    );
    expect(((mean - (bound ?? NaN)) / sd).toFixed(3)).toBe('2.133');
    expect(toleranceFactor(9, 0.9, 0.9)).toBeCloseTo(2.1329, 4);
  });

  test('of one machine, or of machines whose means are one, there is none', () => {
    expect(toleranceOverGroups([[1, 2, 3]], 0.9, 0.9)).toBeNull();
    expect(
      toleranceOverGroups(
        [
          [1, 3],
          [2, 2],
        ],
        0.9,
        0.9,
      ),
    ).toBeNull();
  });
});

describe('whether yields are normal', () => {
  test('the statistic, of sixteen values', () => {
    // Computed with numpy 2.4.6 and scipy 1.17.1 (norm.logcdf, norm.logsf): A² = 1.2309105; times 1 + 0.75/16 + 2.25/16².
    const values = [0.1, 1.4, 2.2, 2.9, 3.1, 3.3, 4.0, 4.2, 4.9, 5.1, 5.8, 6.6, 7.1, 9.4, 15.0, 22.0];
    expect(normality(values)?.statistic).toBeCloseTo(1.2994280060114278, 9);
    expect(normality(values)?.normal).toBe(false);
  });

  test('too few tell nothing', () => {
    expect(normality(Array.from({ length: 14 }, (_, i) => i))).toBeNull();
    expect(normality(Array.from({ length: 20 }, () => 7))).toBeNull();
  });

  test.each([
    // Computed with scipy 1.17.1: norm.ppf(beta.ppf(q, i, n + 1 − i)); the first of nine is also that of probplot.
    [9, 1, -1.4457384502, -2.7692660613, -0.4226724843],
    [9, 2, -0.9168157004, -1.9087841144, -0.0438888165],
    [5, 2, -0.4850789533, -1.6188018636, 0.5722330086],
    [5, 5, 1.1289975353, -0.0547313416, 2.5723344051],
  ])('the normal score of %i, rank %i', (n, rank, median, low, high) => {
    const score = normalScores(n)[rank - 1];
    expect(score?.median).toBeCloseTo(median, 8);
    expect(score?.low).toBeCloseTo(low, 8);
    expect(score?.high).toBeCloseTo(high, 8);
  });

  test('one normal sample in twenty is called odd, and most of two mixed kinds are', () => {
    const random = new Random(4);
    // 600 samples: 5 % ± 0.9 %.
    const share = calledOdd(600, 20, () => random.normal());
    expect(share).toBeGreaterThan(0.02);
    expect(share).toBeLessThan(0.08);
    expect(calledOdd(100, 40, () => random.normal() + (random.once(2) ? 6 : 0))).toBeGreaterThan(0.9);
  });
});

describe('signals of a chart where nothing changed', () => {
  test.each([10, 20, 50])('over %d points as often as the table says', (n) => {
    const random = new Random(n);
    const sets = 1000;
    let seen = 0;
    for (let set = 0; set < sets; set++) {
      const { points } = controlChart(Array.from({ length: n }, () => random.normal()));
      if (points.some(({ signals }) => signals.length > 0)) seen += 1;
    }
    // Four standard deviations of a share of 1000.
    const share = falseAlarms(n);
    expect(Math.abs(seen / sets - share)).toBeLessThan(4 * Math.sqrt((share * (1 - share)) / sets));
  });

  test('straight between the rows, nothing below five points, all but sure beyond the last', () => {
    expect(falseAlarms(3)).toBe(0);
    expect(falseAlarms(45)).toBeCloseTo((0.348 + 0.43) / 2, 12);
    expect(falseAlarms(9000)).toBe(0.999);
    expect(falseAlarmWords(50)).toContain('43 of 100');
  });
});
