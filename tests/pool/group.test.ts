import { describe, expect, test } from 'vitest';
import student from '../../shared/published/student-t.json' with { type: 'json' };
import factors from '../../shared/published/tolerance-factors.json' with { type: 'json' };
import { poolJson } from '../../src/output/pool-data.ts';
import { poolText } from '../../src/output/pool-text.ts';
import type { PooledCartridge } from '../../src/pool/cartridge.ts';
import { type Apart, type Confidence, type Group, groupsOf, poolGroup } from '../../src/pool/group.ts';
import type { Pooled } from '../../src/pool/pooled.ts';
import { toleranceOverGroups } from '../../src/statistics/tolerance.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { cartridge as pooled } from './cartridge.ts';

/*
 * What is said of a group of cartridges: cases worked by hand, sums of squares written out. Student's t and
 * the tolerance factors are those of shared/published/, to the digits there. The yields are invented.
 */

/** Student's t that is exceeded with this probability: e-Handbook 1.3.6.7.2, the digits computed with scipy. */
const t = (tail: '0.10' | '0.05', degrees: number): number =>
  student.rows.find(({ df }) => df === degrees)?.computed[`upper_${tail}`] ?? NaN;

/** The factor below which 90 % lie with 90 % confidence, for n values (computed with scipy). */
const k90 = (n: number): number =>
  factors.rows.find((row) => row.n === n && row.confidence === 0.9)?.k1_exact ?? NaN;

const ONE_SIDED: Confidence = { level: 0.9, tail: 'one-sided' };
const TWO_SIDED: Confidence = { level: 0.9, tail: 'two-sided' };

const cartridge = (pages: number, over: Partial<PooledCartridge> = {}): PooledCartridge =>
  pooled(pages, { machine: 'Teal', ...over });

const exhausted = (...yields: readonly number[]): PooledCartridge[] => yields.map((one) => cartridge(one));
const atLeast = (...yields: readonly number[]): PooledCartridge[] =>
  yields.map((one) => cartridge(one, { exhausted: false }));
const failed = (...yields: readonly number[]): PooledCartridge[] =>
  yields.map((one) => cartridge(one, { failed: true, exhausted: false }));
const inMachine = (machine: string | null, ...yields: readonly number[]): PooledCartridge[] =>
  yields.map((one) => cartridge(one, { machine }));

const pool = (
  cartridges: readonly PooledCartridge[],
  claim: number | null = null,
  confidence: Confidence = ONE_SIDED,
  few = true,
): Group => poolGroup(cartridges, 'black', null, confidence, claim === null ? null : new Decimal(claim), few);

const pooledOf = (group: Group): Pooled => ({
  referenceCoverage: new Decimal(5),
  groups: [group],
  leftOut: [],
  against: [],
  trend: null,
  claims: [],
  oddNames: [],
});

const textOf = (group: Group): string => poolText(pooledOf(group));

const jsonOf = (group: Group): string => poolJson(pooledOf(group), 'tallytare 0.0.0');

const near = (value: Decimal | number | null, expected: number): void => {
  expect(Number(value ?? NaN)).toBeCloseTo(expected, 5);
};

// Mean 10 000; squares 0 + 40 000 + 40 000 + 0, so s = √(80 000 / 3).
const FOUR = exhausted(10000, 10200, 9800, 10000);
const S4 = Math.sqrt(80000 / 3);

describe('mean, deviation and t of all', () => {
  test('four exhausted', () => {
    const group = pool(FOUR);
    expect(group.n).toBe(4);
    expect(group.atLeast).toBe(0);
    near(group.mean, 10000);
    near(group.sd, S4);
    near(group.t, t('0.10', 3));
  });

  test('those not exhausted count at their printed pages', () => {
    // Sum 52 500.
    const group = pool([...FOUR, ...atLeast(12500)]);
    expect(group.n).toBe(5);
    expect(group.atLeast).toBe(1);
    near(group.mean, 10500);
    // 500² + 300² + 700² + 500² + 2000² = 5 080 000, over 4.
    near(group.sd, Math.sqrt(1270000));
    near(group.t, t('0.10', 4));
  });

  test('the worked case of nine (reference computed with scipy 1.17.1)', () => {
    const nine = exhausted(2310, 2285, 2342, 2298, 2325, 2270, 2335, 2301, 2319);
    expect(pool(nine).mean?.toFixed(6)).toBe('2309.444444');
    expect(pool(nine).sd?.toFixed(6)).toBe('23.458000');
    expect(pool(nine).lowerBound?.toFixed(6)).toBe('2298.522280');
    expect(pool(nine, null, TWO_SIDED).lowerBound?.toFixed(6)).toBe('2294.904018');
    expect(pool(nine).t?.toFixed(3)).toBe('1.397');
    expect(pool(nine, null, TWO_SIDED).t?.toFixed(3)).toBe('1.860');
  });
});

describe('lower bound: the smaller of all and of the exhausted ones alone', () => {
  test('all exhausted: mean − t s / √n', () => {
    near(pool(FOUR).lowerBound, 10000 - (t('0.10', 3) * S4) / 2);
  });

  test('two-sided: the quantile leaves half as much', () => {
    near(pool(FOUR, null, TWO_SIDED).lowerBound, 10000 - (t('0.05', 3) * S4) / 2);
  });

  test('and the upper bound is as far above, where all were exhausted; of one there is none', () => {
    near(pool(FOUR).upperBound, 10000 + (t('0.10', 3) * S4) / 2);
    expect(pool([...FOUR, ...atLeast(10000)]).upperBound).toBeNull();
    expect([pool(exhausted(10000)).upperBound, pool(exhausted(10000)).t]).toEqual([null, null]);
  });

  test('one-sided 95 % is the lower end of two-sided 90 %', () => {
    near(pool(FOUR, null, { level: 0.95, tail: 'one-sided' }).lowerBound, 10000 - (t('0.05', 3) * S4) / 2);
  });

  test('one that stopped far above widens the scatter of all: that bound is the smaller', () => {
    // 12 000: mean 10 400; 400² + 200² + 600² + 400² + 1600² = 3 280 000, over 4 is 820 000.
    const ofAll = 10400 - (t('0.10', 4) * Math.sqrt(820000)) / Math.sqrt(5);
    const group = pool([...FOUR, ...atLeast(12000)]);
    expect(ofAll).toBeLessThan(10000 - (t('0.10', 3) * S4) / 2);
    near(group.lowerBound, ofAll);
  });

  test('one that stopped a little above lifts the bound of all: that of the exhausted ones stays', () => {
    // 10 500: mean 10 100; 100² + 100² + 300² + 100² + 400² = 280 000, over 4 is 70 000.
    const ofAll = 10100 - (t('0.10', 4) * Math.sqrt(70000)) / Math.sqrt(5);
    const ofExhausted = 10000 - (t('0.10', 3) * S4) / 2;
    expect(ofAll).toBeGreaterThan(ofExhausted);
    near(pool([...FOUR, ...atLeast(10500)]).lowerBound, ofExhausted);
  });

  test.each([
    ['one exhausted', exhausted(10000)],
    ['one exhausted, five not', [...exhausted(10000), ...atLeast(9000, 9100, 9200, 9300, 9400)]],
    ['none exhausted', atLeast(9000, 9100, 9200)],
    ['all failed', failed(10, 20, 30)],
    ['one exhausted, one failed', [...exhausted(10000), ...failed(500)]],
  ])('none with fewer than two exhausted: %s', (_, cartridges) => {
    const group = pool(cartridges);
    expect(group.lowerBound).toBeNull();
    expect(group.toleranceBound).toBeNull();
    expect(textOf(group)).toContain('needs two exhausted cartridges');
  });

  test('two exhausted are enough', () => {
    near(pool(exhausted(9900, 10100)).t, t('0.10', 1));
    // Mean 10 000, s = √(2 × 100²) = 141.42, s / √2 = 100.
    near(pool(exhausted(9900, 10100)).lowerBound, 10000 - 100 * t('0.10', 1));
  });
});

describe('tolerance bound', () => {
  test('mean − k s, 90 % of cartridges with 90 % confidence', () => {
    near(pool(FOUR).toleranceBound, 10000 - 3.18784434 * S4);
    expect(k90(4)).toBe(3.18784434);
  });

  test('the smaller of all and of the exhausted ones, like the bound of the mean', () => {
    // As above: s² = 70 000 of all five, mean 10 100.
    const ofAll = 10100 - k90(5) * Math.sqrt(70000);
    const ofExhausted = 10000 - k90(4) * S4;
    near(pool([...FOUR, ...atLeast(10500)]).toleranceBound, Math.min(ofAll, ofExhausted));
  });
});

describe('tolerance bounds of another kind', () => {
  const TWO = [...inMachine('Teal', 10000, 10200), ...inMachine('Wren', 9800, 10000)];
  const WILKS = Array.from({ length: 22 }, (_, index) => 10000 + ((index * 7 + 3) % 22));

  test('no cartridge prints fewer than no pages', () => {
    expect(pool(exhausted(100, 20000)).toleranceBound?.toFixed()).toBe('0');
    const apart = [...inMachine('Teal', 100, 110), ...inMachine('Wren', 20000, 20010)];
    expect(pool(apart).toleranceOverMachines?.toFixed()).toBe('0');
  });

  test('over machines: of two and more, all named, all exhausted; below that of cartridges alone', () => {
    const over = (cartridges: readonly PooledCartridge[]) => pool(cartridges).toleranceOverMachines;
    const bound = toleranceOverGroups(
      [
        [10000, 10200],
        [9800, 10000],
      ],
      0.9,
      0.9,
    );
    near(over(TWO), bound ?? NaN);
    expect(over(TWO)?.lt(pool(TWO).toleranceBound ?? 0)).toBe(true);
    expect(over(FOUR)).toBeNull();
    expect(over([...TWO, ...inMachine(null, 10000)])).toBeNull();
    expect(over([...TWO, cartridge(10000, { machine: 'Wren', exhausted: false })])).toBeNull();
  });

  test('whatever the distribution: the least of 22, as of 90 % with 90 % confidence 0.9²² = 0.098 (Wilks)', () => {
    expect(pool(exhausted(...WILKS)).toleranceFree?.toFixed()).toBe('10000');
    expect(pool(exhausted(...WILKS.slice(1))).toleranceFree).toBeNull();
    expect(pool([...exhausted(...WILKS), ...atLeast(10000)]).toleranceFree).toBeNull();
  });

  test('whether the yields are normal is told of fifteen, all exhausted', () => {
    expect(pool(exhausted(...WILKS.slice(0, 15))).normality?.normal).toBe(true);
    expect(pool(exhausted(...WILKS.slice(0, 14))).normality).toBeNull();
    expect(pool([...exhausted(...WILKS), ...atLeast(10000)]).normality).toBeNull();
  });
});

describe('claims', () => {
  const bound = 10000 - (t('0.10', 3) * S4) / 2; // 9866.28

  test('supported when the bound reaches it, the edge included', () => {
    expect(pool(FOUR, Math.floor(bound)).claim?.supported).toBe(true);
    expect(pool(exhausted(10000, 10000, 10000), 10000).claim?.supported).toBe(true);
  });

  test('not supported when the upper bound stays below it', () => {
    // Upper bound 10 133.72.
    const upper = 10000 + (t('0.10', 3) * S4) / 2;
    expect(pool(FOUR, Math.ceil(upper)).claim?.supported).toBe(false);
    expect(pool(FOUR, Math.floor(upper)).claim?.supported).toBeNull();
    expect(pool(exhausted(10000, 10000, 10000), 10001).claim?.supported).toBe(false);
  });

  test('the upper bound is of the same confidence and tail', () => {
    // Two-sided: 10 000 + 2.3534 × 163.30 / 2 = 10 192.15.
    expect(pool(FOUR, 10150).claim?.supported).toBe(false);
    expect(pool(FOUR, 10150, TWO_SIDED).claim?.supported).toBeNull();
    expect(pool(FOUR, 10193, TWO_SIDED).claim?.supported).toBe(false);
  });

  test('the lower bound too: 9850 holds one-sided, and is open two-sided (bound 9807.85)', () => {
    expect(pool(FOUR, 9850).claim?.supported).toBe(true);
    expect(pool(FOUR, 9850, TWO_SIDED).claim?.supported).toBeNull();
    expect(pool(FOUR, 9807, TWO_SIDED).claim?.supported).toBe(true);
  });

  test.each([
    ['one exhausted', exhausted(10000)],
    ['two exhausted, alike', exhausted(10000, 10000)],
    ['two exhausted and one not', [...exhausted(10000, 10000), ...atLeast(10000)]],
    ['none exhausted', atLeast(20000, 20000, 20000, 20000)],
    [
      'three exhausted, four not',
      [...exhausted(10000, 10000, 10000), ...atLeast(10000, 10000, 10000, 10000)],
    ],
    ['all failed', failed(10, 10, 10, 10)],
  ])('not decided, however low or high it is: %s', (_, cartridges) => {
    expect(pool(cartridges, 5000).claim).toMatchObject({ supported: null });
    expect(pool(cartridges, 50000).claim).toMatchObject({ supported: null });
  });

  test('exactly half not exhausted may be decided', () => {
    const half = [...exhausted(10000, 10000, 10000), ...atLeast(10000, 10000, 10000)];
    expect(pool(half, 10000).claim?.supported).toBe(true);
    // What was not exhausted bounds no mean from above.
    expect(pool(half, 10001).claim?.supported).toBeNull();
  });

  test('supported and refused it takes no more cartridges, nor machines', () => {
    expect(pool(FOUR, 9800).claim).toEqual({
      pages: new Decimal(9800),
      supported: true,
      more: 0,
      moreMachines: false,
      forThese: null,
    });
    expect(pool(FOUR, 10200).claim).toEqual({
      pages: new Decimal(10200),
      supported: false,
      more: null,
      moreMachines: false,
      forThese: null,
    });
  });

  test('a yield in doubt is neither pooled nor counted as failed, and nothing is decided without it', () => {
    const group = pool([...FOUR, cartridge(50000, { doubted: true })], 9000);
    expect(group).toMatchObject({ n: 4, failed: 0, doubted: 1, atLeast: 0 });
    near(group.mean, 10000);
    near(group.failureUpperBound, 1 - Math.pow(0.1, 1 / 4));
    expect(group.claim).toMatchObject({ supported: null, forThese: null });
    expect(pool(FOUR, 9000).claim?.supported).toBe(true);
  });

  test('no claim, nothing said of one', () => {
    expect(pool(FOUR).claim).toBeNull();
    expect(jsonOf(pool(FOUR))).toContain('"claim": null');
    expect(textOf(pool(FOUR))).not.toContain('CLAIM');
  });

  test('the exhausted ones alone can keep a claim from being supported', () => {
    // Bound of all 9918.59, of the exhausted ones 9866.28 (as above).
    const group = pool([...FOUR, ...atLeast(10500)], 9900);
    expect(group.claim?.supported).toBeNull();
  });
});

describe('how many more it would take', () => {
  test('mean 10 000, s 163.30, claim 9900: t s / √n is 111.97 with 5, 98.39 with 6: two more', () => {
    expect((t('0.10', 4) * S4) / Math.sqrt(5)).toBeGreaterThan(100);
    expect((t('0.10', 5) * S4) / Math.sqrt(6)).toBeLessThan(100);
    const group = pool(FOUR, 9900);
    expect(group.claim).toMatchObject({ supported: null, more: 2 });
    expect(textOf(group)).toContain('not decidable yet');
    expect(textOf(group)).toMatch(/\b2 more cartridges\b/);
  });

  test('two-sided it takes more: 2.0150 × 163.30 / √6 = 134.3; 107.4 with 8; 101.2 with 9; 94.7 with 10', () => {
    expect((t('0.05', 8) * S4) / Math.sqrt(9)).toBeGreaterThan(100);
    expect((t('0.05', 9) * S4) / Math.sqrt(10)).toBeLessThan(100);
    expect(pool(FOUR, 9900, TWO_SIDED).claim?.more).toBe(6);
  });

  test('two exhausted far above the claim: a third', () => {
    // s 14.14: with three, 1.8856 × 14.14 / √3 = 15.4.
    const group = pool(exhausted(9990, 10010), 9000);
    expect(group.claim).toMatchObject({ supported: null, more: 1 });
    expect(textOf(group)).toMatch(/\b1 more cartridge\b/);
  });

  test('two exhausted and four not, all far above: it takes two more exhausted (4 of 8)', () => {
    const group = pool([...exhausted(9990, 10010), ...atLeast(9990, 10000, 10000, 10010)], 9000);
    expect(group.claim?.supported).toBeNull();
    expect(textOf(group).replace(/\s+/g, ' ')).toMatch(/\b2 more\b/);
  });

  test('the exhausted ones alone fall short, the bound of all does not: as many as they need', () => {
    // The four need two more for 9900 (above); with the one that stopped at 10 500 all five reach 9918.59.
    const group = pool([...FOUR, ...atLeast(10500)], 9900);
    expect(group.claim?.supported).toBeNull();
    expect(textOf(group)).toMatch(/\b2 more cartridges\b/);
    // There is one machine: nothing can be said of how machines scatter.
    expect(textOf(group)).not.toContain('machines’ means');
  });

  test('two alike at the claim: a third like them', () => {
    expect(pool(exhausted(10000, 10000), 10000).claim).toMatchObject({ supported: null, more: 1 });
    expect(pool(exhausted(10000, 10000), 10001).claim).toMatchObject({ supported: null, more: null });
  });

  test('none more, where the numbers are there and it is the machines that are too few', () => {
    expect(pool(exhausted(...Array.from({ length: 9 }, () => 10000)), 9000, ONE_SIDED, false).claim).toEqual({
      pages: new Decimal(9000),
      supported: null,
      more: 0,
      moreMachines: false,
      forThese: 'supported',
    });
  });

  test('one exhausted tells no scatter: with what the others printed at least, two more; alone, nobody knows', () => {
    // 9000 and 20 000 at least three times: mean 17 250, far above; three exhausted it takes.
    expect(pool([...exhausted(9000), ...atLeast(20000, 20000, 20000)], 9500).claim?.more).toBe(2);
    expect(pool(exhausted(10000), 9000).claim?.more).toBeNull();
    // Two of which the mean is below: that of all does not help.
    expect(pool([...exhausted(9000, 9002), ...atLeast(20000, 20000)], 9500).claim?.more).toBeNull();
  });

  test('with what all have in common: √(76.0² + 60²) is within 100 with 9, √(81.7² + 60²) is not with 8', () => {
    // Half of it is √3 × 0.8 u: 60 of u = 43.30. t s / √n is 81.7 with 8 and 76.0 with 9 of which 80 may be.
    const sharing = (u: number) => FOUR.map((one) => ({ ...one, coverageU: u }));
    expect((t('0.10', 7) * S4) / Math.sqrt(8)).toBeGreaterThan(80);
    expect((t('0.10', 8) * S4) / Math.sqrt(9)).toBeLessThan(80);
    expect(pool(sharing(60 / (0.8 * Math.sqrt(3))), 9900).claim?.more).toBe(5);
    expect(pool(sharing(101 / (0.8 * Math.sqrt(3))), 9900).claim?.more).toBeNull();
  });

  test('no more than ten thousand in all, which no one would try', () => {
    // t(9999) = 1.281636 (scipy 1.17.1): t s / √10000 = 2.0929.
    expect(pool(FOUR, 10000 - 2.0935).claim?.more).toBeGreaterThan(9900);
    expect(pool(FOUR, 10000 - 2.0926).claim?.more).toBeNull();
  });

  test('a mean that does not reach the claim: no number would do', () => {
    const group = pool(FOUR, 10050);
    expect(group.claim).toMatchObject({ supported: null, more: null });
    expect(textOf(group)).not.toMatch(/\d+ more/);
  });
});

describe('machines', () => {
  // Means 10 100 and 9900. Between: 2 × (100² + 100²) / 1 = 40 000; within: 4 × 100² / 2 = 20 000; n₀ = 2.
  const BALANCED = [...inMachine('Teal', 10000, 10200), ...inMachine('Wren', 9800, 10000)];

  test('balanced: between √((40 000 − 20 000) / 2) = 100, within √20 000', () => {
    const group = pool(BALANCED);
    expect(group.machines).toBe(2);
    near(group.betweenMachineSd, 100);
    near(group.withinMachineSd, Math.sqrt(20000));
  });

  test('the bound over the means of two machines: 10 000 − t(1) × 141.42 / √2', () => {
    near(pool(BALANCED).clusteredLowerBound, 10000 - 100 * t('0.10', 1));
    near(pool(BALANCED, null, TWO_SIDED).clusteredLowerBound, 10000 - 100 * t('0.05', 1));
  });

  test('a claim is refused where it is above both upper bounds: 10,133.72 of all, 10,307.77 of the machines', () => {
    near(pool(BALANCED).withCommon.upper, 10000 + 100 * t('0.10', 1));
    expect(pool(BALANCED, 10200).claim?.supported).toBeNull();
    expect(pool(BALANCED, 10308).claim?.supported).toBe(false);
    const sharing = BALANCED.map((one) => ({ ...one, coverageU: 50 }));
    const wider = Math.hypot(100 * t('0.10', 1), 0.8 * Math.sqrt(3) * 50);
    near(pool(sharing).withCommon.upper, 10000 + wider);
    near(pool(sharing).withCommon.clustered, 10000 - wider);
  });

  test('a claim that the machines just reach needs no more of them', () => {
    const alike = [...inMachine('Teal', 10000, 10000), ...inMachine('Wren', 10000)];
    expect(pool(alike, 10000).claim).toMatchObject({ supported: true });
  });

  test('a machine of which no cartridge was exhausted says nothing of how machines scatter', () => {
    const group = pool([...BALANCED, cartridge(500, { machine: 'Plum', exhausted: false })]);
    expect(group.machines).toBe(3);
    near(group.betweenMachineSd, 100);
    near(group.withCommon.clustered, 10000 - 100 * t('0.10', 1));
    expect(group.clusteredLowerBound).toBeNull();
  });

  test('a claim needs every bound there is', () => {
    // Plain 9866.28, clustered 9692.23.
    expect(pool(BALANCED, 9692).claim?.supported).toBe(true);
    expect(pool(BALANCED, 9800).claim?.supported).toBeNull();
  });

  test('unbalanced: n₀ = (4 − 10/4) / 1 = 1.5', () => {
    // Means 10 200 and 9900, all 10 125: 3 × 75² + 225² = 67 500; within 2 × 200² / 2 = 40 000.
    const group = pool([...inMachine('Teal', 10000, 10200, 10400), ...inMachine('Wren', 9900)]);
    near(group.betweenMachineSd, Math.sqrt(27500 / 1.5));
    near(group.withinMachineSd, 200);
    // Means of the machines, not of the cartridges: (10 200 + 9900) / 2, s / √2 = 150.
    near(group.clusteredLowerBound, 10050 - 150 * t('0.10', 1));
  });

  test('machines alike: the component would be negative, and is 0', () => {
    // Means both 10 100; within (2 × 100² + 2 × 50²) / 2 = 12 500.
    const group = pool([...inMachine('Teal', 10000, 10200), ...inMachine('Wren', 10050, 10150)]);
    expect(group.betweenMachineSd?.toFixed()).toBe('0');
    near(group.withinMachineSd, Math.sqrt(12500));
    near(group.clusteredLowerBound, 10100);
  });

  test('one machine: neither deviations nor the clustered bound', () => {
    const group = pool(FOUR);
    expect(group.machines).toBe(1);
    expect(group.betweenMachineSd).toBeNull();
    expect(group.withinMachineSd).toBeNull();
    expect(group.clusteredLowerBound).toBeNull();
    expect(pool(FOUR, 9850).claim?.supported).toBe(true);
  });

  test('a machine without a name: no analysis of machines', () => {
    const group = pool([...BALANCED, ...inMachine(null, 10000)]);
    expect(group.betweenMachineSd).toBeNull();
    expect(group.withinMachineSd).toBeNull();
    expect(group.clusteredLowerBound).toBeNull();
  });

  test('no machine named', () => {
    const group = pool(inMachine(null, 9900, 10000, 10100));
    expect(group.clusteredLowerBound).toBeNull();
    expect(group.lowerBound).not.toBeNull();
    expect(textOf(group)).not.toContain('0 machines');
  });

  test('one cartridge a machine: no deviation within, the clustered bound is the plain one', () => {
    const group = pool([
      ...inMachine('Teal', 10000),
      ...inMachine('Wren', 10200),
      ...inMachine('Plum', 9800),
      ...inMachine('Sand', 10000),
    ]);
    expect(group.betweenMachineSd).toBeNull();
    expect(group.withinMachineSd).toBeNull();
    near(group.clusteredLowerBound, 10000 - (t('0.10', 3) * S4) / 2);
    near(group.lowerBound, Number(group.clusteredLowerBound));
  });

  test('deviations are of exhausted cartridges only', () => {
    const stopped = { machine: 'Wren', exhausted: false };
    const group = pool([...BALANCED, cartridge(3000, stopped), cartridge(14000, stopped)]);
    near(group.betweenMachineSd, 100);
    near(group.withinMachineSd, Math.sqrt(20000));
  });

  test('one not exhausted: no bound over the machines is given, and a claim keeps to that of the exhausted ones', () => {
    const group = pool([...BALANCED, cartridge(10500, { machine: 'Wren', exhausted: false })], 9800);
    expect(group.clusteredLowerBound).toBeNull();
    // 10 000 − t(1) × 100 = 9692.23: the claim of 9800 is not supported, as without the fifth.
    expect(group.claim?.supported).toBeNull();
    expect(textOf(group).replace(/\s+/g, ' ')).toContain(
      'Of the exhausted ones alone it would be 9692 pages',
    );
    expect(
      pool([...BALANCED, cartridge(10500, { machine: 'Wren', exhausted: false })], 9692).claim?.supported,
    ).toBe(true);
  });

  test('a plain sentence when the bounds disagree, none when they do not', () => {
    // Means 11 000 and 9000: the bound over them is far below the plain one.
    const apart = pool([...inMachine('Teal', 10990, 11010, 11000), ...inMachine('Wren', 8990, 9010, 9000)]);
    expect(textOf(apart)).toContain('The machines differ');
    const alike = pool([...inMachine('Teal', 10000, 10200), ...inMachine('Wren', 10050, 10150)]);
    expect(textOf(alike)).not.toContain('The machines differ');
  });
});

describe('failures', () => {
  test('0 of 4 at 90 %: 1 − 0.1^¼, up to 44 %', () => {
    const group = pool(FOUR);
    near(group.failureUpperBound, 1 - Math.pow(0.1, 1 / 4));
    expect(textOf(group)).toMatch(/0 of 4\s+up to 44 %/);
  });

  test('0 of 4 at 95 %: up to 53 % (1 − 0.05^¼ = 0.5271)', () => {
    const group = pool(FOUR, null, { level: 0.95, tail: 'one-sided' });
    near(group.failureUpperBound, 0.527129195498);
    expect(textOf(group)).toMatch(/0 of 4\s+up to 53 %/);
  });

  test('a failed one counts in the share only', () => {
    const group = pool([...FOUR, ...failed(120)]);
    expect(group.n).toBe(4);
    expect(group.failed).toBe(1);
    near(group.mean, 10000);
    near(group.lowerBound, 10000 - (t('0.10', 3) * S4) / 2);
    // 1 of 5: (1 − p)⁵ + 5 p (1 − p)⁴ = 0.1 at p = 0.58389 (from tables, and computed with scipy 1.17.1).
    expect(group.failureUpperBound?.toFixed(5)).toBe('0.58389');
    expect(textOf(group)).toMatch(/1 of 5\s+up to 58 %/);
  });

  test('1 of 9 at 90 %: 0.368362 (computed, scipy 1.17.1 and R 4.2.2)', () => {
    const group = pool([...exhausted(1, 2, 3, 4, 5, 6, 7, 8), ...failed(1)]);
    near(group.failureUpperBound, 0.36836236379);
  });

  test('those not exhausted are fitted ones too: 0 of 9 is 0.225736', () => {
    near(pool([...FOUR, ...atLeast(1, 2, 3, 4, 5)]).failureUpperBound, 0.225736317319);
  });

  test('a failed one does not count among the machines either, nor in its spread', () => {
    const group = pool([...FOUR, cartridge(100, { failed: true, machine: 'Wren' })]);
    expect(group.machines).toBe(1);
    expect(group.clusteredLowerBound).toBeNull();
  });
});

describe('claims of few', () => {
  const nine = [
    ...inMachine('Teal', 9990, 10000, 10010),
    ...inMachine('Wren', 9995, 10000, 10005),
    ...inMachine('Heron', 9992, 10000, 10008),
  ];
  const claim = (cartridges: readonly PooledCartridge[], pages: number, few = false) =>
    pool(cartridges, pages, ONE_SIDED, few).claim;

  test('nine cartridges in three machines, none failed, are enough', () => {
    expect(claim(nine, 9900)).toMatchObject({ supported: true, forThese: null });
    expect(claim(nine, 10100)).toMatchObject({ supported: false, forThese: null });
  });

  test.each([
    ['eight', nine.slice(1)],
    ['two machines', nine.map((one) => ({ ...one, machine: one.machine === 'Teal' ? 'Wren' : one.machine }))],
    ['machines not named', nine.map((one) => ({ ...one, machine: null }))],
    ['one failed', [...nine, ...failed(100)]],
  ])('not with %s, unless that is said to be enough', (_, cartridges) => {
    expect(claim(cartridges, 9900)).toMatchObject({ supported: null, forThese: 'supported' });
    expect(claim(cartridges, 10100)).toMatchObject({ supported: null, forThese: 'refused' });
    expect(claim(cartridges, 9900, true)).toMatchObject({ supported: true });
    expect(claim(cartridges, 10100, true)).toMatchObject({ supported: false });
    expect(textOf(pool(cartridges, 9900, ONE_SIDED, false)).replace(/\s+/g, ' ')).toContain(
      'too little to claim it of others',
    );
  });
});

describe('what all trials have in common', () => {
  test('the uncertainty of the coverage is in the bounds a claim rests on, and not in the plain ones', () => {
    const group = pool(FOUR.map((one) => ({ ...one, coverageU: 577 })));
    near(group.commonU, 577);
    const [first, second] = [300, 500].map((coverageU) => cartridge(10000, { coverageU }));
    near(pool([first, second].flatMap((one) => one ?? [])).commonU, 400);
    expect(pool([]).commonU).toBeNull();
    const half = (t('0.10', 3) * S4) / 2;
    near(group.lowerBound, 10000 - half);
    // Rectangular: a = √3 × 577, its 90 % quantile 0.8 a; the two add as squares.
    const wider = Math.hypot(half, 0.8 * Math.sqrt(3) * 577);
    near(group.withCommon.lower, 10000 - wider);
    near(group.withCommon.upper, 10000 + wider);
    expect(textOf(group)).toContain('± 1154 page');
    const claim = Math.floor(10000 - half);
    expect(pool(FOUR, claim).claim?.supported).toBe(true);
    expect(
      pool(
        FOUR.map((one) => ({ ...one, coverageU: 577 })),
        claim,
      ).claim?.supported,
    ).toBeNull();
  });
});

describe('outliers', () => {
  /*
   * Eight yields in the proportions of the e-Handbook's uranium example (from memory): G 2.4688 against a
   * two-sided critical value of 2.13 for eight (tables, from memory).
   */
  const EIGHT = [19931, 19953, 20019, 20082, 20192, 20195, 20218, 24557];

  test('named, and left in', () => {
    const group = pool(EIGHT.map((pages, index) => cartridge(pages, { serial: `S-${index + 1}` })));
    expect(group.n).toBe(8);
    expect(group.furthest?.outlier).toBe(true);
    expect(group.furthest?.cartridge.serial).toBe('S-8');
    expect(group.furthest?.G.toFixed(4)).toBe('2.4688');
    expect(group.furthest?.critical.toFixed(2)).toBe('2.13');
    // Sum 165 147.
    near(group.mean, 165147 / 8);
    expect(textOf(group)).toContain('S-8');
  });

  test('looked for among the exhausted ones alone', () => {
    const group = pool([...exhausted(...EIGHT.slice(0, 7)), ...atLeast(24557)]);
    expect(group.furthest?.outlier).toBe(false);
  });
});

describe('groups', () => {
  const all = [
    cartridge(1, { lot: 'A' }),
    cartridge(2, { slot: 'cyan', lot: 'A' }),
    cartridge(3, { lot: 'B' }),
    cartridge(4, { lot: null }),
    cartridge(5, { lot: 'A' }),
  ];
  const shape = (by: Apart | null) =>
    groupsOf(all, by).map(({ slot, inCommon, cartridges }) => [
      slot,
      inCommon?.key ?? null,
      cartridges.map(({ pages }) => pages.toNumber()),
    ]);

  test('by slot', () => {
    expect(shape(null)).toEqual([
      ['black', null, [1, 3, 4, 5]],
      ['cyan', null, [2]],
    ]);
  });

  test('by slot and lot, those without one for themselves', () => {
    expect(shape('lot')).toEqual([
      ['black', 'A', [1, 5]],
      ['cyan', 'A', [2]],
      ['black', 'B', [3]],
      ['black', null, [4]],
    ]);
  });
});

describe('nothing that is no number, whatever is pooled', () => {
  const CASES: readonly (readonly [string, readonly PooledCartridge[]])[] = [
    ['one exhausted', exhausted(10000)],
    ['one not exhausted', atLeast(10000)],
    ['one failed', failed(10)],
    ['two alike', exhausted(10000, 10000)],
    ['nine alike', exhausted(...Array.from({ length: 9 }, () => 10000))],
    ['all not exhausted', atLeast(10000, 10100, 10200)],
    ['all failed', failed(10, 20, 30)],
    ['none', []],
    ['yields of zero', exhausted(0, 0, 0)],
    ['three machines, alike', [inMachine('a', 7, 7), inMachine('b', 7, 7), inMachine('c', 7)].flat()],
    ['two exhausted alike, two not', [...exhausted(10000, 10000), ...atLeast(9000, 9500)]],
    ['very large', exhausted(999999999999, 1, 500000000000)],
  ];

  test.each(CASES)('%s', (_, cartridges) => {
    for (const claim of [null, 1, 10000, 1e12]) {
      for (const confidence of [ONE_SIDED, TWO_SIDED, { level: 0.9999, tail: 'two-sided' } as const]) {
        const group = pool(cartridges, claim, confidence);
        const text = textOf(group);
        for (const out of [text, jsonOf(group)]) expect(out).not.toMatch(/NaN|Infinity|undefined|e\+\d/);
        for (const line of text.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
      }
    }
  });

  test('all alike: the bounds are the mean itself', () => {
    const group = pool(exhausted(10000, 10000, 10000));
    expect(group.lowerBound?.toFixed()).toBe('10000');
    expect(group.toleranceBound?.toFixed()).toBe('10000');
    expect(group.sd?.toFixed()).toBe('0');
  });
});
