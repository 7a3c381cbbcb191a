import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { type Bound, type Input, Measured } from '../../src/uncertainty/measured.ts';
import { NotDerived, type Reason } from '../../src/uncertainty/not-derived.ts';

/*
 * Values here follow from the laws of arithmetic and of propagation (JCGM 100:2008, 5.1.2, from memory),
 * worked by hand or by numerical derivative.
 */

type Numeral = Decimal | number | string;

const input = (value: Numeral, u: Numeral): Input => ({
  path: [],
  value: new Decimal(value),
  unit: '',
  u: new Decimal(u),
});

const reading = (value: Numeral, u: Numeral): Measured =>
  Measured.reading(new Decimal(value), [input(value, u)]);

const bounded = (value: Numeral, bound: Bound): Measured => reading(value, 1).as(bound);

/** Why a formula refuses. */
function reasonOf(formula: () => unknown): Reason {
  try {
    formula();
  } catch (refusal) {
    if (refusal instanceof NotDerived) return refusal.reason;
    throw refusal;
  }
  throw new Error('the formula did not refuse');
}

/** The same runs each time. */
const RUNS = { seed: 20260309, numRuns: 400 };

describe('values', () => {
  test('are decimals, never binary fractions: 0.1 + 0.2 = 0.3, 1.1 × 3 = 3.3', () => {
    expect(
      Measured.exact(new Decimal('0.1'))
        .plus(Measured.exact(new Decimal('0.2')))
        .value.toFixed(),
    ).toBe('0.3');
    expect(Measured.exact(new Decimal('1.1')).times(3).value.toFixed()).toBe('3.3');
  });

  test('an exact number has no uncertainty, nor has what follows from exact numbers', () => {
    const ratio = Measured.exact(7).times(new Decimal('1.5')).over(3, 'three');
    expect(ratio.value.toFixed()).toBe('3.5');
    expect(ratio.u.toFixed()).toBe('0');
    expect(ratio.bound).toBe('exact');
  });

  test('a reading of several inputs takes them all: 3 and 4 combine to 5', () => {
    expect(Measured.reading(new Decimal(10), [input(10, 3), input(0, 4)]).u.toFixed()).toBe('5');
  });

  test('the sum of no terms is 0', () => {
    expect(Measured.sum([])).toMatchObject({ bound: 'exact' });
    expect(Measured.sum([]).value.toFixed()).toBe('0');
    expect(Measured.sum([reading(1, 3), reading(2, 4)]).u.toFixed()).toBe('5');
  });
});

describe('a shared reading counts once', () => {
  const x = reading('10', '0.5');

  test('x + x is 2x with twice its u, not √2 of it', () => {
    expect(x.plus(x).u.toFixed()).toBe('1');
    expect(x.times(2).u.toFixed()).toBe('1');
    expect(x.plus(reading('10', '0.5')).u.pow(2).toFixed(12)).toBe(new Decimal('0.5').toFixed(12));
  });

  test('x − x and x / x are known exactly', () => {
    expect([x.minus(x).value.toFixed(), x.minus(x).u.toFixed()]).toEqual(['0', '0']);
    expect([x.over(x, 'x').value.toFixed(), x.over(x, 'x').u.toFixed()]).toEqual(['1', '0']);
  });

  test('what cancels leaves nothing, whatever doubles make of it: (x a) / (x b) is known exactly', () => {
    for (let a = 1; a <= 40; a++) {
      const [own, theirs] = [
        x.times(a * 37).times(new Decimal('0.07')),
        x.times(a * 41).times(new Decimal('0.07')),
      ];
      expect(own.over(theirs, 'x').u.toFixed(), `${a}`).toBe('0');
    }
  });

  test('x × x has sensitivity 2x', () => {
    expect(x.times(x).u.toFixed()).toBe('10');
  });

  test('two weighings with one tare: (a − t) + (b − t) has u² = u_a² + u_b² + 4 u_t²', () => {
    // 1 + 4 + 4 × 1 = 9
    const [a, b, tare] = [reading(50, 1), reading(60, 2), reading(20, 1)];
    const total = a.minus(tare).plus(b.minus(tare));
    expect(total.value.toFixed()).toBe('70');
    expect(total.u.toFixed()).toBe('3');
  });

  test('an error common to two readings cancels in their difference and doubles in their sum', () => {
    const common = input(0, '0.3');
    const [a, b] = [
      Measured.reading(new Decimal(22), [input(22, '0.4'), common]),
      Measured.reading(new Decimal(20), [input(20, 0), common]),
    ];
    expect(a.minus(b).u.toFixed()).toBe('0.4');
    // 0.4² + (2 × 0.3)² = 0.52
    expect(a.plus(b).u.pow(2).toFixed(12)).toBe(new Decimal('0.52').toFixed(12));
  });

  test('readings alike in all but identity are two', () => {
    const twin = reading('10', '0.5');
    expect(x.minus(twin).u.isZero()).toBe(false);
  });

  test('the budget names each input once, with (c u)² beside it', () => {
    const [a, b] = [input(4, 1), input(2, '0.5')];
    const [p, q] = [Measured.reading(a.value, [a]), Measured.reading(b.value, [b])];
    // f = p q + p: ∂f/∂p = q + 1 = 3, ∂f/∂q = p = 4
    const parts = p.times(q).plus(p).contributions;
    expect([...parts].map(([source, part]) => [source, `${part}`])).toEqual([
      [a, '9'],
      [b, '4'],
    ]);
  });
});

describe('bounds', () => {
  const least = bounded(10, 'at_least');
  const most = bounded(10, 'at_most');
  const exact = reading(4, 1);

  test.each<[name: string, formula: () => Measured, bound: Bound]>([
    ['at least + exact', () => least.plus(exact), 'at_least'],
    ['exact + at least', () => exact.plus(least), 'at_least'],
    ['at most + exact', () => most.plus(exact), 'at_most'],
    ['at least − exact', () => least.minus(exact), 'at_least'],
    ['exact − at least', () => exact.minus(least), 'at_most'],
    ['exact − at most', () => exact.minus(most), 'at_least'],
    ['at least × positive', () => least.times(exact), 'at_least'],
    ['positive × at least', () => exact.times(least), 'at_least'],
    ['at least × negative', () => least.times(-3), 'at_most'],
    ['at most × negative', () => most.times(-3), 'at_least'],
    ['at least × 0', () => least.times(0), 'exact'],
    ['at least / exact', () => least.over(exact, 'x'), 'at_least'],
    ['exact / at least', () => exact.over(least, 'x'), 'at_most'],
    ['exact / at most', () => exact.over(most, 'x'), 'at_least'],
    ['negative / at least', () => Measured.exact(-4).over(least, 'x'), 'at_least'],
    ['at least / negative', () => least.over(-2, 'x'), 'at_most'],
    ['at least + at least', () => least.plus(bounded(1, 'at_least')), 'at_least'],
    ['at least × at least', () => least.times(bounded(2, 'at_least')), 'at_least'],
    ['at least − at most', () => least.minus(bounded(2, 'at_most')), 'at_least'],
    ['at least / at most', () => least.over(bounded(2, 'at_most'), 'x'), 'at_least'],
    ['exact / (exact / at least)', () => exact.over(exact.over(least, 'x'), 'y'), 'at_least'],
  ])('%s', (_, formula, bound) => {
    expect(formula().bound).toBe(bound);
  });

  test.each<[name: string, formula: () => Measured]>([
    ['at least + at most', () => least.plus(most)],
    ['at least − at least', () => least.minus(bounded(3, 'at_least'))],
    ['at least × at most', () => least.times(most)],
    ['at least / at least', () => least.over(bounded(3, 'at_least'), 'x')],
    ['at most / at most', () => most.over(bounded(3, 'at_most'), 'x')],
    ['a sum of both', () => Measured.sum([exact, least, most])],
  ])('%s bounds from neither side and is not derived', (_, formula) => {
    expect(reasonOf(formula)).toEqual({ code: 'bounds-conflict' });
  });

  test('the cost of a yield that is at least so many pages is at most so much', () => {
    // 1000 × 41.50 / 10 000 = 4.15
    const cost = Measured.exact(new Decimal('41.50'))
      .times(1000)
      .over(Measured.exact(10000).as('at_least'), 'yield');
    expect([cost.value.toFixed(), cost.bound]).toEqual(['4.15', 'at_most']);
  });

  test('naming a bound leaves value and uncertainty as they are', () => {
    const again = exact.as('at_most');
    expect([again.value.toFixed(), again.u.toFixed(), again.bound]).toEqual(['4', '1', 'at_most']);
    expect(exact.bound).toBe('exact');
  });
});

describe('division by zero', () => {
  test.each<[name: string, formula: () => Measured]>([
    ['a count of zero', () => reading(5, 1).over(0, 'pages')],
    ['a decimal zero', () => reading(5, 1).over(new Decimal('0.000'), 'pages')],
    ['a measured zero', () => reading(5, 1).over(reading(0, 1), 'pages')],
    ['zero by zero', () => Measured.exact(0).over(Measured.exact(0), 'pages')],
    ['a difference of nothing', () => reading(5, 1).over(reading(2, 1).minus(reading(2, 1)), 'pages')],
  ])('%s is refused by name', (_, formula) => {
    expect(reasonOf(formula)).toEqual({ code: 'divisor-zero', divisor: 'pages' });
  });

  test('zero divided by something is zero, with its uncertainty', () => {
    const none = reading(0, 1).over(4, 'pages');
    expect([none.value.toFixed(), none.u.toFixed()]).toEqual(['0', '0.25']);
  });
});

const positive = fc.integer({ min: 1, max: 10_000_000 }).map((n) => new Decimal(n).div(1000));
const error = fc.integer({ min: 1, max: 10_000 }).map((n) => new Decimal(n).div(1000));
const measurements = fc.array(fc.tuple(positive, error), { minLength: 2, maxLength: 6 });

describe('the rules for independent readings (seen: PMC3387884, table 2)', () => {
  const agree = (a: Decimal, b: Decimal): boolean => a.minus(b).abs().lte(b.abs().times('1e-12'));

  test('sums and differences: u² = Σ uᵢ²', () => {
    fc.assert(
      fc.property(measurements, fc.array(fc.boolean(), { minLength: 6, maxLength: 6 }), (pairs, signs) => {
        const total = pairs.reduce((sum, [value, u], index) => {
          const term = reading(value, u);
          return signs[index] === true ? sum.plus(term) : sum.minus(term);
        }, Measured.exact(0));
        const squares = pairs.reduce((sum, [, u]) => sum.plus(u.pow(2)), new Decimal(0));
        return agree(total.u, squares.sqrt());
      }),
      RUNS,
    );
  });

  test('products and quotients: (u/y)² = Σ (uᵢ/xᵢ)²', () => {
    fc.assert(
      fc.property(measurements, fc.array(fc.boolean(), { minLength: 6, maxLength: 6 }), (pairs, up) => {
        const product = pairs.reduce((so_far, [value, u], index) => {
          const factor = reading(value, u);
          return up[index] === true ? so_far.times(factor) : so_far.over(factor, 'x');
        }, Measured.exact(1));
        const squares = pairs.reduce((sum, [value, u]) => sum.plus(u.div(value).pow(2)), new Decimal(0));
        return agree(product.u.div(product.value.abs()), squares.sqrt());
      }),
      RUNS,
    );
  });
});

/** An expression over a few readings, which may use each of them any number of times. */
type Tree =
  | { readonly kind: 'leaf'; readonly index: number }
  | { readonly kind: 'constant'; readonly value: number }
  | { readonly kind: 'plus' | 'minus' | 'times' | 'over'; readonly left: Tree; readonly right: Tree };

const LEAVES = 3;

const trees = fc.letrec<{ tree: Tree }>((tie) => ({
  tree: fc.oneof(
    { depthSize: 'small', maxDepth: 4, withCrossShrink: true },
    { weight: 3, arbitrary: fc.record({ kind: fc.constant('leaf' as const), index: fc.nat(LEAVES - 1) }) },
    {
      weight: 1,
      arbitrary: fc.record({
        kind: fc.constant('constant' as const),
        value: fc.integer({ min: -5, max: 5 }),
      }),
    },
    {
      weight: 6,
      arbitrary: fc.record({
        kind: fc.constantFrom('plus' as const, 'minus' as const, 'times' as const, 'over' as const),
        left: tie('tree'),
        right: tie('tree'),
      }),
    },
  ),
})).tree;

/** The value of a tree in plain decimals; null where a divisor comes close to zero. */
function valueOf(tree: Tree, at: readonly Decimal[]): Decimal | null {
  if (tree.kind === 'leaf') return at[tree.index] ?? null;
  if (tree.kind === 'constant') return new Decimal(tree.value);
  const left = valueOf(tree.left, at);
  const right = valueOf(tree.right, at);
  if (left === null || right === null) return null;
  if (tree.kind === 'plus') return left.plus(right);
  if (tree.kind === 'minus') return left.minus(right);
  if (tree.kind === 'times') return left.times(right);
  return right.abs().lt('0.25') ? null : left.div(right);
}

function measuredOf(tree: Tree, at: readonly Measured[]): Measured {
  if (tree.kind === 'leaf') return at[tree.index] ?? Measured.exact(NaN);
  if (tree.kind === 'constant') return Measured.exact(tree.value);
  const left = measuredOf(tree.left, at);
  const right = measuredOf(tree.right, at);
  return tree.kind === 'over' ? left.over(right, 'a divisor') : left[tree.kind](right);
}

describe('any expression', () => {
  const points = fc.array(
    fc.integer({ min: 500, max: 4000 }).map((n) => new Decimal(n).div(1000)),
    { minLength: LEAVES, maxLength: LEAVES },
  );
  const STEP = new Decimal('1e-12');

  /** Central difference; null where a divisor comes too close to zero. */
  function slope(tree: Tree, at: readonly Decimal[], along: number): Decimal | null {
    const moved = (by: Decimal): Decimal[] => at.map((x, index) => (index === along ? x.plus(by) : x));
    const [up, down] = [valueOf(tree, moved(STEP)), valueOf(tree, moved(STEP.negated()))];
    return up === null || down === null ? null : up.minus(down).div(STEP.times(2));
  }

  test('has the value of plain arithmetic, and the sensitivities of its numerical derivatives', () => {
    let derivatives = 0;
    fc.assert(
      fc.property(trees, points, (tree, at) => {
        const plain = valueOf(tree, at);
        const slopes = at.map((_, index) => slope(tree, at, index));
        fc.pre(plain !== null && slopes.every((c) => c !== null));
        const inputs = at.map((value) => input(value, '0.01'));
        const result = measuredOf(
          tree,
          inputs.map((source) => Measured.reading(source.value, [source])),
        );
        expect(result.value.toFixed()).toBe(plain.toFixed());
        for (const [index, source] of inputs.entries()) {
          const analytic = new Decimal(result.sensitivities.get(source) ?? 0);
          const numerical = slopes[index] ?? new Decimal(NaN);
          const apart = analytic.minus(numerical).abs();
          expect(
            apart.lte(numerical.abs().plus(1).times('1e-8')),
            `${analytic.toFixed()} and ${numerical.toFixed()}`,
          ).toBe(true);
          if (!numerical.isZero()) derivatives += 1;
        }
      }),
      RUNS,
    );
    // Enough of them were put to the test.
    expect(derivatives).toBeGreaterThan(200);
  });

  test('has u² = Σ (cᵢ uᵢ)²', () => {
    fc.assert(
      fc.property(trees, points, fc.array(error, { minLength: 3, maxLength: 3 }), (tree, at, us) => {
        const slopes = at.map((_, index) => slope(tree, at, index));
        fc.pre(valueOf(tree, at) !== null && slopes.every((c) => c !== null));
        const { u } = measuredOf(
          tree,
          at.map((value, index) => reading(value, us[index] ?? 0)),
        );
        const variance = slopes.reduce<Decimal>(
          (sum, c, index) => sum.plus(c.times(us[index] ?? NaN).pow(2)),
          new Decimal(0),
        );
        const expected = variance.sqrt();
        expect(
          u.minus(expected).abs().lte(expected.plus(1).times('1e-6')),
          `${u.toFixed()} and ${expected.toFixed()}`,
        ).toBe(true);
      }),
      RUNS,
    );
  });
});
