import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { judge } from '../run.ts';

/*
 * A figure that is exactly its limit keeps it, from either side, whatever was divided on the way; one that is off
 * by the last digit of a reading does not. The readings are made from the limit, so that it is known to be exact.
 */

const decimal = (units: number, places: number): Decimal => new Decimal(units).div(10 ** places);
const whole = (min: number, max: number) => fc.integer({ min, max });

/** Readings from which the figure comes out as its limit, and where one of them is a little more. */
interface Case {
  readonly figure: string;
  /** The lines of a trial; `more` is added to the reading that the figure grows with. */
  readonly lines: (limit: Decimal, p: number, q: number, more: Decimal) => string;
  readonly unit: string;
  /** Where the limit is drawn from, so that the readings are ones a trial may have. */
  readonly limits: readonly [least: number, greatest: number];
  readonly p: readonly [least: number, greatest: number];
}

const g = (mass: Decimal): string => `${mass.toFixed()} g`;

const CASES: readonly Case[] = [
  {
    figure: 'waste_per_thousand',
    limits: [1, 40],
    p: [1000, 50_000],
    unit: ' g',
    // limit × p / 1000 of waste in p pages
    lines: (limit, p, _, more) =>
      `meter: {start: 0, end: ${p}}\nwaste_container: {tare: 600 g, final: ${g(limit.times(p).div(1000).plus(600).plus(more))}}`,
  },
  {
    figure: 'waste_ratio',
    limits: [1, 3],
    p: [1000, 50_000],
    unit: '',
    // limit × 7 g in p pages against 7 g in as many
    lines: (limit, p, q, more) =>
      `meter: {start: 0, end: ${p}}\nwaste_container: {tare: 600 g, final: ${g(limit.times(q).plus(600).plus(more))}}\n` +
      `reference: {meter: {start: 500000, end: ${500_000 + p}}, waste_container: {tare: 600 g, final: ${q + 600} g}}`,
  },
  {
    figure: 'waste_fraction',
    limits: [1, 40],
    p: [50, 900],
    unit: ' %',
    // limit × p / 100 of waste, of p grams of toner
    lines: (limit, p, _, more) =>
      `meter: {start: 0, end: 3000}\nwaste_container: {tare: 600 g, final: ${g(limit.times(p).div(100).plus(600).plus(more))}}\n` +
      `cartridges: [{slot: black, start_mass: ${p + 500} g, end_mass: 500 g}]`,
  },
  {
    figure: 'toner_per_page',
    limits: [5, 50],
    p: [1000, 15_000],
    unit: ' mg',
    // limit × p / 1000 grams over p pages
    lines: (limit, p, _, more) =>
      `meter: {start: 0, end: ${p}}\ncartridges: [{slot: black, start_mass: ${g(limit.times(p).div(1000).plus(500).plus(more))}, end_mass: 500 g, exhausted_at: ${p}}]`,
  },
  {
    figure: 'cost_per_thousand',
    limits: [1, 20],
    p: [1000, 50_000],
    unit: ' EUR',
    // limit × p / 1000 for p pages
    lines: (limit, p, _, more) =>
      `meter: {start: 0, end: ${p}}\ncoverage: 5 %\ncartridges: [{slot: black, exhausted_at: ${p}, price: ${limit.times(p).div(1000).plus(more).toFixed()} EUR}]`,
  },
  {
    figure: 'temperature',
    limits: [15, 30],
    p: [1, 9000],
    unit: ' °C',
    // the mean of three that scatter about the limit
    lines: (limit, p, _, more) => {
      const off = decimal(p, 4);
      const read = [limit.plus(off).plus(more), limit.minus(off), limit].map(
        (one) => `{temperature: ${one.toFixed()} °C}`,
      );
      return `meter: {start: 0, end: 3000}\nambient: [${read.join(', ')}]`;
    },
  },
];

const outcome = (one: Case, edge: 'min' | 'max', limit: Decimal, p: number, q: number, more: Decimal) => {
  const stat = one.figure === 'temperature' ? ', stat: mean' : '';
  const text = `trial: Mill Lane\n${one.lines(limit, p, q, more)}\nlimits: {${one.figure}: {${edge}: ${limit.toFixed()}${one.unit}${stat}, effect: fails}}\n`;
  const { limits, notes } = judge(text);
  if (limits[0] === undefined) throw new Error(`${text}${JSON.stringify(notes)}`);
  const { outcome: found, reason } = limits[0];
  // What is doubted is open, whatever it is.
  return { found, margin: limits[0].margin, doubted: found === 'open' && reason !== null };
};

const drawn = ({ limits: [least, greatest], p }: Case) =>
  [whole(least * 1000, greatest * 1000), whole(...p), whole(2, 99)] as const;

describe.each(CASES)('$figure', (one) => {
  test('exactly at its limit is met from both sides, and its margin is nothing', () => {
    fc.assert(
      fc.property(...drawn(one), (units, p, q) => {
        const limit = decimal(units, 3);
        for (const edge of ['min', 'max'] as const) {
          const { found, margin, doubted } = outcome(one, edge, limit, p, q, new Decimal(0));
          fc.pre(!doubted);
          expect([found, margin]).toEqual(['met', '0']);
        }
      }),
      { seed: 22, numRuns: 150 },
    );
  });

  test('a hair above it is missed from one side and met from the other', () => {
    fc.assert(
      fc.property(...drawn(one), (units, p, q) => {
        const limit = decimal(units, 3);
        const hair = decimal(1, 10);
        const [min, max] = (['min', 'max'] as const).map((edge) => outcome(one, edge, limit, p, q, hair));
        fc.pre(!min?.doubted && !max?.doubted);
        expect([min?.found, max?.found]).toEqual(['met', 'missed']);
      }),
      { seed: 22, numRuns: 60 },
    );
  });
});

test('22 g over 1,500 pages are 1.1 times 20 g over 1,500', () => {
  const { limits, verdict } = judge(`trial: Mill Lane
meter: {start: 0, end: 1500}
waste_container: {tare: 600 g, final: 622 g}
reference: {meter: {start: 1500, end: 3000}, waste_container: {tare: 600 g, final: 620 g}}
limits: {waste_ratio: {max: 1.1}}
`);
  expect(limits[0]).toMatchObject({ outcome: 'met', margin: '0' });
  expect(verdict).toBe('pass');
});

test('readings and limit in another unit give the same outcome', () => {
  const rate = (final: string, max: string): string | undefined =>
    judge(
      `trial: Mill Lane\nmeter: {start: 0, end: 7000}\nwaste_container: {tare: 600 g, final: ${final}}\nlimits: {waste_per_thousand: {max: ${max}}}\n`,
    ).limits[0]?.outcome;
  expect([rate('754 g', '22 g'), rate('0.754 kg', '0.022 kg'), rate('754000 mg', '22000 mg')]).toEqual(
    Array(3).fill('met'),
  );
});
