import { expect, test } from 'vitest';
import { solve } from '../../src/statistics/solve.ts';

test('a zero between two places, or above them, to the last digit', () => {
  expect(solve((x) => x * x - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
  expect(solve((x) => x * x - 2e10, 0, 1)).toBeCloseTo(Math.SQRT2 * 1e5, 9);
  expect(solve((x) => x, 0, 1)).toBeCloseTo(0, 15);
});

test('what never rises to zero has it nowhere, and is not looked for without end', () => {
  expect(solve(() => -1, 0, 1)).toBe(Infinity);
  expect(solve((x) => 1 - 1e-12 - 1 / (1 + 1 / x) - 1, 0, 1)).toBe(Infinity);
});
