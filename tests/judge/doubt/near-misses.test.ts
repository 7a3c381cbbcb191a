import { expect, test } from 'vitest';
import { judge } from '../../run.ts';
import { batchesOf, trialWith } from './base.ts';
import { DOUBTS } from './outcome.ts';

/*
 * Readings that look odd and can all be true: nothing of them is put in doubt, and every limit is decided. A
 * false alarm is as bad as silence. The trials are invented.
 */

const BLACK = 'start_mass: 1612, end_mass: 542, fill_mass: 1100, residual_mass: 20';
const two = (second: string): string =>
  `[{slot: black, start_mass: 900, end_mass: 365, exhausted_at: 63200, exhausted_by: stop}, {slot: black, start_mass: 900, end_mass: 365${second}}]`;

const NEAR: readonly (readonly [what: string, changes: Readonly<Record<string, string | null>>])[] = [
  ['the base trial itself', {}],
  ['no checkpoints', { batches: null }],
  [
    'checkpoints without weights',
    { batches: batchesOf([55200, null], [59200, null], [63200, null], [67200, null], [71200, null]) },
  ],
  [
    'the last checkpoint is the end',
    {
      batches: batchesOf(
        [55200, 702],
        [59200, 778],
        [63200, 854],
        [67200, 930],
        [71200, 1006],
        [75200, 1082],
      ),
    },
  ],
  [
    'weighed as checkpoint and after the run, a gram apart',
    {
      batches: batchesOf(
        [55200, 702],
        [59200, 778],
        [63200, 854],
        [67200, 930],
        [71200, 1006],
        [75200, 1081],
      ),
    },
  ],
  [
    'a last batch of half the size',
    {
      meter: '{start: 51200, end: 73200}',
      waste_container: '{tare: 626, final: 1044}',
      target: '{pages: 22000}',
    },
  ],
  [
    'a last batch of a tenth',
    {
      meter: '{start: 51200, end: 71600}',
      waste_container: '{tare: 626, final: 1014}',
      target: '{pages: 20400}',
    },
  ],
  [
    'a last batch of a twentieth, in which the scale barely moves',
    {
      meter: '{start: 51200, end: 71400}',
      waste_container: '{tare: 626, final: 1009}',
      target: '{pages: 20200}',
    },
  ],
  [
    'a last batch a quarter longer',
    {
      meter: '{start: 51200, end: 76200}',
      waste_container: '{tare: 626, final: 1101}',
      target: '{pages: 25000}',
    },
  ],
  [
    'batches of different sizes',
    { batches: batchesOf([54200, 683], [61200, 816], [63200, 854], [71200, 1006]) },
  ],
  ['one checkpoint only', { batches: batchesOf([63200, 854]) }],
  [
    'two checkpoints, the run ended as planned behind them',
    { batches: batchesOf([53200, 664], [55200, 702]) },
  ],
  [
    'the first thousand pages noted alone',
    { batches: batchesOf([52200, 645], [59200, 778], [63200, 854], [71200, 1006]) },
  ],
  [
    'waste that rises by a fifth towards the end',
    { batches: batchesOf([55200, 694], [59200, 765], [63200, 839], [67200, 917], [71200, 999]) },
  ],
  [
    'a dusty first batch, a quarter more',
    { batches: batchesOf([55200, 721], [59200, 795], [63200, 868], [67200, 940], [71200, 1011]) },
  ],
  [
    'one batch on the way with half as much again',
    { batches: batchesOf([55200, 696], [59200, 766], [63200, 871], [67200, 942], [71200, 1012]) },
  ],
  [
    'weights that scatter by a tenth',
    { batches: batchesOf([55200, 709], [59200, 777], [63200, 859], [67200, 928], [71200, 1011]) },
  ],
  [
    'a scale to 0.1 g',
    {
      batches: batchesOf([55200, 702.4], [59200, 777.9], [63200, 854.2], [67200, 930.1], [71200, 1006.3]),
      waste_container: '{tare: 626.3 g, final: 1082.1 g}',
    },
  ],
  ['weights in kg', { waste_container: '{tare: 0.626 kg, final: 1.082 kg}' }],
  ['weights in ounces', { waste_container: '{tare: 22.08 oz, final: 38.17 oz}', batches: null }],
  [
    'a scale set to zero with the empty container on it',
    { waste_container: '{tare: 0, final: 456}', batches: null },
  ],
  [
    'next to no waste: a finely tuned toner',
    {
      waste_container: '{tare: 626, final: 638}',
      batches: batchesOf([55200, 628], [59200, 630], [63200, 632], [67200, 634], [71200, 636]),
    },
  ],
  [
    'next to no waste, and a weight that does not move for two batches',
    {
      waste_container: '{tare: 626, final: 629}',
      batches: batchesOf([55200, 626], [59200, 627], [63200, 627], [67200, 628], [71200, 629]),
    },
  ],
  [
    'half the waste of the reference',
    {
      reference:
        '{meter: {start: 40000, end: 48000}, waste_container: {tare: 630, final: 934}, cartridges: [{slot: black}]}',
      limits: '{waste_per_thousand: {max: 25}, waste_ratio: {max: 1}}',
    },
  ],
  [
    'a reference that scatters',
    {
      reference: `{meter: {start: 40000, end: 48000}, waste_container: {tare: 630, final: 786}, cartridges: [{slot: black}], batches: ${batchesOf([42000, 672], [44000, 706], [46000, 747])}}`,
    },
  ],
  [
    'a container changed and listed',
    {
      batches: batchesOf([55200, 702], [59200, 778], [67200, 716], [71200, 792]),
      waste_container: '[{tare: 626, final: 854}, {tare: 640, final: 868}]',
      events: '[{at: 63200, kind: container_change}]',
    },
  ],
  [
    'a container changed, listed, and not noted as an event',
    {
      batches: batchesOf([55200, 702], [59200, 778], [67200, 716], [71200, 792]),
      waste_container: '[{tare: 626, final: 854}, {tare: 640, final: 868}]',
      events: '[]',
    },
  ],
  [
    'a container put in at the start and taken out at the end, noted',
    { events: '[{at: 51200, kind: container_change}, {at: 75200, kind: container_change}]' },
  ],
  ['a nearly full container', { waste_container: '{tare: 626, final: 1082, capacity: 456}' }],
  ['a gram of waste in the whole run', { waste_container: '{tare: 626, final: 627}', batches: null }],
  [
    'no waste in a short run',
    {
      meter: '{start: 51200, end: 59200}',
      waste_container: '{tare: 626, final: 626}',
      batches: null,
      events: '[]',
      target: null,
      cartridges: '[{slot: black, start_mass: 1612, end_mass: 1255}]',
    },
  ],
  [
    'no waste, and a weighing on the way that says so',
    { waste_container: '{tare: 626, final: 626}', batches: batchesOf([63200, 626]) },
  ],
  [
    'a counter that rolled over in a long run with checkpoints',
    {
      meter: '{start: 9000, end: 8500, digits: 5}',
      batches: batchesOf([33000, 1000], [57000, 1400], [81000, 1800], [5000, 2200]),
      waste_container: '{tare: 626, final: 2250}',
      cartridges: '[{slot: black}]',
      limits: '{waste_per_thousand: {max: 25}}',
      events: '[]',
      target: null,
    },
  ],
  [
    'a counter that rolled over half way',
    {
      meter: '{start: 90000, end: 60000, digits: 5}',
      waste_container: '{tare: 626, final: 1782}',
      cartridges: '[{slot: black}]',
      limits: '{waste_per_thousand: {max: 25}}',
      batches: null,
      events: '[]',
      target: null,
    },
  ],
  [
    'a page of so little toner as there can be: 75 g in 24,000 pages are 0.1002 mg/cm²',
    {
      waste_container: '{tare: 626, final: 650}',
      batches: null,
      cartridges: '[{slot: black, start_mass: 1612, end_mass: 1537}]',
    },
  ],
  [
    'a used cartridge with just the toner that its pages before can have left',
    // 800 g in 24000 pages: at half of that, 18000 pages before took 300 g of the 1100 g.
    { cartridges: '[{slot: black, start_mass: 1312, end_mass: 512, fill_mass: 1100, used_before: 18000}]' },
  ],
  [
    'a used cartridge whose pages before had next to no coverage',
    {
      cartridges:
        '[{slot: black, start_mass: 1612, end_mass: 542, fill_mass: 1100, used_before: {pages: 8000, coverage: 0.5 %}}]',
    },
  ],
  ['a density read a little higher after the rub test', { prints: '{fixing: {before: 1.20, after: 1.24}}' }],
  ['a cartridge exhausted, replaced and listed', { cartridges: two('') }],
  [
    'the same with the change noted',
    { cartridges: two(''), events: '[{at: 63200, kind: cartridge_change, slot: black}]' },
  ],
  [
    'a cartridge fitted at the start, noted',
    { events: '[{at: 51200, kind: cartridge_change, slot: black}]' },
  ],
  [
    'exhausted by fade, and printed on',
    {
      cartridges: `[{slot: black, ${BLACK}, exhausted_at: 66200, exhausted_by: fade}]`,
      limits: '{waste_per_thousand: {max: 25}}',
    },
  ],
  [
    'exhausted by fade, printed on, and taken out at the end',
    { cartridges: `[{slot: black, ${BLACK}, exhausted_at: 72000, exhausted_by: fade, removed_at: 75200}]` },
  ],
  [
    'exhausted by fade, taken out a thousand pages later as the next one was fitted',
    {
      cartridges:
        '[{slot: black, start_mass: 900, end_mass: 365, exhausted_at: 62200, exhausted_by: fade, removed_at: 63200}, {slot: black, installed_at: 63200, start_mass: 900, end_mass: 365}]',
    },
  ],
  [
    'exhausted by fade, and left in until the next one',
    {
      cartridges:
        '[{slot: black, start_mass: 900, end_mass: 365, exhausted_at: 62200, exhausted_by: fade}, {slot: black, installed_at: 63200, start_mass: 900, end_mass: 365}]',
    },
  ],
  [
    'exhausted as the run ended',
    { cartridges: `[{slot: black, ${BLACK}, exhausted_at: 75200, exhausted_by: stop}]` },
  ],
  [
    'exhausted twenty pages before the end',
    { cartridges: `[{slot: black, ${BLACK}, exhausted_at: 75180, exhausted_by: stop}]` },
  ],
  [
    'a failed cartridge, replaced and listed',
    {
      cartridges:
        '[{slot: black, start_mass: 900, end_mass: 700, failed_at: 55200, failed_by: leak, removed_at: 55200}, {slot: black, start_mass: 1612, end_mass: 742}]',
      limits: '{waste_per_thousand: {max: 25}, failed_cartridges: {max: 1}}',
    },
  ],
  [
    'stopped early with most of its toner left, and said to have failed',
    {
      cartridges:
        '[{slot: black, start_mass: 1612, end_mass: 1142, fill_mass: 1100, exhausted_at: 75200, failed_at: 75200, failed_by: early_stop}]',
      limits: '{waste_per_thousand: {max: 25}, failed_cartridges: {max: 1}}',
    },
  ],
  [
    'a cartridge that gave all of its fill',
    { cartridges: '[{slot: black, start_mass: 1612, end_mass: 512, fill_mass: 1100, exhausted_at: 75200}]' },
  ],
  [
    'a cartridge exhausted with a tenth left',
    { cartridges: '[{slot: black, start_mass: 1612, end_mass: 642, fill_mass: 1100, exhausted_at: 75200}]' },
  ],
  [
    'a used cartridge, soon exhausted',
    {
      cartridges:
        '[{slot: black, start_mass: 1512, end_mass: 1042, fill_mass: 1100, used_before: 9000, exhausted_at: 75200}]',
    },
  ],
  [
    'all waste there is: as much as toner used',
    { cartridges: '[{slot: black, start_mass: 1000, end_mass: 544}]' },
  ],
  ['a few pages more than planned', { target: '{pages: 23500}' }],
  [
    'printed on until exhausted, far over the plan',
    {
      target: '{pages: 18000, batch: 1000}',
      cartridges: `[{slot: black, ${BLACK}, exhausted_at: 75200, exhausted_by: stop}]`,
    },
  ],
  ['printed on past the plan, with checkpoints', { target: '{pages: 14000, batch: 4000}' }],
  [
    'a counter that rolled over',
    {
      meter: '{start: 988000, end: 12000, digits: 6}',
      batches: batchesOf([992000, 702], [996000, 778], [0, 854], [4000, 930], [8000, 1006]),
      events: '[]',
    },
  ],
  [
    'two clicks for a page',
    {
      meter: '{start: 51200, end: 99200, clicks_per_page: 2}',
      batches: batchesOf([59200, 702], [67200, 778], [75200, 854], [83200, 930], [91200, 1006]),
    },
  ],
  ['pages that are not of the trial', { meter: '{start: 51200, end: 75200, other_pages: 300}' }],
  [
    'a batch at four times the coverage, with more than twice the waste',
    {
      batches:
        '[{end: 55200, container_mass: 702}, {end: 59200, container_mass: 778}, {end: 63200, container_mass: 954, coverage: 20 %}, {end: 67200, container_mass: 1030}, {end: 71200, container_mass: 1106}]',
      waste_container: '{tare: 626, final: 1182, capacity: 600}',
    },
  ],
  [
    'the last batch at four times the coverage',
    {
      batches: batchesOf([55200, 702], [59200, 778], [63200, 854], [67200, 930], [71200, 1006]).replace(
        /\]$/,
        ', {end: 75200, coverage: 20 %}]',
      ),
      waste_container: '{tare: 626, final: 1182, capacity: 600}',
    },
  ],
  [
    'a thousand other pages in the run, with three times the waste',
    {
      meter: '{start: 51200, end: 76200}',
      batches:
        '[{end: 55200, container_mass: 702}, {end: 59200, container_mass: 778}, {end: 60200, container_mass: 838, other: true}, {end: 64200, container_mass: 914}, {end: 68200, container_mass: 990}, {end: 72200, container_mass: 1066}]',
      waste_container: '{tare: 626, final: 1142, capacity: 600}',
    },
  ],
  [
    'many other pages in front, and sheets counted with them',
    {
      meter: '{start: 51200, end: 84200}',
      batches:
        '[{end: 60200, container_mass: 700, other: true}, {end: 64200, container_mass: 776}, {end: 68200, container_mass: 852}, {end: 72200, container_mass: 928}, {end: 76200, container_mass: 1004}, {end: 80200, container_mass: 1080}]',
      waste_container: '{tare: 626, final: 1156, capacity: 600}',
      paper: '{sheets_used: 33000}',
    },
  ],
  [
    'a cartridge weighed on the way',
    {
      batches:
        '[{end: 55200, container_mass: 702, cartridge_mass: {black: 1434}}, {end: 59200, container_mass: 778, cartridge_mass: {black: 1256}}]',
    },
  ],
  ['a coverage of half a percent, with its sign', { coverage: '0.5 %' }],
  ['a coverage of 1', { coverage: '1' }],
  ['no two-sided pages', { duplex_share: '0' }],
  ['sheets counted with some spoilt', { duplex_share: '50 %', paper: '{sheets_used: 18250}' }],
  [
    'air read while the paper lay in the room, days before',
    {
      ambient:
        '[{at: 2026-04-30T09:00, temperature: 20.5, humidity: 46}, {at: 2026-05-07T15:00, temperature: 22.5, humidity: 44}]',
    },
  ],
  ['air read the day after', { ambient: '[{at: 2026-05-09T09:00, temperature: 20.5, humidity: 46}]' }],
  [
    'air read over months, in a run without dates',
    {
      trial: 'Poplar Walk lot 12',
      ambient:
        '[{at: 2026-01-05, temperature: 20.5}, {at: 2026-03-05, temperature: 21}, {at: 2026-05-07, temperature: 22.5}]',
    },
  ],
  ['a slow last day', { trial: '{title: Poplar Walk lot 12, started: 2026-05-04, finished: 2026-05-20}' }],
  [
    'a run under way',
    {
      meter: '{start: 51200, end: }',
      waste_container: '{tare: 626, final: }',
      cartridges: '[{slot: black, start_mass: 1612, end_mass: }]',
    },
  ],
];

test.each(NEAR)('%s', (_, changes) => {
  const { notes, limits, verdict } = judge(trialWith(changes));
  expect(notes.filter(({ kind }) => kind === 'error')).toEqual([]);
  expect(notes.filter(({ code }) => DOUBTS.has(code)).map(({ message }) => message)).toEqual([]);
  if (changes['meter']?.includes('end: }')) return;
  expect(
    limits.filter(({ figure }) => figure === 'waste_per_thousand').map(({ outcome }) => outcome),
  ).toEqual(['met']);
  expect(verdict).toBe('pass');
});
