import { describe, expect, test } from 'vitest';
import { censoredNormal } from '../../src/statistics/censored.ts';
import reference from '../published/pool-reference.json' with { type: 'json' };
import { claimPower } from '../../src/statistics/claim-power.ts';
import { controlChart, falseAlarms } from '../../src/statistics/control-chart.ts';
import { grubbs } from '../../src/statistics/grubbs.ts';
import { nestedComponents } from '../../src/statistics/nested.ts';
import { normality } from '../../src/statistics/normality.ts';
import { randomEffects } from '../../src/statistics/random-effects.ts';
import { type LinePoint, lineVarianceAt, straightLine } from '../../src/statistics/straight-line.ts';
import { toleranceOverGroups } from '../../src/statistics/tolerance.ts';
import { equivalence, type Sample, welch } from '../../src/statistics/welch.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';

/* What is made of samples, against values computed by designs.py in this folder (numpy 2.4.6, scipy 1.17.1). */

/** Apart by no more than a share of the expected value. */
const close = (value: number | null | undefined, expected: number, share: number): void => {
  const found = value ?? NaN;
  expect(Math.abs(found - expected), `${found} for ${expected}`).toBeLessThanOrEqual(
    share * Math.abs(expected),
  );
};

describe('the tolerance bound over machines', () => {
  const ROWS: readonly (readonly [number[][], number, number, number])[] = [
    [[[9800, 10050, 10010], [10300, 10210]], 0.9, 0.9, 7902.12388],
    [[[9800, 10050, 10010], [10300, 10210], [9650, 9900, 9720, 9810]], 0.9, 0.9, 8937.416718],
    [[[9800, 10050], [10300, 10210], [9650, 9900]], 0.95, 0.95, 8055.574574],
  ]; // prettier-ignore

  test.each(ROWS)('of %j, share %d, confidence %d: %d', (groups, share, confidence, bound) => {
    const found = toleranceOverGroups(groups, share, confidence);
    // Four digits of how far it lies below the means.
    const centre =
      groups.reduce((sum, g) => sum + g.reduce((a, b) => a + b, 0) / g.length, 0) / groups.length;
    close(centre - (found ?? NaN), centre - bound, 5e-5);
  });

  test('with one degree of freedom within machines it keeps two digits of how far it lies below', () => {
    const bound = toleranceOverGroups([[9990], [10020], [10110], [9900, 9980]], 0.9, 0.9);
    close(10015 - (bound ?? NaN), 10015 - 9673.645784, 1e-2);
  });

  test('it goes with the unit and with where the zero is', () => {
    const groups = [
      [9800, 10050, 10010],
      [10300, 10210],
      [9650, 9900],
    ];
    const bound = toleranceOverGroups(groups, 0.9, 0.9) ?? NaN;
    const moved = groups.map((group) => group.map((x) => (x - 20_000) * 10));
    close(toleranceOverGroups(moved, 0.9, 0.9), (bound - 20_000) * 10, 1e-12);
  });
});

describe('the chance that a claim is supported', () => {
  test.each([
    [2, 3, 1, 1, 0, 0, 4, 0.9, 0.8699379197751576],
    [3, 3, 1, 1, 0, 0, 2, 0.9, 0.8410864249904418],
    [4, 3, 1, 0, 0.2, 0.3, 0.8, 0.9, 0.7340942230896503],
    [6, 2, 1, 0.5, 0.1, 0.05, 1, 0.95, 0.7666866944865415],
    [2, 5, 3, 0.2, 0, 0, 4, 0.8, 0.985577779366684],
  ])('%i machines with %i each', (machines, each, within, between, u, half, gap, quantile, chance) => {
    const scatter = { within, between, common: { u, half } };
    close(claimPower({ machines, each }, scatter, gap, quantile), chance, 4e-5);
  });

  test('without any scatter a claim is supported where the common error leaves it', () => {
    const support = (gap: number): number =>
      claimPower({ machines: 3, each: 3 }, { within: 0, between: 0, common: { u: 0, half: 2 } }, gap, 0.9);
    expect(support(2)).toBeCloseTo(1, 6);
    expect(support(1.99)).toBe(0);
  });
});

describe('two means', () => {
  // s = 2, n = 4 twice: variances of the means 1, 6 degrees, t of 95 % two-sided 2.4469118511 (scipy 1.17.1).
  const [t, square] = [2.4469118511, 2.4469118511 ** 2];
  const sample = (mean: number): Sample => ({ n: 4, mean, sd: 2 });

  test('their difference and ratio, as the roots of Fieller’s quadratic', () => {
    const { difference, interval, ratio } = welch(sample(12), sample(10), 0.95);
    expect(difference).toBe(2);
    close(interval.low, 2 - t * Math.SQRT2, 1e-9);
    close(interval.high, 2 + t * Math.SQRT2, 1e-9);
    // (12 − 10 r)² = t² (1 + r²).
    const root = Math.sqrt(120 ** 2 - (100 - square) * (144 - square));
    close(ratio?.low, (120 - root) / (100 - square), 1e-9);
    close(ratio?.high, (120 + root) / (100 - square), 1e-9);
  });

  test('there is no ratio to a mean that could be zero', () => {
    expect(welch(sample(12), sample(2.45), 0.95).ratio).not.toBeNull();
    expect(welch(sample(12), sample(2.44), 0.95).ratio).toBeNull();
    expect(welch(sample(12), sample(-2), 0.95).ratio).toBeNull();
  });

  test('are equivalent with the larger p of the two one-sided tests', () => {
    // P(T > 1.9431802805) = 5 % with 6 degrees (scipy 1.17.1); the error is √2.
    const margin = 0.5 + 1.9431802805 * Math.SQRT2;
    expect(equivalence(sample(10.5), sample(10), margin)).toBeCloseTo(0.05, 10);
    expect(equivalence(sample(10), sample(10.5), margin)).toBeCloseTo(0.05, 10);
  });
});

test('a machine of which no cartridge was exhausted is none', () => {
  const decimals = (values: readonly number[]): Decimal[] => values.map((x) => new Decimal(x));
  const [two, and] = [[[1, 2], [3, 6, 7]], [[]]]; // prettier-ignore
  expect(randomEffects([...two, ...and].map(decimals))).toEqual(randomEffects(two.map(decimals)));
  expect(randomEffects([[1, 2], []].map(decimals))).toEqual({ between: null, within: null });
});

describe('components of variance of a nested design', () => {
  test.each([
    [
      'of different sizes',
      'AAAAAABBBCCCC',
      '1112231124433',
      [10, 12, 11, 15, 14.5, 13, 21, 20, 26, 31, 30, 35, 36.5],
      [0.7083333333335604, 8.854166666666247, 118.20100308641999, 127.7635030864198],
      2.171960861821775,
    ],
    [
      'one machine with two operators, one with one',
      'AAAAABB',
      '1112211',
      [10, 12, 11, 17, 15, 30, 33],
      [2.1250000000001332, 11.614583333333329, 161.55416666666656, 175.29375],
      1.048980521734562,
    ],
    [
      'inner groups alike',
      'AAAABBBBCC',
      '1122112211',
      [10, 14, 11, 13, 20, 24, 21, 23, 30, 33],
      [4.900000000000194, 0, 82.28124999999982, 87.18125],
      2.1626091175662956,
    ],
    [
      'outer groups alike',
      'AAAABBBBCCCCC',
      '1122112211223',
      [10, 11, 20, 22, 11, 12, 19, 21.5, 10, 10.5, 22, 21, 17],
      [1.1250000000001386, 43.0399305555554, 0, 44.16493055555554],
      4.091773502118115,
    ],
  ])('%s', (_, outers, inners, values, variances, freedom) => {
    // In whatever unit.
    for (const unit of [1, 0.01]) {
      const { within, inner, outer, whole } = nestedComponents(
        values.map((x, i) => ({ value: unit * x, outer: outers[i] ?? '', inner: inners[i] ?? '' })),
      );
      [within, inner, outer, whole].forEach((one, i) => {
        close((one?.sd ?? NaN) ** 2, (variances[i] ?? NaN) * unit ** 2, 1e-10);
      });
      close(whole?.freedom, freedom, 1e-10);
    }
  });
});

describe('a line through points whose errors have a part in common', () => {
  const SHARED = [
    [0, -0.2, 0, 0, 0],
    [-0.2, 0, 0.15, 0, 0],
    [0, 0.15, 0, 0, 0],
    [0, 0, 0, 0, 0.3],
    [0, 0, 0, 0.3, 0],
  ];
  const points = (varX: readonly number[]): LinePoint[] =>
    [
      [2, 11.2, 0.5],
      [4, 19.5, 0.4],
      [5, 23.1, 0.6],
      [7, 33, 0.5],
      [10, 44.8, 0.9],
    ].map(([x = 0, y = 0, varY = 0], i) => ({ x, y, varX: varX[i] ?? 0, varY }));

  test('generalised least squares', () => {
    const line = straightLine(points([]), SHARED);
    close(line?.intercept, 2.809015368368379, 1e-12);
    close(line?.slope, 4.20855959758775, 1e-12);
    close(line?.varIntercept, 0.40529555623488916, 1e-12);
    close(line?.varSlope, 0.017925131312008468, 1e-12);
    close(line?.covariance, -0.074626907150599, 1e-12);
    close(line?.chiSquare, 2.4114165022371763, 1e-11);
    // (1, 6) C (1, 6)ᵀ.
    close(
      line && lineVarianceAt(line, 6),
      0.40529555623488916 - 12 * 0.074626907150599 + 36 * 0.017925131312008468,
      1e-11,
    );
  });

  test('with errors in x too it is the line of the least χ²', () => {
    const line = straightLine(points([0.04, 0.09, 0, 0.01, 0.16]), SHARED);
    close(line?.intercept, 2.25438983, 1e-6);
    close(line?.slope, 4.30616619, 1e-7);
    close(line?.chiSquare, 1.5945145409908927, 1e-9);
    // In another unit of y it is the same line.
    const small = points([0.04, 0.09, 0, 0.01, 0.16]).map(({ x, y, varX, varY }) => ({
      x,
      y: y * 1e-9,
      varX,
      varY: varY * 1e-18,
    }));
    const other = straightLine(
      small,
      SHARED.map((row) => row.map((one) => one * 1e-18)),
    );
    close(other?.slope, (line?.slope ?? NaN) * 1e-9, 1e-13);
  });
});

test('Grubbs’ test is at 5 % where nothing else is said (critical values by R 4.2.2: published/pool.R)', () => {
  const rows = reference.grubbs.filter(({ alpha }) => alpha === 0.05);
  expect(rows.length).toBeGreaterThan(1);
  for (const { n, critical } of rows)
    close(grubbs(Array.from({ length: n }, (_, i) => new Decimal(i)))?.critical, critical, 1e-12);
});

describe('Anderson and Darling’s test', () => {
  test.each([
    [
      [26.335, 39.361, 49.468, 58.884, 68.282, 78.046, 88.501, 100, 112.992, 128.13, 146.452, 169.824, 202.151, 254.058, 379.719],
      0.7323562049828907,
      true,
    ],
    [
      [407.065, 24.566, 37.494, 47.686, 57.281, 66.937, 77.044, 87.94, 100, 113.714, 129.796, 149.393, 174.577, 209.705, 266.709],
      0.7961034662370323,
      false,
    ],
  ])('%j: %d', (values, statistic, normal) => {
    const found = normality(values);
    close(found?.statistic, statistic, 1e-9);
    expect(found).toMatchObject({ critical: 0.752, normal });
  }); // prettier-ignore
});

describe('values that are all alike', () => {
  // Three times 30.1 is 90.30000000000001 in binary: a mean by the sum would be another value.
  const alike = (n: number): number[] => Array.from({ length: n }, () => 30.1);

  test('a chart of them signals nothing', () => {
    for (const n of [2, 3, 8, 9, 20]) {
      const { centre, points } = controlChart(alike(n));
      expect(centre).toBe(30.1);
      expect(points.flatMap(({ signals }) => signals)).toEqual([]);
    }
  });

  test('tell no scatter', () => {
    expect(normality(alike(17))).toBeNull();
    expect(censoredNormal(alike(3), [29, 31])).toBeNull();
    expect(toleranceOverGroups([alike(3), alike(1)], 0.9, 0.9)).toBeNull();
    expect(nestedComponents(alike(3).map((value) => ({ value, outer: 'A', inner: '' })))).toEqual({
      within: { sd: 0, freedom: 2 },
      inner: { sd: null, freedom: 0 },
      outer: { sd: null, freedom: 0 },
      whole: { sd: 0, freedom: 2 },
    });
  });
});

describe('a chart of individuals and moving ranges', () => {
  const signalsOf = (values: readonly number[]) =>
    controlChart(values).points.map(({ signals }) => signals.join());

  test('names the point above or below its limits, and the range above its own', () => {
    // Eleven values of 0 and 1 in turn, then 30: mean 36/12 = 3 less, moving ranges 10 × 1 and 29, mean 39/11 = 3.545;
    // the limits are ± 9.43 about the centre, that of the ranges 11.58.
    const steady = [0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 1];
    expect(signalsOf([...steady, 30]).at(-1)).toBe('above-upper,range-above-upper');
    expect(signalsOf([...steady, -30]).at(-1)).toBe('below-lower,range-above-upper');
    expect(
      signalsOf([...steady, 30])
        .slice(0, -1)
        .join(),
    ).not.toMatch(/upper|lower/);
  });

  test('eight in a row on one side are a run from the eighth on, and no longer than they last', () => {
    // 8 × 1, then −8: the centre is 0; nine of them, then −9.
    expect(signalsOf([1, 1, 1, 1, 1, 1, 1, 1, -8]).map((one) => one.includes('run'))).toEqual([
      false, false, false, false, false, false, false, true, false,
    ]); // prettier-ignore
    expect(signalsOf([-9, 1, 1, 1, 1, 1, 1, 1, 1, 1]).map((one) => one.includes('run'))).toEqual([
      false, false, false, false, false, false, false, false, true, true,
    ]); // prettier-ignore
  });

  test('how often it signals where nothing changed: the shares simulated by false-alarms.py', () => {
    const SHARES = {
      4: 0, 5: 0.006, 6: 0.018, 8: 0.03, 10: 0.047, 12: 0.066, 15: 0.098, 20: 0.151, 25: 0.202, 30: 0.255, 40: 0.348,
      50: 0.43, 75: 0.595, 100: 0.711, 150: 0.856, 200: 0.927, 300: 0.982, 500: 0.999,
    }; // prettier-ignore
    expect(Object.keys(SHARES).map((points) => falseAlarms(Number(points)))).toEqual(Object.values(SHARES));
    expect(falseAlarms(7)).toBeCloseTo((0.018 + 0.03) / 2, 12);
    expect(falseAlarms(35)).toBeCloseTo((0.255 + 0.348) / 2, 12);
    expect(falseAlarms(400)).toBeCloseTo((0.982 + 0.999) / 2, 12);
  });
});
