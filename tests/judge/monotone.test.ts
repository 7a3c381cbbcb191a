import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { judge } from '../run.ts';

/*
 * What must hold of every trial, whatever its numbers: more jams never make an outcome better, a tighter limit never
 * turns a fail or an inconclusive into a pass, and what is said in another order, or beside, changes nothing.
 */

const RANK: Readonly<Record<string, number>> = { missed: 0, open: 1, met: 2 };
const VERDICTS: Readonly<Record<string, number>> = { fail: 0, inconclusive: 1, pass: 2 };

const jams = (count: number): string =>
  `events: [${Array.from({ length: count }, () => '{kind: jam}').join(', ')}]`;

interface Decided {
  readonly rule: 'simple' | 'guarded';
  readonly factor: number;
  readonly max: number;
}

const decided: fc.Arbitrary<Decided> = fc.record({
  rule: fc.constantFrom('simple' as const, 'guarded' as const),
  factor: fc.integer({ min: 1, max: 24 }).map((halves) => halves / 2),
  max: fc.integer({ min: 0, max: 4000 }).map((hundredths) => hundredths / 100),
});

const outcome = (events: string, { rule, factor, max }: Decided): string =>
  judge(
    `trial: Elm Yard\nmeter: {start: 0, end: 100000}\n${events}\nlimits: {decision: {rule: ${rule}, factor: ${factor}}, jams_per_thousand: {max: ${max}}}\n`,
  ).limits[0]?.outcome ?? '';

describe('jams', () => {
  test('more of them never improve an outcome', () => {
    fc.assert(
      fc.property(fc.nat(4000), fc.integer({ min: 1, max: 300 }), decided, (count, more, how) => {
        const [before, after] = [outcome(jams(count), how), outcome(jams(count + more), how)];
        expect(RANK[after]).toBeLessThanOrEqual(RANK[before] ?? NaN);
      }),
      { seed: 13, numRuns: 60 },
    );
  });

  test.each([3800, 3900, 4100])('%i in 100,000 pages miss a limit of 20 a thousand by far', (count) => {
    // 38 ± 0.62 a thousand: sixty standard deviations away.
    expect(outcome(jams(count), { rule: 'guarded', factor: 2, max: 20 })).toBe('missed');
  });

  test.each([2, 5, 8, 9, 12])('and a hundred miss 0.01 a thousand at a factor of %i', (factor) => {
    // At twelve u the exact lower bound of 100 events is above 20: 0.2 a thousand.
    expect(outcome(jams(100), { rule: 'guarded', factor, max: 0.01 })).toBe('missed');
  });
});

const TRIAL = (rate: number, limits: string, more = ''): string => `trial: {title: Elm Yard, id: E-1}
meter: {start: 20000, end: 32000}
coverage: {black: 5 %, cyan: 6 %}
${more}waste_container: {tare: 600, final: ${600 + Math.round(rate * 12)}}
cartridges: [{slot: black, exhausted_at: 31000}, {slot: cyan}]
events: [{at: 22000, kind: jam}]
limits: {${limits}}
`;

const guarded = fc.constantFrom('', 'decision: {rule: guarded}, ');

test('a tighter limit never turns a fail or an inconclusive into a pass', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 40 }),
      fc.integer({ min: 1, max: 400 }),
      fc.integer({ min: 1, max: 399 }),
      fc.integer({ min: 5000, max: 15000 }),
      guarded,
      (rate, tenths, less, yields, rule) => {
        const verdict = (max: number, min: number): number =>
          VERDICTS[
            judge(
              TRIAL(
                rate,
                `${rule}waste_per_thousand: {max: ${max / 10}}, yield_at_reference: {of: black, min: ${min}}`,
              ),
            ).verdict
          ] ?? NaN;
        const tight = Math.max(1, tenths - less);
        expect(verdict(tight, yields)).toBeLessThanOrEqual(verdict(tenths, yields));
        expect(verdict(tenths, yields + less)).toBeLessThanOrEqual(verdict(tenths, yields));
      },
    ),
    { seed: 17, numRuns: 150 },
  );
});

test('a note, a batch split in two, keys in another order: the same verdict', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 40 }),
      fc.integer({ min: 1, max: 400 }),
      guarded,
      fc.shuffledSubarray([0, 1, 2, 3, 4, 5, 6], { minLength: 7 }),
      fc.integer({ min: 22100, max: 23900 }),
      (rate, tenths, rule, order, split) => {
        const batches = 'batches: [{end: 22000}, {end: 24000}, {end: 26000}, {end: 28000}, {end: 30000}]\n';
        const text = TRIAL(rate, `${rule}waste_per_thousand: {max: ${tenths / 10}}`, batches);
        const { verdict } = judge(text);
        const lines = text.trimEnd().split('\n');
        expect(lines).toHaveLength(8);
        const shuffled = [...order.map((index) => lines[index]), lines[7]].join('\n');
        expect(judge(`${shuffled}\n`).verdict).toBe(verdict);
        expect(judge(text.replace('id: E-1}', 'id: E-1, note: "dust seen: a little"}')).verdict).toBe(
          verdict,
        );
        expect(judge(text.replace('{end: 24000}', `{end: ${split}}, {end: 24000}`)).verdict).toBe(verdict);
      },
    ),
    { seed: 19, numRuns: 120 },
  );
});

test('the least of equal values takes the one that decides less, whatever the order', () => {
  const verdict = (coverage: string): string =>
    judge(
      `trial: t\nmeter: {start: 0, end: 10000}\ncoverage: {${coverage}}\ncartridges: [{slot: black, exhausted_at: 10000}, {slot: cyan, exhausted_at: 10000}]\nlimits: {decision: {rule: guarded}, yield_at_reference: {stat: least, min: 9900}}\n`,
    ).verdict;
  const [black, cyan] = ['black: {value: 5 %, tolerance: 0.5 %}', 'cyan: 5 %'];
  expect(verdict(`${black}, ${cyan}`)).toBe('inconclusive');
  expect(verdict(`${cyan}, ${black}`)).toBe('inconclusive');
  const swapped = ['cyan: {value: 5 %, tolerance: 0.5 %}', 'black: 5 %'];
  expect(verdict(swapped.join(', '))).toBe('inconclusive');
});
