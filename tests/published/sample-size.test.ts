import { describe, expect, it } from 'vitest';
import { demonstrationSize } from '../../src/statistics/demonstration.ts';
import { sampleSizeNormal, sampleSizeStudent } from '../../src/statistics/sample-size.ts';

// NIST/SEMATECH e-Handbook 7.2.2.2 (seen second-hand): a test at α = 0.05 with β = 0.10 of a shift of one
// standard deviation, one-sided: (1.645 + 1.282)² = 8.567, that is 9; iterated once with Student's t of 8
// degrees of freedom (1.860 + 1.397)² = 10.6, that is 11.
describe('a mean above a value, one-sided', () => {
  it('takes 9 with the deviation known', () => {
    expect(sampleSizeNormal(1, 1, [0.95, 0.9])).toBe(9);
  });

  it('takes 11 with it estimated', () => {
    expect(sampleSizeStudent(1, 1, [0.95, 0.9])).toBe(11);
  });

  it('goes by the ratio of deviation and distance alone', () => {
    expect(sampleSizeStudent(350, 350, [0.95, 0.9])).toBe(11);
  });
});

// The handbook's table for two-sided tests (seen second-hand): α 0.05 and β 0.10, and α 0.10 and β 0.10,
// each for shifts of 0.5, 1 and 1.5 standard deviations.
describe('the table for two-sided tests', () => {
  it.each([
    [0.5, 43, 35],
    [1, 11, 9],
    [1.5, 5, 4],
  ])('shift of %d standard deviations', (shift, strict, usual) => {
    expect(sampleSizeNormal(1, shift, [0.975, 0.9])).toBe(strict);
    expect(sampleSizeNormal(1, shift, [0.95, 0.9])).toBe(usual);
  });
});

// Computed with R 4.2.2: the smallest n with n ≥ (Σ qt(p, n − 1) · sd/d)².
it.each([
  [213, 300, [0.9, 0.9], 5],
  [350, 800, [0.9, 0.9], 3],
  [1, 0.5, [0.975], 18],
  [1, 0.5, [0.95], 13],
  [1, 0.2, [0.95], 70],
])('sd %d, distance %d, probabilities %j: %d', (sd, apart, probabilities, n) => {
  expect(sampleSizeStudent(sd, apart, probabilities)).toBe(n);
});

it('needs at least two, whatever the deviation', () => {
  expect(sampleSizeStudent(0, 100, [0.9, 0.9])).toBe(2);
});

it('ends for distances far below the deviation', () => {
  expect(sampleSizeStudent(1, 1e-5, [0.9, 0.9])).toBeGreaterThan(1e10);
});

// The zero-failure number has the closed form ln(1 − C)/ln(1 − p), rounded up.
describe('no failures allowed', () => {
  it.each([
    [0.1, 0.9, 22],
    [0.1, 0.95, 29],
    [0.05, 0.95, 59],
  ])('at most %d failing, confidence %d: %d', (share, confidence, n) => {
    expect(demonstrationSize(share, confidence, 0)).toBe(n);
    expect(Math.ceil(Math.log(1 - confidence) / Math.log(1 - share))).toBe(n);
  });

  it('the sum itself, where it is whole', () => {
    expect(demonstrationSize(0.5, 0.75, 0)).toBe(2);
  });
});

// Computed with R 4.2.2: the smallest n with pbinom(c, n, p) ≤ 1 − C.
it.each([
  [0.1, 0.9, [22, 38, 52, 65]],
  [0.1, 0.95, [29, 46, 61, 76]],
  [0.05, 0.95, [59, 93, 124, 153]],
])('at most %d failing, confidence %d, with 0, 1, 2, 3 failed: %j', (share, confidence, sizes) => {
  expect([0, 1, 2, 3].map((allowed) => demonstrationSize(share, confidence, allowed))).toEqual(sizes);
});
