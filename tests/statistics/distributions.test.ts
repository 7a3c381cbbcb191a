import { describe, expect, test } from 'vitest';
import { binomialAtMost, binomialTail, binomialUpper } from '../../src/statistics/binomial.ts';
import { chiNodes } from '../../src/statistics/chi.ts';
import { chiSquareTail } from '../../src/statistics/chi-square.ts';
import { fisherTail } from '../../src/statistics/fisher.ts';
import { logGamma } from '../../src/statistics/gamma.ts';
import { hypergeometricAtMost } from '../../src/statistics/hypergeometric.ts';
import { normalHazard, normalQuantile, normalTail } from '../../src/statistics/normal.ts';
import { poissonAtLeast, poissonAtMost } from '../../src/statistics/poisson.ts';
import { rectangleAndNormal } from '../../src/statistics/rectangle.ts';
import { studentDistribution, studentQuantile } from '../../src/statistics/student.ts';
import { noncentralStudent } from '../../src/statistics/tolerance.ts';

/* Distributions against values computed by distributions.py in this folder (Python 3.11.7, mpmath 1.3.0, 60 digits). */

/** Apart by no more than a share of the expected value. */
const close = (value: number, expected: number, share: number): void => {
  expect(Math.abs(value - expected), `${value} for ${expected}`).toBeLessThanOrEqual(
    share * Math.abs(expected),
  );
};

describe('normal', () => {
  test.each([
    [0.5000001, 2.506628274631027e-7],
    [0.51, 0.02506890825871104],
    [0.54, 0.1004337205114698],
    [0.549, 0.1231352477348365],
    [0.6, 0.2533471031357998],
    [0.8, 0.8416212335729142],
    [0.45, -0.125661346855074],
    [0.3, -0.5244005127080408],
    [0.001, -3.090232306167814],
  ])('the quantile of %d: %d', (p, z) => {
    expect(Math.abs(normalQuantile(p) - z)).toBeLessThanOrEqual(2e-15 * Math.max(1, Math.abs(z)));
  });

  test.each([
    [2.9, 0.001865813300384038],
    [2.99, 0.00139488723549225],
    [3.01, 0.001306238448769468],
    [3.3, 0.0004834241423837772],
    [3.6, 0.0001591085901575339],
    [3.8, 7.234804392512e-5],
    [3.9, 4.809634401760272e-5],
    [3.99, 3.303664762940245e-5],
  ])('P(Z > %d) = %d, where the way it is worked out changes', (z, tail) => {
    close(normalTail(z), tail, 3e-13);
    close(normalHazard(z), Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI) / tail, 3e-13);
  });

  test('with an error that is as likely anywhere within ± a', () => {
    const ROWS = [
      [-3, 1, 1, 0.004241778679198616],
      [0, 2, 1, 0.5],
      [0.4, 1, 0.5, 0.6861646589851547],
      [1.9, 2, 0.1, 0.9729171132353078],
      [-6, 1, 1, 2.673073965286349e-8],
      [-1.02, 1, 0.01, 4.245351308414819e-5],
      [5, 2, 3, 0.9400029887793881],
      [-20, 3, 2, 3.62103442655746e-19],
      [0.1, 0.3, 0.2, 0.6417250773430478],
    ] as const;
    for (const [x, half, sigma, chance] of ROWS) {
      close(rectangleAndNormal(x, half, sigma), chance, 1e-10);
      // The same in another unit, and its mirror.
      close(rectangleAndNormal(x * 1e-6, half * 1e-6, sigma * 1e-6), chance, 1e-10);
      close(rectangleAndNormal(-x, half, sigma), 1 - chance, 1e-14);
    }
  });

  test('nothing but the rectangle, or nothing but the normal part', () => {
    expect([-3, -2, -1, 0, 1.5, 2, 3].map((x) => rectangleAndNormal(x, 2, 0))).toEqual([
      0, 0, 0.25, 0.5, 0.875, 1, 1,
    ]);
    close(rectangleAndNormal(-0.9, 0, 0.5), normalTail(1.8), 1e-15);
    // Far beyond both it is certain, in whatever unit.
    expect(rectangleAndNormal(0.5, 1e-9, 1e-9)).toBe(1);
  });
});

describe('binomial', () => {
  test.each([
    [500, 10_000, 0.05, 0.5118950329565742],
    [5100, 10_000, 0.5, 0.9777871004769597],
    [2, 9, 0.1, 0.947027862],
    [0, 3, 0.2, 0.512],
    [30, 40, 0.75, 0.560460268327467],
  ])('P(X ≤ %i) of %i at %d: %d', (count, trials, share, chance) => {
    close(binomialAtMost(count, trials, share), chance, 2e-11);
    expect(binomialTail(count + 1, trials, share)).toBeCloseTo(1 - chance, 11);
  });

  test('it is never more than certain, and certain of no less than none', () => {
    for (let trials = 1; trials <= 60; trials++)
      for (const share of [0.1, 0.3, 0.5, 0.77, 0.9]) {
        expect(binomialAtMost(trials, trials, share)).toBeLessThanOrEqual(1);
        expect(binomialAtMost(trials, trials, share)).toBeCloseTo(1, 12);
      }
    expect(binomialTail(0, 5, 0)).toBe(1);
    expect(binomialTail(0, 5, 1)).toBe(1);
  });

  test('all but one of two: the bound is √p, where P(both) = p²', () => {
    close(binomialUpper(1, 2, 0.81), 0.9, 1e-14);
  });
});

describe('counts far from their mean', () => {
  test('far above it no more are certain, far below it none', () => {
    expect(poissonAtMost(5000, 100)).toBe(1);
    expect(poissonAtLeast(100, 5000)).toBe(1);
    const drawing = { lot: 100_000, failing: 50_000, sample: 50_000 };
    expect(hypergeometricAtMost(40_000, drawing)).toBe(1);
    expect(hypergeometricAtMost(10_000, drawing)).toBe(0);
  });
});

describe('χ², F and Student’s t', () => {
  test.each([
    [1e-6, 1, 0.9992021155721779],
    [0.4, 2, 0.8187307530779819],
    [1.2, 1, 0.2733216782922981],
    [2.1, 2, 0.3499377491111554],
    [9, 9, 0.4372741889138671],
    [10.5, 9, 0.3115423405622114],
    [11.5, 9, 0.2429858445693044],
    [900, 1000, 0.9892827619087103],
    [1010, 1000, 0.406033150947736],
    [1300, 1000, 3.889736499486852e-10],
    [700, 3, 2.099130853420409e-151],
  ])('P(χ² ≥ %d) with %i degrees: %d', (x, freedom, tail) => {
    close(chiSquareTail(x, freedom), tail, 2e-12);
  });

  test('a χ² that rounding takes below zero is zero', () => {
    expect(chiSquareTail(-1e-30, 4)).toBe(1);
  });

  test.each([
    [0.01, 3, 8, 0.998511477789097],
    [0.9, 5, 5, 0.5446132206335015],
    [1.1, 200, 300, 0.2271263288770809],
    [2.5, 1.5, 7.25, 0.1538095379426136],
    [60, 2, 9, 6.258029356991723e-6],
    [1.02, 600, 900, 0.3932980750079737],
  ])('P(F ≥ %d) with %d and %d degrees: %d', (f, over, under, tail) => {
    close(fisherTail(f, over, under), tail, 3e-12);
  });

  test('F of 1 with the same degrees twice is ½; F of 0 is exceeded for certain', () => {
    for (const degrees of [1, 2, 7, 40]) close(fisherTail(1, degrees, degrees), 0.5, 1e-13);
    expect(fisherTail(0, 3, 4)).toBe(1);
  });

  test.each([
    [-30, 2, 0.0005546313409798295],
    [-1.5, 4, 0.104],
    [-0.3, 7, 0.3864450252010671],
    [0.3, 7, 0.613554974798933],
    [0.9, 1, 0.7332622916434259],
    [1.7, 5.5, 0.9277356651169103],
    [2.2, 2001, 0.9860395785604197],
    [8, 30, 0.9999999968670888],
  ])('P(T ≤ %d) with %d degrees: %d', (t, freedom, chance) => {
    close(studentDistribution(t, freedom), chance, 2e-12);
  });

  test.each([
    [0.5001, 3, 0.0002720699091105033],
    [0.52, 5, 0.05271538924388143],
    [0.549, 8, 0.1270972110730576],
    [0.7, 3.5, 0.575338701772231],
    [0.9, 2001, 1.281974789000052],
    [0.9995, 2, 31.59905457644362],
    [0.45, 6, -0.1310756531157265],
  ])('the quantile of %d with %d degrees: %d', (p, freedom, t) => {
    expect(Math.abs(studentQuantile(p, freedom) - t)).toBeLessThanOrEqual(3e-12 * Math.max(1, Math.abs(t)));
  });

  test('without a shift the non-central t is Student’s; shifted by far it is not reached', () => {
    for (const freedom of [1, 2, 5, 40])
      for (const t of [-3, -0.4, 0, 0.4, 3])
        expect(noncentralStudent(t, freedom, 0)).toBeCloseTo(studentDistribution(t, freedom), 9);
    expect(noncentralStudent(1, 5, 40)).toBeLessThan(1e-12);
  });
});

describe('ln Γ and the mean of χ', () => {
  test.each([
    [0.05, 2.968879201051731],
    [0.7, 0.2608672465316665],
    [3.3, 0.987098577894735],
    [11.3, 15.81418068137395],
    [12, 17.50230784587389],
    [12.4, 18.48624553316805],
    [13, 19.98721449566189],
    [25, 54.78472939811232],
    [1000.5, 5908.674175848677],
    [100_000, 1051287.708973657],
  ])('ln Γ(%d) = %d', (x, value) => {
    expect(Math.abs(logGamma(x) - value)).toBeLessThanOrEqual((x < 12 ? 2e-14 : 2e-15) * Math.max(1, value));
  });

  test('a deviation that is not estimated is the true one', () => {
    expect(chiNodes(0, 40)).toEqual([[1, 1]]);
  });

  test.each([
    [1, 0.7978845608028654],
    [2, 0.886226925452758],
    [3, 0.9213177319235613],
    [8, 0.9693106997139541],
    [29, 0.9914180532926729],
    [200, 0.9987507861262518],
  ])('the deviation estimated with %i degrees is %d of the true one on average', (freedom, mean) => {
    for (const [steps, share] of [
      [80, 5e-7],
      [600, 1e-13],
    ] as const) {
      const nodes = chiNodes(freedom, steps);
      const over = (of: (s: number) => number): number =>
        nodes.reduce((sum, [s, weight]) => sum + weight * of(s), 0);
      close(
        over((s) => s),
        mean,
        share,
      );
      close(
        over(() => 1),
        1,
        share,
      );
      // The variance is estimated without bias.
      close(
        over((s) => s * s),
        1,
        share,
      );
    }
  });
});
