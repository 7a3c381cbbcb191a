import { describe, expect, test } from 'vitest';
import { isNear } from '../../src/checks/near-limits.ts';
import { wastePerThousand } from '../../src/figures/waste-per-thousand.ts';
import { marksOn } from '../../src/figures/repeating-marks.ts';
import type { Judged } from '../../src/judge/judge.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { Measured } from '../../src/uncertainty/measured.ts';
import { judge } from '../run.ts';

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

  test('a run of just the pages planned is not short of them', () => {
    const over = (end: number): string => `trial: Weir Street lot 2
meter: {start: 30000, end: ${end}}
target: {pages: 12000}
`;
    expect(said('run-short-of-target', over(42000))).toEqual([]);
    expect(said('run-short-of-target', over(41999))).toHaveLength(1);
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
        `events: [{at: 36000, kind: cartridge_change${event}}]`,
      ),
    )[0];
  expect(changed(', slot: black')).toContain('of black was changed once, but only one is listed');
  expect(changed('')).toContain('was changed once, but only 2 are listed');
});
