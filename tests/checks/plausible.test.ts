import { describe, expect, test } from 'vitest';
import { judge, run } from '../run.ts';

/*
 * What a good supervisor would say of a trial before anyone relies on it: each thing said when it is due
 * and not said when it is not. Where a bound is common practice without a source, the tests keep well away
 * from it. Numbers are worked by hand beside each test; the trials are invented.
 */

interface Said {
  readonly kind: string;
  readonly key: string | null;
  readonly message: string;
}

/** Everything said of one code. */
const said = (code: string, text: string): Said[] => {
  const { notes } = judge(text);
  const errors = notes.filter(({ kind }) => kind === 'error');
  if (errors.length > 0) throw new Error(errors.map(({ message }) => message).join('\n'));
  return notes.filter((note) => note.code === code);
};

/** One thing said of a code, as a warning. */
const warning = (code: string, text: string): string => {
  const all = said(code, text);
  expect(all.map(({ kind }) => kind)).toEqual(['warning']);
  return all[0]?.message ?? '';
};

const trial = (...lines: readonly string[]): string =>
  ['trial: Drovers Gate lot 6, machine Ivory', 'meter: {start: 30000, end: 42000}', ...lines, ''].join('\n');

const SOUND = `
trial: {title: "Drovers Gate lot 6, machine Ivory", started: 2026-05-04, finished: 2026-05-07}
machine:
  rated_speed: 30
  rotating_parts: {drum: 30 mm}
  parts: [{part: fuser, rated_life: 200000, used: 90000}]
instruments: {scale: {calibrated_until: 2026-12-31}}
meter: {start: 30000, end: 42000}
batches:
  - {end: 36000, started: 2026-05-04T09:00, finished: 2026-05-04T16:00, container_mass: 700 g}
  - {end: 42000, started: 2026-05-05T09:00, finished: 2026-05-05T16:00}
coverage: 6 %
duplex_share: 50 %
paper: {sheets_used: 9050}
waste_container: {tare: 640 g, final: 761 g, capacity: 600 g}
cartridges:
  - {slot: black, start_mass: 812 g, end_mass: 452 g, fill_mass: 400 g, residual_mass: 10 g, gauge: {start: 100 %, end: 8 %}}
ambient: [{at: 2026-05-04T09:00, temperature: 22.0 °C, humidity: 46 %}]
events: [{at: 33000, kind: stop}, {at: 40000, kind: stop}]
limits: {waste_per_thousand: {max: 25 g}}
`;

test('a sound trial with every kind of reading gives no warning', () => {
  const { notes, verdict } = judge(SOUND);
  expect(notes.map(({ kind, code }) => `${kind} ${code}`)).toEqual([]);
  expect(verdict).toBe('pass');
});

test('what is said stands in the order of the file, whatever it is said of', () => {
  const { notes } = judge(
    trial(
      'coverage: 20 %',
      'events: [{at: 36000, kind: cartridge_change, slot: black}]',
      'machine: {parts: [{part: fuser, rated_life: 1000}]}',
      'cartridges: [{slot: black, start_mass: 812 g, end_mass: 452 g, fill_mass: 400 g}]',
      'stated: {pages: 21000}',
    ),
  );
  const lines = notes.map(({ line }) => line ?? Infinity);
  expect(new Set(lines).size).toBeGreaterThan(3);
  expect(lines).toEqual(lines.toSorted((a, b) => a - b));
});

test('the end of the meter is to be read even where no limit asks for it and the file has no such key', () => {
  const { notes } = judge('trial: Drovers Gate lot 6\nmeter: {start: 30000}\n');
  expect(notes.filter(({ code }) => code === 'to-be-read').map(({ message }) => message)).toEqual([
    'meter.end is still to be read.',
  ]);
});

describe('waste-exceeds-toner', () => {
  const weighed = (final: number, ...more: readonly string[]): string =>
    trial(
      `waste_container: {tare: 640 g, final: ${final} g}`,
      'cartridges:',
      '  - {slot: black, start_mass: 800 g, end_mass: 700 g}',
      ...more,
    );

  test('102 g of waste from 100 g of toner: weigh the container and the cartridges again', () => {
    const message = warning('waste-exceeds-toner', weighed(742));
    for (const part of ['102 g', '100 g', 'tare', 'final', 'start_mass', 'end_mass'])
      expect(message).toContain(part);
  });

  test('100 g from 100 g can be, and 101 g too: four weights to 1 g have U = 2 × √(4/12) = 1.15 g', () => {
    for (const final of [740, 741]) expect(said('waste-exceeds-toner', weighed(final))).toEqual([]);
  });

  test('the toner of all cartridges counts, and only where all were weighed', () => {
    expect(
      said('waste-exceeds-toner', weighed(741, '  - {slot: cyan, start_mass: 800 g, end_mass: 790 g}')),
    ).toEqual([]);
    expect(
      said('waste-exceeds-toner', weighed(753, '  - {slot: cyan, start_mass: 800 g, end_mass: 790 g}')),
    ).toHaveLength(1);
    expect(said('waste-exceeds-toner', weighed(751, '  - {slot: cyan}'))).toEqual([]);
  });

  test('of the one cartridge without a slot too', () => {
    expect(said('waste-exceeds-toner', weighed(742).replace('slot: black, ', ''))).toHaveLength(1);
  });
});

describe('projections-differ', () => {
  // By weight 12 000 × 390 / 360 = 13 000 pages.
  const gauged = (end: string): string =>
    trial(
      'cartridges:',
      `  - {slot: black, start_mass: 812 g, end_mass: 452 g, fill_mass: 400 g, residual_mass: 10 g, gauge: {start: 100 %, end: ${end}}}`,
    );

  test('13 000 pages by weight and 12 000 × 100 / 60 = 20 000 by gauge', () => {
    const message = warning('projections-differ', gauged('40 %'));
    expect(message).toContain('Cartridge black projects to 13000 pages by weight and to 20000 by its gauge');
  });

  test('not for 12 000 × 100 / 92 = 13 043, which a gauge read to 1 % cannot tell from it', () => {
    // u = 13 043 × √(1/6) / 92 = 58 pages.
    expect(said('projections-differ', gauged('8 %'))).toEqual([]);
  });

  test('a gauge read to 0.1 % can: 43 pages apart, u = 5.8 and 20', () => {
    // 2 × √(5.79² + 20.06²) = 41.8 pages.
    expect(said('projections-differ', gauged('8.0 %').replace('100 %', '100.0 %'))).toHaveLength(1);
  });

  test('not with one of the two alone', () => {
    expect(said('projections-differ', gauged('40 %').replace(/, gauge: .*}}/, '}'))).toEqual([]);
    expect(said('projections-differ', gauged('40 %').replace('fill_mass: 400 g, ', ''))).toEqual([]);
    expect(said('projections-differ', gauged(''))).toEqual([]);
  });

  test('not where nothing fell: of no toner, or no change of the gauge, nothing is projected', () => {
    expect(said('projections-differ', gauged('100 %'))).toEqual([]);
    expect(said('projections-differ', gauged('40 %').replace('452 g', '812 g'))).toEqual([]);
  });
});

describe('residual-taken-as-zero', () => {
  const CARTRIDGE = 'start_mass: 812 g, end_mass: 452 g, fill_mass: 400 g';

  test('of a projection by weight without residual_mass, once for all slots', () => {
    const message = warning(
      'residual-taken-as-zero',
      trial(`cartridges: [{slot: black, ${CARTRIDGE}}, {slot: cyan, ${CARTRIDGE}}]`),
    );
    expect(message).toContain('black and cyan');
    expect(message).toContain('residual_mass');
  });

  test('not where it is given, nor where nothing is projected by weight', () => {
    for (const cartridge of [
      `${CARTRIDGE}, residual_mass: 0 g`,
      'fill_mass: 400 g',
      'start_mass: 812 g, end_mass: 452 g',
      'gauge: {start: 100 %, end: 40 %}',
    ]) {
      expect(
        said('residual-taken-as-zero', trial(`cartridges: [{slot: black, ${cartridge}}]`)),
        cartridge,
      ).toEqual([]);
    }
  });
});

describe('far-from-reference', () => {
  /*
   * Yield / (s + (1 − s) c_ref / c): 12 000 pages at 20 % are 48 000 at 5 % in proportion. If 5 % of the
   * toner went into pages of no coverage, 12 000 / (0.05 + 0.95/4) = 41 739; 10 %: 12 000 / 0.325 = 36 923;
   * 20 %: 12 000 / 0.4 = 30 000.
   */
  test('more than a factor of two above: the model, its sources, and how far the answer would move', () => {
    const message = warning('far-from-reference', trial('coverage: 20 %', 'cartridges: [{slot: black}]'));
    for (const part of [
      'first-order',
      'F685-96 (2006)',
      ': 48000 pages. If 5 %, 10 % or 20 % of the toner went into pages of no coverage, it would be 41739, 36923 or 30000 pages.',
      'non_image_usage',
    ])
      expect(message).toContain(part);
  });

  test('and below: 12 000 at 2 % are 4800; 12 000 / (0.1 + 0.9 × 2.5) = 5106', () => {
    const message = warning('far-from-reference', trial('coverage: 2 %'));
    expect(message).toContain('4800');
    expect(message).toContain('5106');
  });

  test('a factor of two is not more than that', () => {
    expect(said('far-from-reference', trial('coverage: 10 %'))).toEqual([]);
    expect(said('far-from-reference', trial('coverage: 2.5 %'))).toEqual([]);
    expect(said('far-from-reference', trial('coverage: 10.1 %'))).toHaveLength(1);
  });

  test('it goes by the reference coverage agreed', () => {
    expect(said('far-from-reference', trial('coverage: 20 %', 'limits: {reference_coverage: 10 %}'))).toEqual(
      [],
    );
    expect(
      said('far-from-reference', trial('coverage: 5 %', 'limits: {reference_coverage: 20 %}')),
    ).toHaveLength(1);
  });

  test('from the mean coverage of batches, to four digits', () => {
    // (7000 × 15 + 5000 × 31) / 12 000 = 21.6667 %
    const batches = 'batches: [{end: 37000}, {end: 42000, coverage: 31 %}]';
    expect(warning('far-from-reference', trial('coverage: 15 %', batches))).toContain(
      'from 21.67 % coverage',
    );
  });

  test('of the slot that is far', () => {
    const message = warning('far-from-reference', trial('coverage: {black: 5 %, cyan: 15 %}'));
    expect(message).toContain('cyan');
    expect(message).not.toContain('black');
  });

  test('not where m₀ is known', () => {
    const known = trial(
      'coverage: 20 %',
      'non_image_usage: 3 mg',
      'cartridges: [{slot: black, start_mass: 812 g, end_mass: 452 g}]',
    );
    expect(said('far-from-reference', known)).toEqual([]);
    expect(said('proportional-scaling', known)).toEqual([]);
  });
});

describe('proportional-scaling', () => {
  test('m₀ is known, but no usage to set it against', () => {
    const message = warning(
      'proportional-scaling',
      trial('coverage: 6 %', 'non_image_usage: 3 mg', 'cartridges: [{slot: black}]'),
    );
    expect(message).toContain('non_image_usage');
    expect(message).toContain('fill_mass');
  });

  test('not with a fill once exhausted, and not without m₀', () => {
    const filled = 'cartridges: [{slot: black, fill_mass: 400 g, exhausted_at: 42000}]';
    expect(said('proportional-scaling', trial('coverage: 6 %', 'non_image_usage: 3 mg', filled))).toEqual([]);
    expect(said('proportional-scaling', trial('coverage: 6 %', 'cartridges: [{slot: black}]'))).toEqual([]);
  });
});

/** Four batches of 3000 pages. */
const BATCHES = 'batches: [{end: 33000}, {end: 36000}, {end: 39000}, {end: 42000}]';

describe('batch-stops', () => {
  const stopping = (...at: readonly number[]): string =>
    trial(BATCHES, `events: [${at.map((meter) => `{at: ${meter}, kind: stop}`).join(', ')}]`);

  test('five of five stops in a quarter of the pages: 1/4⁵ = 0.001', () => {
    const message = warning('batch-stops', stopping(33100, 33900, 34200, 35000, 36000));
    expect(message).toMatch(/5 of the 5 stops .* batch 2/);
  });

  test('not for two of two: 1/16 happens', () => {
    expect(said('batch-stops', stopping(33100, 33900))).toEqual([]);
  });

  test('not for stops spread over the batches', () => {
    expect(said('batch-stops', stopping(31000, 32000, 34000, 35000, 37000, 38000, 40000, 41000))).toEqual([]);
  });

  test('a batch of most of the pages may have most of the stops', () => {
    const long = stopping(33100, 33900, 34200, 35000, 36000).replace(
      BATCHES,
      'batches: [{end: 33000}, {end: 42000}]',
    );
    expect(said('batch-stops', long)).toEqual([]);
  });

  test('jams are no stops', () => {
    expect(
      said('batch-stops', stopping(33100, 33900, 34200, 35000, 36000).replaceAll('kind: stop', 'kind: jam')),
    ).toEqual([]);
  });
});

describe('batch-waste', () => {
  const weighed = (masses: readonly number[], more = ''): string =>
    trial(
      'batches:',
      ...masses.map((mass, index) => `  - {end: ${33000 + 3000 * index}, container_mass: ${mass} g}`),
      '  - {end: 42000}',
      'waste_container: {tare: 640 g, final: 910 g}',
      more,
    );

  test('90 g in the third, 60 g in each of the others: 30 g for a thousand against 180 / 9 = 20', () => {
    const message = warning('batch-waste', weighed([700, 760, 850]));
    expect(message).toMatch(/Batch 3 .*30 g.*20 g/);
  });

  test('not when all are alike', () => {
    expect(said('batch-waste', weighed([708, 775, 843]))).toEqual([]);
  });

  test('not when the scale explains it: 10 g apart, u over 7 g with a maximum error of 20 g', () => {
    expect(said('batch-waste', weighed([700, 760, 850], 'instruments: {scale: {max_error: 20 g}}'))).toEqual(
      [],
    );
  });

  test('not where the container was changed, whose weights do not follow each other', () => {
    const changed = weighed([700, 760, 850]).replace(
      'waste_container: {tare: 640 g, final: 910 g}',
      'waste_container: [{tare: 640 g, final: 760 g}, {tare: 650 g, final: 910 g}]',
    );
    expect(said('batch-waste', changed)).toEqual([]);
  });
});

describe('part-reaches-life', () => {
  const worn = (part: string, ...more: readonly string[]): string =>
    trial(`machine: {parts: [{part: fuser, ${part}}]}`, ...more);

  test('95 000 of 100 000 pages used, 12 000 printed: at meter 30 000 + 5000', () => {
    const message = warning('part-reaches-life', worn('rated_life: 100000, used: 95000'));
    expect(message).toContain('fuser');
    expect(message).toContain('35000');
    expect(message).toContain('100000');
  });

  test('two clicks a page: 6000 pages, reached after 5000 at meter 40 000', () => {
    const clicks = worn('rated_life: 100000, used: 95000').replace(
      'end: 42000}',
      'end: 42000, clicks_per_page: 2}',
    );
    expect(warning('part-reaches-life', clicks)).toContain('40000');
    expect(said('part-reaches-life', clicks.replace('used: 95000', 'used: 93999'))).toEqual([]);
  });

  test('with the last page too, not with one page left', () => {
    expect(said('part-reaches-life', worn('rated_life: 100000, used: 88000'))).toHaveLength(1);
    expect(said('part-reaches-life', worn('rated_life: 100000, used: 87999'))).toEqual([]);
  });

  test('past it before the run began', () => {
    expect(warning('part-reaches-life', worn('rated_life: 100000, used: 100500'))).toMatch(/was past/);
  });

  test('before the run, by the pages planned', () => {
    const planned = worn('rated_life: 100000, used: 95000').replace('end: 42000}', 'end:}');
    expect(said('part-reaches-life', planned)).toEqual([]);
    expect(said('part-reaches-life', `${planned}target: {pages: 12000}\n`)).toHaveLength(1);
    expect(said('part-reaches-life', `${planned}target: {pages: 4000}\n`)).toEqual([]);
  });

  test('pages that are not of the trial wear it too', () => {
    // 12 000 pages through the machine, 1500 of them not of the trial; 11 000 are left.
    const other = worn('rated_life: 100000, used: 89000').replace(
      'end: 42000}',
      'end: 42000, other_pages: 1500}',
    );
    expect(said('part-reaches-life', other)).toHaveLength(1);
  });

  test('however little it had done before: 12 000 pages are more than a life of 10 000', () => {
    expect(said('part-reaches-life', worn('rated_life: 10000'))).toHaveLength(1);
    expect(said('part-reaches-life', worn('rated_life: 20000'))).toEqual([]);
  });
});

describe('calibration-ended', () => {
  const calibrated = (until: string, ...more: readonly string[]): string =>
    trial(
      `instruments: {scale: {calibrated_until: ${until}}, thermometer: {calibrated_until: 2027-01-31}}`,
      ...more,
    );
  const READ = 'ambient: [{at: 2026-05-04T09:00, temperature: 22}, {at: 2026-05-06T15:00, temperature: 23}]';

  test('the scale was used on 2026-05-06, its calibration ended on the 5th', () => {
    const message = warning('calibration-ended', calibrated('2026-05-05', READ));
    for (const part of ['scale', '2026-05-05', '2026-05-06']) expect(message).toContain(part);
  });

  test('its last day is still in it', () => {
    expect(said('calibration-ended', calibrated('2026-05-06', READ))).toEqual([]);
  });

  test('days of the trial itself and of batches count', () => {
    const dated = calibrated('2026-05-05').replace(
      /^trial: .*/,
      'trial: {title: Drovers Gate lot 6, finished: 2026-05-07}',
    );
    expect(said('calibration-ended', dated)).toHaveLength(1);
    const batch = 'batches: [{end: 42000, started: 2026-05-06T09:00, finished: 2026-05-06T16:00}]';
    expect(said('calibration-ended', calibrated('2026-05-05', batch))).toHaveLength(1);
  });

  test('a trial without days says nothing', () => {
    expect(said('calibration-ended', calibrated('2020-01-01'))).toEqual([]);
  });
});

describe('faster-than-rated', () => {
  const timed = (batches: string): string => trial('machine: {rated_speed: 30}', `batches: [${batches}]`);
  const batch = (end: number, started: string, finished: string): string =>
    `{end: ${end}, started: ${started}, finished: ${finished}}`;

  test('3000 pages in an hour at 30 a minute: 1800 is what it can', () => {
    const message = warning('faster-than-rated', timed(batch(33000, '2026-05-04T09:00', '2026-05-04T10:00')));
    for (const part of ['3000 pages', '60 minutes', '30 pages a minute']) expect(message).toContain(part);
  });

  test('3000 in 100 minutes is as fast as it can', () => {
    expect(said('faster-than-rated', timed(batch(33000, '2026-05-04T09:00', '2026-05-04T10:40')))).toEqual(
      [],
    );
    expect(
      said('faster-than-rated', timed(batch(33000, '2026-05-04T09:00', '2026-05-04T10:39'))),
    ).toHaveLength(1);
  });

  test('each batch by its own pages', () => {
    const two = [
      batch(33000, '2026-05-04T09:00', '2026-05-04T12:00'),
      batch(39000, '2026-05-04T13:00', '2026-05-04T15:00'),
    ].join(', ');
    expect(warning('faster-than-rated', timed(two))).toContain('6000 pages');
  });

  test('from the end of one batch to the end of the next, where no beginning is given', () => {
    const two = '{end: 33000, finished: 2026-05-04T09:00}, {end: 39000, finished: 2026-05-04T11:00}';
    expect(warning('faster-than-rated', timed(two))).toContain('6000 pages');
    expect(said('faster-than-rated', timed(two.replace('T11:00', 'T13:00')))).toEqual([]);
  });

  test('over the whole run, between the times it was started and finished: 12 000 pages in 2 hours', () => {
    const whole = (finished: string): string =>
      trial('machine: {rated_speed: 30}').replace(
        /^trial: .*/,
        `trial: {title: Drovers Gate lot 6, started: 2026-05-04T09:00, finished: ${finished}}`,
      );
    expect(said('faster-than-rated', whole('2026-05-04T11:00'))).toHaveLength(1);
    expect(said('faster-than-rated', whole('2026-05-04T16:00'))).toEqual([]);
  });

  test('two clicks a page are half the pages', () => {
    const clicks = timed(batch(33000, '2026-05-04T09:00', '2026-05-04T10:00')).replace(
      'end: 42000}',
      'end: 42000, clicks_per_page: 2}',
    );
    expect(said('faster-than-rated', clicks)).toEqual([]);
  });

  test('days alone tell no speed, and without a rating nothing does', () => {
    expect(said('faster-than-rated', timed(batch(42000, '2026-05-04', '2026-05-04')))).toEqual([]);
    const unrated = timed(batch(33000, '2026-05-04T09:00', '2026-05-04T10:00')).replace(
      'rated_speed: 30',
      'label: Ivory',
    );
    expect(said('faster-than-rated', unrated)).toEqual([]);
  });
});

describe('fraction-for-percent', () => {
  test('coverage: 0.05 is read as 0.05 %; 5 % may be meant', () => {
    const [note] = said('fraction-for-percent', trial('coverage: 0.05'));
    expect(note).toMatchObject({ kind: 'warning', key: 'coverage' });
    expect(note?.message).toContain('0.05 %');
    expect(note?.message).toContain('5 %');
  });

  test.each([
    ['coverage: {value: 0.05, tolerance: 0.005}', 'value'],
    ['coverage: {black: 0.05}', 'black'],
    ['coverage: {black: {value: 0.05}}', 'black'],
    ['duplex_share: 0.4', 'duplex_share'],
    ['ambient: [{temperature: 22, humidity: 0.47}]', 'humidity'],
    ['reference: {meter: {start: 0, end: 30000}, coverage: 0.05}', 'coverage'],
  ])('%s', (line, key) => {
    expect(said('fraction-for-percent', trial(line)).map((note) => note.key)).toEqual([key]);
  });

  test('a gauge from 1 to 0.4', () => {
    const gauged = trial('cartridges: [{slot: black, gauge: {start: 1, end: 0.4}}]');
    expect(said('fraction-for-percent', gauged)).not.toEqual([]);
  });

  test('a reference coverage of 0.05, which makes every yield a hundredfold', () => {
    expect(
      said('fraction-for-percent', trial('coverage: 5 %', 'limits: {reference_coverage: 0.05}')),
    ).not.toEqual([]);
  });

  test.each([
    'coverage: 0.05 %',
    'coverage: 5',
    'coverage: 5 %',
    'coverage: {value: 5 %, tolerance: 0.5}',
    'duplex_share: 0',
    'duplex_share: 40 %',
    'duplex_share: 0 %',
    'ambient: [{temperature: 22, humidity: 47}]',
  ])('not of %s', (line) => {
    expect(said('fraction-for-percent', trial(line))).toEqual([]);
  });
});

describe('sheets-differ', () => {
  const counted = (sheets: number, ...more: readonly string[]): string =>
    trial('duplex_share: 50 %', `paper: {sheets_used: ${sheets}}`, ...more);

  test('12 000 pages, half of them two-sided, are 9000 sheets: not 12 000', () => {
    const message = warning('sheets-differ', counted(12000));
    expect(message).toContain('12000');
    expect(message).toContain('9000');
  });

  test('spoilt sheets within 2 % are nothing unusual: 9180 and 8820, not 9181 and 8819', () => {
    for (const sheets of [9000, 9180, 8820]) expect(said('sheets-differ', counted(sheets))).toEqual([]);
    for (const sheets of [9181, 8819]) expect(said('sheets-differ', counted(sheets))).toHaveLength(1);
  });

  test('within the spare paper of the plan', () => {
    expect(said('sheets-differ', counted(9450, 'target: {spare_paper: 5 %}'))).toEqual([]);
    expect(said('sheets-differ', counted(9451, 'target: {spare_paper: 5 %}'))).toHaveLength(1);
  });

  test('of the sheets: 12 000 / 1.5 = 8000', () => {
    expect(said('sheets-differ', counted(8000, 'duplex_basis: sheets'))).toEqual([]);
    expect(said('sheets-differ', counted(9000, 'duplex_basis: sheets'))).toHaveLength(1);
  });

  test('not where they were not counted', () => {
    expect(said('sheets-differ', trial('duplex_share: 50 %'))).toEqual([]);
  });
});

describe('over-capacity', () => {
  test('226 g in a container for 200 g; not in one for 226 g', () => {
    const filled = (capacity: number): string =>
      trial(`waste_container: {tare: 648 g, final: 874 g, capacity: ${capacity} g}`);
    const message = warning('over-capacity', filled(200));
    expect(message).toContain('226 g');
    expect(message).toContain('200 g');
    expect(said('over-capacity', filled(226))).toEqual([]);
  });

  test('each container by itself', () => {
    const two = trial(
      'waste_container:',
      '  - {tare: 640 g, final: 790 g, capacity: 160 g}',
      '  - {tare: 650 g, final: 815 g, capacity: 160 g}',
    );
    expect(warning('over-capacity', two)).toContain('165 g');
  });
});

describe('mass-implausible', () => {
  const container = (weights: string): string => trial(`waste_container: {${weights}}`);

  test('kg read as g, and g written as kg', () => {
    expect(said('mass-implausible', container('tare: 0.512, final: 0.726'))).toHaveLength(2);
    expect(warning('mass-implausible', container('tare: 512 g, final: 726 kg'))).toContain('726000 g');
    expect(said('mass-implausible', trial('cartridges: [{slot: black, start_mass: 0.8 g}]'))).toHaveLength(1);
  });

  test('not what things weigh, nor a scale set to zero with the container on it', () => {
    expect(said('mass-implausible', container('tare: 512 g, final: 0.726 kg'))).toEqual([]);
    expect(said('mass-implausible', container('tare: 0 g, final: 3 g'))).toEqual([]);
  });
});

describe('usage-implausible', () => {
  const used = (end: number, coverage = '5 %'): string =>
    trial(`coverage: ${coverage}`, `cartridges: [{slot: black, start_mass: 800 g, end_mass: ${end} g}]`);

  test('2 g over 12 000 pages: 0.1667 mg over 31.185 cm² is 0.00534 mg/cm²', () => {
    const message = warning('usage-implausible', used(798));
    expect(message).toContain('0.00534 mg');
    expect(message).toContain('black');
  });

  test('360 g at 0.5 %: 30 mg over 3.1185 cm² is 9.62 mg/cm²', () => {
    expect(warning('usage-implausible', used(440, '0.5 %'))).toContain('9.62 mg');
  });

  test('not 360 g at 5 %: 0.962 mg/cm²', () => {
    expect(said('usage-implausible', used(440))).toEqual([]);
  });

  test('not where it cannot be told', () => {
    expect(said('usage-implausible', used(798, '0 %'))).toEqual([]);
    expect(said('usage-implausible', trial('coverage: 5 %', 'cartridges: [{slot: black}]'))).toEqual([]);
  });
});

describe('mark-repeats', () => {
  const marked = (distance: string, parts = '{drum: 30 mm, charge roller: 12 mm}'): string =>
    trial(`machine: {rotating_parts: ${parts}}`, `prints: {marks: [{distance: ${distance}}]}`);

  test('94.3 mm: π × 30 = 94.25, once a turn of the drum; a note, no warning', () => {
    const [note, ...others] = said('mark-repeats', marked('94.3 mm'));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ kind: 'note', key: 'distance' });
    expect(note?.message).toContain('94.3 mm');
    expect(note?.message).toMatch(/once a turn of the drum/);
    expect(note?.message).not.toContain('charge roller');
  });

  test('113.1 mm: 3 × π × 12 = 113.10, three turns of the charge roller', () => {
    expect(said('mark-repeats', marked('113.1 mm'))[0]?.message).toMatch(/3 turns of the charge roller/);
  });

  test('held against one part alone too', () => {
    expect(said('mark-repeats', marked('94.3 mm', '{drum: 30 mm}'))[0]?.message).toMatch(
      /once a turn of the drum/,
    );
  });

  test('55 mm fits none: π × 12 = 37.70, twice that 75.40', () => {
    expect(said('mark-repeats', marked('55 mm'))[0]?.message).toMatch(/no rotating part/);
  });

  test('not without marks', () => {
    expect(said('mark-repeats', trial('machine: {rotating_parts: {drum: 30 mm}}'))).toEqual([]);
  });

  test('with its distance and its slot where no part of a known diameter is given', () => {
    const bare =
      'A mark repeats every 94.3 mm. Give the machine’s rotating_parts, and it is held against them.';
    expect(said('mark-repeats', marked('94.3', '{drum: }')).map(({ message }) => message)).toEqual([bare]);
    const [inSlot] = said('mark-repeats', trial('prints: {marks: [{distance: 94.3 mm, slot: black}]}'));
    expect(inSlot).toMatchObject({ of: 'black', message: bare.replace('mm.', 'mm in black.') });
  });

  test('on the prints of the reference run too', () => {
    const text = `${marked('94.3 mm')}
reference: {meter: {start: 200000, end: 201000}, prints: {marks: [{distance: 37.7 mm}]}}`;
    // π × 12 = 37.70
    expect(said('mark-repeats', text).map(({ message }) => message)).toEqual([
      'A mark repeats every 94.3 mm: once a turn of the drum.',
      'A mark repeats every 37.7 mm: once a turn of the charge roller.',
    ]);
  });

  test('in the section of prints of a verdict', () => {
    const text = trial(
      'machine: {rotating_parts: {drum: 30 mm}}',
      'prints: {marks: [{distance: 94.3, slot: black, note: light spot}, {distance: 55 mm}]}',
    );
    const { out } = run(['verdict', 't.yaml'], { 't.yaml': text });
    expect(out).toContain(`PRINTS
  mark every 94.3 mm, black, light spot: once a turn of the drum
  mark every 55 mm: no rotating part of the machine has that circumference or a
    multiple of it
`);
    const without = run(['verdict', 't.yaml'], { 't.yaml': text.replace(/^machine.*$/m, '') }).out;
    expect(without).toContain('  mark every 94.3 mm, black, light spot\n  mark every 55 mm\n');
  });
});

describe('within-uncertainty', () => {
  // 240 ± 2 × √(1/6) = 0.816 g. Two readings, each within half a gram: their difference is triangular, and 0.5 g off or
  // less with 1 − 0.5²/2 = 0.875; one rectangle and a normal part come to 0.8849.
  const near = (limits: string): string =>
    trial('waste_container: {tare: 640 g, final: 880 g}', `limits: {${limits}}`);

  test('240 g against 240.5 g is met by less than the scale can tell', () => {
    const message = warning('within-uncertainty', near('waste_mass: {max: 240.5 g}'));
    expect(message).toContain('waste mass');
    expect(message).toContain('0.50 g');
    expect(message).toContain('0.82 g');
    expect(message).toContain('0.88');
  });

  test('missed by as little too: the probability is 0.12', () => {
    const message = warning('within-uncertainty', near('waste_mass: {max: 239.5 g}'));
    expect(message).toContain('waste mass is 0.50 g from its limit');
    expect(message).toContain('0.12');
  });

  test('not a gram away, not under the guarded rule, not of a limit that only warns', () => {
    expect(said('within-uncertainty', near('waste_mass: {max: 241 g}'))).toEqual([]);
    expect(said('within-uncertainty', near('decision: {rule: guarded}, waste_mass: {max: 240.5 g}'))).toEqual(
      [],
    );
    expect(said('within-uncertainty', near('waste_mass: {max: 240.5 g, effect: advises}'))).toEqual([]);
  });

  test('an exact figure on its limit is on it', () => {
    expect(said('within-uncertainty', near('pages: {min: 12000}'))).toEqual([]);
  });
});

test('no jam in 100 pages says little of a limit of 0.5 a thousand: the exact bound is 36.9', () => {
  // Poisson: with none seen, exp(−mean) = 2.28 % at a mean of 3.7832; −ln 0.02275, by hand.
  const rate = (pages: number) =>
    judge(
      `trial: Mill Lane\nmeter: {start: 0, end: ${pages}}\nevents: []\nlimits: {jams_per_thousand: {max: 0.5}}\n`,
    );
  const few = rate(100);
  expect(few.verdict).toBe('pass');
  expect(few.notes.map(({ code }) => code)).toContain('events-few');
  expect(few.notes.find(({ code }) => code === 'events-few')?.message).toContain('from 0 to 38');
  expect(few.caveats.map(({ code }) => code)).toEqual(['within-uncertainty']);
  // 3.7832 events in 8,000 pages are 0.47 a thousand.
  expect(rate(8000).caveats).toEqual([]);
});
