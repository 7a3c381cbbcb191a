import { expect, test } from 'vitest';
import { nextCount } from '../../src/statistics/poisson-next.ts';

/* Quantiles and standard deviations: scipy.stats.nbinom (1.x) of n = count + 0.5, p = seen / (seen + next); computed. */

test.each([
  [0, 10_000, 30_000, 0, 8, 2.449489742783178],
  [3, 60_000, 30_000, 0, 6, 1.620185174601965],
  [25, 54_000, 30_000, 6, 24, 4.694362260950579],
  [2, 20_000, 400_000, 7, 130, 32.403703492039305],
])('%i stops in %i pages, for the next %i', (count, seen, next, lower, upper, sd) => {
  const found = nextCount(count, seen, next, 0.95);
  expect(found).toMatchObject({ lower, upper, mean: (count * next) / seen });
  expect(found.sd).toBeCloseTo(sd, 10);
});

/** Probabilities of the counts of a Poisson distribution, as far as they matter. */
function poisson(mean: number): number[] {
  const all = [Math.exp(-mean)];
  for (let k = 1; k < mean + 12 * Math.sqrt(mean) + 30; k++) all.push(((all[k - 1] ?? 0) * mean) / k);
  return all;
}

test('the next count lies in its interval in 95 of 100 cases and more, whatever the rate: all cases summed', () => {
  for (const ratio of [0.3, 1, 5])
    for (const mean of [0.3, 1, 3, 8, 20]) {
      const next = poisson(mean * ratio);
      const covered = poisson(mean).reduce((sum, chance, count) => {
        const { lower, upper } = nextCount(count, 10_000, 10_000 * ratio, 0.95);
        return sum + chance * next.slice(lower, upper + 1).reduce((all, one) => all + one, 0);
      }, 0);
      expect(covered, `${mean} seen, ${mean * ratio} to come`).toBeGreaterThan(0.93);
    }
});
