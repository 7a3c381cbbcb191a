import { describe, expect, test } from 'vitest';
import { claimPower } from '../../src/statistics/claim-power.ts';

const scatter = (within: number, between: number, u = 0) => ({
  within,
  between,
  common: { u, half: Math.sqrt(3) * u * 0.8 },
});

describe('the chance that a claim is supported', () => {
  // Computed with scipy's non-central t (claim-power.py).
  test.each([
    [9, 1, 1, 0.9399839456],
    [5, 2, 1.5, 0.9129289866],
    [4, 2, 2, 0.6645440051],
    [3, 3, 1, 0.9937996112],
  ])('one cartridge in each of %d machines', (machines, gap, sd, chance) => {
    expect(claimPower({ machines, each: 1 }, scatter(0, sd), gap, 0.9)).toBeCloseTo(chance, 4);
  });

  // Simulated with numpy, two million sets each (claim-power.py): three standard deviations are below 0.001. The
  // coverage's error is rectangular there and taken as normal in the chance, which moves it a little more.
  test.each([
    [3, 3, 1, 1, 0, 2, 0.8408, 0.001],
    [6, 2, 1, 0.5, 0, 1, 0.8978, 0.001],
    [4, 3, 1, 0, 0.2, 0.8, 0.7416, 0.01],
  ])('%d machines with %d each', (machines, each, within, between, u, gap, chance, apart) => {
    const found = claimPower({ machines, each }, scatter(within, between, u), gap, 0.9);
    expect(Math.abs(found - chance)).toBeLessThan(apart);
  });

  test('three machines of three, cartridges as alike as machines: less than the nine alone promise', () => {
    const alone = claimPower({ machines: 9, each: 1 }, scatter(1, 0), 1.4, 0.9);
    expect(claimPower({ machines: 3, each: 3 }, scatter(Math.SQRT1_2, Math.SQRT1_2), 1.4, 0.9)).toBeLessThan(
      alone,
    );
  });
});
