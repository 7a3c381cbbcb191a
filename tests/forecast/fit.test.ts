import { describe, expect, test } from 'vitest';
import { fitOf, levelsOf, massAt } from '../../src/forecast/fit.ts';
import type { TriedPoint } from '../../src/forecast/tried.ts';
import reference from './fit-reference.json' with { type: 'json' };

/*
 * The whole fit against values computed by fit.py in this folder, frozen in fit-reference.json with the versions used. It
 * minimises the criterion with a general routine, to some 6 digits where coverages are uncertain. The data are invented.
 */

const close = (value: number | undefined, expected: number, share: number): void => {
  expect(Math.abs((value ?? NaN) - expected), `${value ?? 'nothing'} for ${expected}`).toBeLessThanOrEqual(
    share * Math.max(Math.abs(expected), 1e-9),
  );
};

const point = (coverage: number, coverageU: number, mass: number, massU: number): TriedPoint => ({
  file: 't.yaml',
  coverage,
  coverageU,
  mass,
  massU,
  serial: null,
  source: {},
  shared: new Map(),
});

test('the versions are those named here', () => {
  expect(reference.tool).toBe('numpy 2.4.6; scipy 1.17.1');
});

describe('scatter, line, covariance and lack of fit (computed)', () => {
  test.each(reference.sets)('$name', ({ levels, fit: expected }) => {
    const points = levels.flatMap(([coverage, coverageU, of]) =>
      (of as [number, number][]).map(([mass, massU]) =>
        point(Number(coverage), Number(coverageU), mass, massU),
      ),
    );
    const fit = fitOf(points);
    close(fit?.scatter, expected.scatter, 1e-6);
    close(fit?.line.intercept, expected.m0, 1e-6);
    close(fit?.line.slope, expected.m1, 1e-6);
    close(Math.sqrt(fit?.line.varIntercept ?? NaN), expected.u_m0, 1e-5);
    close(Math.sqrt(fit?.line.varSlope ?? NaN), expected.u_m1, 1e-5);
    const { covariance, varIntercept, varSlope } = fit?.line ?? {};
    close((covariance ?? NaN) / Math.sqrt((varIntercept ?? NaN) * (varSlope ?? NaN)), expected.r, 1e-5);
    expect(fit?.lackOfFit?.test).toBe('F');
    close(fit?.lackOfFit?.statistic, expected.F, 1e-4);
  });
});

test('points of one coverage and one tolerance are of one document; another tolerance is another', () => {
  const levels = levelsOf([
    point(5, 0.1, 30, 1),
    point(5, 0.1, 31, 1),
    point(5, 0, 32, 1),
    point(2, 0, 9, 1),
  ]);
  expect(levels.map(({ coverage, points }) => [coverage, points.length])).toEqual([
    [2, 1],
    [5, 2],
    [5, 1],
  ]);
  // Two documents of one coverage make no line.
  expect(fitOf([point(5, 0.1, 30, 1), point(5, 0, 32, 1)])).toBeNull();
  expect(fitOf([])).toBeNull();
});

test('more cartridges with one document make its coverage no better known', () => {
  const slopeU = (cartridges: number): number => {
    const points = [2, 8].flatMap((coverage) =>
      Array.from({ length: cartridges }, () => point(coverage, 0.2, 6 + 4 * coverage, 0.5)),
    );
    return Math.sqrt(fitOf(points)?.line.varSlope ?? NaN);
  };
  // Two documents 6 % apart, each off by u = 0.2 % of the page: √2 × 4 × 0.2 / 6 is left however many there are.
  close(slopeU(10_000), (Math.SQRT2 * 4 * 0.2) / 6, 1e-3);
  expect(slopeU(1)).toBeGreaterThan(slopeU(10_000));
});

test('on the floor a page takes the least, above it what the line says', () => {
  const points = [1, 2, 5, 8].flatMap((coverage) =>
    [-0.1, 0.1].map((off) => point(coverage, 0, Math.max(20, 6 + 4 * coverage) + off, 0.05)),
  );
  const fit = fitOf(points);
  expect(fit?.floor).not.toBeNull();
  if (fit === null) return;
  expect([0.5, 3, 4, 8].map((coverage) => massAt(fit, coverage).toFixed(3))).toEqual([
    '20.000',
    '20.000',
    '22.000',
    '38.000',
  ]);
});
