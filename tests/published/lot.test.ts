import { describe, expect, test } from 'vitest';
import computed from './lot-plans.json' with { type: 'json' };
import { hypergeometricAtMost, mostFailing } from '../../src/statistics/hypergeometric.ts';
import {
  acceptNumber,
  commonPlans,
  courseOf,
  rejectNumber,
  sampleFor,
  sequentialLines,
  singlePlan,
  type Step,
} from '../../src/statistics/sampling-plan.ts';
import { toleranceFactor } from '../../src/statistics/tolerance.ts';
import { variablesPlan, variablesPlanKnown } from '../../src/statistics/variables-plan.ts';

/*
 * What a sample says of a lot. The source stands beside each check. What is "computed" is made by lot-plans.py in this
 * folder: Python 3.11.7, whole numbers of any length, so that nothing is rounded; scipy 1.17.1 for the non-central t.
 */

/** Apart by no more than a share of the expected value. */
const close = (value: number, expected: number, share: number): void => {
  expect(Math.abs(value - expected), `${value} for ${expected}`).toBeLessThanOrEqual(
    share * Math.abs(expected),
  );
};

/** So large that drawing without putting back is drawing with it, to the digits printed. */
const ENDLESS = 1e8;

describe('exact tails (computed)', () => {
  const rows = computed.tails as unknown as readonly (readonly [number, number, number, number, number])[];

  test('there are sixty, of lots up to a hundred thousand', () => {
    expect(rows).toHaveLength(60);
    expect(Math.max(...rows.map(([lot]) => lot))).toBeGreaterThan(50_000);
  });

  test.each(rows)('lot %i, failing %i, sample %i: P(X ≤ %i)', (lot, failing, sample, count, tail) => {
    close(hypergeometricAtMost(count, { lot, failing, sample }), tail, 1e-11);
  });

  // By hand: of 10 with 4 failing, 3 drawn: none 20/120, at most one 80/120, at most two 116/120.
  test.each([
    [-1, 0],
    [0, 20 / 120],
    [1, 80 / 120],
    [2, 116 / 120],
    [3, 1],
  ])('of 10 with 4 failing, 3 drawn: P(X ≤ %i)', (count, tail) => {
    expect(hypergeometricAtMost(count, { lot: 10, failing: 4, sample: 3 })).toBeCloseTo(tail, 14);
  });

  // By hand: of 10 with 8 failing, 5 drawn: three at the least, 56 of 252 ways; three or four, 196.
  test.each([
    [2, 0],
    [3, 56 / 252],
    [4, 196 / 252],
    [5, 1],
  ])('of 10 with 8 failing, 5 drawn: P(X ≤ %i)', (count, tail) => {
    expect(hypergeometricAtMost(count, { lot: 10, failing: 8, sample: 5 })).toBeCloseTo(tail, 14);
  });

  test('where all are drawn, or all fail, it is certain', () => {
    expect([2, 3].map((count) => hypergeometricAtMost(count, { lot: 12, failing: 3, sample: 12 }))).toEqual([
      0, 1,
    ]);
    expect([4, 5].map((count) => hypergeometricAtMost(count, { lot: 12, failing: 12, sample: 5 }))).toEqual([
      0, 1,
    ]);
  });
});

describe('the single plan', () => {
  test('of two failing the most that may fail is one, and with all tried both risks are kept (by hand)', () => {
    // Of 5 with 2 failing, 4 tried: both found 4·3/(5·4) = 0.6, so that one is accepted with 0.4; 3 tried: 0.7.
    const good = { failing: 1, risk: 0.01 };
    expect(singlePlan(5, { failing: 2, risk: 0.4 }, good, 1)).toEqual({ sample: 4, accept: 1 });
    expect(singlePlan(5, { failing: 2, risk: 0.39 }, good, 1)).toEqual({ sample: 5, accept: 1 });
    expect(singlePlan(1, { failing: 1, risk: 0.1 }, null, 2)).toEqual({ sample: 1, accept: 0 });
  });

  const rows = computed.plans as unknown as readonly (readonly [
    number,
    number,
    number,
    number | null,
    number,
    number,
    number,
  ])[];

  test('two hundred random lots (computed)', () => {
    expect(rows).toHaveLength(200);
    for (const [lot, failing, consumer, good, producer, sample, accept] of rows) {
      const acceptable = good === null ? null : { failing: good, risk: producer };
      const plan = singlePlan(lot, { failing, risk: consumer }, acceptable, 1);
      expect([lot, failing, plan.sample, plan.accept]).toEqual([lot, failing, sample, accept]);
    }
  });

  test('a lot of 500 with 5 % failing, consumer’s risk 10 %: 43, 73, 99 with 0, 1, 2 (computed)', () => {
    const bad = { failing: 25, risk: 0.1 };
    expect([0, 1, 2].map((accept) => sampleFor(500, accept, bad, accept + 1))).toEqual([43, 73, 99]);
    expect(singlePlan(500, bad, null, 1)).toEqual({ sample: 43, accept: 0 });
  });

  test('the same of a lot without end: 45, 77, 105 (computed)', () => {
    const bad = { failing: ENDLESS / 20, risk: 0.1 };
    expect([0, 1, 2].map((accept) => sampleFor(ENDLESS, accept, bad, accept + 1))).toEqual([45, 77, 105]);
  });

  test('acceptance 95 % at 5 % failing and 7.5 % at 15 %: 80 with 7 (manual of the R package AcceptanceSampling, second-hand)', () => {
    const bad = { failing: ENDLESS * 0.15, risk: 0.075 };
    const good = { failing: ENDLESS * 0.05, risk: 0.05 };
    expect(singlePlan(ENDLESS, bad, good, 1)).toEqual({ sample: 80, accept: 7 });
  });

  test('20 with 0: accepted with 0.358 at 5 % failing, 0.039 at 15 % (the same manual, second-hand)', () => {
    const accepted = (share: number): string =>
      hypergeometricAtMost(0, { lot: ENDLESS, failing: ENDLESS * share, sample: 20 }).toFixed(3);
    expect([accepted(0.05), accepted(0.15)]).toEqual(['0.358', '0.039']);
  });

  test('1 % against 10 % of a lot without end, risks 5 and 10 %: 52 with 2 (computed)', () => {
    const bad = { failing: ENDLESS / 10, risk: 0.1 };
    const good = { failing: ENDLESS / 100, risk: 0.05 };
    expect(singlePlan(ENDLESS, bad, good, 1)).toEqual({ sample: 52, accept: 2 });
  });

  test('it has no fewer pieces than asked for, and no more than the lot', () => {
    // 95 % of 400 failing: one good piece would do.
    expect(singlePlan(400, { failing: 380, risk: 0.1 }, null, 1)).toEqual({ sample: 1, accept: 0 });
    expect(singlePlan(400, { failing: 380, risk: 0.1 }, null, 2)).toEqual({ sample: 2, accept: 0 });
    // One failing piece of ten, found with 95 %: all ten but a half.
    expect(singlePlan(10, { failing: 1, risk: 0.05 }, null, 2)).toEqual({ sample: 10, accept: 0 });
  });
});

describe('one sample for several classes', () => {
  type Row = readonly [
    number,
    readonly (readonly [number, number, number | null, number])[],
    number,
    readonly number[],
  ];
  const rows = computed.commons as unknown as readonly Row[];

  test('forty random lots of one to three classes (computed)', () => {
    expect(rows).toHaveLength(40);
    for (const [lot, classes, sample, accept] of rows) {
      const plans = commonPlans(
        lot,
        classes.map(([bad, consumer, good, producer]) => ({
          limiting: { failing: bad, risk: consumer },
          acceptable: good === null ? null : { failing: good, risk: producer },
        })),
        2,
      );
      expect([lot, plans.map((plan) => plan.sample), plans.map((plan) => plan.accept)]).toEqual([
        lot,
        classes.map(() => sample),
        accept,
      ]);
    }
  });

  test('a class whose sample is made larger by another may fail as often as its own risk allows (by hand)', () => {
    // Of 10: two failing, 3 tried, none found: 8·7·6/(10·9·8) = 0.467. One failing, 8 tried, not found: 0.2; then both
    // of two are found with 8·7/(10·9) = 0.622, so that one may fail: 0.378.
    const one = { limiting: { failing: 2, risk: 0.5 }, acceptable: { failing: 0, risk: 0.1 } };
    const other = { limiting: { failing: 1, risk: 0.2 }, acceptable: null };
    expect(commonPlans(10, [one], 1)).toEqual([{ sample: 3, accept: 0 }]);
    expect(commonPlans(10, [one, other], 1)).toEqual([
      { sample: 8, accept: 1 },
      { sample: 8, accept: 0 },
    ]);
    // Any failing piece must be found: all are tried.
    const sure = { limiting: { failing: 1, risk: 0.01 }, acceptable: { failing: 0, risk: 0.01 } };
    expect(commonPlans(10, [sure, { ...one, limiting: { failing: 4, risk: 0.5 } }], 1)).toEqual([
      { sample: 10, accept: 0 },
      { sample: 10, accept: 3 },
    ]);
  });

  test('of one class it is no smaller than its own plan, and keeps both risks as that does', () => {
    const [limiting, acceptable] = [
      { failing: 25, risk: 0.1 },
      { failing: 5, risk: 0.05 },
    ];
    expect(commonPlans(500, [{ limiting, acceptable }], 2)).toEqual([
      singlePlan(500, limiting, acceptable, 2),
    ]);
  });
});

describe('the largest failing share', () => {
  const rows = computed.shares as unknown as readonly (readonly [number, number, number, number, number])[];

  test.each(rows)('lot %i, %i tried, %i failed, risk %d: %i (computed)', (lot, sample, seen, risk, most) => {
    expect(mostFailing(lot, sample, seen, 1 - risk)).toBe(most);
  });

  test('four good ones of 400 leave 174 failing possible at 90 %, 43.5 % (computed)', () => {
    // By hand: 226·225·224·223 / (400·399·398·397) = 0.1007; with 175 it is 0.0989.
    expect(mostFailing(400, 4, 0, 0.9)).toBe(174);
  });

  test('all tried: what was seen', () => {
    expect(mostFailing(12, 12, 3, 0.9)).toBe(3);
    expect(mostFailing(1, 1, 0, 0.9)).toBe(0);
  });

  test('it is below the limiting quality exactly where the single plan without a failure is fulfilled', () => {
    for (const lot of [30, 120, 400, 5000]) {
      const failing = Math.ceil(lot / 10);
      const { sample } = singlePlan(lot, { failing, risk: 0.1 }, null, 1);
      expect(mostFailing(lot, sample, 0, 0.9)).toBeLessThan(failing);
      expect(mostFailing(lot, sample - 1, 0, 0.9)).toBeGreaterThanOrEqual(failing);
    }
  });
});

describe('Wald’s sequential plan', () => {
  // NIST/SEMATECH e-Handbook 6.2.6, through the documentation of a Python package (second-hand).
  const lines = sequentialLines({ share: 0.01, risk: 0.05 }, { share: 0.1, risk: 0.1 });

  test('1 % against 10 %, risks 5 and 10 %: h₁ 0.9389, h₂ 1.2054, s 0.03975', () => {
    expect(lines.h1.toFixed(4)).toBe('0.9389');
    expect(lines.h2.toFixed(4)).toBe('1.2054');
    expect(lines.slope.toFixed(5)).toBe('0.03975');
  });

  test('accepts none of 24, one of 49', () => {
    expect([23, 24, 48, 49].map((tried) => acceptNumber(lines, tried))).toEqual([null, 0, 0, 1]);
  });

  test('rejects with two from 2 on, three from 20, four from 46', () => {
    expect([1, 2, 19, 20, 45, 46].map((tried) => rejectNumber(lines, tried))).toEqual([2, 2, 2, 3, 3, 4]);
  });

  const rule = (tried: number, failed: number): Step => {
    if (failed <= (acceptNumber(lines, tried) ?? -1)) return 'accept';
    return failed >= rejectNumber(lines, tried) ? 'reject' : 'go-on';
  };

  test('a rule that decides at the last piece of the lot tries all of it (by hand)', () => {
    const last = (tried: number, failed: number): Step => {
      if (tried < 3) return 'go-on';
      return failed <= 1 ? 'accept' : 'reject';
    };
    expect(courseOf(3, 1, last)).toEqual({ accepted: 1, tried: 3 });
    expect(courseOf(3, 2, last)).toEqual({ accepted: 0, tried: 3 });
  });

  const rows = computed.courses as unknown as readonly (readonly [number, number, number, number])[];

  test.each(rows)('lot %i, %i failing: acceptance %d, %d tried on average (computed)', (...row) => {
    const [lot, failing, accepted, tried] = row;
    const course = courseOf(lot, failing, rule);
    expect(course.accepted).toBeCloseTo(accepted, 10);
    expect(course.tried).toBeCloseTo(tried, 8);
  });
});

describe('by variables', () => {
  const rows = computed.factors as readonly (readonly number[])[];

  test.each(rows)('%d against %d, risks %d and %d (computed, scipy’s non-central t)', (...row) => {
    const [p1 = 0, p2 = 0, alpha = 0, beta = 0, n, k = 0, known, kKnown = 0] = row;
    const [good, bad] = [
      { share: p1, risk: alpha },
      { share: p2, risk: beta },
    ];
    const plan = variablesPlan(good, bad);
    expect(plan?.sample).toBe(n);
    close(plan?.factor ?? NaN, k, 1e-9);
    const other = variablesPlanKnown(good, bad);
    expect(other?.sample).toBe(known);
    close(other?.factor ?? NaN, kKnown, 1e-12);
  });

  test('k of nine, 90 % above with 90 %: 2.1329 (computed)', () => {
    expect(toleranceFactor(9, 0.9, 0.9).toFixed(4)).toBe('2.1329');
  });

  test('shares that no number tells apart', () => {
    const [good, bad] = [
      { share: 0.0499, risk: 0.05 },
      { share: 0.05, risk: 0.1 },
    ];
    expect(variablesPlan(good, bad)).toBeNull();
    expect(variablesPlanKnown(good, bad)).toBeNull();
  });

  test('a thousand is the most that is tried (computed, scipy)', () => {
    const against = (bad: number, good: number) =>
      [{ share: good, risk: 0.05 }, { share: bad, risk: 0.1 }] as const; // prettier-ignore
    // 1000 from 0.0794065 to 0.0794162, then 1001.
    expect(variablesPlan(...against(0.1, 0.07941))?.sample).toBe(1000);
    expect(variablesPlan(...against(0.1, 0.07942))).toBeNull();
    // With the deviation known 1000 from 0.0846993 to 0.0847065, then 1001.
    expect(variablesPlanKnown(...against(0.1, 0.084703))?.sample).toBe(1000);
    expect(variablesPlanKnown(...against(0.1, 0.08471))).toBeNull();
    // 500 with it known; without, 1 + 1.645²/2 times as many.
    expect(variablesPlanKnown(...against(0.05, 0.037886))?.sample).toBe(500);
    expect(variablesPlan(...against(0.05, 0.037886))).toBeNull();
  });
});
