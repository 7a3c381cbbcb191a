import { describe, expect, test } from 'vitest';
import { conformance, decide, guardBand, type Outcome, marginOf } from '../../src/judge/decide.ts';
import type { Decision } from '../../src/judge/limits.ts';
import { normalDistribution } from '../../src/statistics/normal.ts';
import { rectangleAndNormal } from '../../src/statistics/rectangle.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { type Bound, Measured } from '../../src/uncertainty/measured.ts';
import { judge } from '../run.ts';

/*
 * Conformity with limits against published rules and values. Beside each stands its source and how it is
 * known: seen (read in the source), computed (with what), or from memory (recalled, not seen).
 */

const SIMPLE: Decision = { rule: 'simple', factor: new Decimal(2) };
const GUARDED: Decision = { rule: 'guarded', factor: new Decimal(2) };

const figure = (value: string, u = '0.25', bound: Bound = 'exact'): Measured =>
  Measured.reading(new Decimal(value), [
    { path: [], value: new Decimal(value), unit: '', u: new Decimal(u) },
  ]).as(bound);

const edges = (min: string | null, max: string | null) => ({
  min: min === null ? null : new Decimal(min),
  max: max === null ? null : new Decimal(max),
});

/*
 * ILAC-G8:09/2019, pages 9 and 10 (seen): 4.2.1 simple acceptance, no guard band; 4.2.3 with a guard band
 * w and an upper limit TL: pass up to TL − w, conditional pass from there to TL, conditional fail from TL
 * to TL + w, fail above. Both conditional states are "open" here. The text seen does not settle what
 * holds at TL and TL + w exactly: there the project's own agreement holds, edges included, and missed
 * only beyond TL + w.
 */
describe('ILAC-G8:09/2019: a limit of 10, u = 0.25, guard band w = 2u = 0.5', () => {
  test('the guard band is the factor times u, and none under the simple rule', () => {
    expect(guardBand(figure('9'), GUARDED).toFixed()).toBe('0.5');
    expect(guardBand(figure('9'), { rule: 'guarded', factor: new Decimal('1.64') }).toFixed()).toBe('0.41');
    expect(guardBand(figure('9'), SIMPLE).toFixed()).toBe('0');
  });

  const POSITIONS: readonly [position: string, off: string, guarded: Outcome, simple: Outcome][] = [
    ['pass', '-1', 'met', 'met'],
    ['the edge of pass', '-0.5', 'met', 'met'],
    ['just beyond that edge', '-0.4999999999', 'open', 'met'],
    ['conditional pass', '-0.25', 'open', 'met'],
    ['the limit itself', '0', 'open', 'met'],
    ['just beyond the limit', '0.0000000001', 'open', 'missed'],
    ['conditional fail', '0.25', 'open', 'missed'],
    ['the edge of fail', '0.5', 'open', 'missed'],
    ['just beyond that edge', '0.5000000001', 'missed', 'missed'],
    ['fail', '1', 'missed', 'missed'],
  ];

  describe.each(POSITIONS)('%s (%s beyond the limit)', (_, off, guarded, simple) => {
    const above = figure(new Decimal(10).plus(off).toFixed());
    const below = figure(new Decimal(10).minus(off).toFixed());

    test('an upper limit', () => {
      expect(decide(above, edges(null, '10'), GUARDED)).toBe(guarded);
      expect(decide(above, edges(null, '10'), SIMPLE)).toBe(simple);
    });

    test('its mirror, a lower limit', () => {
      expect(decide(below, edges('10', null), GUARDED)).toBe(guarded);
      expect(decide(below, edges('10', null), SIMPLE)).toBe(simple);
    });

    test('room is counted on the good side', () => {
      const room = new Decimal(off).negated().toFixed();
      expect(marginOf(Measured.exact(above.value), edges(null, '10')).toFixed()).toBe(room);
      expect(marginOf(Measured.exact(below.value), edges('10', null)).toFixed()).toBe(room);
    });
  });

  // Common practice, no source: a limit with two edges is kept when both are.
  test.each<[value: string, guarded: Outcome, simple: Outcome]>([
    ['8', 'missed', 'missed'],
    ['8.75', 'open', 'missed'],
    ['9', 'open', 'met'],
    ['9.5', 'met', 'met'],
    ['10', 'met', 'met'],
    ['10.5', 'met', 'met'],
    ['10.75', 'open', 'met'],
    ['11.25', 'open', 'missed'],
    ['12', 'missed', 'missed'],
  ])('between 9 and 11: %s is %s when guarded, %s when simple', (value, guarded, simple) => {
    expect(decide(figure(value), edges('9', '11'), GUARDED)).toBe(guarded);
    expect(decide(figure(value), edges('9', '11'), SIMPLE)).toBe(simple);
  });

  test('the nearer of two edges gives the room', () => {
    expect(marginOf(Measured.exact(new Decimal('9.25')), edges('9', '11')).toFixed()).toBe('0.25');
    expect(marginOf(Measured.exact(new Decimal('10.75')), edges('9', '11')).toFixed()).toBe('0.25');
    expect(marginOf(Measured.exact(new Decimal('12')), edges('9', '11')).toFixed()).toBe('-1');
  });

  test('an edge is met in decimals: 0.1 + 0.2 keeps to a limit of 0.3', () => {
    const sum = Measured.exact(new Decimal('0.1')).plus(Measured.exact(new Decimal('0.2')));
    expect(decide(sum, edges(null, '0.3'), SIMPLE)).toBe('met');
    expect(decide(sum, edges('0.3', null), SIMPLE)).toBe('met');
  });

  test('an exact figure has no guard band: both rules agree', () => {
    expect(decide(Measured.exact(10), edges(null, '10'), GUARDED)).toBe('met');
    expect(decide(Measured.exact(11), edges(null, '10'), GUARDED)).toBe('missed');
  });
});

/*
 * A value known only as a bound. Arithmetic of the project's own agreement: at least x keeps to a minimum
 * that x keeps to, cannot break a minimum, breaks a maximum that x breaks, and cannot keep to a maximum.
 */
describe('at least and at most, limit 10, u = 0.25, guard band 0.5', () => {
  interface Row {
    readonly value: string;
    readonly simple: Outcome;
    readonly guarded: Outcome;
  }
  const held = (bound: Bound, limit: ReturnType<typeof edges>, { value, simple, guarded }: Row): void => {
    expect([value, decide(figure(value, '0.25', bound), limit, SIMPLE)]).toEqual([value, simple]);
    expect([value, decide(figure(value, '0.25', bound), limit, GUARDED)]).toEqual([value, guarded]);
  };

  test('at least x meets a minimum or leaves it open, and never misses it', () => {
    for (const row of [
      { value: '1', simple: 'open', guarded: 'open' },
      { value: '9.9', simple: 'open', guarded: 'open' },
      { value: '10', simple: 'met', guarded: 'open' },
      { value: '10.4', simple: 'met', guarded: 'open' },
      { value: '10.5', simple: 'met', guarded: 'met' },
    ] as const) {
      held('at_least', edges('10', null), row);
    }
  });

  test('at least x misses a maximum or leaves it open, and never meets it', () => {
    for (const row of [
      { value: '1', simple: 'open', guarded: 'open' },
      { value: '10', simple: 'open', guarded: 'open' },
      { value: '10.1', simple: 'missed', guarded: 'open' },
      { value: '10.5', simple: 'missed', guarded: 'open' },
      { value: '10.6', simple: 'missed', guarded: 'missed' },
    ] as const) {
      held('at_least', edges(null, '10'), row);
    }
  });

  test('at most x meets a maximum or leaves it open, and never misses it', () => {
    for (const row of [
      { value: '19', simple: 'open', guarded: 'open' },
      { value: '10.1', simple: 'open', guarded: 'open' },
      { value: '10', simple: 'met', guarded: 'open' },
      { value: '9.6', simple: 'met', guarded: 'open' },
      { value: '9.5', simple: 'met', guarded: 'met' },
    ] as const) {
      held('at_most', edges(null, '10'), row);
    }
  });

  test('at most x misses a minimum or leaves it open, and never meets it', () => {
    for (const row of [
      { value: '19', simple: 'open', guarded: 'open' },
      { value: '10', simple: 'open', guarded: 'open' },
      { value: '9.9', simple: 'missed', guarded: 'open' },
      { value: '9.5', simple: 'missed', guarded: 'open' },
      { value: '9.4', simple: 'missed', guarded: 'missed' },
    ] as const) {
      held('at_most', edges('10', null), row);
    }
  });

  test('with two edges, a broken one decides; else the one that cannot be told leaves it open', () => {
    expect(decide(figure('15', '0', 'at_least'), edges('10', '20'), SIMPLE)).toBe('open');
    expect(decide(figure('21', '0', 'at_least'), edges('10', '20'), SIMPLE)).toBe('missed');
    expect(decide(figure('15', '0', 'at_most'), edges('10', '20'), SIMPLE)).toBe('open');
    expect(decide(figure('9', '0', 'at_most'), edges('10', '20'), SIMPLE)).toBe('missed');
  });
});

/*
 * JCGM 106:2012, section 7: p = Φ((T_U − y)/u) − Φ((T_L − y)/u). The examples and their rounded results
 * are from memory; the digits computed with scipy 1.17.1.
 */
describe('JCGM 106:2012, conformance probability', () => {
  test.each([
    ['viscosity between 12.5 and 16.3, y 13.6, u 1.8', '13.6', '1.8', '12.5', '16.3', '0.66', 0.662629786495],
    ['voltage up to −5.40, y −5.47, u 0.05', '-5.47', '0.05', null, '-5.40', '0.92', 0.919243340766],
    ['burst strength from 490, y 507, u 10', '507', '10', '490', null, '0.96', 0.955434537241],
  ])('%s', (_, y, u, min, max, printed, digits) => {
    const p = conformance(new Decimal(y), new Decimal(u), edges(min, max));
    expect(p.toFixed(2)).toBe(printed);
    expect(p).toBeCloseTo(digits, 11);
  });

  test('at the limit itself as likely as not; that is the most simple acceptance risks', () => {
    // Φ(0) = 0.5, by definition of the normal distribution.
    expect(conformance(new Decimal(10), new Decimal('0.25'), edges(null, '10'))).toBeCloseTo(0.5, 14);
    expect(conformance(new Decimal(10), new Decimal('0.25'), edges('10', null))).toBeCloseTo(0.5, 14);
  });

  test('a guard band of U = 2u leaves less than 2.5 % to be wrongly accepted', () => {
    // Below 2.5 % for a guard band of U (ILAC-G8:09/2019, second-hand). 1 − Φ(2) = 0.0227501319: Python 3.11 statistics.NormalDist.
    const atEdge = new Decimal(10).minus(GUARDED.factor.times('0.25'));
    const risk = 1 - conformance(atEdge, new Decimal('0.25'), edges(null, '10'));
    expect(risk).toBeLessThan(0.025);
    expect(risk).toBeCloseTo(0.0227501319, 10);
  });
});

/*
 * A rectangle and a normal part together: the integral of Φ((x − r)/σ)/2a over the rectangle, computed with
 * scipy 1.17.1 (integrate.quad, stats.norm).
 */
describe('the distribution of a rectangle and a normal part', () => {
  test.each([
    [0.3, 0.5, 0.2, 0.7833383349341492],
    [-0.6, 0.5, 0.1, 0.008331547058768636],
    [0.05, 0.5, 0.05, 0.55],
    [1.2, 1, 0.3, 0.9773320529263416],
    [-2.5, 1, 0.4, 4.206172572886154e-6],
  ])('up to %d, half width %d, σ %d', (x, half, sigma, below) => {
    expect(rectangleAndNormal(x, half, sigma)).toBeCloseTo(below, 11);
    expect(rectangleAndNormal(-x, half, sigma)).toBeCloseTo(1 - below, 11);
  });

  test('alone, each is itself', () => {
    expect(rectangleAndNormal(0.25, 1, 0)).toBe(0.625);
    expect(rectangleAndNormal(-2, 1, 0)).toBe(0);
    expect(rectangleAndNormal(2, 1, 0)).toBe(1);
    expect(rectangleAndNormal(-1.2816, 0, 1)).toBeCloseTo(0.09999150009767516, 12);
  });

  test('a thermometer that may be 0.5 °C wrong reads 0.14 °C below its limit: 0.64, where a normal part gave 0.69', () => {
    // (0.5 + 0.14)/1 = 0.64; Φ(0.14/(0.5/√3)) = Φ(0.485) = 0.686.
    const { notes } = judge(
      [
        'trial: Fern Street lot 23, machine Wren',
        'meter: {start: 0, end: 100}',
        'instruments: {thermometer: {resolution: 0.001 °C, max_error: 0.5 °C}}',
        'ambient: [{temperature: 24.86 °C, humidity: 45 %}]',
        'limits: {temperature: {max: 25 °C}}',
        '',
      ].join('\n'),
    );
    expect(notes.find(({ code }) => code === 'within-uncertainty')?.message).toContain('probability of 0.64');
  });
});

describe('the standard normal distribution function', () => {
  // Computed with Python 3.11 statistics.NormalDist().cdf.
  test.each([
    [-5, 2.8665157186802404e-7],
    [-3, 0.0013498980316301035],
    [-1.2816, 0.09999150009767516],
    [-1, 0.15865525393145707],
    [0, 0.5],
    [1, 0.8413447460685429],
    [1.645, 0.9500150944608786],
    [1.96, 0.9750021048517796],
    [2, 0.9772498680518208],
    [3, 0.9986501019683699],
    [5, 0.9999997133484282],
  ])('Φ(%d)', (z, expected) => {
    expect(Math.abs(normalDistribution(z) - expected)).toBeLessThan(1e-14);
  });

  // From memory, as every printed table has them.
  test.each([
    [1, '0.8413'],
    [1.96, '0.9750'],
    [2, '0.9772'],
    [3, '0.9987'],
    [-1.2816, '0.1000'],
  ])('Φ(%d) is printed as %s', (z, printed) => {
    expect(normalDistribution(z).toFixed(4)).toBe(printed);
  });

  test('it stays between 0 and 1 and is symmetric, however far out', () => {
    for (const z of [0.5, 2, 6, 7.9, 8, 8.1, 40, 1e6, Infinity]) {
      const [up, down] = [normalDistribution(z), normalDistribution(-z)];
      expect(Math.abs(up + down - 1)).toBeLessThan(1e-14);
      expect(up).toBeLessThanOrEqual(1);
      expect(down).toBeGreaterThanOrEqual(0);
    }
  });
});

/*
 * A count of events is known better than by value ± w: exact one-sided bounds of probability Φ(factor),
 * from the Poisson distribution. By hand: no event at all has the probability e^−μ. Over 1000 pages and
 * with factor 2 (Φ = 0.9772498681, Python 3.11 statistics.NormalDist) that gives for 0 events an upper
 * bound of −ln(1 − Φ) = 3.7831843, and for 1 event a lower bound of −ln Φ = 0.0230129.
 */
describe('event rates under the guarded rule', () => {
  const code = (events: string, max: string, rule = 'guarded'): number =>
    judge(
      [
        'trial: Ferry Lane lot 3, machine Teal',
        'meter: {start: 0, end: 1000}',
        `events: ${events}`,
        `limits: {decision: {rule: ${rule}}, jams_per_thousand: {max: ${max}}}`,
        '',
      ].join('\n'),
    ).code;

  test('no jam in 1000 pages does not show that there are fewer than 3.78 in a thousand', () => {
    expect(code('[]', '3.784')).toBe(0);
    expect(code('[]', '3.783')).toBe(2);
    expect(code('[]', '0')).toBe(2);
    expect(code('[]', '0', 'simple')).toBe(0);
  });

  test('one jam in 1000 pages shows that there are more than 0.0230 in a thousand', () => {
    expect(code('[{kind: jam}]', '0.0230')).toBe(1);
    expect(code('[{kind: jam}]', '0.0231')).toBe(2);
    expect(code('[{kind: jam}]', '0.0231', 'simple')).toBe(1);
  });
});
