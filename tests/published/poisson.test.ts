import { describe, expect, test } from 'vitest';
import { binomialTail } from '../../src/statistics/binomial.ts';
import { poissonAtMost, poissonLower, poissonUpper } from '../../src/statistics/poisson.ts';
import { figure, judge, run } from '../run.ts';

/*
 * Exact bounds of a Poisson count and exact binomial tails. The table is computed by poisson.py in this
 * folder (Python 3.11.7, bisection of the distribution function in 60-digit decimals); what a table of the
 * χ² distribution gives is from memory.
 */

/** Apart by no more than the twelfth significant digit. */
const close = (value: number, expected: number): void => {
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(5e-12 * Math.abs(expected));
};

describe('one-sided bounds of the mean', () => {
  // Count, probability, lower and upper bound.
  const COMPUTED: readonly (readonly [number, number, number, number])[] = [
    [0, 0.9, 0, 2.302585092994],
    [1, 0.9, 0.10536051565783, 3.8897201698674],
    [2, 0.9, 0.53181160838961, 5.3223203378342],
    [3, 0.9, 1.1020653282493, 6.6807830682559],
    [5, 0.9, 2.4325910259627, 9.2746738933516],
    [10, 0.9, 6.221304605225, 15.406641171977],
    [24, 0.9, 17.974565512352, 31.583560502863],
    [100, 0.9, 87.417636499594, 114.07453713067],
    [1000, 0.9, 959.69393272883, 1041.7545690776],
    [0, 0.95, 0, 2.995732273554],
    [1, 0.95, 0.051293294387551, 4.7438645183906],
    [2, 0.95, 0.35536151069866, 6.295793621872],
    [3, 0.95, 0.81769144716395, 7.7536565279327],
    [5, 0.95, 1.9701495680595, 10.513034908742],
    [10, 0.95, 5.4254056970913, 16.962219235722],
    [24, 0.95, 16.549038714743, 33.752403274771],
    [100, 0.95, 84.139277218314, 118.0792727821],
    [1000, 0.95, 948.55984938365, 1053.6031221333],
    [0, 0.975, 0, 3.6888794541139],
    [1, 0.975, 0.02531780798429, 5.5716433909389],
    [2, 0.975, 0.24220927854396, 7.224687667724],
    [3, 0.975, 0.6186721228956, 8.7672730697423],
    [5, 0.975, 1.6234863901184, 11.668332079323],
    [10, 0.975, 4.7953886961324, 18.390356042018],
    [24, 0.975, 15.377252854686, 35.710097593753],
    [100, 0.975, 81.363991250923, 121.62679379243],
    [1000, 0.975, 938.9730184077, 1063.9521360163],
    [0, 0.99, 0, 4.6051701859881],
    [1, 0.99, 0.010050335853501, 6.6383520679938],
    [2, 0.99, 0.14855474025327, 8.4059469148855],
    [3, 0.99, 0.43604516507829, 10.045117514832],
    [5, 0.99, 1.2791060800936, 13.108483652768],
    [10, 0.99, 4.1301991662732, 20.144680218797],
    [24, 0.99, 14.088504476514, 38.076945624506],
    [100, 0.99, 78.215983053796, 125.83865288361],
    [1000, 0.99, 927.90815979664, 1076.0696074383],
  ];

  test.each(COMPUTED)('%i events at %d: %d to %d', (count, probability, lower, upper) => {
    close(poissonLower(count, 1 - probability), lower);
    close(poissonUpper(count, 1 - probability), upper);
  });

  test('halves of χ² table values (from memory): χ²(0.975; 2) = 7.378, (0.975; 4) = 11.143, (0.025; 2) = 0.0506', () => {
    expect(poissonUpper(0, 0.025).toFixed(3)).toBe('3.689');
    expect(poissonUpper(1, 0.025).toFixed(3)).toBe('5.572');
    expect(poissonLower(1, 0.025).toFixed(4)).toBe('0.0253');
    expect((2 * poissonUpper(0, 0.025)).toFixed(3)).toBe('7.378');
    expect((2 * poissonUpper(1, 0.025)).toFixed(3)).toBe('11.143');
    expect((2 * poissonLower(1, 0.025)).toFixed(4)).toBe('0.0506');
    // χ²(0.95; 22) = 33.924, χ²(0.05; 20) = 10.851: ten events.
    expect((2 * poissonUpper(10, 0.05)).toFixed(3)).toBe('33.924');
    expect((2 * poissonLower(10, 0.05)).toFixed(3)).toBe('10.851');
  });

  test('no events: the upper bound is −ln(1 − p); at 95 % 2.996, which the "rule of three" rounds to 3', () => {
    expect(poissonUpper(0, 0.05).toFixed(3)).toBe('2.996');
    expect(Math.round(poissonUpper(0, 0.05))).toBe(3);
    for (const p of [0.5, 0.8, 0.999]) close(poissonUpper(0, 1 - p), -Math.log(1 - p));
    expect(poissonLower(0, 0.05)).toBe(0);
  });

  test('one event: the lower bound is −ln p, since P(X = 0) = e^−m', () => {
    for (const p of [0.5, 0.8, 0.999]) close(poissonLower(1, 1 - p), -Math.log(p));
  });
});

describe('the Poisson distribution function', () => {
  test('hand-worked: P(X ≤ 2; 1) = (1 + 1 + 1/2)/e; P(X ≤ 0; 3) = e^−3; P(X ≤ 3; 2) = (1 + 2 + 2 + 4/3)/e²', () => {
    close(poissonAtMost(2, 1), 2.5 / Math.E);
    close(poissonAtMost(0, 3), Math.exp(-3));
    close(poissonAtMost(3, 2), 19 / 3 / Math.exp(2));
  });

  test('where nothing is expected, no more than any count is certain', () => {
    expect(poissonAtMost(0, 0)).toBe(1);
    expect(poissonAtMost(5, 0)).toBe(1);
  });

  test('it falls with the mean and rises with the count', () => {
    for (const count of [0, 3, 40, 400]) {
      expect(poissonAtMost(count, count + 2)).toBeLessThan(poissonAtMost(count, count + 1));
      expect(poissonAtMost(count + 1, count + 1)).toBeGreaterThan(poissonAtMost(count, count + 1));
    }
  });
});

describe('the binomial tail P(X ≥ k)', () => {
  test('hand-worked: two coins, at least one head 3/4, two 1/4', () => {
    close(binomialTail(1, 2, 0.5), 0.75);
    close(binomialTail(2, 2, 0.5), 0.25);
  });

  test('hand-worked: three throws of a die, at least two sixes 3 × (1/36)(5/6) + 1/216 = 16/216', () => {
    close(binomialTail(2, 3, 1 / 6), 16 / 216);
  });

  test('hand-worked: four of four at 1/10 is 10^−4', () => {
    close(binomialTail(4, 4, 0.1), 1e-4);
  });

  test.each([
    [3, 7, 1 / 5, 0.148032],
    [10, 40, 1 / 8, 0.022717622172092],
    [2, 300, 1 / 100, 0.80235033601573],
  ])('%i or more of %i at %d: %d (exact fractions, poisson.py)', (count, trials, share, tail) => {
    close(binomialTail(count, trials, share), tail);
  });

  test('its edges', () => {
    expect(binomialTail(0, 5, 0.3)).toBeCloseTo(1, 14);
    expect(binomialTail(1, 5, 0)).toBe(0);
    expect(binomialTail(5, 5, 1)).toBe(1);
    expect(binomialTail(6, 5, 1)).toBe(0);
    expect(binomialTail(1, 0, 0.5)).toBe(0);
  });
});

/** A trial of 10 000 pages with so many events of a kind. */
const trial = (count: number, limits = '', kind = 'jam'): string => `
trial: Sluice Road lot 9, machine Ochre
meter: {start: 40000, end: 50000}
events: [${Array.from({ length: count }, () => `{kind: ${kind}}`).join(', ')}]
${limits === '' ? '' : `limits: {${limits}}`}
`;

describe('event rates', () => {
  test.each([
    ['jams_per_thousand', 'jam'],
    ['stops_per_thousand', 'stop'],
  ])('%s: 24 in 10 000 pages are 2.4, u = √24 / 10 = 0.489898', (name, kind) => {
    const found = figure(trial(24, '', kind), name);
    expect(found).toMatchObject({ value: '2.4', unit: '1', bound: 'exact' });
    expect(Number(found?.u)).toBeCloseTo(Math.sqrt(24) / 10, 9);
    expect(Number(found?.u)).toBeCloseTo(0.489898, 6);
  });

  test('events of another kind do not count, and none recorded is 0', () => {
    expect(figure(trial(3, '', 'misfeed'), 'jams_per_thousand')).toMatchObject({ value: '0', u: '0' });
    expect(figure(trial(3, '', 'jam'), 'stops_per_thousand')).toMatchObject({ value: '0', u: '0' });
  });

  test('text gives the exact two-sided 95 % interval: 24 jams, 15.377 to 35.710, for a thousand pages 1.5 to 3.6', () => {
    const { out } = run(['verdict', 'trial.yaml'], { 'trial.yaml': trial(24) });
    expect(out).toMatch(/jams per thousand pages: 2\.4, between 1\.5 and 3\.6 /);
  });
});

describe('guarded limits on event rates use one-sided bounds of probability Φ(factor)', () => {
  /*
   * Φ(2) = 0.9772498680518208 (computed, poisson.py). Of 0 events the upper bound is 3.7831843337; of 24
   * the bounds are 15.2326026375 and 35.9639690624: for a thousand of 10 000 pages a tenth of that.
   */
  const guarded = (count: number, edge: string, decision = '{rule: guarded}'): number =>
    judge(trial(count, `decision: ${decision}, jams_per_thousand: {${edge}}`)).code;

  test('no jam: a maximum of 0.3784 is met, of 0.3783 open, though no jam was seen', () => {
    expect(guarded(0, 'max: 0.37832')).toBe(0);
    expect(guarded(0, 'max: 0.37831')).toBe(2);
    expect(guarded(0, 'max: 0')).toBe(2);
  });

  test('24 jams: a maximum is met from 3.5964 on, missed below 1.52326', () => {
    expect(guarded(24, 'max: 3.5964')).toBe(0);
    expect(guarded(24, 'max: 3.5963')).toBe(2);
    expect(guarded(24, 'max: 1.5233')).toBe(2);
    expect(guarded(24, 'max: 1.5232')).toBe(1);
  });

  test('2.4 ± 2u would be 1.42 to 3.38: the symmetric band does not decide', () => {
    expect(guarded(24, 'max: 3.4')).toBe(2);
    expect(guarded(24, 'max: 1.45')).toBe(1);
  });

  test('a minimum is its mirror', () => {
    expect(guarded(24, 'min: 1.5232')).toBe(0);
    expect(guarded(24, 'min: 1.5233')).toBe(2);
    expect(guarded(24, 'min: 3.5963')).toBe(2);
    expect(guarded(24, 'min: 3.5965')).toBe(1);
  });

  test('factor 1: Φ(1) = 0.8413447460685429, 24 jams 19.1353877962 to 29.9669320671', () => {
    const one = '{rule: guarded, factor: 1}';
    expect(guarded(24, 'max: 2.9967', one)).toBe(0);
    expect(guarded(24, 'max: 2.9966', one)).toBe(2);
    expect(guarded(24, 'max: 1.9135', one)).toBe(1);
    expect(guarded(24, 'max: 1.9136', one)).toBe(2);
  });

  test('factor 0: Φ(0) = 1/2, the median-unbiased point, no value ± 0: 0 jams −ln(1/2) / 10 = 0.0693147', () => {
    const none = '{rule: guarded, factor: 0}';
    expect(guarded(0, 'max: 0.0694', none)).toBe(0);
    expect(guarded(0, 'max: 0.0693', none)).toBe(2);
  });

  test('the simple rule goes by the rate itself', () => {
    expect(judge(trial(24, 'jams_per_thousand: {max: 2.4}')).code).toBe(0);
    expect(judge(trial(24, 'jams_per_thousand: {max: 2.39}')).code).toBe(1);
  });
});
