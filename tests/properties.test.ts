import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { figure, judge, run } from './run.ts';

const integer = (min: number, max: number) => fc.integer({ min, max });

/** A trial whose figures are all derived; weights in whole grams. */
const readings = fc.record({
  start: integer(0, 900_000),
  pages: integer(1, 50_000),
  tare: integer(0, 2000),
  waste: integer(0, 3000),
  coverage: integer(1, 100),
  duplex: integer(0, 100),
});
type Readings = typeof readings extends fc.Arbitrary<infer R> ? R : never;

const trial = ({ start, pages, tare, waste, coverage, duplex }: Readings, more = ''): string => `
trial: Ferry Steps lot 3
meter: {start: ${start}, end: ${start + pages}}
coverage: ${coverage} %
duplex_share: ${duplex} %
waste_container: {tare: ${tare} g, final: ${tare + waste} g, capacity: 500 g}
limits: {waste_per_thousand: {max: 25 g}, yield_at_reference: {min: 1000}}
${more}`;

describe('what must not change a figure', () => {
  test('the order of keys', () => {
    fc.assert(
      fc.property(readings, fc.infiniteStream(integer(0, 1e6)), (one, chance) => {
        const lines = trial(one).trim().split('\n');
        const shuffled = lines
          .map((line) => ({ line, at: chance.next().value as number }))
          .sort((a, b) => a.at - b.at)
          .map(({ line }) => line);
        const { figures, limits, verdict } = judge(trial(one));
        const again = judge(shuffled.join('\n'));
        expect(again.figures).toEqual(figures);
        expect(again.limits).toEqual(limits);
        expect(again.verdict).toBe(verdict);
      }),
    );
  });

  test('splitting the run into batches', () => {
    fc.assert(
      fc.property(readings, fc.uniqueArray(integer(1, 50_000), { maxLength: 6 }), (one, cuts) => {
        const inside = cuts.filter((cut) => cut < one.pages).sort((a, b) => a - b);
        const batches = inside.map((cut) => `  - {end: ${one.start + cut}}`).join('\n');
        const split = judge(trial(one, inside.length > 0 ? `batches:\n${batches}` : ''));
        expect(split.figures).toEqual(judge(trial(one)).figures);
      }),
    );
  });

  test('splitting a batch in two of the same coverage', () => {
    const batches = fc.uniqueArray(integer(1, 50_000), { minLength: 2, maxLength: 5 });
    fc.assert(
      fc.property(readings, batches, integer(1, 100), integer(0, 30), (one, cuts, own, tenths) => {
        const inside = cuts.filter((cut) => cut < one.pages).sort((a, b) => a - b);
        const [first, second] = inside;
        if (first === undefined || second === undefined) return;
        const coverage = `{value: ${own} %, tolerance: ${Math.min(tenths, 10 * own) / 10} %}`;
        const written = (ends: readonly number[]): string =>
          `batches: [${ends.map((end) => `{end: ${one.start + end}${end <= second ? `, coverage: ${coverage}` : ''}}`).join(', ')}]`;
        const whole = judge(trial(one, written(inside.slice(1))));
        expect(judge(trial(one, written(inside))).figures).toEqual(whole.figures);
      }),
    );
  });

  test('the unit a weight is given in', () => {
    fc.assert(
      fc.property(readings, (one) => {
        const kilograms = (grams: number): string => `${(grams / 1000).toFixed(3)} kg`;
        const inGrams = trial(one);
        const inKilograms = inGrams
          .replace(`tare: ${one.tare} g`, `tare: ${kilograms(one.tare)}`)
          .replace(`final: ${one.tare + one.waste} g`, `final: ${kilograms(one.tare + one.waste)}`);
        expect(judge(inKilograms).figures).toEqual(judge(inGrams).figures);
      }),
    );
  });
});

test('waste scales with the weights', () => {
  fc.assert(
    fc.property(readings, integer(2, 9), (one, factor) => {
      const waste = (scale: number) =>
        Number(
          figure(trial({ ...one, tare: one.tare * scale, waste: one.waste * scale }), 'waste_mass')?.value,
        );
      expect(waste(factor)).toBe(factor * waste(1));
    }),
  );
});

test('yield at reference is in proportion to coverage', () => {
  fc.assert(
    fc.property(readings, (one) => {
      const value = figure(trial(one), 'yield_at_reference')?.value;
      expect(Number(value)).toBeCloseTo((one.pages * one.coverage) / 5, 6);
    }),
  );
});

describe('whatever is read', () => {
  const OUTCOMES = [0, 1, 2, 3];
  const sane = (text: string): void => {
    const ran = run(['verdict', 'any.yaml'], { 'any.yaml': text });
    const data = run(['verdict', 'any.yaml', '--format', 'json'], { 'any.yaml': text });
    expect(OUTCOMES).toContain(ran.code);
    expect(data.code).toBe(ran.code);
    expect(ran.out).not.toMatch(/NaN|Infinity|undefined|\[object|^ {4}at /m);
    expect(data.out).not.toMatch(/NaN|Infinity|undefined|\[object|-0"/);
    expect(() => JSON.parse(data.out) as unknown).not.toThrow();
    const last = ran.out.trimEnd().split('\n').at(-1);
    expect(last).toBe(`VERDICT: ${['PASS', 'FAIL', 'INCONCLUSIVE', 'INVALID'][ran.code] ?? ''}`);
  };

  test('text of any kind ends in a documented code', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.string({ unit: 'binary' }), fc.json()), (text) => {
        sane(text);
      }),
      { numRuns: 300 },
    );
  });

  test('values of any kind under the keys of a trial end in a documented code', () => {
    const value = fc.oneof(
      fc.constantFrom(
        '',
        '0',
        '-1',
        '5 %',
        '1e12',
        '1e-12',
        '0.000',
        '22 °C',
        '[]',
        '{}',
        '~',
        '640 g',
        '"',
        '1e999',
      ),
      fc.double({ noDefaultInfinity: true, noNaN: true }).map(String),
      fc.string({ maxLength: 8 }),
    );
    const key = fc.constantFrom(
      'meter: {start: 10, end: @}',
      'meter: {start: @, end: 30}',
      'coverage: @',
      'coverage: {value: @, tolerance: @}',
      'coverage: {black: @}',
      'duplex_share: @',
      'waste_container: {tare: @, final: @, capacity: @}',
      'ambient: [{temperature: @, humidity: @}]',
      'cartridges: [{slot: black, exhausted_at: @, start_mass: @, end_mass: @}]',
      'limits: {temperature: {min: @}, waste_per_thousand: {max: @}}',
      'non_image_usage: @',
      'paper: {grammage: @}',
      'instruments: {scale: {max_error: @}, meter: {max_error: @}}',
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(key, value), { minLength: 1, maxLength: 8 }), (parts) => {
        const lines = parts.map(([one, text]) => one.replaceAll('@', text));
        sane(['trial: Ferry Steps lot 3', ...lines].join('\n'));
      }),
      { numRuns: 600 },
    );
  });
});
