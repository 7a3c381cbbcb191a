import { describe, expect, test } from 'vitest';
import { judge } from '../../run.ts';
import { batchesOf, trialWith } from './base.ts';

/*
 * Readings that cannot all be true. The masses are worked by hand: 76 g of waste for every 4,000 pages, 1,070 g
 * of toner for 24,000. What counts as far is common practice, no source. The trials are invented.
 */

type Changes = Readonly<Record<string, string | null>>;
type Row = readonly [what: string, changes: Changes, doubted: string, code: string];

const BLACK = 'start_mass: 1612, end_mass: 542, fill_mass: 1100, residual_mass: 20';
const REFERENCE =
  '{meter: {start: 40000, end: 48000}, waste_container: {tare: 630, final: FINAL}, cartridges: [{slot: black}], batches: BATCHES}';
const reference = (final: number, batches: string): string =>
  REFERENCE.replace('FINAL', String(final)).replace('BATCHES', batches);

/** The figure that rests on a doubted reading, and one that does not. */
const WASTE: readonly Row[] = [
  [
    'final weight with two digits swapped: 1082 as 1028',
    { waste_container: '{tare: 626, final: 1028}' },
    'waste_container.final',
    'waste-rate-apart',
  ],
  [
    'a container that was changed in the middle and not listed: the final is below a mass long before it',
    {
      batches:
        '[{end: 55200, container_mass: 702}, {end: 59200, container_mass: 878}, {end: 63200, container_mass: 700}, {end: 67200, container_mass: 776}]',
      waste_container: '{tare: 626, final: 852}',
    },
    'waste_container.final',
    'interim-above-final',
  ],
  [
    'the mass after pages that are not of the trial, 61 g too much: 854 as 915',
    {
      batches:
        '[{end: 55200, container_mass: 702}, {end: 59200, container_mass: 778}, {end: 63200, container_mass: 915, other: true, coverage: 20 %}, {end: 67200, container_mass: 930}, {end: 71200, container_mass: 1006}]',
      waste_container: '{tare: 626, final: 1082}',
    },
    'batches[3].container_mass',
    'waste-rate-apart',
  ],
  [
    'final weight with a digit doubled: 1082 as 1182 at 25 g and more',
    { waste_container: '{tare: 626, final: 1182}' },
    'waste_container.final',
    'waste-rate-apart',
  ],
  [
    'final weight with two digits swapped beside a batch at another coverage: 1182 as 1128',
    {
      batches:
        '[{end: 55200, container_mass: 702}, {end: 59200, container_mass: 778}, {end: 63200, container_mass: 954, coverage: 20 %}, {end: 67200, container_mass: 1030}, {end: 71200, container_mass: 1106}]',
      waste_container: '{tare: 626, final: 1128}',
    },
    'waste_container.final',
    'waste-rate-apart',
  ],
  [
    'final weight below the last on the way',
    { waste_container: '{tare: 626, final: 982}' },
    'waste_container.final',
    'interim-above-final',
  ],
  [
    'final weight with a digit dropped',
    { waste_container: '{tare: 626, final: 802}' },
    'waste_container.final',
    'interim-above-final',
  ],
  [
    'empty weight with two digits swapped: 626 as 266',
    { waste_container: '{tare: 266, final: 1082}' },
    'waste_container.tare',
    'waste-rate-apart',
  ],
  [
    'empty weight off by 60 g',
    { waste_container: '{tare: 566, final: 1082}' },
    'waste_container.tare',
    'waste-rate-apart',
  ],
  [
    'meter end with two digits swapped: 75,200 as 77,200, three batches',
    {
      target: null,
      batches: batchesOf([63200, 854], [69200, 968]),
      meter: '{start: 51200, end: 81200}',
      waste_container: '{tare: 626, final: 1082}',
    },
    'waste_container.final',
    'waste-rate-apart',
  ],
  [
    '3,600 pages behind the last planned checkpoint',
    {
      meter: '{start: 51200, end: 78800}',
      batches: batchesOf(
        [55200, null],
        [59200, null],
        [63200, null],
        [67200, null],
        [71200, null],
        [75200, null],
      ),
    },
    'meter.end',
    'pages-after-last-batch',
  ],
  [
    '9,000 pages behind the last checkpoint of batches of 4,000',
    {
      meter: '{start: 51200, end: 80200}',
      target: null,
      batches: batchesOf([55200, null], [59200, null], [63200, null], [67200, null], [71200, null]),
    },
    'meter.end',
    'pages-after-last-batch',
  ],
  [
    '27,600 pages of 20,000 planned, no checkpoints',
    { meter: '{start: 51200, end: 78800}', batches: null, target: '{pages: 20000, batch: 4000}' },
    'meter.end',
    'pages-over-target',
  ],
  [
    '2,700 pages too many where a batch has a thousand',
    { meter: '{start: 51200, end: 77900}', batches: null, target: '{pages: 24000}' },
    'meter.end',
    'pages-over-target',
  ],
  [
    'meter start a digit off: the first batch has 13,000 pages',
    {
      meter: '{start: 42200, end: 75200}',
      target: null,
      batches: batchesOf([55200, null], [59200, null], [63200, null], [67200, null], [71200, null]),
    },
    'meter.start',
    'first-batch-long',
  ],
  [
    'empty weight in kg, taken for g',
    { waste_container: '{tare: 0.626, final: 1082}', batches: null },
    'waste_container.tare',
    'mass-implausible',
  ],
  [
    'final weight in g, written as kg',
    { waste_container: '{tare: 626, final: 1082 kg}', batches: null },
    'waste_container.final',
    'mass-implausible',
  ],
  [
    'start and end of the meter exchanged, and the digits of its counter given',
    {
      meter: '{start: 75200, end: 51200, digits: 6}',
      batches: null,
      target: null,
      events: '[]',
      cartridges: '[{slot: black}]',
    },
    'meter.end',
    'rolled-over-far',
  ],
  [
    'the empty weight written again after the run',
    { batches: null, waste_container: '{tare: 626, final: 626}' },
    'waste_container.final',
    'no-waste',
  ],
  [
    'more waste than toner used',
    { batches: null, cartridges: '[{slot: black, start_mass: 1000, end_mass: 600}]' },
    'waste_container.final',
    'waste-exceeds-toner',
  ],
  [
    'more waste than toner used by four colours together',
    {
      batches: null,
      coverage: '5 %',
      cartridges:
        '[{slot: black, start_mass: 800, end_mass: 700}, {slot: cyan, start_mass: 800, end_mass: 690}, {slot: magenta, start_mass: 800, end_mass: 700}, {slot: yellow, start_mass: 800, end_mass: 700}]',
    },
    'waste_container.final',
    'waste-exceeds-toner',
  ],
  [
    'more waste than the container holds',
    { waste_container: '{tare: 626, final: 1082, capacity: 400}' },
    'waste_container.final',
    'over-capacity',
  ],
  [
    'two weights at one meter reading',
    {
      batches: batchesOf(
        [55200, 702],
        [59200, 778],
        [63200, 854],
        [67200, 930],
        [71200, 1006],
        [75200, 1082],
      ),
      waste_container: '{tare: 626, final: 1128}',
    },
    'waste_container.final',
    'weighed-twice-apart',
  ],
  [
    'one checkpoint, and most of the waste behind it in a tenth of the pages',
    { batches: batchesOf([72800, 702]), target: null },
    'waste_container.final',
    'waste-rate-apart',
  ],
  [
    'second of two containers weighed wrong',
    {
      batches: batchesOf([55200, 702], [59200, 778], [67200, 702], [71200, 778]),
      waste_container: '[{tare: 626, final: 854}, {tare: 626, final: 954}]',
      events: '[{at: 63200, kind: container_change}]',
    },
    'waste_container[2].final',
    'waste-rate-apart',
  ],
];

const TONER: readonly Row[] = [
  [
    'weight after the run in kg',
    { cartridges: '[{slot: black, start_mass: 1612, end_mass: 0.542}]' },
    'cartridges[1].end_mass',
    'mass-implausible',
  ],
  [
    'weight before the run a thousand times off',
    { cartridges: '[{slot: black, start_mass: 1612 kg, end_mass: 542}]' },
    'cartridges[1].start_mass',
    'mass-implausible',
  ],
  [
    'more toner used than filled in',
    { cartridges: '[{slot: black, start_mass: 1612, end_mass: 452, fill_mass: 1100}]' },
    'cartridges[1].end_mass',
    'used-beyond-fill',
  ],
  [
    'the start mass written again after the run',
    { waste_container: null, batches: null, cartridges: '[{slot: black, start_mass: 1612, end_mass: 1612}]' },
    'cartridges[1].end_mass',
    'usage-implausible',
  ],
  [
    // 50 g in 24000 pages are 2.08 mg a page, of 31.2 cm² covered 0.067 mg/cm².
    'an end mass off by a digit: 542 as 1562',
    { waste_container: null, batches: null, cartridges: '[{slot: black, start_mass: 1612, end_mass: 1562}]' },
    'coverage',
    'usage-implausible',
  ],
  [
    // 1070 g in 24000 pages: at half of that, 8000 pages before took 178 g, and 30 g are left.
    'pages before that no toner is left for',
    { cartridges: `[{slot: black, ${BLACK}, used_before: 8000}]` },
    'cartridges[1].used_before',
    'used-before-beyond-fill',
  ],
  [
    'exhausted with most of its toner left',
    { cartridges: '[{slot: black, start_mass: 1612, end_mass: 1142, fill_mass: 1100, exhausted_at: 75200}]' },
    'cartridges[1].end_mass',
    'exhausted-early',
  ],
  [
    'stopped the machine, nothing fitted, 9,000 pages more',
    { cartridges: `[{slot: black, ${BLACK}, exhausted_at: 66200, exhausted_by: stop}]` },
    'cartridges[1].exhausted_at',
    'pages-after-cartridge',
  ],
  [
    'taken out, nothing fitted, 4,000 pages more',
    { cartridges: `[{slot: black, ${BLACK}, removed_at: 71200}]` },
    'cartridges[1].removed_at',
    'pages-after-cartridge',
  ],
  [
    'the last of two stopped the machine, pages go on',
    {
      cartridges: `[{slot: black, start_mass: 900, end_mass: 365, exhausted_at: 63200, exhausted_by: stop}, {slot: black, start_mass: 900, end_mass: 365, exhausted_at: 70200, exhausted_by: stop}]`,
    },
    'cartridges[2].exhausted_at',
    'pages-after-cartridge',
  ],
  [
    'stopped the machine, and the next one fitted 4,000 pages later',
    {
      cartridges: `[{slot: black, start_mass: 900, end_mass: 365, exhausted_at: 63200, exhausted_by: stop}, {slot: black, start_mass: 900, end_mass: 365, installed_at: 67200}]`,
    },
    'cartridges[2].installed_at',
    'slot-empty',
  ],
  [
    'faded, taken out, and the next one fitted 4,000 pages later',
    {
      cartridges: `[{slot: black, start_mass: 900, end_mass: 365, exhausted_at: 62200, exhausted_by: fade, removed_at: 63200}, {slot: black, start_mass: 900, end_mass: 365, installed_at: 67200}]`,
    },
    'cartridges[1].removed_at',
    'slot-empty',
  ],
];

test.each(WASTE)('waste: %s', (_, changes, doubted, code) => {
  const { limits, verdict } = judge(trialWith(changes));
  const waste = limits.find(({ figure }) => figure === 'waste_per_thousand');
  expect(waste).toMatchObject({ outcome: 'open' });
  expect(waste?.reason).toMatch(new RegExp(`^${code}: `));
  expect(said(trialWith(changes))).toContain(doubted);
  expect(verdict).toBe('inconclusive');
  // A slip does not condemn either.
  expect(judge(trialWith({ ...changes, limits: '{waste_per_thousand: {max: 0.1}}' })).verdict).toBe(
    'inconclusive',
  );
});

test.each(TONER)('toner: %s', (_, changes, doubted, code) => {
  const { limits, verdict } = judge(trialWith(changes));
  const toner = limits.filter(({ figure }) => figure === 'toner_per_page').map(({ reason }) => reason);
  expect(toner).toContainEqual(expect.stringMatching(new RegExp(`^${code}: `)));
  expect(said(trialWith(changes))).toContain(doubted);
  expect(verdict).toBe('inconclusive');
});

/** Everything a verdict says in text. */
const said = (trial: string): string =>
  judge(trial)
    .limits.map(({ reason }) => reason ?? '')
    .join('\n');

describe('what else rests on a doubted reading', () => {
  const rows: readonly (readonly [what: string, changes: Changes, figure: string, code: string])[] = [
    [
      '0.05 where 5 % is meant: the coverage',
      { coverage: '0.05', limits: '{yield_at_reference: {min: 100}}' },
      'yield_at_reference',
      'fraction-for-percent',
    ],
    [
      '0.05 for one colour',
      { coverage: '{black: 0.05}', limits: '{yield_at_reference: {min: 100}}' },
      'yield_at_reference',
      'fraction-for-percent',
    ],
    [
      'a reference coverage of 0.05',
      { limits: '{reference_coverage: 0.05, yield_at_reference: {min: 100}}' },
      'yield_at_reference',
      'fraction-for-percent',
    ],
    [
      'a two-sided share of 0.4',
      { duplex_share: '0.4', limits: '{sheets: {max: 90000}}' },
      'sheets',
      'fraction-for-percent',
    ],
    [
      '0.46 for a humidity of 46 %',
      { ambient: '[{temperature: 21, humidity: 0.46}]', limits: '{humidity: {min: 0 %}}' },
      'humidity',
      'fraction-for-percent',
    ],
    [
      'sheets counted and derived',
      { duplex_share: '50 %', paper: '{sheets_used: 24000}', limits: '{sheets: {max: 90000}}' },
      'sheets',
      'sheets-differ',
    ],
    [
      'a reading of the air months before the run',
      {
        ambient:
          '[{at: 2026-01-04T09:00, temperature: 21.5, humidity: 46}, {at: 2026-05-07T15:00, temperature: 22.5, humidity: 44}]',
        limits: '{temperature: {max: 26}}',
      },
      'temperature',
      'reading-not-of-run',
    ],
    [
      'a reading of the air a year after',
      {
        ambient:
          '[{at: 2026-05-04T09:00, temperature: 21.5, humidity: 46}, {at: 2027-05-07T15:00, temperature: 22.5, humidity: 44}]',
        limits: '{humidity: {max: 60}}',
      },
      'humidity',
      'reading-not-of-run',
    ],
    [
      'a reading of the air far from all others, in a run without dates',
      {
        trial: 'Poplar Walk lot 12',
        ambient:
          '[{at: 2026-05-04T09:00, temperature: 21.5}, {at: 2026-05-05T09:00, temperature: 21.5}, {at: 2026-11-06T09:00, temperature: 22.5}]',
        limits: '{temperature: {max: 26}}',
      },
      'temperature',
      'reading-not-of-run',
    ],
    [
      'the reference’s final weight',
      {
        limits: '{waste_ratio: {max: 2}}',
        reference: reference(702, batchesOf([42000, 668], [44000, 706], [46000, 744])),
      },
      'waste_ratio',
      'interim-above-final',
    ],
    [
      'the reference’s waste rate',
      {
        limits: '{waste_ratio: {max: 2}}',
        reference: reference(882, batchesOf([42000, 668], [44000, 706], [46000, 744])),
      },
      'waste_ratio',
      'waste-rate-apart',
    ],
    [
      'densities before and after the rub test exchanged',
      { prints: '{fixing: {before: 1.20, after: 1.45}}', limits: '{fixing: {min: 90}}' },
      'fixing',
      'fixing-gains',
    ],
    [
      'those of the reference too',
      {
        limits: '{usage_ratio: {max: 2}}',
        reference:
          '{meter: {start: 40000, end: 48000}, cartridges: [{slot: black, start_mass: 1612, end_mass: 1610}]}',
      },
      'usage_ratio',
      'usage-implausible',
    ],
    [
      'the container’s capacity',
      { waste_container: '{tare: 626, final: 1082, capacity: 60}', limits: '{container_life: {min: 10}}' },
      'container_life',
      'over-capacity',
    ],
    [
      'a jam rate over a doubted meter',
      {
        meter: '{start: 51200, end: 78800}',
        batches: batchesOf(
          [55200, null],
          [59200, null],
          [63200, null],
          [67200, null],
          [71200, null],
          [75200, null],
        ),
        limits: '{jams_per_thousand: {max: 1}}',
      },
      'jams_per_thousand',
      'pages-after-last-batch',
    ],
    [
      'a yield over a doubted exhausted_at, the least of all included',
      {
        coverage: '6 %',
        cartridges: `[{slot: black, ${BLACK}, exhausted_at: 66200, exhausted_by: stop}, {slot: cyan}]`,
        limits: '{yield_at_reference: {stat: least, min: 100}}',
      },
      'yield_at_reference',
      'pages-after-cartridge',
    ],
  ];
  test.each(rows)('%s', (_, changes, figure, code) => {
    const { limits, verdict } = judge(trialWith(changes));
    expect(
      limits.filter((one) => one.figure === figure).map(({ reason }) => reason?.split(':')[0]),
    ).toContain(code);
    expect(verdict).toBe('inconclusive');
  });
});

describe('on the way', () => {
  const batch = (more: string): string => `[{end: 55200, container_mass: 702, ${more}}]`;
  const said = (more: string): unknown =>
    judge(trialWith({ batches: batch(more) })).notes.filter(({ kind }) => kind === 'warning');

  test('a cartridge gets no heavier: 1434 as 1634, after 1612 when it was fitted', () => {
    expect(said('cartridge_mass: {black: 1634}')).toMatchObject([{ code: 'cartridge-gains', key: 'black' }]);
    expect(said('cartridge_mass: {black: 1434}')).toEqual([]);
    // Lighter than when it was taken out: that one is above it
    expect(said('cartridge_mass: {black: 434}')).toMatchObject([
      { code: 'cartridge-gains', key: 'end_mass' },
    ]);
  });

  test('it weighs what a cartridge weighs', () => {
    expect(said('cartridge_mass: {black: 1.434}')).toMatchObject([
      { code: 'mass-implausible' },
      { code: 'cartridge-gains' },
    ]);
  });

  test('a coverage of a batch is a percentage, and so is its two-sided share', () => {
    const notes = judge(
      trialWith({
        batches: batch('coverage: 0.08, duplex_share: 0.5'),
        limits: '{yield_at_reference: {min: 1}}',
      }),
    );
    expect(notes.notes.filter(({ code }) => code === 'fraction-for-percent')).toHaveLength(2);
    expect(notes.limits[0]?.reason).toContain('fraction-for-percent');
  });
});

describe('what is not listed is not derived', () => {
  const open = (changes: Changes, figure: string): string[] =>
    judge(trialWith(changes))
      .limits.filter((one) => one.figure === figure)
      .map(({ outcome }) => outcome);

  test('waste, where a container was changed and only the second is listed', () => {
    const changed = {
      batches: null,
      waste_container: '{tare: 640, final: 868}',
      events: '[{at: 63200, kind: container_change}]',
    };
    expect(open(changed, 'waste_per_thousand')).toEqual(['open']);
    expect(judge(trialWith(changed)).verdict).toBe('inconclusive');
  });

  test('the yields of a slot whose cartridge was changed and is not listed; those of other slots stay', () => {
    const changed = (slot: string): Changes => ({
      cartridges: '[{slot: black}, {slot: cyan, exhausted_at: 75200}]',
      events: `[{at: 60100, kind: cartridge_change${slot}}]`,
      limits: '{yield_at_reference: {min: 20000}}',
    });
    expect(open(changed(', slot: black'), 'yield_at_reference')).toEqual(['open', 'met']);
    expect(open(changed(', slot: cyan'), 'yield_at_reference')).toEqual(['met', 'open']);
    expect(open(changed(''), 'yield_at_reference')).toEqual(['open', 'open']);
  });
});

describe('a doubted reading that was looked at again', () => {
  const wrong = { waste_container: '{tare: 626, final: 1028}' };

  test('is decided on, and stays visible as a note and a caveat', () => {
    const checked = trialWith({
      ...wrong,
      checked: '[{reading: waste_container.final, note: weighed twice, by: M. Osei}]',
    });
    const { verdict, notes, caveats } = judge(checked);
    expect(verdict).toBe('pass');
    const note = notes.find(({ code }) => code === 'waste-rate-apart');
    expect(note?.kind).toBe('note');
    expect(note?.message).toContain('weighed twice (M. Osei)');
    expect(caveats.map(({ code }) => code)).toContain('waste-rate-apart');
  });

  test('each reading by itself: the other of two stays in doubt', () => {
    const both = { waste_container: '{tare: 626, final: 982}' };
    const one = trialWith({
      ...both,
      checked: '[{reading: "batches[5].container_mass", note: read off the sheet}]',
    });
    expect(judge(one).verdict).toBe('inconclusive');
    const two = trialWith({ ...both, checked: '[{reading: waste_container.final, note: weighed twice}]' });
    expect(judge(two).verdict).toBe('pass');
  });

  test('is a reading of the trial, and says how', () => {
    const code = (checked: string): string[] => judge(trialWith({ checked })).notes.map((note) => note.code);
    expect(code('[{reading: waste_container.finel, note: weighed twice}]')).toEqual(['checked-unknown']);
    expect(code('[{reading: "batches[9].end", note: read again}]')).toEqual(['checked-unknown']);
    expect(code('[{reading: meter.end}]')).toEqual(['missing-key']);
    expect(code('[{reading: meter.end, note: read again}]')).toEqual([]);
  });
});
