import { expect, test } from 'vitest';
import { Random } from '../fuzz/random.ts';
import { claimRates, SETTINGS } from './claims-level.ts';

/* A short round of `npm run claims`; the level is one in ten, and 300 sets have a standard deviation of 1.7 %. */

test.each(SETTINGS)('a claim equal to the true mean: %o', (setting) => {
  const { supported, refused } = claimRates(300, new Random(9, setting.coverage, setting.machines), setting);
  expect(supported).toBeLessThan(0.155);
  expect(refused).toBeLessThan(0.155);
  if (setting.stopped) expect(refused).toBeLessThan(0.01);
});
