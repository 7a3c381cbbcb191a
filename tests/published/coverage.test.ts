import { describe, expect, test } from 'vitest';
import { figure, judge, type ResultJson } from '../run.ts';

/*
 * From a yield at the coverage printed to the yield at the reference coverage. Sources beside each check;
 * numbers without one are worked by hand from the formula given there. The runs are invented.
 */

const trial = (...lines: readonly string[]): string =>
  ['trial: Ferry Lane lot 3, machine Teal', 'meter: {start: 20000, end: 30000}', ...lines, ''].join('\n');

const EXHAUSTED = 'cartridges: [{slot: black, exhausted_at: 30000}]';

const atReference = (...lines: readonly string[]): ResultJson['figures'][number] => {
  const found = figure(trial(...lines), 'yield_at_reference', 'black');
  if (found === undefined) throw new Error('yield_at_reference was not derived');
  return found;
};

const codes = (...lines: readonly string[]): string[] => judge(trial(...lines)).notes.map(({ code }) => code);

describe('in proportion to coverage', () => {
  /*
   * ASTM F685 and F1424 (seen: abstracts): toner goes in proportion to coverage in theory, not exactly
   * in practice. So yield × c / c_ref is a first-order model.
   */
  test('10 000 pages at 6 % are 12 000 at 5 %', () => {
    expect(atReference('coverage: 6 %', EXHAUSTED)).toMatchObject({
      value: '12000',
      u: '0',
      bound: 'exact',
      unit: 'page',
    });
  });

  test('5 % is the reference where none is agreed (ASTM F1856 and F2632, seen: abstracts); limits may set another', () => {
    expect(atReference('coverage: 5 %', EXHAUSTED).value).toBe('10000');
    expect(atReference('coverage: 5 %', EXHAUSTED, 'limits: {reference_coverage: 4 %}').value).toBe('12500');
  });

  test('each slot by its own coverage', () => {
    const two = trial(
      'coverage: {black: 6 %, cyan: 2.5 %}',
      'cartridges: [{slot: black, exhausted_at: 30000}, {slot: cyan, exhausted_at: 28000}]',
    );
    expect(figure(two, 'yield_at_reference', 'black')?.value).toBe('12000');
    expect(figure(two, 'yield_at_reference', 'cyan')?.value).toBe('4000');
    expect(figure(two, 'yield_at_reference', null, 'least')).toMatchObject({ value: '4000', bound: 'exact' });
  });

  test('a cartridge that was not exhausted yields at least what it printed', () => {
    expect(atReference('coverage: 6 %', 'cartridges: [{slot: black}]')).toMatchObject({
      value: '12000',
      bound: 'at_least',
    });
  });

  test('no yield follows from zero coverage', () => {
    expect(figure(trial('coverage: 0 %', EXHAUSTED), 'yield_at_reference', 'black')).toBeUndefined();
  });
});

describe('ASTM F1856-04: coverage 5 ± 0.5 % (seen: astm.org)', () => {
  // A tolerance a, rectangular, brings a/√3 (GUM 4.3.7, seen second-hand): 0.5/√3 = 0.288675 % coverage.
  const LINES = ['coverage: {value: 5 %, tolerance: 0.5 %}', EXHAUSTED];

  test('relative u of the yield is that of the coverage: 0.5/√3/5 = 0.0577350', () => {
    const { value, u } = atReference(...LINES);
    expect(value).toBe('10000');
    expect(Number(u) / Number(value)).toBeCloseTo(0.5 / Math.sqrt(3) / 5, 9);
    expect(Number(u)).toBeCloseTo(577.350269, 6);
  });

  test('the yield itself, a count, has none', () => {
    expect(figure(trial(...LINES), 'yield', 'black')).toMatchObject({ value: '10000', u: '0' });
  });

  test('the same relative u against another reference coverage, and as a share of the rating', () => {
    const { value, u } = atReference(...LINES, 'limits: {reference_coverage: 4 %}');
    expect(Number(u) / Number(value)).toBeCloseTo(0.0577350269, 9);
    const rated = trial(
      LINES[0] ?? '',
      'cartridges: [{slot: black, exhausted_at: 30000, rated_yield: 8000}]',
    );
    const share = figure(rated, 'yield_to_rating', 'black');
    expect(share?.value).toBe('125');
    expect(Number(share?.u)).toBeCloseTo(125 * 0.0577350269, 7);
  });
});

/*
 * Toner that goes at zero coverage (m₀ mg a page) does not shrink with the coverage. A balance of toner,
 * no published figure: at the reference a page takes m₀ + (m − m₀) × c_ref / c, and the cartridge's toner
 * lasts yield × m / that many pages.
 */
describe('with non_image_usage', () => {
  /*
   * 400 g over 10 000 pages: m = 40 mg. m₀ = 5 mg. From 10 to 5 %: 5 + 35 × 0.5 = 22.5 mg a page, and
   * 400 g last 400 000 / 22.5 = 17 777.78 pages. In proportion it would be 20 000.
   */
  const WEIGHED = [
    'coverage: 10 %',
    'non_image_usage: 5 mg',
    'cartridges: [{slot: black, start_mass: 800 g, end_mass: 400 g, exhausted_at: 30000}]',
  ];

  test('m from the weights: 10 000 pages at 10 % are 17 777.78 at 5 %', () => {
    expect(Number(atReference(...WEIGHED).value)).toBeCloseTo(400000 / 22.5, 7);
    expect(codes(...WEIGHED)).not.toContain('proportional-scaling');
  });

  test('m from the weights stands twice in the formula and counts once', () => {
    /*
     * d/dm [Y m / (m₀ (1 − s) + m s)] = Y m₀ (1 − s) / (m₀ (1 − s) + m s)², s = 5/10:
     * 10000 × 5 × 0.5 / 22.5² = 49.38272 pages a mg. u(m) = √(1/6) g / 10 000 = 0.040824829 mg
     * (two weighings to 1 g). u = 2.0160410 pages. Counted as two readings it would be far more.
     */
    const exactly = WEIGHED.map((line) => line.replace('5 mg', '5.0000000000 mg'));
    expect(Number(atReference(...exactly).u)).toBeCloseTo(2.016041, 6);
  });

  test('m₀ is known as far as its digits go', () => {
    /*
     * d/dm₀ = −Y m (1 − s) / (m₀ (1 − s) + m s)² = −10000 × 40 × 0.5 / 22.5² = −395.06173 pages a mg;
     * u(m₀) = 1/√12 mg = 0.28867513 (GUM F.2.2.1, from memory). √(114.04450² + 2.01604²) = 114.06232.
     */
    expect(Number(atReference(...WEIGHED).u)).toBeCloseTo(114.06232, 4);
  });

  test('m from the fill of an exhausted cartridge: 360 g over 9000 pages is 40 mg too', () => {
    // 9000 × 40 / 22.5 = 16 000.
    const { value, bound } = atReference(
      'coverage: 10 %',
      'non_image_usage: 5 mg',
      'cartridges: [{slot: black, fill_mass: 360 g, exhausted_at: 29000}]',
    );
    expect(Number(value)).toBeCloseTo(16000, 9);
    expect(bound).toBe('exact');
  });

  test('the weights go before the fill', () => {
    const both =
      'cartridges: [{slot: black, start_mass: 800, end_mass: 400, fill_mass: 700, exhausted_at: 30000}]';
    expect(Number(atReference('coverage: 10 %', 'non_image_usage: 5 mg', both).value)).toBeCloseTo(
      400000 / 22.5,
      7,
    );
  });

  test('weights serve a cartridge that was not exhausted: the result is a lower bound', () => {
    const { value, bound } = atReference(
      'coverage: 10 %',
      'non_image_usage: 5 mg',
      'cartridges: [{slot: black, start_mass: 800 g, end_mass: 400 g}]',
    );
    expect(Number(value)).toBeCloseTo(400000 / 22.5, 7);
    expect(bound).toBe('at_least');
  });

  test('a fill does not: what was not exhausted is scaled in proportion, and that is said', () => {
    const lines = [
      'coverage: 10 %',
      'non_image_usage: 5 mg',
      'cartridges: [{slot: black, fill_mass: 360 g}]',
    ];
    expect(atReference(...lines)).toMatchObject({ value: '20000', bound: 'at_least' });
    expect(codes(...lines)).toContain('proportional-scaling');
  });

  test('neither weights nor fill: in proportion, and that is said', () => {
    const lines = ['coverage: 10 %', 'non_image_usage: 5 mg', EXHAUSTED];
    expect(atReference(...lines).value).toBe('20000');
    expect(codes(...lines)).toContain('proportional-scaling');
  });

  test('by slot: one without it is scaled in proportion, and nothing need be said', () => {
    const lines = [
      'coverage: 10 %',
      'non_image_usage: {black: 5 mg}',
      'cartridges: [{slot: black, start_mass: 800, end_mass: 400, exhausted_at: 30000}, {slot: cyan, exhausted_at: 30000}]',
    ];
    expect(Number(atReference(...lines).value)).toBeCloseTo(400000 / 22.5, 7);
    expect(figure(trial(...lines), 'yield_at_reference', 'cyan')?.value).toBe('20000');
    expect(codes(...lines)).not.toContain('proportional-scaling');
  });

  test('at the reference coverage itself nothing changes, whatever goes at zero coverage', () => {
    const [, usage = '', cartridges = ''] = WEIGHED;
    expect(Number(atReference('coverage: 5 %', usage, cartridges).value)).toBeCloseTo(10000, 9);
  });

  test('none at zero coverage is proportion', () => {
    const [coverage = '', , cartridges = ''] = WEIGHED;
    expect(Number(atReference(coverage, 'non_image_usage: 0 mg', cartridges).value)).toBeCloseTo(20000, 9);
  });

  test('more at zero coverage than was used at all: no yield follows', () => {
    const [coverage = '', , cartridges = ''] = WEIGHED;
    const impossible = trial(coverage, 'non_image_usage: 41 mg', cartridges);
    expect(figure(impossible, 'yield_at_reference', 'black')).toBeUndefined();
  });
});

/*
 * Coverage stated of the printable area (as ASTM F1856 does, seen: astm.org) is carried over to the page:
 * A4 with 5 mm unprintable all round has 200 × 287 of 210 × 297 mm², 0.920314.
 */
describe('coverage of the printable area', () => {
  const PRINTABLE = ['coverage_basis: printable', 'printable_border: 5 mm'];
  const SHARE = (200 * 287) / (210 * 297);

  test('5 % of the printable area of A4 is 4.60157 % of the page: 10 000 pages are 9203.14 at 5 %', () => {
    expect(Number(atReference('coverage: 5 %', ...PRINTABLE, EXHAUSTED).value)).toBeCloseTo(9203.14254, 5);
  });

  test('the reference coverage stays of the page', () => {
    // 10 000 × 4.601571 / 4 = 11 503.928
    const lines = ['coverage: 5 %', ...PRINTABLE, EXHAUSTED, 'limits: {reference_coverage: 4 %}'];
    expect(Number(atReference(...lines).value)).toBeCloseTo(11503.9282, 4);
  });

  test('the tolerance goes with it: relative u as before', () => {
    const { value, u } = atReference('coverage: {value: 5 %, tolerance: 0.5 %}', ...PRINTABLE, EXHAUSTED);
    expect(Number(value)).toBeCloseTo(10000 * SHARE, 8);
    expect(Number(u) / Number(value)).toBeCloseTo(0.0577350269, 9);
  });

  test('it follows the paper: letter with 0.25 in all round is 8 × 10.5 of 8.5 × 11 in²', () => {
    // 84 / 93.5 = 0.898396: 10 000 pages are 8983.957.
    const lines = ['coverage: 5 %', 'coverage_basis: printable', 'printable_border: 0.25 in'];
    expect(Number(atReference(...lines, 'paper: {size: letter}', EXHAUSTED).value)).toBeCloseTo(8983.9572, 4);
  });

  test('the basis is the page unless said, border or not', () => {
    expect(atReference('coverage: 5 %', 'printable_border: 5 mm', EXHAUSTED).value).toBe('10000');
    expect(
      atReference('coverage: 5 %', 'coverage_basis: page', 'printable_border: 5 mm', EXHAUSTED).value,
    ).toBe('10000');
  });

  test('without the border it cannot be had, and the border is named as missing', () => {
    const { figures, limits, code } = judge(
      trial(
        'coverage: 5 %',
        'coverage_basis: printable',
        EXHAUSTED,
        'limits: {yield_at_reference: {min: 9000}}',
      ),
    );
    expect(figures.map((one) => one.figure)).not.toContain('yield_at_reference');
    expect(limits[0]?.outcome).toBe('open');
    expect(limits[0]?.reason).toContain('printable_border');
    expect(code).toBe(2);
  });
});
