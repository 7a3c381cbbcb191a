import { describe, expect, test } from 'vitest';
import { straightLine } from '../../src/statistics/straight-line.ts';
import reference from './shared-weighings.json' with { type: 'json' };

/*
 * Lines through points that have weighings in common, against values computed by shared-weighings.py in this folder. It
 * minimises the criterion with a general routine, to some 6 digits where coverages are uncertain. The data are invented.
 */

const close = (value: number | undefined, expected: number, share: number): void => {
  expect(Math.abs((value ?? NaN) - expected), `${value ?? 'nothing'} for ${expected}`).toBeLessThanOrEqual(
    share * Math.abs(expected),
  );
};

test('the versions are those named here', () => {
  expect(reference.tool).toBe('numpy 2.4.6; scipy 1.17.1');
});

describe('line and covariance (computed)', () => {
  test.each(reference.sets)('$name', (set) => {
    const mean = ([, , pages]: number[], index: number): number =>
      (1000 * ((set.masses[index] ?? NaN) - (set.masses[index + 1] ?? NaN))) / (pages ?? NaN);
    const perPage = ([, , pages]: number[]): number => (1000 * set.u) / (pages ?? NaN);
    const points = set.stretches.map((one, index) => ({
      x: one[0] ?? NaN,
      varX: (one[1] ?? NaN) ** 2,
      y: mean(one, index),
      varY: 2 * perPage(one) ** 2,
    }));
    const shared = set.stretches.map((one, i) =>
      set.stretches.map((other, j) => (Math.abs(i - j) === 1 ? -perPage(one) * perPage(other) : 0)),
    );
    const line = straightLine(points, shared);
    const exact = set.stretches.every(([, u]) => u === 0);
    // Taken as independent the slope would be another in its fifth digit where the coverages are exact.
    expect(Math.abs((straightLine(points)?.slope ?? NaN) / set.m1 - 1)).toBeGreaterThan(exact ? 1e-5 : 1e-7);
    const share = exact ? 1e-9 : 1e-6;
    close(line?.intercept, set.m0, share);
    close(line?.slope, set.m1, share);
    close(Math.sqrt(line?.varIntercept ?? NaN), set.u_m0, share);
    close(Math.sqrt(line?.varSlope ?? NaN), set.u_m1, share);
    close(
      (line?.covariance ?? NaN) / Math.sqrt((line?.varIntercept ?? NaN) * (line?.varSlope ?? NaN)),
      set.r,
      share,
    );
    close(line?.chiSquare, set.chi_square, 10 * share);
  });
});
