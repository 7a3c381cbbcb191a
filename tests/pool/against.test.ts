import { describe, expect, test } from 'vitest';
import { type Against, compareGroups } from '../../src/pool/against.ts';
import type { PooledCartridge } from '../../src/pool/cartridge.ts';
import { cartridge as pooled } from './cartridge.ts';

/* Two groups of cartridges held against each other: what is compared, and what is not. The yields are invented. */

const cartridge = (
  machine: string | null,
  pages: number,
  over: Partial<PooledCartridge> = {},
): PooledCartridge => pooled(pages, { machine, ...over });

const against = (
  first: readonly PooledCartridge[],
  second: readonly PooledCartridge[],
  margin: number | null = null,
): Against | undefined => compareGroups(first, second, 0.9, margin)[0];

/** Means of the machines 10000, 10200 and 10500. */
const OWN = [
  cartridge('Ash', 9900),
  cartridge('Ash', 10100),
  cartridge('Elm', 10200),
  cartridge('Oak', 10500),
];
/** The same, 100 pages higher. */
const HIGHER = [
  cartridge('Ash', 10100),
  cartridge('Elm', 10200),
  cartridge('Elm', 10400),
  cartridge('Oak', 10600),
];

describe('what is compared', () => {
  test('the means of three machines, where both groups name them: √((233² + 33² + 267²) / 2) = 251.7 apart', () => {
    const found = against(OWN, HIGHER);
    expect(found).toMatchObject({ by: 'machines', first: { n: 3 }, second: { n: 3 } });
    expect(found?.first?.mean).toBeCloseTo(30700 / 3, 9);
    expect(found?.first?.sd).toBeCloseTo(Math.sqrt(190000 / 3), 9);
    expect(found?.second?.mean).toBeCloseTo(31000 / 3, 9);
    expect(found?.comparison?.difference).toBeCloseTo(-100, 9);
  });

  test('cartridges, where all are of one machine or one names none', () => {
    const one = (pages: number): PooledCartridge => cartridge('Ash', pages);
    expect(against([one(10000), one(10200)], [one(10100), one(10300)])?.by).toBe('cartridges');
    expect(against([one(10000), cartridge('Elm', 10200)], [one(10100), one(10300)])?.by).toBe('machines');
    expect(against([...OWN, cartridge(null, 10000)], HIGHER)?.by).toBe('cartridges');
  });

  test('neither what failed nor what is in doubt', () => {
    const odd = [cartridge('Ash', 500, { failed: true }), cartridge('Ash', 90000, { doubted: true })];
    expect(against([...OWN, ...odd], HIGHER)).toEqual(against(OWN, HIGHER));
  });
});

describe('what is not', () => {
  test('groups of which one cartridge was not exhausted: it is counted', () => {
    const going = [...OWN, cartridge('Elm', 12000, { exhausted: false })];
    expect(against(going, HIGHER)).toMatchObject({ unfinished: 1, comparison: null, equivalent: null });
    expect(against(HIGHER, going)).toMatchObject({ unfinished: 1, comparison: null });
  });

  test('one value, nor values that do not scatter', () => {
    expect(against([cartridge(null, 10000)], HIGHER)?.comparison).toBeNull();
    const alike = [cartridge(null, 10000), cartridge(null, 10000)];
    expect(against(alike, alike)?.comparison).toBeNull();
    expect(against(alike, HIGHER)?.comparison).not.toBeNull();
  });
});

test('equivalence at the level that leaves the same interval: 5 % for one of 90 %', () => {
  /*
   * Twice three cartridges, means 10000 and 10010, s = 10 each: error √(2 × 100/3) = 8.16497, 4 degrees of freedom,
   * t of 5 % = 2.131847 (scipy 1.17.1). 10 + 2.131847 × 8.16497 = 27.4065 pages is the margin that is just shown.
   */
  const group = (mean: number): PooledCartridge[] =>
    [-10, 0, 10].map((apart) => cartridge(null, mean + apart));
  expect(against(group(10000), group(10010), 27.41)?.equivalent).toBe(true);
  expect(against(group(10000), group(10010), 27.4)?.equivalent).toBe(false);
  expect(against(group(10010), group(10000), 27.41)?.equivalent).toBe(true);
  expect(against(group(10000), group(10010))?.equivalent).toBeNull();
});
