import { expect, test } from 'vitest';
import { falseAlarms, slipsThatTurn } from './rates.ts';

/* A short round of what `npm run doubts` does with thousands; the aims are one in 200 and nine in ten. */

test('trials whose readings agree are seldom doubted', () => {
  expect(falseAlarms(400, 41).length).toBeLessThanOrEqual(2);
});

test('nine in ten slips that turn the verdict are caught, with five checkpoints', () => {
  const turned = slipsThatTurn(150, 42);
  expect(turned.filter(({ caught }) => caught).length).toBeGreaterThanOrEqual(135);
});

test('right readings of the same kind are decided', () => {
  // The limit lies at twice the rate: nothing is met because nothing was decided.
  expect(falseAlarms(50, 43)).toEqual([]);
});
