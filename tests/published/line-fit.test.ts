import { describe, expect, test } from 'vitest';
import { chiSquareTail } from '../../src/statistics/chi-square.ts';
import { fisherTail } from '../../src/statistics/fisher.ts';
import {
  akaike,
  lineAt,
  type LinePoint,
  lineVarianceAt,
  type StraightLine,
  straightLine,
} from '../../src/statistics/straight-line.ts';

/*
 * Straight lines against published examples. The data of all three sets are from memory, and each is confirmed by the
 * results published for it: numpy 2.4.6, scipy 1.17.1 and mpmath (40 digits) get these from the data to every digit.
 */

const line = (points: readonly LinePoint[]): StraightLine => {
  const found = straightLine(points);
  if (found === null) throw new Error('no line');
  return found;
};

/** Points of weight one: their variance is estimated from the residuals. */
const unweighted = (pairs: readonly (readonly [x: number, y: number])[]): LinePoint[] =>
  pairs.map(([x, y]) => ({ x, y, varX: 0, varY: 1 }));

/** Apart by no more than a share of the expected value. */
const close = (value: number, expected: number, share: number): void => {
  expect(Math.abs(value - expected), `${value} for ${expected}`).toBeLessThanOrEqual(
    share * Math.abs(expected),
  );
};

describe('JCGM 100:2008, H.3: calibration of a thermometer', () => {
  /** t in °C, less 20, and the correction in °C. */
  const READINGS = [
    [21.521, -0.171],
    [22.012, -0.169],
    [22.512, -0.166],
    [23.003, -0.159],
    [23.507, -0.164],
    [23.999, -0.165],
    [24.513, -0.156],
    [25.002, -0.157],
    [25.503, -0.159],
    [26.01, -0.161],
    [26.511, -0.16],
  ] as const;
  const fit = line(unweighted(READINGS.map(([t, b]) => [t - 20, b])));
  const variance = fit.chiSquare / fit.freedom;

  test('as published: −0.1712 ± 0.0029, 0.00218 ± 0.00067, r −0.930, s 0.0035', () => {
    expect(fit.intercept.toFixed(4)).toBe('-0.1712');
    expect(fit.slope.toFixed(5)).toBe('0.00218');
    expect(Math.sqrt(variance * fit.varIntercept).toFixed(4)).toBe('0.0029');
    expect(Math.sqrt(variance * fit.varSlope).toFixed(5)).toBe('0.00067');
    expect((fit.covariance / Math.sqrt(fit.varIntercept * fit.varSlope)).toFixed(3)).toBe('-0.930');
    expect(Math.sqrt(variance).toFixed(4)).toBe('0.0035');
    expect(fit.freedom).toBe(9);
  });

  test('at 30 °C, as published: −0.1494 ± 0.0041', () => {
    expect(lineAt(fit, 10).toFixed(4)).toBe('-0.1494');
    expect(Math.sqrt(variance * lineVarianceAt(fit, 10)).toFixed(4)).toBe('0.0041');
  });

  test('to more digits (computed, numpy 2.4.6)', () => {
    expect(fit.intercept).toBeCloseTo(-0.17120379, 8);
    expect(fit.slope).toBeCloseTo(0.0021827, 8);
    expect(Math.sqrt(variance)).toBeCloseTo(0.0034975639635, 12);
    expect(lineAt(fit, 10)).toBeCloseTo(-0.14937681273247738, 12);
    expect(Math.sqrt(variance * lineVarianceAt(fit, 10))).toBeCloseTo(0.004138595752854948, 12);
  });
});

describe('NIST StRD, Norris: 36 observations, lower level of difficulty', () => {
  const READINGS = [
    [0.2, 0.1], [337.4, 338.8], [118.2, 118.1], [884.6, 888.0], [10.1, 9.2], [226.5, 228.1],
    [666.3, 668.5], [996.3, 998.5], [448.6, 449.1], [777.0, 778.9], [558.2, 559.2], [0.4, 0.3],
    [0.6, 0.1], [775.5, 778.1], [666.9, 668.8], [338.0, 339.3], [447.5, 448.9], [11.6, 10.8],
    [556.0, 557.7], [228.1, 228.3], [995.8, 998.0], [887.6, 888.8], [120.2, 119.6], [0.3, 0.3],
    [0.3, 0.6], [556.8, 557.6], [339.1, 339.3], [887.2, 888.0], [999.0, 998.5], [779.0, 778.9],
    [11.1, 10.2], [118.3, 117.6], [229.2, 228.9], [669.1, 668.4], [448.9, 449.2], [0.5, 0.2],
  ] as const; // prettier-ignore
  const fit = line(unweighted(READINGS));
  const deviation = Math.sqrt(fit.chiSquare / fit.freedom);

  test('certified values (from memory; mpmath gets each from the data to 15 digits)', () => {
    close(fit.intercept, -0.262323073774029, 1e-12);
    close(fit.slope, 1.00211681802045, 1e-14);
    close(deviation * Math.sqrt(fit.varIntercept), 0.232818234301152, 1e-12);
    close(deviation * Math.sqrt(fit.varSlope), 0.429796848199937e-3, 1e-12);
    close(deviation, 0.884796396144373, 1e-12);
  });
});

describe('errors in both: Pearson’s data with York’s weights', () => {
  const POINTS = [
    [0, 5.9, 1000, 1],
    [0.9, 5.4, 1000, 1.8],
    [1.8, 4.4, 500, 4],
    [2.6, 4.6, 800, 8],
    [3.3, 3.5, 200, 20],
    [4.4, 3.7, 80, 20],
    [5.2, 2.8, 60, 70],
    [6.1, 2.8, 20, 70],
    [6.5, 2.4, 1.8, 100],
    [7.4, 1.5, 1, 500],
  ] as const;
  const fit = line(POINTS.map(([x, y, wx, wy]) => ({ x, y, varX: 1 / wx, varY: 1 / wy })));

  test('York 2004, as published: slope −0.4805, intercept 5.4799', () => {
    expect(fit.slope.toFixed(4)).toBe('-0.4805');
    expect(fit.intercept.toFixed(4)).toBe('5.4799');
  });

  test('the same by orthogonal distances, and its errors (computed, scipy.odr 1.17.1)', () => {
    close(fit.slope, -0.4805333839607258, 1e-7);
    close(fit.intercept, 5.479910113484975, 1e-7);
    close(Math.sqrt(fit.varIntercept), 0.2949707, 1e-4);
    close(Math.sqrt(fit.varSlope), 0.057985, 1e-4);
    close(fit.chiSquare, 11.866353194061636, 1e-9);
  });

  test('no slope follows from points at one place', () => {
    expect(straightLine(unweighted([[5, 40], [5, 41]]))).toBeNull(); // prettier-ignore
    // Their mean is not 0.1 in binary.
    expect(straightLine(unweighted([[0.1, 40], [0.1, 41], [0.1, 44]]))).toBeNull(); // prettier-ignore
  });
});

describe('tails (computed, scipy 1.17.1)', () => {
  test.each([
    [0.5, 1, 3, 0.530477770932957],
    [4.2, 2, 7, 0.06331704192930522],
    [30, 3, 4, 0.0033466516272668994],
    [1, 1, 1, 0.5],
    [250, 4, 12, 1.9260421902544435e-11],
  ])('F %d with %d and %d degrees: %d', (f, over, under, tail) => {
    close(fisherTail(f, over, under), tail, 1e-9);
  });

  test.each([
    [0.5, 1, 0.47950012218695337],
    [3.84, 1, 0.05004352124870519],
    [11.866353, 8, 0.15726723764230863],
    [40, 3, 1.065509033425585e-8],
    [2, 9, 0.9914676066288135],
    [120, 30, 1.0202758541470007e-12],
  ])('χ² %d with %d degrees: %d', (x, freedom, tail) => {
    close(chiSquareTail(x, freedom), tail, 1e-10);
    expect(chiSquareTail(0, freedom)).toBe(1);
  });
});

test('Akaike’s criterion counts what a parameter costs', () => {
  // By hand: 10 ln(2/10) + 6 + 24/6.
  expect(akaike(2, 10, 3)).toBeCloseTo(10 * Math.log(0.2) + 6 + 4, 12);
  expect(akaike(2, 5, 3)).toBeCloseTo(5 * Math.log(0.4) + 6 + 24, 12);
  expect(akaike(2, 4, 3)).toBeNull();
});
