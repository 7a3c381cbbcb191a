import { describe, expect, test } from 'vitest';
import { isNear, nearLimits } from '../../src/checks/near-limits.ts';
import { wastePerThousand } from '../../src/figures/waste-per-thousand.ts';
import { marksOn } from '../../src/figures/repeating-marks.ts';
import type { Judged } from '../../src/judge/judge.ts';
import type { Agreed } from '../../src/judge/limits.ts';
import { asDecimal, Decimal } from '../../src/uncertainty/decimal.ts';
import { Measured } from '../../src/uncertainty/measured.ts';
import { judge, type ResultJson, run } from '../run.ts';

/*
 * What is said, and not said, exactly where a check turns. The trials are invented, the sums worked by hand beside
 * each.
 */

const said = (code: string, text: string): string[] => {
  const { notes } = judge(text);
  expect(notes.filter(({ kind }) => kind === 'error')).toEqual([]);
  return notes.filter((note) => note.code === code).map(({ message }) => message);
};

const trial = (...lines: readonly string[]): string =>
  ['trial: Weir Street lot 2, machine Ash', 'meter: {start: 30000, end: 42000}', ...lines, ''].join('\n');

describe('stops of a batch', () => {
  const BATCHES = 'batches: [{end: 33000}, {end: 36000}, {end: 39000}, {end: 42000}]';
  const stopping = (at: readonly number[], batches = BATCHES): string =>
    trial(batches, `events: [${at.map((meter) => `{at: ${meter}, kind: stop}`).join(', ')}]`);

  test('four of five in a quarter of the pages happen: 5 × 0.25⁴ × 0.75 + 0.25⁵ = 0.0156', () => {
    expect(said('batch-stops', stopping([31000, 33100, 33900, 34200, 35000]))).toEqual([]);
  });

  test('a stop where the run begins is of none of its pages: 5 of 5, not of 6', () => {
    const [message] = said('batch-stops', stopping([30000, 33100, 33900, 34200, 35000, 35500]));
    expect(message).toContain('5 of the 5 stops');
  });

  test('a stop on the last page is of the last batch', () => {
    const [message] = said('batch-stops', stopping([39100, 39200, 39300, 39400, 42000]));
    expect(message).toMatch(/5 of the 5 stops .* batch 4/);
  });

  test('behind a checkpoint that was not read, the stop on its last page is not of the next batch: 4 of 5', () => {
    const gap = 'batches: [{end: 33000}, {end: }, {end: 39000}, {end: 42000}]';
    expect(said('batch-stops', stopping([39000, 39100, 39200, 39300, 39400], gap))).toEqual([]);
    expect(said('batch-stops', stopping([39050, 39100, 39200, 39300, 39400], gap))).toHaveLength(1);
    // 6 × 0.25⁵ × 0.75 + 0.25⁶ = 0.0046.
    const [message] = said('batch-stops', stopping([39000, 39050, 39100, 39200, 39300, 39400], gap));
    expect(message).toContain('5 of the 6 stops');
  });

  test('one stop in a hundredth of the pages happens once in a hundred trials: not said; in 119 pages it is', () => {
    const short = (end: number): string => stopping([30001], `batches: [{end: ${end}}, {end: 42000}]`);
    expect(said('batch-stops', short(30120))).toEqual([]);
    expect(said('batch-stops', short(30119))).toHaveLength(1);
  });

  test('other pages and their stops do not count: 4 of 4 in a third of 9000 pages, (1/3)⁴ = 0.0123; 5 of 5, 0.0041', () => {
    const other = 'batches: [{end: 33000}, {end: 36000, other: true}, {end: 39000}, {end: 42000}]';
    // At 33000 the last page of the first batch, at 36000 that of the other one.
    const stops = [33001, 33500, 34000, 36000, 36001, 36500, 37000, 37500];
    expect(said('batch-stops', stopping(stops, other))).toEqual([]);
    expect(said('batch-stops', stopping([...stops, 38000], other))[0]).toMatch(/5 of the 5 stops .* batch 3/);
    const [edge] = said('batch-stops', stopping([32000, 32300, 32600, 32900, 33000], other));
    expect(edge).toMatch(/5 of the 5 stops .* batch 1/);
  });

  test('stops are taken in any order; one of which nobody knows where is of no batch', () => {
    const [message] = said(
      'batch-stops',
      `${trial(BATCHES)}events: [{at: 35500, kind: stop}, {kind: stop}, {at: 33100, kind: stop}, {at: 33900, kind: stop}, {at: 34200, kind: stop}, {at: 35000, kind: stop}]\n`,
    );
    expect(message).toMatch(/5 of the 5 stops .* batch 2/);
  });

  test('of a batch that ends where the run begins nothing is said', () => {
    expect(said('batch-stops', stopping([30000, 31000], 'batches: [{end: 30000}]'))).toEqual([]);
  });
});

describe('waste of a batch', () => {
  /** 60 g in each batch of 3000 pages but the third. */
  const third = (grams: number): string =>
    trial(
      `batches: [{end: 33000, container_mass: 700 g}, {end: 36000, container_mass: 760 g}, {end: 39000, container_mass: ${760 + grams} g}, {end: 42000}]`,
      `waste_container: {tare: 640 g, final: ${820 + grams} g}`,
    );

  test('75 g are 25 g a thousand, a quarter above the 20 g of the others: not said; 76 g are', () => {
    expect(said('batch-waste', third(75))).toEqual([]);
    expect(said('batch-waste', third(76))).toHaveLength(1);
  });

  /** A trial weighed at the end of every batch, in grams of waste so far; not weighed where there is none. */
  const weighed = (waste: readonly (number | null)[], ...more: readonly string[]): string => {
    const ends = waste.map(
      (grams, index) =>
        `{end: ${33000 + 3000 * index}${grams === null ? '' : `, container_mass: ${640 + grams} g`}}`,
    );
    return trial(
      `batches: [${ends.join(', ')}]`,
      `waste_container: {tare: 640 g, final: ${640 + (waste.at(-1) ?? 0)} g}`,
      ...more,
    );
  };

  /*
   * With u₀ of a weighing, the rate of a batch of 3000 pages less that of the 9000 others, in g a thousand, is
   * 4/9 of its own waste less 1/9 of all: u = u₀ √(2 × 16 + 2) / 9 where it shares no weighing with the first and the
   * last, u₀ √(16 + 9 + 1) / 9 where it shares one of them. A maximum error of 20 g: u₀ = √(1/12 + 400/3) = 11.5506 g.
   */
  test.each([
    ['in the middle, U = 14.967 g a thousand: 44.90 g more', 2, 44],
    ['at the end, U = 13.088 g a thousand: 39.26 g more', 3, 39],
    ['at the start, as at the end: 39.26 g more', 0, 39],
  ])('a batch %s than the 60 g of each of the others', (_, batch, within) => {
    const scale = 'instruments: {scale: {resolution: 1 g, max_error: 20 g}}';
    const apart = (more: number): string[] => {
      const waste = [60, 120, 180, 240].map((grams, index) => (index < batch ? grams : grams + more));
      return said('batch-waste', weighed(waste, scale));
    };
    expect(apart(within)).toEqual([]);
    expect(apart(within + 1)[0]).toContain(`Batch ${batch + 1} made`);
  });

  test('little waste is compared as much is: 9 g against 6 g in each of the others, read to 1 g', () => {
    // U = 2 × √(1/12 × 34) / 9 = 0.374 g a thousand of the 1 g they are apart.
    expect(said('batch-waste', weighed([6, 12, 21, 27]))[0]).toContain(
      'Batch 3 made 3 g of waste per thousand pages, the others 2 g.',
    );
    expect(said('batch-waste', weighed([60, 120, 220, 280]))[0]).toContain('Batch 3 made 33.3 g');
  });

  test('two batches are held against one another, one against nothing', () => {
    const two = weighed([null, 120, null, 320]).replace('{end: 33000}, ', '').replace('{end: 39000}, ', '');
    expect(said('batch-waste', two)[0]).toContain('Batch 2 made 33.3 g of waste per thousand pages');
    expect(said('batch-waste', weighed([60, null, null, 320]))).toEqual([]);
  });

  test('a batch at whose end the container was not weighed, or that has no pages, is passed by', () => {
    expect(said('batch-waste', weighed([60, null, 180, 240]))).toEqual([]);
    expect(said('batch-waste', weighed([60, 120, null, 240]))).toEqual([]);
    const none = weighed([60, 120, 180, 240]).replace('[{', '[{end: 30000, container_mass: 640 g}, {');
    expect(said('batch-waste', none)).toEqual([]);
  });

  test.each(['paper: {size: A3}', 'duplex_share: 50 %', 'coverage: 9 %', 'other: true'])(
    'a batch is compared with none printed as something else: %s',
    (own) => {
      const apart = weighed([60, 120, 220, 280], 'coverage: 5 %', 'cartridges: [{slot: black}]');
      expect(said('batch-waste', apart)).toHaveLength(1);
      expect(said('batch-waste', apart.replace('{end: 39000,', `{end: 39000, ${own},`))).toEqual([]);
      // Those of the kind with most pages are compared, whichever is printed first.
      expect(said('batch-waste', apart.replace('{end: 33000,', `{end: 33000, ${own},`))).toHaveLength(1);
    },
  );

  test('only a change of the container among the events leaves it unsaid', () => {
    const apart = weighed([60, 120, 220, 280]);
    const [jam, change] = ['{at: 31000, kind: jam}', '{at: 41000, kind: container_change}'];
    expect(said('batch-waste', `${apart}events: []\n`)).toHaveLength(1);
    expect(said('batch-waste', `${apart}events: [${jam}]\n`)).toHaveLength(1);
    expect(said('batch-waste', `${apart}events: [${jam}, ${change}]\n`)).toEqual([]);
  });
});

describe('a limit within the uncertainty', () => {
  /** 10 with u = 0.5, so that ± U ends at 9 and 11. */
  const value = Measured.reading(new Decimal(10), [
    { path: ['x'], value: new Decimal(10), unit: 'g', u: new Decimal('0.5') },
  ]);
  const near = (min: string | null, max: string | null): boolean =>
    isNear({
      limit: { min: min === null ? null : new Decimal(min), max: max === null ? null : new Decimal(max) },
      derived: {
        figure: wastePerThousand,
        of: null,
        stat: null,
        alone: false,
        judgeable: true,
        unit: 'g',
        result: value,
      },
      outcome: 'met',
      effect: 'fails',
    } as unknown as Judged);

  test('is inside ± U; at its ends it is told apart', () => {
    expect([near(null, '10.99'), near(null, '11'), near(null, '11.01')]).toEqual([true, false, false]);
    expect([near('9.01', null), near('9', null), near('8.99', null)]).toEqual([true, false, false]);
  });

  test('that is as good as met or missed is not told as certain: 0.995 and 0.005 are the last that are numbers', () => {
    // 100 read to 100: each value from 50 to 150 has the same chance.
    const value = Measured.reading(new Decimal(100), [
      { path: ['x'], value: new Decimal(100), unit: 'g', u: asDecimal(50 / Math.sqrt(3)), half: 50 },
    ]);
    const probability = (max: string): unknown => {
      const limit = { min: null, max: new Decimal(max), origin: { kind: 'inline' }, path: [] };
      const derived = { figure: wastePerThousand, of: null, stat: null, unit: 'g', result: value };
      const one = { limit, derived, outcome: 'met', effect: 'fails', repeated: null };
      const [near] = nearLimits([one as unknown as Judged], {
        decision: { rule: 'simple' },
      } as unknown as Agreed);
      return near?.code === 'within-uncertainty' ? near.probability : null;
    };
    expect(['149.5', '149.6', '50.5', '50.4'].map(probability)).toEqual([
      '0.99',
      'more than 0.99',
      '0.01',
      'less than 0.01',
    ]);
  });

  const within = (limits: string, ...lines: readonly string[]): string[] =>
    said('within-uncertainty', trial(...lines, `limits: {${limits}}`));
  const CONTAINER = 'waste_container: {tare: 640 g, final: 880 g}';

  test('a yield that is only at least so much is as near as it likes', () => {
    const lines = ['coverage: {value: 5 %, tolerance: 0.5}', 'cartridges: [{slot: black}]'];
    expect(within('yield_at_reference: {min: 11900}', ...lines)).toEqual([]);
    expect(
      within('yield_at_reference: {min: 11900}', lines[0] ?? '', 'cartridges: [{exhausted_at: 42000}]'),
    ).toHaveLength(1);
  });

  test('of a figure in doubt nothing is said: more waste than the container holds', () => {
    const capacity = (grams: number): string => CONTAINER.replace('}', `, capacity: ${grams} g}`);
    expect(within('waste_mass: {max: 240.5 g}', capacity(300))).toHaveLength(1);
    expect(within('waste_mass: {max: 240.5 g}', capacity(200))).toEqual([]);
  });

  /*
   * 22 °C read to a degree is between 21.5 and 22.5 °C with equal chances, u = 1/√12 = 0.29 °C: it keeps to 22.49 °C
   * with 99 %, to 21.507 °C with 0.7 %. U = 0.577 °C reaches beyond both ends.
   */
  test.each([
    ['22.4', '0.90'],
    ['22.49', '0.99'],
    ['22.496', 'more than 0.99'],
    ['22.55', 'more than 0.99'],
    ['21.55', '0.05'],
    ['21.5053', '0.01'],
    ['21.5047', 'less than 0.01'],
    ['21.45', 'less than 0.01'],
  ])('22 °C keeps to at most %s °C with a probability of %s', (max, probability) => {
    const [message] = within(`temperature: {max: ${max}}`, 'ambient: [{temperature: 22}]');
    expect(message).toContain(`with a probability of ${probability}.`);
  });

  /*
   * 240 g, u² = 1/6 g² of two weighings to 1 g; repeated trials scatter with s = 1.2 g, known with 5 degrees of
   * freedom: u = 1.26754 g with 6.2244 degrees, k = 2.49388 for 95.45 %, U = 3.16111 g (scipy.stats.t, computed).
   */
  test.each([
    ['max: 240.5', '3.2 g', '0.65'],
    ['min: 240.5', '3.2 g', '0.35'],
    ['min: 239.5, max: 241', '3.2 g', '0.42'],
  ])('if repeated, of the scatter between trials: %s', (limit, U, probability) => {
    const precision = 'decision: {precision: {waste_mass: {sd: 1.2 g, degrees_of_freedom: 5}}}';
    const [message] = within(`${precision}, waste_mass: {${limit}}`, CONTAINER);
    expect(message).toContain(`uncertainty of ${U}`);
    expect(message).toContain(`with a probability of ${probability}. Another trial would tell`);
  });

  test('of a file of limits, it has no place in the trial', () => {
    const place = (text: string, ...options: string[]): (number | null)[] => {
      const { out } = run(['verdict', 't.yaml', '--format', 'json', ...options], {
        't.yaml': text,
        'l.yaml': 'waste_mass: {max: 240.5 g}\n',
      });
      const { notes } = JSON.parse(out) as ResultJson;
      return notes.flatMap(({ code, line }) => (code === 'within-uncertainty' ? [line] : []));
    };
    expect(place(trial(CONTAINER), '--limits', 'l.yaml')).toEqual([null]);
    expect(place(trial(CONTAINER, 'limits: {waste_mass: {max: 240.5 g}}'))).toEqual([4]);
  });
});

describe('a run that has come to its last planned page, its end not read', () => {
  const whole = (grams: number, more = ''): string => `trial: Weir Street lot 2
meter: {start: 30000, end: }
batches:
  - {end: 36000, started: 2026-03-09T09:00, finished: 2026-03-09T15:00, container_mass: ${640 + grams} g}
  ${more}
waste_container: {tare: 640 g, final: , capacity: 360 g}
target: {pages: 12000, batch: 6000, hours_per_day: 6}
`;
  const last =
    '- {end: 42000, started: 2026-03-10T09:00, finished: 2026-03-10T15:00, container_mass: 1000 g}';

  test('no hours are left and nothing is carried on', () => {
    const [far] = said('run-under-way', whole(180, last));
    expect(far).toContain('12000 pages are printed of 12000 (100 %)');
    expect(said('run-expected-end', whole(180, last))).toEqual([]);
    expect(said('waste-so-far', whole(180, last))[0]).not.toContain('in the end');
    expect(said('run-expected-end', whole(180))).toHaveLength(1);
    expect(said('waste-so-far', whole(180))[0]).toContain('in the end');
  });

  test('a container that is full with the last page is enough: 180 g in 6000 pages, 360 g in 12000', () => {
    expect(said('container-fills', whole(180))).toEqual([]);
    // 181 g, 179 left at 30.1667 g a thousand: 5933 pages on.
    expect(said('container-fills', whole(181))[0]).toContain('meter 41933');
  });

  test('of pages and weights that do not come out even, so many digits as count', () => {
    // Two batches of 6000 clicks, 3 a page, in 7 hours each: 285.7 pages an hour, of 12 100 pages 8100 to go: 28.35 hours.
    const odd = whole(180, last)
      .replace('end: }', 'end: , clicks_per_page: 3}')
      .replaceAll('T15:00', 'T16:00')
      .replace('pages: 12000', 'pages: 12100');
    expect(said('run-expected-end', odd)[0]).toContain(
      'At 286 pages an hour so far, 28 printing hours are left',
    );
    const [far] = said('run-under-way', whole(180).replace('end: }', 'end: , clicks_per_page: 7}'));
    // 6000 / 7 = 857.142857
    expect(far).toContain('857.143 pages are printed of 12000 (7 %)');
  });

  test('limits are still spoken of: 360 g at most, and 361 g weighed, with the last page', () => {
    const limited = (max: number): string[] =>
      said('limit-out-of-reach', `${whole(180, last)}limits: {waste_mass: {max: ${max} g}}\n`);
    expect(limited(359)).toHaveLength(1);
    expect(limited(360)).toEqual([]);
  });

  test('a run of just the pages planned is not short of them', () => {
    const over = (end: number): string => `trial: Weir Street lot 2
meter: {start: 30000, end: ${end}}
target: {pages: 12000}
`;
    expect(said('run-short-of-target', over(42000))).toEqual([]);
    expect(said('run-short-of-target', over(41999))).toHaveLength(1);
    const [done, still] = ['{slot: black, exhausted_at: 41999}', '{slot: cyan}'];
    expect(said('run-short-of-target', `${over(41999)}cartridges: [${done}, ${still}]\n`)).toHaveLength(1);
    expect(said('run-short-of-target', `${over(41999)}cartridges: [${done}]\n`)).toEqual([]);
  });
});

describe('toner for the area covered', () => {
  /** A page of 100 cm² at 5 %: 5 cm² covered, 12000 pages. */
  const used = (grams: string): string =>
    trial(
      'coverage: 5 %',
      'paper: {size: {width: 100 mm, height: 100 mm}}',
      `cartridges: [{slot: black, start_mass: 800.0 g, end_mass: ${new Decimal(800).minus(grams).toFixed(1)} g}]`,
    );

  test('0.1 and 5 mg/cm² can be: 6 g are 0.5 mg a page, 300 g are 25 mg; a tenth of a gram beyond is said', () => {
    for (const grams of ['6', '300']) expect(said('usage-implausible', used(grams))).toEqual([]);
    for (const grams of ['5.9', '300.1']) expect(said('usage-implausible', used(grams))).toHaveLength(1);
  });
});

test('a reference run of a fifth of the pages is long enough: 2400 of 12000, not 2399', () => {
  const reference = (end: number): string => trial(`reference: {meter: {start: 10000, end: ${end}}}`);
  expect(said('reference-short', reference(12400))).toEqual([]);
  expect(said('reference-short', reference(12399))).toHaveLength(1);
});

describe('parts that a mark can come from', () => {
  const drum = [{ part: 'drum', diameter: new Decimal(10) }];

  test('a distance off by just the tolerance fits: 100 mm less π × 10 mm', () => {
    // π × 10 = 31.41592653589793238462643383279503 (π to 34 digits, from memory).
    const apart = new Decimal('68.58407346410206761537356616720497');
    expect(marksOn(new Decimal(100), drum, apart)[0]?.turns).toBe(1);
    expect(marksOn(new Decimal(100), drum, apart.minus('1e-30')).map(({ turns }) => turns)).not.toContain(1);
  });

  test('within two hundredths of the distance: 100 mm and π × 31.198 = 98.011, not π × 31.19 = 97.986', () => {
    const fits = (diameter: string) =>
      marksOn(new Decimal(100), [{ part: 'drum', diameter: new Decimal(diameter) }]);
    expect([fits('31.198').length, fits('31.19').length]).toEqual([1, 0]);
  });

  test('up to six turns: 6 × 31.416 = 188.50 mm, not 7 × 31.416 = 219.91 mm', () => {
    expect(marksOn(new Decimal('188.5'), drum).map(({ turns }) => turns)).toEqual([6]);
    expect(marksOn(new Decimal('219.9'), drum)).toEqual([]);
  });

  test('fewest turns first, then the nearest: 3 × 12 and 1 × 36 mm are alike', () => {
    const parts = [
      { part: 'roller', diameter: new Decimal(12) },
      { part: 'belt', diameter: new Decimal('36.4') },
      { part: 'drum', diameter: new Decimal(36) },
    ];
    for (const listed of [parts, parts.toReversed()]) {
      const found = marksOn(new Decimal('113.1'), listed).map(({ part }) => part);
      expect(found).toEqual(['drum', 'belt', 'roller']);
    }
  });
});

describe('what the machine can print', () => {
  const timed = (batches: string, meter = ''): string[] =>
    said(
      'faster-than-rated',
      trial('machine: {rated_speed: 30}', `batches: [${batches}]`).replace(
        'end: 42000}',
        `end: 42000${meter}}`,
      ),
    );

  test('cannot be told where a day stands without a time, nor where a time or a reading is not there', () => {
    expect(timed('{end: 42000, started: 2026-03-09, finished: 2026-03-09T02:00}')).toEqual([]);
    expect(timed('{end: 42000, started: 2026-03-09T22:00, finished: 2026-03-10}')).toEqual([]);
    expect(
      timed('{end: 33000, started: 2026-03-09T09:00}, {end: 42000, finished: 2026-03-09T10:00}'),
    ).toEqual([]);
    const unread = '{end: , started: 2026-03-09T09:00, finished: 2026-03-09T10:00}';
    expect(timed(`${unread}, {end: 42000, started: 2026-03-09T11:00, finished: 2026-03-09T12:00}`)).toEqual(
      [],
    );
  });

  test('is said in pages, where the meter counts seven for one, and in tenths of a minute', () => {
    // 9000 / 7 = 1285.714286 pages in 40 min 20 s
    const [message] = timed(
      '{end: 39000, started: 2026-03-09T09:00:00, finished: 2026-03-09T09:40:20}',
      ', clicks_per_page: 7',
    );
    expect(message).toContain('1285.71 pages in 40.3 minutes');
  });
});

test('an instrument is held against the last day of all: of the trial, its batches, and readings, in any order', () => {
  const lapsed = (until: string): string[] =>
    said(
      'calibration-ended',
      trial(
        `instruments: {scale: {calibrated_until: ${until}}}`,
        'batches: [{end: 36000, started: 2026-05-06T09:00, finished: 2026-05-06T15:00}, {end: 42000, started: 2026-05-07T09:00, finished: 2026-05-07T15:00}]',
        'ambient: [{at: 2026-05-08T09:00, temperature: 23}]',
      ).replace(/^trial: .*/, 'trial: {title: Weir Street lot 2, started: 2026-05-05}'),
    );
  expect(lapsed('2026-05-07')[0]).toContain('used on 2026-05-08');
  expect(lapsed('2026-05-08')).toEqual([]);
});

test('pages and minutes as they were: 3000 pages in 60 minutes', () => {
  const [message] = said(
    'faster-than-rated',
    trial(
      'machine: {rated_speed: 30}',
      'batches: [{end: 33000, started: 2026-03-09T09:00, finished: 2026-03-09T10:00}]',
    ),
  );
  expect(message).toContain('3000 pages in 60 minutes');
});

test('80 g stated for 125 g is no exchange, though 100 × 100 / 125 is 80', () => {
  const { notes } = judge(
    trial('waste_container: {tare: 640 g, final: 765 g}', 'stated: {waste_mass: 80 g}'),
  );
  const differs = notes.find(({ code }) => code === 'stated-differs') as { slip?: string | null } | undefined;
  expect(differs).toBeDefined();
  expect(differs?.slip ?? null).toBeNull();
});

test('how many cartridges are listed: those of the slot that is named, else all', () => {
  const changed = (event: string): string | undefined =>
    said(
      'cartridge-change-unlisted',
      trial(
        `cartridges: [{slot: black}, {slot: cyan}]`,
        `events: [{at: 31000, kind: jam}, {at: 36000, kind: cartridge_change${event}}]`,
      ),
    )[0];
  expect(changed(', slot: black')).toContain('of black was changed once, but only one is listed');
  expect(changed('')).toContain('was changed once, but only 2 are listed');
});
