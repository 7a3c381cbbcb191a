import { describe, expect, test } from 'vitest';
import { figure, judge, type ResultJson, run } from '../run.ts';

/*
 * What cartridges weigh, print and would print. Every number is worked by hand beside its test from the
 * formulas named there; the runs are invented. Toner per page is the quantity of ASTM F1856-04, 3.1.1, and
 * F2632-07 (seen: abstracts): toner removed from the hopper in printing one page, in mg.
 *
 * Weights to 1 g have u = 1/√12 g each (GUM F.2.2.1, from memory), a difference of two √(1/6) g.
 */
const DIFFERENCE = Math.sqrt(1 / 6);

type Figure = ResultJson['figures'][number];

const trial = (...lines: readonly string[]): string =>
  ['trial: Cooper Wharf lot 14, machine Sorrel', 'meter: {start: 30000, end: 42000}', ...lines, ''].join(
    '\n',
  );

/** A figure that must have been derived. */
const get = (text: string, name: string, of: string | null = null, stat: string | null = null): Figure => {
  const found = figure(text, name, of, stat);
  if (found === undefined) throw new Error(`${name} was not derived`);
  return found;
};

const codes = (text: string): string[] => judge(text).notes.map(({ code }) => code);

/** 12 000 pages in black, and cyan exhausted after 10 000. */
const TWO = [
  'coverage: {black: 6 %, cyan: 5 %}',
  'waste_container: {tare: 640 g, final: 706 g}',
  'cartridges:',
  '  - {slot: black, start_mass: 812 g, end_mass: 452 g, fill_mass: 400 g, residual_mass: 10 g}',
  '  - {slot: cyan, start_mass: 790 g, end_mass: 490 g, exhausted_at: 40000}',
] as const;

describe('toner_used: start_mass − end_mass', () => {
  test('812 − 452 = 360 g and 790 − 490 = 300 g, each with u = √(1/6) g', () => {
    const black = get(trial(...TWO), 'toner_used', 'black');
    expect(black).toMatchObject({ value: '360', unit: 'g', bound: 'exact' });
    expect(Number(black.u)).toBeCloseTo(DIFFERENCE, 9);
    expect(get(trial(...TWO), 'toner_used', 'cyan').value).toBe('300');
  });

  test('in all 360 + 300 = 660 g, u = √(4/12) = 0.57735 g', () => {
    const all = get(trial(...TWO), 'toner_used');
    expect(all.value).toBe('660');
    expect(Number(all.u)).toBeCloseTo(0.57735027, 8);
  });

  test('a scale read to 0.1 g with a maximum error of 0.3 g: u² = 2 (0.1²/12 + 0.3²/3) each', () => {
    // Independent from weighing to weighing: u = √(2 × 0.0308333) = 0.248328 g.
    const fine = trial('cartridges: [{slot: black, start_mass: 812.4 g, end_mass: 452.1 g}]').replace(
      'meter:',
      'instruments: {scale: {max_error: 0.3 g}}\nmeter:',
    );
    expect(get(fine, 'toner_used', 'black').value).toBe('360.3');
    expect(Number(get(fine, 'toner_used', 'black').u)).toBeCloseTo(0.2483277, 7);
  });
});

describe('toner_per_page: 1000 × toner_used / pages of the cartridge', () => {
  test('360 g over 12 000 pages and 300 g over 10 000 are 30 mg each', () => {
    const black = get(trial(...TWO), 'toner_per_page', 'black');
    expect(black).toMatchObject({ value: '30', unit: 'mg', bound: 'exact' });
    // √(1/6) g / 12 000 = 0.034021 mg.
    expect(Number(black.u)).toBeCloseTo((1000 * DIFFERENCE) / 12000, 9);
    expect(get(trial(...TWO), 'toner_per_page', 'cyan').value).toBe('30');
  });

  test('two clicks a page: 6000 pages, 60 mg', () => {
    const clicks = trial(...TWO).replace('end: 42000}', 'end: 42000, clicks_per_page: 2}');
    expect(get(clicks, 'toner_per_page', 'black').value).toBe('60');
  });

  test('other pages come off the trial, not off a listed cartridge, which printed them', () => {
    const other = trial(...TWO).replace('end: 42000}', 'end: 42000, other_pages: 2000}');
    expect(get(other, 'pages').value).toBe('10000');
    expect(get(other, 'toner_per_page', 'black').value).toBe('30');
    expect(get(other, 'yield', 'black').value).toBe('12000');
  });

  test('a cartridge of no pages: nothing is divided by zero', () => {
    const none = trial('cartridges: [{slot: black, start_mass: 800, end_mass: 790, exhausted_at: 30000}]');
    expect(figure(none, 'toner_per_page', 'black')).toBeUndefined();
    const { code, limits } = judge(`${none}limits: {toner_per_page: {max: 40 mg}}`);
    expect(code).toBe(2);
    expect(limits[0]).toMatchObject({ outcome: 'open', margin: null });
  });
});

describe('usage_per_area: toner per page over the covered area', () => {
  test('A4 is 21.0 × 29.7 = 623.7 cm², 6 % of it 37.422: 30 / 37.422 = 0.80166747 mg/cm²', () => {
    const area = get(trial(...TWO), 'usage_per_area', 'black');
    expect(area.unit).toBe('mg/cm²');
    expect(Number(area.value)).toBeCloseTo(30 / 37.422, 10);
    expect(Number(area.u)).toBeCloseTo(((1000 * DIFFERENCE) / 12000 / 30) * (30 / 37.422), 9);
  });

  test('cyan at 5 %: 30 / 31.185 = 0.96200096 mg/cm²', () => {
    expect(Number(get(trial(...TWO), 'usage_per_area', 'cyan').value)).toBeCloseTo(30 / 31.185, 10);
  });

  test('A3 has twice the area, and half the usage', () => {
    expect(Number(get(trial(...TWO, 'paper: {size: A3}'), 'usage_per_area', 'black').value)).toBeCloseTo(
      15 / 37.422,
      10,
    );
  });

  test('a coverage tolerance of 0.6 brings 0.6/√3/6 = 0.0577350 of the value', () => {
    const loose = trial(...TWO).replace('black: 6 %', 'black: {value: 6 %, tolerance: 0.6 %}');
    const { value, u } = get(loose, 'usage_per_area', 'black');
    const weights = (1000 * DIFFERENCE) / 12000 / 30;
    expect(Number(u) / Number(value)).toBeCloseTo(Math.hypot(0.6 / Math.sqrt(3) / 6, weights), 9);
  });

  test('no usage follows from zero coverage or none', () => {
    expect(figure(trial(...TWO).replace('black: 6 %', 'black: 0 %'), 'usage_per_area', 'black')).toBe(
      undefined,
    );
    expect(figure(trial(...TWO.slice(1)), 'usage_per_area', 'black')).toBeUndefined();
  });
});

describe('projected_yield by mass: pages × (fill_mass − residual_mass) / toner_used', () => {
  test('12 000 × (400 − 10) / 360 = 13 000 pages', () => {
    const projected = get(trial(...TWO), 'projected_yield', 'black');
    expect(projected).toMatchObject({ value: '13000', unit: 'page', bound: 'exact' });
    // Relative: √(1/6)/390 for the fill less what stays, √(1/6)/360 for the toner used; 20.06 pages.
    expect(Number(projected.u)).toBeCloseTo(13000 * DIFFERENCE * Math.hypot(1 / 390, 1 / 360), 6);
    expect(Number(projected.u)).toBeCloseTo(20.063, 3);
  });

  test('no residual_mass is 0 with a warning: 12 000 × 400 / 360 = 13 333.33', () => {
    const dry = trial(...TWO).replace(', residual_mass: 10 g', '');
    expect(Number(get(dry, 'projected_yield', 'black').value)).toBeCloseTo(40000 / 3, 7);
    expect(codes(dry)).toContain('residual-taken-as-zero');
    expect(codes(trial(...TWO))).not.toContain('residual-taken-as-zero');
  });

  test('a cartridge that lost nothing projects to nothing', () => {
    const full = trial(...TWO).replace('end_mass: 452 g', 'end_mass: 812 g');
    expect(get(full, 'toner_used', 'black').value).toBe('0');
    expect(get(full, 'toner_per_page', 'black').value).toBe('0');
    expect(figure(full, 'projected_yield', 'black')).toBeUndefined();
  });

  test('without fill_mass it waits for it, and a limit names it', () => {
    const { code, limits } = judge(`${trial(...TWO)}limits: {projected_yield: {of: cyan, min: 9000}}`);
    expect(code).toBe(2);
    expect(limits[0]?.reason).toContain('cartridges[2].fill_mass');
  });
});

describe('projected_yield by gauge: pages × 100 / (start − end), where there are no weights', () => {
  const gauged = (gauge: string, more = ''): string =>
    trial('coverage: 6 %', `cartridges: [{slot: black, gauge: ${gauge}${more}}]`);

  test('from 100 to 40 %: 12 000 × 100 / 60 = 20 000 pages, u = 20 000 × √(1/6)/60 = 136.083', () => {
    const projected = get(gauged('{start: 100 %, end: 40 %}'), 'projected_yield', 'black');
    expect(projected).toMatchObject({ value: '20000', bound: 'exact' });
    expect(Number(projected.u)).toBeCloseTo(136.082763, 6);
  });

  test('a part-used one from 80 to 35 %: 12 000 × 100 / 45 = 26 666.67, though its yield is only a bound', () => {
    const used = gauged('{start: 80 %, end: 35 %}', ', exhausted_at: 42000');
    expect(Number(get(used, 'projected_yield', 'black').value)).toBeCloseTo(80000 / 3, 7);
    expect(get(used, 'yield', 'black')).toMatchObject({ value: '12000', bound: 'at_least' });
  });

  test('a gauge that has not fallen tells nothing', () => {
    expect(figure(gauged('{start: 100 %, end: 100 %}'), 'projected_yield', 'black')).toBeUndefined();
  });

  test('weights come before the gauge', () => {
    const both = trial(...TWO).replace(
      'residual_mass: 10 g',
      'residual_mass: 10 g, gauge: {start: 100 %, end: 40 %}',
    );
    expect(get(both, 'projected_yield', 'black').value).toBe('13000');
  });

  test('a fill without the weighings leaves it to the gauge', () => {
    const filled = gauged('{start: 100 %, end: 40 %}', ', fill_mass: 400 g');
    expect(get(filled, 'projected_yield', 'black').value).toBe('20000');
  });
});

describe('projected_yield_at_reference', () => {
  test('by mass in proportion: 13 000 × 6 / 5 = 15 600', () => {
    expect(get(trial(...TWO), 'projected_yield_at_reference', 'black')).toMatchObject({
      value: '15600',
      unit: 'page',
      bound: 'exact',
    });
  });

  test('by gauge in proportion: 20 000 × 6 / 5 = 24 000', () => {
    const gauged = trial('coverage: 6 %', 'cartridges: [{slot: black, gauge: {start: 100, end: 40}}]');
    expect(get(gauged, 'projected_yield_at_reference', 'black').value).toBe('24000');
  });

  test('with m₀ = 3 mg: a page takes 3 + 27 × 5/6 = 25.5 mg at 5 %, 13 000 × 30 / 25.5 = 15 294.12', () => {
    const base = trial(...TWO, 'non_image_usage: {black: 3 mg}');
    expect(Number(get(base, 'projected_yield_at_reference', 'black').value)).toBeCloseTo(390000 / 25.5, 7);
  });

  test('to another reference coverage: 13 000 × 6 / 4 = 19 500', () => {
    const at4 = trial(...TWO, 'limits: {reference_coverage: 4 %}');
    expect(get(at4, 'projected_yield_at_reference', 'black').value).toBe('19500');
  });
});

describe('waste_fraction and transferred_fraction', () => {
  test('66 g of 660 g are 10 %, 90 % were transferred', () => {
    const waste = get(trial(...TWO), 'waste_fraction');
    expect(waste).toMatchObject({ value: '10', unit: '%', bound: 'exact' });
    // Relative √(1/6)/66 and √(1/3)/660, together 0.00624713: u = 0.0624713 %.
    const u = 10 * Math.hypot(DIFFERENCE / 66, Math.sqrt(1 / 3) / 660);
    expect(u).toBeCloseTo(0.0624713, 7);
    expect(Number(waste.u)).toBeCloseTo(u, 9);
    const transferred = get(trial(...TWO), 'transferred_fraction');
    expect(transferred).toMatchObject({ value: '90', unit: '%' });
    expect(Number(transferred.u)).toBeCloseTo(u, 9);
  });

  test('no toner used: no share of it', () => {
    const none = trial(
      'waste_container: {tare: 640, final: 640}',
      'cartridges: [{slot: black, start_mass: 800, end_mass: 800}]',
    );
    expect(figure(none, 'waste_fraction')).toBeUndefined();
    expect(figure(none, 'transferred_fraction')).toBeUndefined();
  });
});

describe('a slot without weights', () => {
  const unweighed = [...TWO, '  - {slot: magenta, exhausted_at: 41000}'];

  test('has no toner figures, and there is none in all: a total wants every part', () => {
    const text = trial(...unweighed).replace('cyan: 5 %', 'cyan: 5 %, magenta: 5 %');
    expect(figure(text, 'toner_used', 'magenta')).toBeUndefined();
    expect(figure(text, 'toner_used')).toBeUndefined();
    expect(figure(text, 'waste_fraction')).toBeUndefined();
    expect(figure(text, 'transferred_fraction')).toBeUndefined();
    expect(get(text, 'toner_used', 'black').value).toBe('360');
    expect(get(text, 'yield', 'magenta')).toMatchObject({ value: '11000', bound: 'exact' });
  });

  test('leaves a limit in all open, and the weighing is named', () => {
    const text = `${trial(...unweighed)}limits: {toner_used: {of: total, max: 700 g}, waste_fraction: {max: 12 %}}`;
    const { code, limits, notes } = judge(text.replace('cyan: 5 %', 'cyan: 5 %, magenta: 5 %'));
    expect(code).toBe(2);
    expect(limits.map(({ figure, of, outcome }) => [figure, of, outcome])).toEqual([
      ['toner_used', null, 'open'],
      ['waste_fraction', null, 'open'],
    ]);
    expect(limits[0]?.reason).toContain('cartridges[3].start_mass');
    expect(notes.map(({ code, message }) => [code, message])).toContainEqual([
      'to-be-read',
      'cartridges[3].start_mass is still to be read.',
    ]);
  });
});

describe('several cartridges in one slot', () => {
  /*
   * Black was exhausted at 35 000 (5000 pages, 200 g); the second runs on from there to the end of the run
   * (7000 pages, 210 g). Cyan was taken out at 36 000 (6000 pages); the second was fitted at 36 500 and
   * exhausted at 42 000 (5500 pages).
   */
  const SHARED = trial(
    'coverage: 5 %',
    'cartridges:',
    '  - {slot: black, start_mass: 800 g, end_mass: 600 g, exhausted_at: 35000}',
    '  - {slot: cyan, start_mass: 790 g, end_mass: 610 g, removed_at: 36000}',
    '  - {slot: black, start_mass: 810 g, end_mass: 600 g}',
    '  - {slot: cyan, start_mass: 780 g, end_mass: 615 g, installed_at: 36500, exhausted_at: 42000}',
  );

  test('are numbered from the second on, each with its own stretch of the meter', () => {
    const own = judge(SHARED).figures.filter((one) => one.figure === 'yield');
    expect(own.map(({ of, value, bound }) => [of, value, bound])).toEqual([
      ['black', '5000', 'exact'],
      ['cyan', '6000', 'at_least'],
      ['black#2', '7000', 'at_least'],
      ['cyan#2', '5500', 'exact'],
    ]);
  });

  test('200 g / 5000 = 40 mg, 210 g / 7000 = 30, 180 g / 6000 = 30, 165 g / 5500 = 30', () => {
    const own = judge(SHARED).figures.filter((one) => one.figure === 'toner_per_page');
    expect(own.map(({ of, value }) => [of, value])).toEqual([
      ['black', '40'],
      ['cyan', '30'],
      ['black#2', '30'],
      ['cyan#2', '30'],
    ]);
  });

  test('in all 200 + 180 + 210 + 165 = 755 g', () => {
    expect(get(SHARED, 'toner_used').value).toBe('755');
  });

  test('a follower that is fitted ends the run of the one before it', () => {
    const next = trial('cartridges: [{slot: black}, {slot: black, installed_at: 37000}]');
    expect(get(next, 'yield', 'black')).toMatchObject({ value: '7000', bound: 'at_least' });
    expect(get(next, 'yield', 'black#2')).toMatchObject({ value: '5000', bound: 'at_least' });
  });

  test('where one went over into the other is not said, neither has pages', () => {
    const unsaid = trial('cartridges: [{slot: black}, {slot: black}]');
    expect(figure(unsaid, 'yield', 'black')).toBeUndefined();
    expect(figure(unsaid, 'yield', 'black#2')).toBeUndefined();
  });

  test('the least yield of all is exact: 5000 black, not above the 6000 or more of cyan', () => {
    expect(get(SHARED, 'yield_at_reference', null, 'least')).toMatchObject({ value: '5000', bound: 'exact' });
  });
});

describe('a part-used cartridge', () => {
  test.each([
    ['used_before: 0', 'exact'],
    ['gauge: {start: 90 %, end: 0 %}', 'at_least'],
    ['gauge: {start: 100 %, end: 0 %}', 'exact'],
  ])('exhausted, with %s: %s 12 000', (key, bound) => {
    const used = trial('coverage: 6 %', `cartridges: [{slot: black, exhausted_at: 42000, ${key}}]`);
    expect(get(used, 'yield', 'black')).toMatchObject({ value: '12000', bound });
    expect(get(used, 'yield_at_reference', 'black')).toMatchObject({ value: '14400', bound });
  });

  test('pages printed before count for its yield, at the coverage they had', () => {
    const used = (before: string): string =>
      trial('coverage: 6 %', `cartridges: [{slot: black, exhausted_at: 42000, used_before: ${before}}]`);
    // 12 000 + 500 at 6 %: 12 500 × 6 / 5; or 12 000 × 6 / 5 + 500 × 3 / 5.
    expect(get(used('500'), 'yield', 'black')).toMatchObject({ value: '12500', bound: 'exact' });
    expect(get(used('500'), 'yield_at_reference', 'black')).toMatchObject({ value: '15000', bound: 'exact' });
    const light = used('{pages: 500, coverage: 3 %}');
    expect(get(light, 'yield', 'black')).toMatchObject({ value: '12500', bound: 'exact' });
    expect(get(light, 'yield_at_reference', 'black')).toMatchObject({ value: '14700', bound: 'exact' });
  });

  test('its toner per page and its projection are what they are', () => {
    const used = trial(...TWO).replace('{slot: black,', '{slot: black, used_before: 3000,');
    expect(get(used, 'toner_per_page', 'black')).toMatchObject({ value: '30', bound: 'exact' });
    expect(get(used, 'projected_yield', 'black')).toMatchObject({ value: '13000', bound: 'exact' });
  });
});

describe('a failed cartridge', () => {
  /* It leaked at 33 000 and was taken out: 3000 pages, 100 g. The next was exhausted at 42 000. */
  const FAILED = trial(
    'coverage: 5 %',
    'cartridges:',
    '  - {slot: black, start_mass: 800, end_mass: 700, failed_at: 33000, failed_by: leak, removed_at: 33000}',
    '  - {slot: black, start_mass: 810, end_mass: 540, exhausted_at: 42000}',
  );

  test('yields at least what it printed; the next begins where it ended', () => {
    expect(get(FAILED, 'yield', 'black')).toMatchObject({ value: '3000', bound: 'at_least' });
    expect(get(FAILED, 'yield', 'black#2')).toMatchObject({ value: '9000', bound: 'exact' });
    expect(get(FAILED, 'yield_at_reference', null, 'least')).toMatchObject({
      value: '3000',
      bound: 'at_least',
    });
  });

  test('its toner counts: 100 g / 3000 = 33.333 mg, in all 370 g', () => {
    expect(Number(get(FAILED, 'toner_per_page', 'black').value)).toBeCloseTo(100 / 3, 9);
    expect(get(FAILED, 'toner_per_page', 'black#2').value).toBe('30');
    expect(get(FAILED, 'toner_used').value).toBe('370');
  });
});

describe('the one cartridge of an unnamed slot', () => {
  const ALONE = trial(
    'coverage: 6 %',
    'waste_container: {tare: 640, final: 676}',
    'cartridges: [{start_mass: 812, end_mass: 452, fill_mass: 400, residual_mass: 10}]',
  );

  test('is part and whole at once: one figure each, of nothing', () => {
    const { figures } = judge(ALONE);
    const used = figures.filter((one) => one.figure === 'toner_used');
    expect(used.map(({ of, stat, value }) => [of, stat, value])).toEqual([[null, null, '360']]);
    expect(get(ALONE, 'toner_per_page').value).toBe('30');
    expect(get(ALONE, 'projected_yield_at_reference').value).toBe('15600');
    // 36 g of 360 g.
    expect(get(ALONE, 'waste_fraction').value).toBe('10');
  });

  test('limits reach it without "of" and with "of: total"', () => {
    for (const of of ['', 'of: total, ']) {
      expect(judge(`${ALONE}limits: {toner_used: {${of}max: 360 g}}`).code).toBe(0);
      expect(judge(`${ALONE}limits: {toner_used: {${of}max: 359 g}}`).code).toBe(1);
    }
  });

  test('a named one has its figure and the one in all', () => {
    const named = ALONE.replace('[{start_mass', '[{slot: black, start_mass');
    const used = judge(named).figures.filter((one) => one.figure === 'toner_used');
    expect(used.map(({ of, value }) => [of, value])).toEqual([
      ['black', '360'],
      [null, '360'],
    ]);
  });
});

describe('limits', () => {
  const held = (limits: string): (string | null)[][] =>
    judge(`${trial(...TWO)}limits: {${limits}}`).limits.map(({ of, outcome, margin }) => [
      of,
      outcome,
      margin,
    ]);

  test('without "of" a limit holds for every cartridge', () => {
    expect(held('toner_used: {max: 350 g}')).toEqual([
      ['black', 'missed', '-10'],
      ['cyan', 'met', '50'],
    ]);
  });

  test('"of: total" is the figure in all', () => {
    expect(held('toner_used: {of: total, max: 660 g}')).toEqual([[null, 'met', '0']]);
    expect(held('toner_used: {of: total, max: 659 g}')).toEqual([[null, 'missed', '-1']]);
  });

  test('each slot may have its own, and the whole another', () => {
    expect(
      held(
        'toner_used: [{of: black, max: 360 g}, {of: cyan, min: 310 g}, {of: total, max: 700 g}], toner_per_page: {of: cyan, max: 29 mg}',
      ),
    ).toEqual([
      ['black', 'met', '0'],
      ['cyan', 'missed', '-10'],
      [null, 'met', '40'],
      ['cyan', 'missed', '-1'],
    ]);
  });

  test('"of: black" covers black#2', () => {
    const two = trial(
      'cartridges: [{slot: black, exhausted_at: 35000, start_mass: 800, end_mass: 600}, {slot: black, start_mass: 800, end_mass: 590}]',
      'limits: {toner_per_page: {of: black, max: 35 mg}}',
    );
    // 200 g / 5000 = 40 mg; 210 g / 7000 = 30 mg.
    expect(judge(two).limits.map(({ of, outcome }) => [of, outcome])).toEqual([
      ['black', 'missed'],
      ['black#2', 'met'],
    ]);
  });

  test('in other units: 0.66 kg in all', () => {
    expect(held('toner_used: {of: total, max: 0.66 kg}')).toEqual([[null, 'met', '0']]);
  });

  test('a share of the toner, usage per area and projections can be limited', () => {
    const text = `${trial(...TWO)}limits: {waste_fraction: {max: 10 %}, transferred_fraction: {min: 90.1 %}, usage_per_area: {of: black, max: 0.81}, projected_yield_at_reference: {of: black, min: 15600}}`;
    expect(judge(text).limits.map(({ figure, outcome }) => [figure, outcome])).toEqual([
      ['projected_yield_at_reference', 'met'],
      ['usage_per_area', 'met'],
      ['waste_fraction', 'met'],
      ['transferred_fraction', 'missed'],
    ]);
  });

  test('a slot the trial has not: an error inline, a note from a file', () => {
    const inline = judge(`${trial(...TWO)}limits: {toner_used: {of: magenta, max: 300 g}}`);
    expect(inline.code).toBe(3);
    expect(inline.notes.map(({ kind, code }) => [kind, code])).toContainEqual([
      'error',
      'limit-of-unknown-part',
    ]);
    const { code, out } = run(['verdict', 'trial.yaml', '--format', 'json', '--limits', 'house.yaml'], {
      'trial.yaml': trial(...TWO),
      'house.yaml': 'toner_used: [{of: magenta, max: 300 g}, {of: black, max: 360 g}]\n',
    });
    expect(code).toBe(0);
    const { limits, notes } = JSON.parse(out) as ResultJson;
    expect(limits.map(({ of }) => of)).toEqual(['black']);
    expect(notes.map(({ kind, code }) => [kind, code])).toContainEqual(['note', 'limit-not-applied']);
  });

  test('a figure without a whole takes no "of: total"', () => {
    const { code, notes } = judge(`${trial(...TWO)}limits: {toner_per_page: {of: total, max: 30 mg}}`);
    expect(code).toBe(3);
    expect(notes.map(({ code }) => code)).toContain('limit-of-whole-figure');
  });
});

describe('a figure of toner, or of a whole life', () => {
  const parts = (name: string, ...cartridges: readonly string[]): (string | null)[] => {
    const { out } = run(['explain', name, 't.yaml', '--format', 'json'], {
      't.yaml': trial('coverage: 5 %', 'cartridges:', ...cartridges.map((one) => `  - {${one}}`)),
    });
    return (JSON.parse(out) as { values: { of: string | null }[] }).values.flatMap(({ of }) => of ?? []);
  };

  test.each([
    'toner_used',
    'toner_per_page',
    'projected_yield',
    'projected_yield_at_reference',
    'usage_per_area',
    'usage_ratio',
  ])('%s is of toner: a drum has none', (name) => {
    expect(parts(name, 'slot: black', 'slot: drum, life: pages')).toEqual(['black']);
  });

  test('of drums alone there is no toner in all, of one cartridge that names no slot no more than its own', () => {
    const used = (cartridge: string): unknown[] =>
      judge(trial('cartridges:', `  - {${cartridge}}`)).figures.flatMap(({ figure: name, of, value }) =>
        name === 'toner_used' ? [[of, value]] : [],
      );
    expect(used('slot: drum, life: pages')).toEqual([]);
    expect(used('start_mass: 800 g, end_mass: 700 g')).toEqual([[null, '100']]);
    expect(used('slot: black, start_mass: 800 g, end_mass: 700 g')).toEqual([
      ['black', '100'],
      [null, '100'],
    ]);
  });

  test('a yield is of a drum too', () => {
    expect(parts('yield', 'slot: black', 'slot: drum, life: pages')).toEqual(['black', 'drum']);
  });

  test.each([
    'yield: {min: 1}',
    'yield_at_reference: {min: 1}',
    'yield_to_rating: {min: 1}',
    'yield_ratio: {min: 0.1}',
    'cost_per_thousand: {max: 9000 EUR}',
  ])('a limit on %s is held against no cartridge that was put in for another and is still in', (limit) => {
    const text = trial(
      'coverage: 5 %',
      'cartridges:',
      '  - {slot: black, exhausted_at: 36000, rated_yield: 6000, price: 50 EUR}',
      '  - {slot: black, rated_yield: 6000, price: 50 EUR}',
      'reference: {meter: {start: 0, end: 5000}, cartridges: [{slot: black, exhausted_at: 5000}]}',
      `limits: {${limit}}`,
    );
    expect(judge(text).limits.map(({ of, outcome }) => [of, outcome])).toEqual([['black', 'met']]);
  });

  test('nor is it the least: 1000 pages of one still in are not less than the 11 000 of the one before', () => {
    const text = trial(
      'coverage: 5 %',
      'cartridges:',
      '  - {slot: black, exhausted_at: 41000}',
      '  - {slot: black}',
    );
    expect(get(text, 'yield_at_reference', null, 'least')).toMatchObject({ value: '11000', bound: 'exact' });
  });
});

describe('what is weighed only in part', () => {
  test.each([
    'fill_mass: 400 g',
    'start_mass: 812 g',
    'end_mass: 452 g',
    'start_mass: 812 g, end_mass: 452 g',
    'fill_mass: 400 g, start_mass: 812 g',
    'fill_mass: 400 g, end_mass: 452 g',
  ])('is projected by the gauge, 12 000 × 100 / 60: %s', (weights) => {
    const text = trial(
      'coverage: 5 %',
      `cartridges: [{slot: black, ${weights}, gauge: {start: 100 %, end: 40 %}}]`,
    );
    expect(get(text, 'projected_yield', 'black').value).toBe('20000');
  });

  /*
   * At 20 %, m₀ = 10 mg: of a fill of 480 g over 12 000 pages m = 40 mg, 12 000 × 40 / (10 + 30 × 5/20) = 27 428.57;
   * in proportion 12 000 × 4.
   */
  test.each([
    ['by its fill once it is exhausted', 'fill_mass: 480 g, exhausted_at: 42000', '27428.5714286'],
    [
      'also where it was weighed before alone',
      'fill_mass: 480 g, exhausted_at: 42000, start_mass: 900 g',
      '27428.5714286',
    ],
    ['or after alone', 'fill_mass: 480 g, exhausted_at: 42000, end_mass: 420 g', '27428.5714286'],
    [
      'by its weights rather, 360 g: 12 000 × 30 / (10 + 20/4)',
      'fill_mass: 480 g, exhausted_at: 42000, start_mass: 800 g, end_mass: 440 g',
      '24000',
    ],
    ['in proportion while it is not exhausted', 'fill_mass: 480 g', '48000'],
    ['in proportion without a fill', 'exhausted_at: 42000', '48000'],
  ])('is carried to the reference coverage %s', (_, cartridge, pages) => {
    const text = trial(
      'coverage: 20 %',
      'non_image_usage: 10 mg',
      `cartridges: [{slot: black, ${cartridge}}]`,
    );
    expect(get(text, 'yield_at_reference', 'black').value).toBe(pages);
  });
});
