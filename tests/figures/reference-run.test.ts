import { describe, expect, test } from 'vitest';
import { figure, judge, type ResultJson, run } from '../run.ts';

/*
 * Candidate against reference in the same machine: ratios with their uncertainty, in which a reading that
 * both runs share counts once (JCGM 100:2008, 5.2.2: correlation; here by the shared sensitivities). The
 * comparison is common practice, no source; the numbers are worked by hand beside each test, the runs
 * invented.
 */

/** Relative standard uncertainty of a difference of so many grams, weighed twice to 1 g. */
const weighed = (grams: number): number => Math.sqrt(1 / 6) / grams;

type Figure = ResultJson['figures'][number];

const get = (text: string, name: string, of: string | null = null): Figure => {
  const found = figure(text, name, of);
  if (found === undefined) throw new Error(`${name} was not derived`);
  return found;
};

const codes = (text: string): string[] => judge(text).notes.map(({ code }) => code);

interface Parts {
  readonly coverage?: string;
  readonly candidate?: string;
  readonly own?: string;
  readonly meter?: string;
  readonly more?: string;
}

/**
 * 12 000 pages of the candidate, 220 g of waste, black exhausted after 11 000 pages and 330 g; before them
 * 6000 pages of the reference, 100 g of waste, black exhausted after 5000 pages and 125 g.
 */
const trial = ({
  coverage = 'coverage: 6 %',
  candidate = '{slot: black, start_mass: 800 g, end_mass: 470 g, exhausted_at: 31000}',
  own = '{slot: black, start_mass: 790 g, end_mass: 665 g, exhausted_at: 19000}',
  meter = '{start: 14000, end: 20000}',
  more = '',
}: Parts = {}): string => `
trial: Tollgate Row lot 31, machine Umber
meter: {start: 20000, end: 32000}
${coverage}
waste_container: {tare: 640 g, final: 860 g}
cartridges: [${candidate}]
reference:
  meter: ${meter}
  waste_container: {tare: 650 g, final: 750 g}
  cartridges: [${own}]
${more}
`;

describe('waste_ratio', () => {
  test('18.3333 g over 16.6667 g for a thousand is 1.1', () => {
    const ratio = get(trial(), 'waste_ratio');
    expect(ratio).toMatchObject({ unit: '1', bound: 'exact' });
    // 1000 × 220 / 12 000 over 1000 × 100 / 6000.
    expect(Number(ratio.value)).toBeCloseTo(1.1, 10);
    expect(Number(ratio.u)).toBeCloseTo(1.1 * Math.hypot(weighed(220), weighed(100)), 9);
    expect(Number(ratio.u)).toBeCloseTo(0.0049329, 6);
  });

  test('no waste of the reference: nothing is divided by zero', () => {
    const clean = trial().replace('tare: 650 g, final: 750 g', 'tare: 650 g, final: 650 g');
    expect(figure(clean, 'waste_ratio')).toBeUndefined();
  });
});

describe('usage_ratio', () => {
  test('330 g / 11 000 = 30 mg over 125 g / 5000 = 25 mg is 1.2', () => {
    const ratio = get(trial(), 'usage_ratio', 'black');
    expect(ratio).toMatchObject({ value: '1.2', unit: '1', bound: 'exact' });
    expect(Number(ratio.u)).toBeCloseTo(1.2 * Math.hypot(weighed(330), weighed(125)), 9);
  });
});

describe('yield_ratio', () => {
  test('11 000 pages over 5000 at the same coverage are 2.2, exact', () => {
    expect(get(trial(), 'yield_ratio', 'black')).toMatchObject({ value: '2.2', u: '0', bound: 'exact' });
  });

  test('a tolerance of the coverage that both runs share cancels', () => {
    const shared = trial({ coverage: 'coverage: {value: 6 %, tolerance: 0.6 %}' });
    expect(Number(get(shared, 'yield_at_reference', 'black').u)).toBeCloseTo((13200 * 0.1) / Math.sqrt(3), 6);
    const { value, u } = get(shared, 'yield_ratio', 'black');
    expect(value).toBe('2.2');
    expect(Number(u)).toBeLessThan(1e-12);
  });

  test('so does that of the slot alone', () => {
    const shared = trial({ coverage: 'coverage: {black: {value: 6 %, tolerance: 0.6 %}}' });
    expect(Number(get(shared, 'yield_ratio', 'black').u)).toBeLessThan(1e-12);
  });

  test('coverages each run has of its own are two inputs: 2.2 × √2 × 0.1/√3 = 0.179629', () => {
    const apart = trial({
      coverage: 'coverage: {value: 6 %, tolerance: 0.6 %}',
      more: '  coverage: {value: 6 %, tolerance: 0.6 %}',
    });
    expect(get(apart, 'yield_ratio', 'black').value).toBe('2.2');
    expect(Number(get(apart, 'yield_ratio', 'black').u)).toBeCloseTo(2.2 * Math.sqrt(2 / 3) * 0.1, 9);
    expect(codes(apart)).not.toContain('coverage-differs');
  });

  test('with m₀ the shared coverage cancels only in part', () => {
    /*
     * y = Y m / D, D = m₀ + (m − m₀) s, s = 5/6, m₀ = 3 mg in both runs. Candidate m = 30, D = 25.5;
     * reference m = 25, D = 3 + 22 × 5/6 = 21.3333. The ratio is 2.2 × (30/25.5) / (25/21.3333).
     * ∂ln y/∂c = (m − m₀) (5/36) / D, their difference times u(c) = 0.6/√3 is left of the coverage;
     * ∂ln y/∂m = m₀ (1 − s) / (m D) brings the weights.
     */
    const [D, E] = [25.5, 3 + (22 * 5) / 6];
    const coverage = (((27 * 5) / 36 / D - (22 * 5) / 36 / E) * 0.6) / Math.sqrt(3);
    const candidate = (0.5 / (30 * D)) * 30 * weighed(330);
    const reference = (0.5 / (25 * E)) * 25 * weighed(125);
    const expected = (2.2 * 30 * E) / (D * 25);
    const scaled = trial({
      coverage: 'coverage: {value: 6 %, tolerance: 0.6 %}\nnon_image_usage: 3.0000000000 mg',
      more: '  non_image_usage: 3.0000000000 mg',
    });
    const { value, u } = get(scaled, 'yield_ratio', 'black');
    expect(Number(value)).toBeCloseTo(expected, 9);
    expect(Number(u)).toBeCloseTo(expected * Math.hypot(coverage, candidate, reference), 8);
  });

  test('at 6 % against 5 %: 11 000 × 6/5 over 5000 is 2.64', () => {
    expect(get(trial({ more: '  coverage: 5 %' }), 'yield_ratio', 'black').value).toBe('2.64');
  });
});

describe('a bound in one run, or in both', () => {
  const open = (cartridge: string): string => cartridge.replace(/, exhausted_at: \d+/, '');
  const CANDIDATE = '{slot: black, start_mass: 800 g, end_mass: 470 g, exhausted_at: 31000}';
  const OWN = '{slot: black, start_mass: 790 g, end_mass: 665 g, exhausted_at: 19000}';

  test('candidate not exhausted: 12 000 over 5000 is at least 2.4', () => {
    expect(get(trial({ candidate: open(CANDIDATE) }), 'yield_ratio', 'black')).toMatchObject({
      value: '2.4',
      bound: 'at_least',
    });
  });

  test('reference not exhausted: 11 000 over 6000 is at most 1.8333', () => {
    const ratio = get(trial({ own: open(OWN) }), 'yield_ratio', 'black');
    expect(ratio.bound).toBe('at_most');
    expect(Number(ratio.value)).toBeCloseTo(11 / 6, 10);
  });

  test('neither exhausted: they pull both ways, no ratio follows, and a limit says why', () => {
    const both = trial({
      candidate: open(CANDIDATE),
      own: open(OWN),
      more: 'limits: {yield_ratio: {min: 0.9}}',
    });
    expect(figure(both, 'yield_ratio', 'black')).toBeUndefined();
    const { code, limits } = judge(both);
    expect(code).toBe(2);
    expect(limits[0]).toMatchObject({ figure: 'yield_ratio', of: 'black', outcome: 'open', margin: null });
    expect(limits[0]?.reason).toMatch(/lower bound and .* upper/);
    expect(get(both, 'usage_ratio', 'black').bound).toBe('exact');
  });

  test('at most 1.8333 meets a maximum of 1.84, never misses one, and never meets a minimum', () => {
    const code = (edge: string): number =>
      judge(trial({ own: open(OWN), more: `limits: {yield_ratio: {${edge}}}` })).code;
    expect(code('max: 1.84')).toBe(0);
    expect(code('max: 1.8')).toBe(2);
    expect(code('min: 1.8')).toBe(2);
    expect(code('min: 1.84')).toBe(1);
  });
});

describe('limits', () => {
  const judged = (limits: string): (string | null)[][] =>
    judge(trial({ more: `limits: {${limits}}` })).limits.map(({ figure, of, outcome }) => [
      figure,
      of,
      outcome,
    ]);

  test('on every ratio, edges included', () => {
    expect(
      judged('waste_ratio: {max: 1.1}, usage_ratio: {max: 1.19}, yield_ratio: {of: black, min: 2.2}'),
    ).toEqual([
      ['waste_ratio', null, 'met'],
      ['usage_ratio', 'black', 'missed'],
      ['yield_ratio', 'black', 'met'],
    ]);
  });

  test('guarded: 1.1 ± 2 × 0.0049329 cannot tell itself from 1.105', () => {
    const code = (edge: string): number =>
      judge(trial({ more: `limits: {decision: {rule: guarded}, waste_ratio: {${edge}}}` })).code;
    expect(code('max: 1.11')).toBe(0);
    expect(code('max: 1.105')).toBe(2);
    expect(code('max: 1.095')).toBe(2);
    expect(code('max: 1.09')).toBe(1);
  });

  test('without a reference run they are open, and the run is named', () => {
    const alone = `
trial: Tollgate Row lot 31, machine Umber
meter: {start: 20000, end: 32000}
waste_container: {tare: 640 g, final: 860 g}
limits: {waste_ratio: {max: 1.1}}
`;
    const { code, limits } = judge(alone);
    expect(code).toBe(2);
    expect(limits[0]).toMatchObject({ outcome: 'open', margin: null });
    expect(limits[0]?.reason).toContain('reference');
  });

  test('a slot the reference has no cartridge in leaves its ratio open', () => {
    const cyan = trial({ own: '{slot: cyan}', more: 'limits: {usage_ratio: {of: black, max: 1.2}}' });
    const { code, limits } = judge(cyan);
    expect(code).toBe(2);
    expect(limits[0]?.reason).toContain('reference.cartridges');
  });
});

test('a second cartridge of a slot is held against the first of the reference in that slot', () => {
  // black 5000 pages and 150 g, 30 mg; black#2 7000 pages and 175 g, 25 mg; the reference 25 mg.
  const two = trial({
    candidate:
      '{slot: black, start_mass: 800, end_mass: 650, exhausted_at: 25000}, {slot: black, start_mass: 800, end_mass: 625}',
  });
  expect(get(two, 'usage_ratio', 'black').value).toBe('1.2');
  expect(get(two, 'usage_ratio', 'black#2').value).toBe('1');
});

test('text shows candidate and reference side by side, with their ratio', () => {
  const { out } = run(['verdict', 'trial.yaml'], { 'trial.yaml': trial() });
  const line = (name: string): string => out.split('\n').find((one) => one.trim().startsWith(name)) ?? '';
  const table = out.slice(out.indexOf('CANDIDATE AND REFERENCE'));
  expect(table).toMatch(/candidate +reference +ratio/);
  // 18.333 ± 2 × √(1/6) / 12 = 0.068, 16.667 ± 0.136 g; the ratio 1.1 ± 0.0099.
  expect(table).toMatch(/waste per thousand.* 18\.333±0\.068 +16\.67±0\.14 +1\.1000±0\.0099/);
  expect(table).toMatch(/toner per page of black.* 30\.000±0\.074 +25\.00±0\.16 +1\.2000±0\.0084/);
  expect(table).toMatch(/yield at reference of black.* 13200 +6000 +2\.2/);
  expect(line('waste ratio')).toBe('');
});

describe('warnings', () => {
  test('coverage-differs: 6 % against 5 %', () => {
    const note = judge(trial({ more: '  coverage: 5 %' })).notes.find(
      ({ code }) => code === 'coverage-differs',
    );
    expect(note).toMatchObject({ kind: 'warning', key: 'coverage' });
    expect(note?.message).toContain('6 %');
    expect(note?.message).toContain('5 %');
  });

  test('coverage-differs: of the pages a reference cartridge printed itself, in its slot, to four digits', () => {
    // Black to 17 000, 3000 pages at 5 %; cyan to 19 000, (3000 × 5 + 2000 × 9) / 5000 = 6.6 %; all of it 7 %.
    const apart = (slots: string, black: string): string[] =>
      judge(
        trial({
          coverage: `coverage: ${black} %`,
          candidate: '{slot: black, exhausted_at: 31000}',
          own: slots,
          more: '  coverage: 5 %\n  batches: [{end: 17000}, {end: 20000, coverage: 9 %}]',
        }),
      ).notes.flatMap(({ code, message }) => (code === 'coverage-differs' ? [message] : []));
    const [cyan, black] = ['{slot: cyan, exhausted_at: 19000}', '{slot: black, exhausted_at: 17000}'];
    expect(apart(`${cyan}, ${black}`, '5')).toEqual([]);
    expect(apart(`${cyan}, ${black}`, '6.6')[0]).toContain(
      'was printed at 5 % coverage, the candidate at 6.6 %',
    );
    expect(apart(cyan, '7')).toEqual([]);
    // To 17 500: (3000 × 5 + 500 × 9) / 3500 = 5.571428.
    expect(apart('{slot: black, exhausted_at: 17500}', '5.00001')[0]).toContain(
      'at 5.571 % coverage, the candidate at 5 %',
    );
  });

  test('coverage-differs: only the slot that differs is named', () => {
    const slots = trial({
      coverage: 'coverage: {black: 6 %, cyan: 5 %}',
      candidate: '{slot: black}, {slot: cyan}',
      own: '{slot: black}, {slot: cyan}',
      more: '  coverage: {black: 6 %, cyan: 7 %}',
    });
    const notes = judge(slots).notes.filter(({ code }) => code === 'coverage-differs');
    expect(notes).toHaveLength(1);
    expect(notes[0]?.message).toContain('cyan');
  });

  test('not when the reference has no coverage of its own, or the same', () => {
    expect(codes(trial())).not.toContain('coverage-differs');
    expect(codes(trial({ more: '  coverage: 6.0 %' }))).not.toContain('coverage-differs');
  });

  test('reference-short: 600 pages against 12 000 say little; 6000 do', () => {
    const short = trial({ meter: '{start: 19400, end: 20000}', own: '{slot: black}' });
    const note = judge(short).notes.find(({ code }) => code === 'reference-short');
    expect(note?.kind).toBe('warning');
    expect(note?.message).toContain('600');
    expect(note?.message).toContain('12000');
    expect(codes(trial())).not.toContain('reference-short');
  });
});

describe('the meters of the two runs', () => {
  test('may touch, in either order, not overlap', () => {
    expect(codes(trial())).not.toContain('runs-overlap');
    const after = trial({ meter: '{start: 32000, end: 38000}', own: '{slot: black}' });
    expect(codes(after)).not.toContain('runs-overlap');
    const inside = judge(trial({ meter: '{start: 14000, end: 20001}', own: '{slot: black}' }));
    expect(inside.code).toBe(3);
    expect(inside.notes.map(({ code }) => code)).toContain('runs-overlap');
  });
});
