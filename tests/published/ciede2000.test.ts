import { describe, expect, test } from 'vitest';
import published from '../../shared/ciede2000.json' with { type: 'json' };
import { ciede2000, colourDifferenceOf } from '../../src/figures/ciede2000.ts';
import type { Print } from '../../src/trial/trial.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { type Input, Measured } from '../../src/uncertainty/measured.ts';
import { figure } from '../run.ts';

/*
 * CIEDE2000. The 34 pairs are those of Sharma, Wu and Dalal (2005), Table 1, seen second-hand; the source
 * stands with them in shared/ciede2000.json. Derivatives are computed by ciede2000.py in this folder
 * (Python 3.11.7, mpmath 1.3.0), an implementation of its own held against the same table.
 */

type Colour = readonly [L: number, a: number, b: number];

const colour = (lab: readonly number[]): Colour => [lab[0] ?? NaN, lab[1] ?? NaN, lab[2] ?? NaN];

const PAIRS = published.pairs.map(({ pair, lab1, lab2, difference }) => ({
  pair,
  one: colour(lab1),
  other: colour(lab2),
  difference,
}));

test('the table is whole: 34 pairs, numbered as published', () => {
  expect(PAIRS.map(({ pair }) => pair)).toEqual(Array.from({ length: 34 }, (_, index) => index + 1));
});

describe('Sharma, Wu and Dalal (2005), Table 1 (seen second-hand)', () => {
  test.each(PAIRS)('pair $pair: $difference, to all 4 decimals printed', ({ one, other, difference }) => {
    expect(Number(ciede2000(one, other).toFixed(4))).toBe(difference);
  });

  test.each(PAIRS)('pair $pair the other way round is the same', ({ one, other, difference }) => {
    expect(Number(ciede2000(other, one).toFixed(4))).toBe(difference);
    expect(ciede2000(other, one)).toBeCloseTo(ciede2000(one, other), 11);
  });
});

const NAMES = ['L', 'a', 'b', 'L0', 'a0', 'b0'];

/** A print of this colour, each reading with a standard uncertainty so small that the difference is far from zero. */
function print(lab: Colour, names: readonly string[], u = '1e-9'): { lab: Print['lab']; inputs: Input[] } {
  const inputs = lab.map((value, index): Input => ({
    path: [names[index] ?? ''],
    value: new Decimal(value),
    unit: '1',
    u: new Decimal(u),
  }));
  const readings = inputs.map((input) => ({
    path: input.path,
    measured: Measured.reading(input.value, [input]),
  }));
  const [L, a, b] = readings;
  if (L === undefined || a === undefined || b === undefined) throw new Error('a colour has three values');
  return { lab: [L, a, b], inputs };
}

/** The sensitivities of the difference of two prints, in the order L, a, b of the one, then of the other. */
function slopes(one: Colour, other: Colour): number[] {
  const [last, before] = [print(one, NAMES.slice(0, 3)), print(other, NAMES.slice(3))];
  const { sensitivities } = colourDifferenceOf(last.lab, before.lab);
  return [...last.inputs, ...before.inputs].map((input) => sensitivities.get(input) ?? 0);
}

describe('sensitivities to the six readings', () => {
  // Computed by ciede2000.py: pair, then ∂/∂L1, a1, b1, L2, a2, b2.
  const COMPUTED: readonly (readonly [pair: number, slopes: readonly number[]])[] = [
    [1, [0.0, 0.5503860639, 0.2150067223, 0.0, -0.5147338062, -0.2005620394]],
    [17, [-0.727272294, -0.6044004621, 0.3113541498, 0.5302249321, 0.2038320295, -0.0974677839]],
    [20, [-0.4029590408, -0.8467254744, -0.4095494393, 0.3574636652, 0.3109898335, 0.1334204994]],
    [25, [-0.1244692082, -0.1733244843, -0.407418587, 0.1241135419, 0.1769575807, 0.3921077863]],
    [28, [0.0217784257, -0.2318189548, 0.3839987072, -0.021761732, 0.2542240208, -0.4160956908]],
    [31, [-0.0935590555, -0.4832259182, 0.8274991905, 0.0932528148, 0.5185026558, -0.8809312565]],
    [34, [0.4369596594, 0.3418321095, -0.58855981, -0.4325008785, -0.3525158585, 0.6041664504]],
  ];

  test.each(COMPUTED)('pair %i', (number, computed) => {
    const pair = PAIRS.find((one) => one.pair === number);
    if (pair === undefined) throw new Error('no such pair');
    for (const [index, slope] of slopes(pair.one, pair.other).entries()) {
      expect(Math.abs(slope - (computed[index] ?? NaN)), NAMES[index]).toBeLessThan(1e-6);
    }
  });

  test('greys of L 52 and 48: ΔE = ΔL / S_L with S_L = 1 at a mean of 50, where it is least; ∂ = ±1, 0', () => {
    // S_L = 1 + 0.015 (L̄ − 50)² / √(20 + (L̄ − 50)²) (the paper, equation 15): 1 at 50, its slope 0.
    const [L, a, b, L0, a0, b0] = slopes([52, 0, 0], [48, 0, 0]);
    expect(ciede2000([52, 0, 0], [48, 0, 0])).toBeCloseTo(4, 12);
    expect(L).toBeCloseTo(1, 6);
    expect(L0).toBeCloseTo(-1, 6);
    for (const slope of [a, b, a0, b0]) expect(slope).toBeCloseTo(0, 6);
  });
});

test('two prints alike, read without any uncertainty, are alike for certain', () => {
  const [one, other] = [print([54.9, -36, -49.2], NAMES, '0'), print([54.9, -36, -49.2], NAMES, '0')];
  const { value, u } = colourDifferenceOf(one.lab, other.lab);
  expect([value.toNumber(), u.toNumber()]).toEqual([0, 0]);
});

describe('in a trial', () => {
  const trial = (last: string, first: string): string => `
trial: Weir Passage lot 5, machine Amber
meter: {start: 100, end: 5100}
prints:
  patches:
    - {patch: cyan solid, first: {lab: ${first}}, last: {lab: ${last}}}
`;
  const difference = (last: string, first: string) =>
    figure(trial(last, first), 'colour_difference', 'cyan solid');

  test('greys read to 0.1: ΔE 4, u 0.0409404 (computed by ciede2000.py; its slopes alone: √2 × 0.1/√12 = 0.0408)', () => {
    const found = difference('[52.0, 0.0, 0.0]', '[48.0, 0.0, 0.0]');
    expect(found).toMatchObject({ unit: 'ΔE00', bound: 'exact' });
    expect(Number(found?.value)).toBeCloseTo(4, 11);
    expect(Number(found?.u)).toBeCloseTo(0.040940409991, 5);
  });

  test('cyan read to 0.1: ΔE 0.710921292809, u 0.0361652 (computed by ciede2000.py)', () => {
    const found = difference('[55.6, -35.7, -48.3]', '[54.9, -36.0, -49.2]');
    expect(Number(found?.value)).toBeCloseTo(0.710921292809, 11);
    expect(Number(found?.u)).toBeCloseTo(0.036165152011, 8);
  });

  test('two prints alike: ΔE 0, u 0.0435775 (computed by ciede2000.py)', () => {
    const found = difference('[54.9, -36.0, -49.2]', '[54.9, -36.0, -49.2]');
    expect(found).toMatchObject({ value: '0', bound: 'exact' });
    expect(Number(found?.u)).toBeCloseTo(0.043577463915, 8);
  });
});
