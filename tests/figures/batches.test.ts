import { describe, expect, test } from 'vitest';
import { figure, judge, run } from '../run.ts';

/*
 * Batches with conditions of their own. The trial is invented; expected values are worked by hand beside them, from
 * the meter and the scale: 15,000 pages in stretches of 5,000 at 5 %, 1,000 at 20 % that are not of the trial, 4,000
 * at 5 %, and 5,000 at 8 %.
 */

const CARTRIDGE = 'slot: black, start_mass: 1000 g, end_mass: 400 g, fill_mass: 620 g, rated_yield: 20000';

const trial = ({
  batches = `
  - {end: 15000, container_mass: 600 g}
  - {end: 16000, coverage: 20 %, other: true, container_mass: 650 g}
  - {end: 20000}
  - {end: 25000, coverage: 8 %, duplex_share: 50 %, paper: {size: A3}}`,
  cartridges = `[{${CARTRIDGE}}]`,
  coverage = '5 %',
  more = '',
} = {}): string => `
trial: Mill Lane lot 4, machine Heron
meter: {start: 10000, end: 25000}
coverage: ${coverage}
batches: ${batches}
waste_container: {tare: 500 g, final: 810 g, capacity: 520 g}
cartridges: ${cartridges}
${more}
`;

const value = (text: string, name: string, of: string | null = null): string | undefined =>
  figure(text, name, of)?.value;

describe('pages that are not of the trial', () => {
  test('are no pages of it, and take no paper of it', () => {
    expect(value(trial(), 'pages')).toBe('14000');
    // 9,000 one-sided, and 5,000 of which half are on two-sided sheets: 9000 + 5000 × 3/4
    expect(value(trial(), 'sheets')).toBe('12750');
    // 9000 × 0.21 × 0.297 × 0.08 + 3750 × 0.297 × 0.42 × 0.08 kg = 44.9064 + 37.422
    expect(value(trial(), 'paper_mass')).toBe('82.3284');
  });

  test('are not needed: one batch may be the whole run, on its own paper, two-sided share or coverage', () => {
    const whole = (own: string, name: string, of: string | null = null): string | undefined =>
      value(trial({ batches: `[{end: 25000, ${own}}]` }), name, of);
    // 15,000 sheets of A3 are 15000 × 0.297 × 0.42 × 0.08 kg.
    expect(whole('paper: {size: A3}', 'paper_mass')).toBe('149.688');
    expect(whole('duplex_share: 50 %', 'sheets')).toBe('11250');
    // Of a third of the run: 5000 × 3/4 + 10000.
    expect(value(trial({ batches: '[{end: 15000, duplex_share: 50 %}]' }), 'sheets')).toBe('13750');
    // All that is of the trial: 10000 × 3/4.
    const other = '[{end: 15000, other: true}, {end: 25000, duplex_share: 50 %}]';
    expect(value(trial({ batches: other }), 'sheets')).toBe('7500');
    expect(whole('coverage: 10 %', 'yield_at_reference', 'black')).toBe('30000');
  });

  test('are no sheets of another kind: paper and two-sided share each count', () => {
    const mixed = trial({
      batches: '[{end: 14000}, {end: 17000, paper: {size: A3}}, {end: 20000, duplex_share: 50 %}]',
    });
    // In sheets of A4 at 0.21 × 0.297 × 0.08 kg = 4.98960 g: 4000 + 2 × 3000 + 3000 × 3/4 + 5000.
    expect(value(mixed, 'sheets')).toBe('14250');
    expect(Number(value(mixed, 'paper_mass'))).toBeCloseTo(17250 * 0.0049896, 9);
  });

  test('wear the cartridge', () => {
    expect(value(trial(), 'yield', 'black')).toBe('15000');
    // 600 g over 15,000 pages
    expect(value(trial(), 'toner_per_page', 'black')).toBe('40');
    // 15,000 × 620/600
    expect(value(trial(), 'projected_yield', 'black')).toBe('15500');
  });

  test('leave their waste in the container; it comes off where it was weighed before and after them', () => {
    expect(value(trial(), 'waste_mass')).toBe('310');
    // (310 − 50) g over 14,000 pages: 130/7
    expect(figure(trial(), 'waste_per_thousand')).toMatchObject({ value: '18.5714285714', bound: 'exact' });
    // 14,000 × 520/260
    expect(figure(trial(), 'container_life')).toMatchObject({ value: '28000', bound: 'exact' });
    // All of the toner went somewhere: 310/600
    expect(value(trial(), 'waste_fraction')).toBe('51.6666666667');
  });

  // Of 15,000 pages: 300 are 2 %.
  test.each([
    [300, 'exact', 'missed', []],
    [301, 'at_most', 'open', ['other-waste-unknown']],
    [3000, 'at_most', 'open', ['other-waste-unknown']],
  ])('of which nobody knows when they were printed, the same: %i of them', (pages, bound, outcome, codes) => {
    const text = trial({ batches: '[]', more: 'limits: {waste_per_thousand: {max: 20 g}}' }).replace(
      'end: 25000}',
      `end: 25000, other_pages: ${pages}}`,
    );
    expect(figure(text, 'waste_per_thousand')).toMatchObject({ bound });
    const { limits, notes } = judge(text);
    expect(limits.map((limit) => limit.outcome)).toEqual([outcome]);
    expect(notes.flatMap(({ code }) => (code.startsWith('other-') ? [code] : []))).toEqual(codes);
  });

  test('leave the waste of the trial at most what is in the container where it was not', () => {
    const text = trial({
      batches: '[{end: 15000}, {end: 16000, other: true, container_mass: 650 g}]',
      more: 'limits: [{waste_per_thousand: {max: 25 g}}, {waste_per_thousand: {max: 20 g}, container_life: {min: 20000}}]',
    });
    // 310 g over 14,000 pages: 155/7; and 14,000 × 520/310
    expect(figure(text, 'waste_per_thousand')).toMatchObject({ value: '22.1428571429', bound: 'at_most' });
    expect(figure(text, 'container_life')).toMatchObject({ value: '23483.8709677', bound: 'at_least' });
    expect(judge(text).limits.map(({ figure: of, outcome, reason }) => [of, outcome, reason])).toMatchObject([
      ['waste_per_thousand', 'open', 'the figure is only an upper bound'],
      ['container_life', 'met', null],
    ]);
  });

  test('one after the other are weighed apart by the weighings around them', () => {
    const text = trial({
      batches:
        '[{end: 15000, container_mass: 600 g}, {end: 15400, other: true}, {end: 16000, other: true, container_mass: 650 g}]',
    });
    expect(figure(text, 'waste_per_thousand')).toMatchObject({ value: '18.5714285714', bound: 'exact' });
  });

  test('are each weighed apart: (310 − 50 − 30) g over 13,000 pages', () => {
    const text = trial({
      batches: `[{end: 15000, container_mass: 600 g}, {end: 16000, other: true, container_mass: 650 g},
        {end: 20000, container_mass: 700 g}, {end: 21000, other: true, container_mass: 730 g}]`,
    });
    expect(figure(text, 'waste_per_thousand')).toMatchObject({ value: '17.6923076923', bound: 'exact' });
  });

  test('first and last are weighed by tare and final', () => {
    const at = (batches: string): string | undefined => value(trial({ batches }), 'waste_per_thousand');
    // (310 − 100)/10,000 and (310 − 160)/9,000 pages
    expect(at('[{end: 15000, other: true, container_mass: 600 g}]')).toBe('21');
    expect(at('[{end: 19000, container_mass: 650 g}, {end: 25000, other: true}]')).toBe('16.6666666667');
  });

  test('keep their events, and their air, to themselves', () => {
    const text = trial({
      batches:
        '[{end: 15000, started: 2026-03-02T08:00, finished: 2026-03-02T10:00}, {end: 16000, other: true, started: 2026-03-02T20:00, finished: 2026-03-02T21:00}, {end: 25000, started: 2026-03-03T08:00, finished: 2026-03-03T12:00}]',
      more: `events: [{at: 15000, kind: jam}, {at: 15500, kind: jam}, {at: 16000, kind: jam}]
ambient: [{at: 2026-03-02T09:00, temperature: 22 °C, humidity: 45 %}, {at: 2026-03-02T20:30, temperature: 17 °C, humidity: 60 %}, {at: 2026-03-03T10:00, temperature: 23 °C, humidity: 46 %}]`,
    });
    // The one that ended the first batch: 1000 × 1/14000
    expect(value(text, 'jams_per_thousand')).toBe('0.0714285714286');
    expect(run(['verdict', 't.yaml'], { 't.yaml': text }).out).toContain(
      'jam 3\n  of these 2 in pages that are not of the trial, which no rate counts\n',
    );
    const least = judge(text).figures.find((one) => one.figure === 'temperature' && one.stat === 'least');
    expect(least?.value).toBe('22');
  });

  test('keep their events to themselves wherever in the run they are', () => {
    const text = trial({
      batches: '[{end: 12000, other: true}, {end: 15000}, {end: 16000, other: true}, {end: 25000}]',
      more: 'events: [{at: 11000, kind: jam}, {at: 15500, kind: jam}, {at: 20000, kind: jam}]',
    });
    expect(value(text, 'jams_per_thousand')).toBe('0.0833333333333');
  });

  test('an event that does not say where it was may be of either: the rate is open', () => {
    const text = trial({ more: 'events: [{kind: jam}]\nlimits: {jams_per_thousand: {max: 0.01}}' });
    expect(judge(text).limits[0]).toMatchObject({
      outcome: 'open',
      reason: 'events[1].at is still to be read',
    });
  });

  test('whose coverage nobody gave count as none, and leave the yield at least what the others make it', () => {
    // 5000 × 5 + 4000 × 5 + 5000 × 8 = 85,000; over 5
    const batches = `
  - {end: 15000, container_mass: 600 g}
  - {end: 16000, other: true, container_mass: 650 g}
  - {end: 20000}
  - {end: 25000, coverage: 8 %}`;
    expect(
      figure(
        trial({ batches, cartridges: '[{slot: black, exhausted_at: 25000}]' }),
        'yield_at_reference',
        'black',
      ),
    ).toMatchObject({ value: '17000', bound: 'at_least' });
    const alone = trial({
      batches: '[{end: 25000, other: true}]',
      cartridges: '[{slot: black, exhausted_at: 25000}]',
      more: 'limits: {yield_at_reference: {min: 9000}}',
    });
    expect(judge(alone)).toMatchObject({
      verdict: 'inconclusive',
      limits: [{ outcome: 'open', reason: 'batches[1].coverage is still to be read' }],
    });
  });

  test('whose coverage nobody gave bound the area covered too, on any paper, and differ from no reference', () => {
    const text = trial({
      batches: '[{end: 15000}, {end: 16000, other: true}, {end: 20000}, {end: 25000, paper: {size: A3}}]',
      more: 'reference: {meter: {start: 0, end: 9000}, cartridges: [{slot: black}]}',
    });
    // (5000 + 4000) × 5 % × 623.7 + 5000 × 5 % × 1247.4 = 592,515 cm²; 600,000 mg over it
    const found = figure(text, 'usage_per_area', 'black');
    expect(Number(found?.value)).toBeCloseTo(600_000 / 592_515, 10);
    expect(found?.bound).toBe('at_most');
    expect(judge(text).notes.map(({ code }) => code)).not.toContain('coverage-differs');
  });

  test('are spoken of once, in sum; not while the end of one of them is not read, nor where some have a coverage', () => {
    const said = (batches: string): string[] =>
      judge(trial({ batches })).notes.flatMap(({ code, message }) =>
        code.startsWith('other-') ? [`${code} ${/\d+ pages/.exec(message)?.[0] ?? ''}`] : [],
      );
    const two = '[{end: 15000}, {end: 16000, other: true}, {end: 20000}, {end: 22000, other: true}]';
    expect(said(two)).toEqual(['other-coverage-taken 3000 pages', 'other-waste-unknown 3000 pages']);
    expect(said(two.replace('22000', ''))).toEqual([]);
    expect(said(two.replace('22000,', '22000, coverage: 5 %,'))).toEqual(['other-waste-unknown 3000 pages']);
    expect(said('[{end: 15000}, {end: 25000}]')).toEqual([]);
  });

  test('are told in pages: 1,000 clicks, seven a page', () => {
    const { notes } = judge(
      trial({ batches: '[{end: 15000}, {end: 16000, other: true}, {end: 25000}]' }).replace(
        'end: 25000}',
        'end: 25000, clicks_per_page: 7}',
      ),
    );
    for (const code of ['other-coverage-taken', 'other-waste-unknown'])
      expect(notes.find((note) => note.code === code)?.message).toContain('142.857 pages');
  });

  test('whose coverage nobody gave leave a forecast without the cartridge that printed them', () => {
    const one = (coverage: number, more = ''): string =>
      `trial: c${coverage}\nmeter: {start: 0, end: 9000}\ncoverage: ${coverage} %\ncartridges: [{slot: black, serial: s${coverage}, start_mass: 900 g, end_mass: ${900 - 9 * (5 + 4 * coverage)} g}]\n${more}`;
    const files = {
      'a.yaml': one(2),
      'b.yaml': one(6),
      'c.yaml': one(9, 'batches: [{end: 4000}, {end: 5000, other: true}, {end: 9000}]'),
    };
    const { out } = run(['forecast', 'a.yaml', 'b.yaml', 'c.yaml', '--format', 'json'], files);
    const { slots, left_out } = JSON.parse(out) as { slots: { n: number }[]; left_out: string[] };
    expect(slots[0]?.n).toBe(2);
    expect(left_out.join()).toContain('batches[2].coverage is still to be read');
  });

  test('come off the one cartridge that is taken where none is listed no more than off a listed one', () => {
    const text = trial().replace(/^cartridges.*$/m, '');
    // 15,000 at the mean coverage of 7 %
    expect([value(text, 'yield'), value(text, 'yield_at_reference')]).toEqual(['15000', '21000']);
  });
});

describe('coverages of batches', () => {
  test.each([
    ['misspelt', `[{${CARTRIDGE}}]`, 'The slots of this run are black.'],
    ['of a run without slots', '[{start_mass: 1000 g}]', 'Name the slot at its cartridge'],
  ])('for a slot that is %s: an error, not a coverage that counts for nothing', (_, cartridges, mend) => {
    const { verdict, notes } = judge(
      trial({ cartridges, batches: '[{end: 15000, coverage: {Black: 1 %}}]' }),
    );
    expect(verdict).toBe('invalid');
    expect(notes.find(({ code }) => code === 'batch-slot-unknown')?.message).toContain(mend);
  });

  test('weigh with the pages the cartridge printed at them', () => {
    // 5000 × 5 + 1000 × 20 + 4000 × 5 + 5000 × 8 = 105,000; over 5
    expect(value(trial(), 'yield_at_reference', 'black')).toBe('21000');
    expect(value(trial(), 'yield_to_rating', 'black')).toBe('105');
    // 15,500 × 7/5
    expect(value(trial(), 'projected_yield_at_reference', 'black')).toBe('21700');
    // Covered, in cm²: (5000 × 5 + 1000 × 20 + 4000 × 5) % × 623.7 + 5000 × 8 % × 1247.4 = 405,405 + 498,960
    // 600,000 mg / 904,365 cm² = 40000/60291
    expect(value(trial(), 'usage_per_area', 'black')).toBe('0.663448939311');
  });

  test('count for each cartridge as far as its run overlaps them', () => {
    const text = trial({
      cartridges: `[{slot: black, exhausted_at: 15500, exhausted_by: stop}, {slot: black, exhausted_at: 22000, exhausted_by: fade}]`,
    });
    // 5000 × 5 + 500 × 20 = 35,000; and 500 × 20 + 4000 × 5 + 2000 × 8 = 46,000; each over 5
    expect(figure(text, 'yield_at_reference', 'black')).toMatchObject({ value: '7000', bound: 'exact' });
    expect(figure(text, 'yield_at_reference', 'black#2')).toMatchObject({ value: '9200', bound: 'exact' });
    expect([value(text, 'yield', 'black'), value(text, 'yield', 'black#2')]).toEqual(['5500', '6500']);
  });

  test('count for no cartridge that was fitted where they end, or taken out where they begin', () => {
    const text = trial({
      batches: '[{end: 15000, coverage: }, {end: 20000, coverage: 6 %}, {end: 25000, coverage: }]',
      cartridges: '[{slot: black, exhausted_at: 15000}, {slot: black, exhausted_at: 20000}, {slot: black}]',
    });
    expect(['black', 'black#2', 'black#3'].map((of) => value(text, 'yield_at_reference', of))).toEqual([
      undefined,
      '6000',
      undefined,
    ]);
  });

  test('that follow the end of a cartridge need not be read for it', () => {
    const text = trial({
      batches: '[{end: 12000, coverage: 8 %}, {end: 15000}, {end: , coverage: 9 %}]',
      cartridges: '[{slot: black, exhausted_at: 15000}, {slot: black}]',
    });
    // (2000 × 8 + 3000 × 5) / 5
    expect(['black', 'black#2'].map((of) => value(text, 'yield_at_reference', of))).toEqual([
      '6200',
      undefined,
    ]);
  });

  test('go into the balance of toner where the use at no coverage is known', () => {
    // m = 600 g / 15,000 = 40 mg at a mean of 7 %; m0 = 5: 15,000 × 40 / (5 + 35 × 5/7) = 15,000 × 40/30
    expect(value(trial({ more: 'non_image_usage: 5 mg' }), 'yield_at_reference', 'black')).toBe('20000');
  });

  test('of pages printed before are those of the run where the file gives none', () => {
    const used = trial({ cartridges: `[{${CARTRIDGE}, used_before: 3000}]` });
    // (15,000 + 3,000) × 7/5; with 10 % of their own: 21,000 + 3,000 × 10/5
    expect(value(used, 'yield_at_reference', 'black')).toBe('25200');
    const own = trial({ cartridges: `[{${CARTRIDGE}, used_before: {pages: 3000, coverage: 10 %}}]` });
    expect(value(own, 'yield_at_reference', 'black')).toBe('27000');
  });

  test('are given by slot as well; a slot that is left out has that of the run', () => {
    const text = trial({
      coverage: '{black: 5 %, cyan: 2 %}',
      batches: '[{end: 15000}, {end: 25000, coverage: {black: 8 %}}]',
      cartridges: '[{slot: black}, {slot: cyan}]',
    });
    // 5000 × 5 + 10,000 × 8 = 105,000 over 5; and 15,000 × 2/5
    expect(value(text, 'yield_at_reference', 'black')).toBe('21000');
    expect(value(text, 'yield_at_reference', 'cyan')).toBe('6000');
  });

  test('bring their tolerances, the same document once', () => {
    const u = (batches: string): string | undefined =>
      figure(trial({ coverage: '{value: 5 %, tolerance: 0.3 %}', batches }), 'yield_at_reference', 'black')
        ?.u;
    // 5 % of 10,000 pages and 8 % of 5,000: √((10000 × 0.3)² + (5000 × 0.6)²)/(5 √3) = 3000 √2/(5 √3)
    expect(Number(u('[{end: 20000}, {end: 25000, coverage: {value: 8 %, tolerance: 0.6 %}}]'))).toBeCloseTo(
      (3000 * Math.SQRT2) / (5 * Math.sqrt(3)),
      3,
    );
    // The same coverage and tolerance given again: 15,000 × 0.3/(5 √3)
    const whole = Number(u('[{end: 25000}]'));
    expect(whole).toBeCloseTo(900 / Math.sqrt(3), 3);
    expect(u('[{end: 20000}, {end: 25000, coverage: {value: 5 %, tolerance: 0.3 %}}]')).toBe(
      u('[{end: 25000}]'),
    );
    // A second document that is as far off: √((10000 × 0.3)² + (5000 × 0.3)²)/(5 √3), at another value
    expect(Number(u('[{end: 20000}, {end: 25000, coverage: {value: 6 %, tolerance: 0.3 %}}]'))).toBeCloseTo(
      (300 * Math.sqrt(125)) / (5 * Math.sqrt(3)),
      3,
    );
  });

  test('of the reference run are its own', () => {
    const text = trial({
      batches: '[{end: 25000}]',
      more: `reference:
  meter: {start: 30000, end: 40000}
  cartridges: [{slot: black, start_mass: 900 g, end_mass: 500 g}]
  batches: [{end: 35000}, {end: 40000, coverage: 15 %}]`,
    });
    // Theirs 5000 × 5 + 5000 × 15 = 100,000 over 5 = 20,000; ours 15,000: both at least, and no ratio of them
    const ratio = figure(text, 'yield_ratio', 'black');
    expect(ratio).toBeUndefined();
    const both = text
      .replace(CARTRIDGE, `${CARTRIDGE}, exhausted_at: 25000`)
      .replace('end_mass: 500 g', 'end_mass: 500 g, exhausted_at: 40000');
    expect(value(both, 'yield_ratio', 'black')).toBe('0.75');
  });

  test('that are not read yet, or of a batch without its end, leave the yield open and are named', () => {
    const reason = (batches: string): unknown =>
      judge(trial({ batches, more: 'limits: {yield_at_reference: {min: 1}}' })).limits[0]?.reason;
    expect(reason('[{end: 15000, coverage: }, {end: 20000}]')).toContain('batches[1].coverage');
    expect(reason('[{end: , coverage: 8 %}, {end: 20000}]')).toContain('batches[1].end');
  });

  test('are worked with the mean', () => {
    const { out } = run(['explain', 'yield_at_reference', 't.yaml'], { 't.yaml': trial() });
    expect(out).toContain('= 15000 × 7 / 5');
    expect(run(['explain', 'sheets', 't.yaml'], { 't.yaml': trial() }).out).toContain(
      '= 9000 × (1 − 0 / 2) + 5000 × (1 − 0.5 / 2)',
    );
    expect(run(['explain', 'waste_per_thousand', 't.yaml'], { 't.yaml': trial() }).out).toContain(
      '= 1000 × 260 / 14000',
    );
    expect(run(['explain', 'pages', 't.yaml'], { 't.yaml': trial() }).out).toContain(
      '= (25000 − 10000) / 1 − 1000',
    );
  });
});

describe('batches that are alike', () => {
  const figures = (text: string): unknown => judge(text).figures;

  const METER = 'instruments: {meter: {max_error: 2}}';

  test('a checkpoint just where the run ends brings no doubt of its own about the pages', () => {
    const at = (last: string): unknown =>
      figures(
        trial({
          batches: `[{end: 12000, coverage: 8 %}${last}]`,
          cartridges: `[{${CARTRIDGE}, exhausted_at: 25000}]`,
          more: METER,
        }),
      );
    expect(at(', {end: 25000}')).toEqual(at(''));
  });

  test('nor one just where a cartridge is fitted', () => {
    const text = trial({
      batches: '[{end: 15000}, {end: 20000, coverage: 9 %}]',
      cartridges: `[{${CARTRIDGE}, exhausted_at: 15000}, {slot: black, exhausted_at: 25000}]`,
      more: METER,
    });
    // ((20000 − 15000) × 9 + (25000 − 20000) × 5) / 5 of three readings, each as uncertain as the two of the pages.
    const { value: pages, u } = figure(text, 'yield_at_reference', 'black#2') ?? {};
    expect(pages).toBe('14000');
    const one = Number(figure(text, 'pages')?.u) / Math.SQRT2;
    expect(Number(u)).toBeCloseTo(one * Math.sqrt(1.8 ** 2 + 0.8 ** 2 + 1), 9);
  });

  test.each(['5 %', '7.3 %', '{value: 5 %, tolerance: 0.3 %}'])(
    'all at %s are the trial at that coverage, bit for bit',
    (coverage) => {
      const more = 'instruments: {meter: {max_error: 2}, scale: {max_error: 0.5 g}}\nnon_image_usage: 4.0 mg';
      const batches = [12000, 17001, 25000].map((end) => `{end: ${end}, coverage: ${coverage}}`).join(', ');
      const own = trial({ batches: `[${batches}]`, more }).replace(/^coverage:.*$/m, '');
      const top = trial({ batches: '[{end: 12000}, {end: 17001}, {end: 25000}]', coverage, more });
      expect(figures(own)).toEqual(figures(top));
      // Beside a coverage of the run that no page has
      const beside = trial({ batches: `[${batches}]`, coverage: '30 %', more });
      expect(figures(beside)).toEqual(figures(top));
    },
  );
});
