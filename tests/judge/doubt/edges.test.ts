import { describe, expect, test } from 'vitest';
import { dotted } from '../../../src/uncertainty/path.ts';
import { assessed } from '../../assessed.ts';
import { batchesOf, trialWith } from './base.ts';
import { type Found, found } from './found.ts';

/*
 * The edge of every doubt: what is just not doubted, what just is, and everything that is then said. The sums are worked
 * by hand beside each; the runs are invented. A weight read to 1 g has u = 1/√12 g.
 */

type Changes = Readonly<Record<string, string | null>>;

/** 24,000 pages and nothing else but what is asked about. */
const run = (changes: Changes): string =>
  trialWith({
    ...Object.fromEntries(
      ['batches', 'waste_container', 'cartridges', 'ambient', 'target', 'limits', 'events', 'inspection'].map(
        (key) => [key, null],
      ),
    ),
    ...changes,
  });

const ends = (...meters: readonly number[]): string =>
  batchesOf(...meters.map((end) => [end, null] as const));

interface Edge {
  readonly what: string;
  /** Of which nothing is doubted, and of which just this is. */
  readonly near: Changes;
  readonly far: Changes;
  readonly said: Found;
}

const tellsApart = (edges: readonly Edge[]): void => {
  test.each(edges)('$what', ({ near, far, said }) => {
    expect(found(run(near))).toEqual([]);
    expect(found(run(far))).toEqual([said]);
  });
};

describe('what a cartridge or a container weighs', () => {
  const light = (tare: number): Changes => ({ waste_container: `{tare: ${tare}, final: 200}` });
  const heavy = (start: number): Changes => ({
    cartridges: `[{slot: black, start_mass: ${start}, end_mass: 900}]`,
  });
  const onTheWay = (mass: number): Changes => ({
    waste_container: '{tare: 49000, final: }',
    batches: batchesOf([63200, mass]),
  });
  const zeroed = (tare: number): Changes => ({
    waste_container: `[{tare: 0, final: 3}, {tare: ${tare}, final: 700}]`,
    batches: batchesOf([63200, 2]),
  });
  const said = (reading: string, written: string, isLight: boolean): Found => ({
    code: 'mass-implausible',
    written,
    light: isLight,
    path: reading,
    readings: [reading],
  });
  tellsApart([
    {
      what: '5 g at least',
      near: light(5),
      far: light(4.9),
      said: said('waste_container.tare', '4.9 g', true),
    },
    {
      what: '50 kg at most',
      near: heavy(50000),
      far: heavy(50000.1),
      said: said('cartridges[1].start_mass', '50000.1 g', false),
    },
    {
      what: '50 kg at most on the way too',
      near: onTheWay(50000),
      far: onTheWay(50001),
      said: said('batches[1].container_mass', '50001 g', false),
    },
    {
      what: 'with the scale set to zero with one container on it, only the other is looked at',
      near: zeroed(5),
      far: zeroed(4),
      said: said('waste_container[2].tare', '4 g', true),
    },
  ]);
});

describe('one thing weighed several times', () => {
  const tare = (weighings: string, more: Changes = {}): Changes => ({
    waste_container: `{tare: ${weighings}, final: 1082}`,
    ...more,
  });
  const said = (written: number, others: readonly number[], ...far: readonly number[]): Found => ({
    code: 'weighings-apart',
    written: `${written} g`,
    others: others.map((one) => `${one} g`),
    path: `waste_container.tare[${far[0] ?? 0}]`,
    readings: far.map((number) => `waste_container.tare[${number}]`),
  });
  tellsApart([
    {
      what: 'may be 10 g apart',
      near: tare('[626, 636]'),
      far: tare('[626, 637]'),
      said: said(626, [637], 1, 2),
    },
    {
      what: 'ten steps of a scale to 5 g',
      near: tare('[600, 650]', { instruments: '{scale: {resolution: 5 g}}' }),
      far: tare('[600, 651]', { instruments: '{scale: {resolution: 5 g}}' }),
      said: said(600, [651], 1, 2),
    },
    {
      what: 'ten steps of 10 g, as two decimals of a kg are',
      near: tare('[0.62 kg, 0.72 kg]'),
      far: tare('[0.62 kg, 0.73 kg]'),
      said: said(620, [730], 1, 2),
    },
    {
      what: 'of which the finest tells the step',
      near: tare('[0.62 kg, 630 g]'),
      far: tare('[0.62 kg, 650 g]'),
      said: said(620, [650], 1, 2),
    },
    {
      what: 'the lowest of three alone is far: the others are a gram apart',
      near: tare('[630, 640, 641]'),
      far: tare('[629, 640, 641]'),
      said: said(629, [640, 641], 1),
    },
    {
      what: 'and so is the highest',
      near: tare('[626, 627, 637]'),
      far: tare('[626, 627, 638]'),
      said: said(638, [626, 627], 3),
    },
  ]);

  test('is held against the middle of the others: of four, against the nearer of the two', () => {
    const readings = (weighings: string) => found(run(tare(weighings))).map((one) => one['readings']);
    expect(readings('[641, 642, 600, 643]')).toEqual([['waste_container.tare[3]']]);
    expect(readings('[600, 601, 641, 650, 642]')).toEqual([
      ['waste_container.tare[1]', 'waste_container.tare[2]'],
    ]);
  });

  test('is asked of every weight of a run', () => {
    const text = run({
      cartridges:
        '[{slot: black, start_mass: [900, 900, 950], end_mass: [600, 640], residual_mass: [20, 40, 20]}]',
      batches: '[{end: 63200, container_mass: [700, 720], cartridge_mass: {black: [800, 830]}}]',
      waste_container: '{tare: [600, 611], final: [800, 811]}',
    });
    expect(found(text).map(({ code, path }) => [code, path])).toEqual(
      [
        'waste_container.tare[1]',
        'waste_container.final[1]',
        'batches[1].container_mass[1]',
        'batches[1].cartridge_mass.black[1]',
        'cartridges[1].start_mass[3]',
        'cartridges[1].end_mass[1]',
        'cartridges[1].residual_mass[2]',
      ].map((path) => ['weighings-apart', path]),
    );
  });
});

describe('masses that fall or grow, beyond 2u', () => {
  // One to 1 g and one to 0.1 g: 2u = 2 √(1.01/12) = 0.58 g.
  const last = (final: number): Changes => ({
    waste_container: `{tare: 626, final: ${final}}`,
    batches: batchesOf([63200, 1006]),
  });
  const between = (third: number): Changes => ({
    waste_container: '{tare: 626, final: }',
    batches: batchesOf([53200, 702], [59200, 878], [63200, third]),
  });
  const twice = (first: number, final: number): Changes => ({
    waste_container: `{tare: 10, final: ${final}}`,
    batches: batchesOf([75200, first]),
  });
  const cartridge = (mass: number): Changes => ({
    cartridges: '[{slot: black, start_mass: 1612, end_mass: 542}]',
    batches: `[{end: 63200, cartridge_mass: {black: ${mass}}}]`,
  });
  const twiceApart = (first: string, second: string): Found => ({
    code: 'weighed-twice-apart',
    first,
    second,
    at: '75200',
    path: 'waste_container.final',
    readings: ['batches[1].container_mass', 'waste_container.final'],
  });
  tellsApart([
    {
      what: 'a container after the run is 0.5 g lighter than on the way, and 0.6 g',
      near: last(1005.5),
      far: last(1005.4),
      said: {
        code: 'interim-above-final',
        mass: '1006 g',
        final: '1005.4 g',
        path: 'waste_container.final',
        readings: ['batches[1].container_mass', 'waste_container.final'],
      },
    },
    {
      what: 'a container on the way is held against the weight right before',
      near: between(877.5),
      far: between(877.4),
      said: {
        code: 'interim-falls',
        before: '878 g',
        mass: '877.4 g',
        path: 'batches[3].container_mass',
        readings: ['batches[2].container_mass', 'batches[3].container_mass'],
      },
    },
    {
      what: 'a cartridge is 0.5 g heavier than when it was fitted, and 0.6 g',
      near: cartridge(1612.5),
      far: cartridge(1612.6),
      said: {
        code: 'cartridge-gains',
        slot: 'black',
        before: '1612 g',
        mass: '1612.6 g',
        path: 'batches[1].cartridge_mass.black',
        readings: ['cartridges[1].start_mass', 'batches[1].cartridge_mass.black'],
      },
    },
    {
      what: 'at one meter reading, a light container may differ by what the scale may be off',
      near: twice(20, 20.5),
      far: twice(20, 20.6),
      said: twiceApart('20 g', '20.6 g'),
    },
    {
      what: 'at one meter reading, a heavy one by a percent',
      near: twice(1000, 1010),
      far: twice(1000, 1011),
      said: twiceApart('1000 g', '1011 g'),
    },
  ]);

  test('after the run it is held against the greatest before, on the way against the one before', () => {
    const text = run({
      waste_container: '{tare: 626, final: 852}',
      batches: batchesOf([53200, 702], [59200, 878], [61200, 700], [67200, 776]),
    });
    expect(found(text).map(({ code, path, readings }) => [code, path, readings])).toEqual([
      [
        'interim-falls',
        'batches[3].container_mass',
        ['batches[2].container_mass', 'batches[3].container_mass'],
      ],
      [
        'interim-above-final',
        'waste_container.final',
        ['batches[2].container_mass', 'waste_container.final'],
      ],
    ]);
  });

  test('a container that is weighed at the last checkpoint, and not yet after the run', () => {
    const text = run({
      waste_container: '{tare: 626, final: , capacity: 60}',
      batches: batchesOf([75200, 1000]),
    });
    expect(found(text)).toEqual([]);
  });

  test('a weight on the way counts only where the meter was read beside it', () => {
    expect(
      found(run({ waste_container: '{tare: 626, final: 1082}', batches: '[{end: , container_mass: 1200}]' })),
    ).toEqual([]);
  });
});

describe('waste and toner, within 2u', () => {
  const capacity = (grams: number): Changes => ({
    waste_container: `{tare: 626, final: 1082, capacity: ${grams}}`,
  });
  const toner = (cartridges: string): Changes => ({
    waste_container: '{tare: 626, final: 1082}',
    cartridges,
  });
  const exceeds = (used: string, ...readings: readonly string[]): Found => ({
    code: 'waste-exceeds-toner',
    waste: '456',
    used,
    path: 'waste_container.final',
    readings: ['waste_container.final', 'waste_container.tare', ...readings],
  });
  const fill = (end: number): Changes => ({
    cartridges: `[{slot: black, start_mass: 1612, end_mass: ${end}, fill_mass: 1100}]`,
  });
  const early = (end: number, residual = ''): Changes => ({
    cartridges: `[{slot: black, start_mass: 800, end_mass: ${end}, fill_mass: 400, ${residual}exhausted_at: 75200}]`,
  });
  const exhaustedEarly = (used: string, usable: string): Found => ({
    code: 'exhausted-early',
    slot: 'black',
    used,
    usable,
    path: 'cartridges[1].exhausted_at',
    readings: [
      'cartridges[1].start_mass',
      'cartridges[1].end_mass',
      'cartridges[1].fill_mass',
      'cartridges[1].exhausted_at',
    ],
  });
  tellsApart([
    {
      what: '456 g of waste, u √(2/12): 455.2 g fit, 455.1 g do not',
      near: capacity(455.2),
      far: capacity(455.1),
      said: {
        code: 'over-capacity',
        waste: '456',
        capacity: '455.1',
        path: 'waste_container.final',
        readings: ['waste_container.tare', 'waste_container.final', 'waste_container.capacity'],
      },
    },
    {
      what: '456 g of waste of 455 g of toner, 2u = 2 √(4/12) = 1.15 g',
      near: toner('[{slot: black, start_mass: 1000, end_mass: 545}]'),
      far: toner('[{slot: black, start_mass: 1000, end_mass: 546}]'),
      said: exceeds('454', 'cartridges[1].start_mass', 'cartridges[1].end_mass'),
    },
    {
      what: 'and of two cartridges together, 2u = 2 √(6/12) = 1.41 g',
      near: toner(
        '[{slot: black, start_mass: 800, end_mass: 600}, {slot: cyan, start_mass: 800, end_mass: 545}]',
      ),
      far: toner(
        '[{slot: black, start_mass: 800, end_mass: 600}, {slot: cyan, start_mass: 800, end_mass: 546}]',
      ),
      said: exceeds(
        '454',
        'cartridges[1].start_mass',
        'cartridges[1].end_mass',
        'cartridges[2].start_mass',
        'cartridges[2].end_mass',
      ),
    },
    {
      what: '1101 g of 1100 g filled in, 2u = 2 √(3/12) = 1 g; 1102 g are more',
      near: fill(511),
      far: fill(510),
      said: {
        code: 'used-beyond-fill',
        slot: 'black',
        used: '1102',
        fill: '1100',
        path: 'cartridges[1].end_mass',
        readings: ['cartridges[1].start_mass', 'cartridges[1].end_mass', 'cartridges[1].fill_mass'],
      },
    },
    {
      what: 'exhausted with half of 400 g used: 200 g, and 199 + 0.82 g',
      near: early(600),
      far: early(601),
      said: exhaustedEarly('199', '400'),
    },
    {
      what: 'exhausted with half of 400 − 20 g used: 190 g, and 189 + 0.82 g',
      near: early(610, 'residual_mass: 20, '),
      far: early(611, 'residual_mass: 20, '),
      said: exhaustedEarly('189', '380'),
    },
  ]);
});

test('of a cartridge that was not weighed both before and after, nothing is asked', () => {
  for (const masses of ['start_mass: 1612, end_mass: ', 'start_mass: , end_mass: 542'])
    expect(
      found(run({ cartridges: `[{slot: black, ${masses}, fill_mass: 1100, exhausted_at: 75200}]` })),
    ).toEqual([]);
});

describe('pages after a cartridge was out', () => {
  const out = (at: number, meter = '{start: 51200, end: 75200}', more: Changes = {}): Changes => ({
    meter,
    cartridges: `[{slot: black, exhausted_at: ${at}, exhausted_by: stop}]`,
    ...more,
  });
  const said = (pages: string, at: string, path = 'cartridges[1].exhausted_at'): Found => ({
    code: 'pages-after-cartridge',
    slot: 'black',
    pages,
    at,
    path,
    readings: [path],
  });
  const ofReference = (end: number): Changes => ({
    reference: `{meter: {start: 40000, end: ${end}}, cartridges: [{slot: black, exhausted_at: 44000, exhausted_by: stop}]}`,
  });
  tellsApart([
    {
      what: 'a hundred are printed to look at the machine',
      near: out(75100),
      far: out(75099),
      said: said('101', '75099'),
    },
    {
      what: 'a hundred of two clicks each',
      near: out(75000, '{start: 51200, end: 75200, clicks_per_page: 2}'),
      far: out(74998, '{start: 51200, end: 75200, clicks_per_page: 2}'),
      said: said('101', '74998'),
    },
    {
      what: 'the reference is asked about its own cartridges',
      near: ofReference(44100),
      far: ofReference(44101),
      said: said('101', '44000', 'reference.cartridges[1].exhausted_at'),
    },
    {
      what: 'none are asked about where another was fitted, listed or not',
      near: out(66200, undefined, { events: '[{at: 66200, kind: cartridge_change, slot: black}]' }),
      far: out(66200, undefined, { events: '[]' }),
      said: said('9000', '66200'),
    },
  ]);
});

test('while the end of the meter is not read, none are known', () => {
  const meter = '{start: 51200, end: }';
  expect(
    found(run({ meter, cartridges: '[{slot: black, exhausted_at: 60000, exhausted_by: stop}]' })),
  ).toEqual([]);
  expect(found(run({ meter, paper: '{sheets_used: 500}' }))).toEqual([]);
});

describe('the first batch, of three others of 4000 pages', () => {
  const first = (end: number, last = 4000): Changes => ({
    batches: ends(end, end + 4000, end + 8000, end + 8000 + last),
  });
  const said = (pages: string, longest: string): Found => ({
    code: 'first-batch-long',
    pages,
    longest,
    path: 'meter.start',
    readings: ['meter.start', 'batches[1].end'],
  });
  tellsApart([
    { what: 'has half as much again', near: first(57200), far: first(57201), said: said('6001', '4000') },
    {
      what: 'has to fit them where they are alike: the shortest has four fifths',
      near: first(57201, 3199),
      far: first(57201, 3200),
      said: said('6001', '4000'),
    },
    {
      what: 'is told in pages, be there two clicks to each',
      near: { ...first(57200), meter: '{start: 51200, end: 75200, clicks_per_page: 2}' },
      far: { ...first(57202), meter: '{start: 51200, end: 75200, clicks_per_page: 2}' },
      said: said('3001', '2000'),
    },
    {
      what: 'is not the second, where its checkpoint was not read, nor pages that are not of the trial',
      near: { batches: '[{end: }, {end: 59200}, {end: 63200}, {end: 67200}, {end: 71200}]' },
      far: { batches: '[{end: 59200}, {end: 63200}, {end: 67200}, {end: 71200}]' },
      said: said('8000', '4000'),
    },
    {
      what: 'is not pages that are not of the trial',
      near: { batches: '[{end: 59200, other: true}, {end: 63200}, {end: 67200}, {end: 71200}]' },
      far: { batches: '[{end: 59200, other: false}, {end: 63200}, {end: 67200}, {end: 71200}]' },
      said: said('8000', '4000'),
    },
  ]);
});

describe('pages behind the last checkpoint, of three batches of 4000', () => {
  const behind = (end: number, more: Changes = {}): Changes => ({
    meter: `{start: 51200, end: ${end}}`,
    batches: ends(55200, 59200, 63200),
    ...more,
  });
  const said = (pages: string, longest = '4000', at = '63200', path = 'meter.end'): Found => ({
    code: 'pages-after-last-batch',
    pages,
    longest,
    at,
    path,
    readings: [path],
  });
  const planned = (pages: number): Changes => ({ target: `{pages: ${pages}}` });
  const exhausted = (at: number): Changes => ({
    ...planned(12000),
    cartridges: `[{slot: black, exhausted_at: ${at}}]`,
  });
  const ofReference = (end: number): Changes => ({
    // The plan is of the trial: that the reference has as many pages does not count.
    meter: '{start: 51200, end: 60201}',
    target: '{pages: 9001}',
    reference: `{meter: {start: 40000, end: ${end}}, batches: ${ends(42000, 44000, 46000)}}`,
  });
  tellsApart([
    { what: 'are half as many again', near: behind(69200), far: behind(69201), said: said('6001') },
    {
      what: 'are told in pages, be there three clicks to each',
      near: behind(69200, { meter: '{start: 51200, end: 69200, clicks_per_page: 3}' }),
      far: behind(69201, { meter: '{start: 51200, end: 69201, clicks_per_page: 3}' }),
      said: said('2000.3333', '1333.3333'),
    },
    {
      what: 'are any number where the run is as long as planned: 24000 and 2 % more than 23529.4',
      near: behind(75200, planned(23530)),
      far: behind(75200, planned(23529)),
      said: said('12000'),
    },
    {
      what: 'or 24500 and 2 % less than 25000',
      near: behind(75700, planned(25000)),
      far: behind(75700, planned(25001)),
      said: said('12500'),
    },
    {
      what: 'are half a batch where the last checkpoint is the end that was planned',
      near: behind(65200, planned(12000)),
      far: behind(65201, planned(12000)),
      said: said('2001'),
    },
    {
      what: 'which 12000 are of 11764.7 and more',
      near: behind(65700, planned(11764)),
      far: behind(65700, planned(11765)),
      said: said('2500'),
    },
    {
      what: 'and 12250 are of no more than 12500',
      near: behind(65950, { ...planned(12501), batches: ends(55200, 59200, 63450) }),
      far: behind(65950, { ...planned(12500), batches: ends(55200, 59200, 63450) }),
      said: said('2500', '4250', '63450'),
    },
    {
      what: 'of two clicks each where there are two to a page',
      near: behind(65200, { meter: '{start: 51200, end: 65200, clicks_per_page: 2}', ...planned(6000) }),
      far: behind(65202, { meter: '{start: 51200, end: 65202, clicks_per_page: 2}', ...planned(6000) }),
      said: said('1001', '2000'),
    },
    {
      what: 'are more where a cartridge was exhausted no more than a batch before the end',
      near: behind(65700, exhausted(61700)),
      far: behind(65700, exhausted(61699)),
      said: said('2500'),
    },
    {
      what: 'are those of the reference behind its own',
      near: ofReference(49000),
      far: ofReference(49001),
      said: said('3001', '2000', '46000', 'reference.meter.end'),
    },
  ]);
});

describe('pages beyond the plan', () => {
  const pages = (end: number, target: string, more: Changes = {}): Changes => ({
    meter: `{start: 51200, end: ${end}}`,
    target,
    ...more,
  });
  const said = (printed: string, target: string, batch: string): Found => ({
    code: 'pages-over-target',
    pages: printed,
    target,
    batch,
    path: 'meter.end',
    readings: ['meter.end'],
  });
  const six = { batches: ends(55200, 59200, 63200, 67200, 71200, 75200) };
  const thirds = (target: number): Changes => ({
    meter: '{start: 51200, end: 56700, clicks_per_page: 3}',
    target: `{pages: ${target}}`,
    batches: ends(52200, 53200, 54200, 55200),
  });
  const exhausted = (at: number, meter: string, target: string): Changes => ({
    meter,
    target,
    cartridges: `[{slot: black, exhausted_at: ${at}}]`,
  });
  const withOther = (target: number): Changes => ({
    meter: '{start: 51200, end: 68200}',
    target: `{pages: ${target}, batch: 4000}`,
    batches: '[{end: 55200, other: true}, {end: 59200}, {end: 63200}, {end: 67200}]',
  });
  tellsApart([
    {
      what: 'are a thousand where the plan names no batch',
      near: pages(76200, '{pages: 24000}'),
      far: pages(76201, '{pages: 24000}'),
      said: said('25001', '24000', '1000'),
    },
    {
      what: 'are a batch of the plan',
      near: pages(75700, '{pages: 24000, batch: 500}'),
      far: pages(75701, '{pages: 24000, batch: 500}'),
      said: said('24501', '24000', '500'),
    },
    {
      what: 'are a batch as they were run, where the plan names none',
      near: pages(80200, '{pages: 25000}', six),
      far: pages(80201, '{pages: 25000}', six),
      said: said('29001', '25000', '4000'),
    },
    {
      what: 'in thirds of a page: 1833 1/3 of 1500 and a batch of 333 1/3',
      near: thirds(1500),
      far: thirds(1499),
      said: said('1833.3333', '1499', '333.333'),
    },
    {
      what: 'are any number once a checkpoint lies beyond a batch more: 12000 of 7999 + 4000',
      near: pages(64200, '{pages: 7999, batch: 4000}', { batches: ends(55200, 59200, 63200) }),
      far: pages(64200, '{pages: 8000, batch: 4000}', { batches: ends(55200, 59200, 63200) }),
      said: said('13000', '8000', '4000'),
    },
    {
      what: 'to which pages that are not of the trial do not count',
      near: withOther(7999),
      far: withOther(8000),
      said: said('13000', '8000', '4000'),
    },
    {
      what: 'are any number where a cartridge was exhausted within a batch of the end',
      near: exhausted(74200, '{start: 51200, end: 75200}', '{pages: 22000}'),
      far: exhausted(74199, '{start: 51200, end: 75200}', '{pages: 22000}'),
      said: said('24000', '22000', '1000'),
    },
    {
      what: 'a batch of pages of two clicks each',
      near: exhausted(73200, '{start: 51200, end: 75200, clicks_per_page: 2}', '{pages: 10000}'),
      far: exhausted(73199, '{start: 51200, end: 75200, clicks_per_page: 2}', '{pages: 10000}'),
      said: said('12000', '10000', '1000'),
    },
  ]);
});

describe('percentages written as fractions', () => {
  const gauge = (text: string): Changes => ({ cartridges: `[{slot: black, gauge: ${text}}]` });
  const said = (path: string, written: string, percent: string): Found => ({
    code: 'fraction-for-percent',
    written,
    percent,
    path,
    readings: [path],
  });
  tellsApart([
    {
      what: 'a coverage below 1, but with its sign',
      near: { coverage: '0.99 %' },
      far: { coverage: '0.99' },
      said: said('coverage', '0.99', '99'),
    },
    {
      what: '1 is one percent',
      near: { coverage: '1' },
      far: { coverage: '0.9' },
      said: said('coverage', '0.9', '90'),
    },
    {
      what: 'a coverage with a tolerance, which is a small one',
      near: { coverage: '{value: 5, tolerance: 0.3}' },
      far: { coverage: '{value: 0.05, tolerance: 0.01}' },
      said: said('coverage.value', '0.05', '5'),
    },
    {
      what: 'the coverage of one slot, where another has none yet',
      near: {
        coverage: '{black: {value: 5, tolerance: 0.3}, cyan: }',
        cartridges: '[{slot: black}, {slot: cyan}]',
      },
      far: {
        coverage: '{black: {value: 0.05, tolerance: 0.01}, cyan: }',
        cartridges: '[{slot: black}, {slot: cyan}]',
      },
      said: said('coverage.black', '0.05', '5'),
    },
    {
      what: 'a gauge full at 1, that ends below',
      near: gauge('{start: 1, end: 1}'),
      far: gauge('{start: 1, end: 0.99}'),
      said: said('cartridges[1].gauge.start', '1', '100'),
    },
    {
      what: 'a gauge that begins above 1 is in percent',
      near: gauge('{start: 1.1, end: 0.05}'),
      far: gauge('{start: 0.9, end: 0.05}'),
      said: said('cartridges[1].gauge.start', '0.9', '90'),
    },
    {
      what: 'the reference is asked about its own',
      near: { reference: '{meter: {start: 40000, end: 48000}, duplex_share: 50}' },
      far: { reference: '{meter: {start: 40000, end: 48000}, duplex_share: 0.5}' },
      said: said('reference.duplex_share', '0.5', '50'),
    },
  ]);
});

describe('sheets counted, with half of 24,000 pages on two-sided sheets: 18,000', () => {
  const counted = (sheets: number, more: Changes = {}): Changes => ({
    duplex_share: '50 %',
    paper: `{sheets_used: ${sheets}}`,
    ...more,
  });
  const said = (sheets: string, derived = '18000', ...batches: readonly string[]): Found => ({
    code: 'sheets-differ',
    counted: sheets,
    derived,
    path: 'paper.sheets_used',
    readings: ['paper.sheets_used', 'duplex_share', ...batches],
  });
  const spare = { target: '{spare_paper: 5 %}' };
  // 2000 other pages on one side and 2000 on two: 3000 sheets, and 18,000 × 2 % = 360 spare ones.
  const other = (clicks: number): Changes => ({
    meter: `{start: 51200, end: ${51200 + 28000 * clicks}, clicks_per_page: ${clicks}}`,
    batches: `[{end: ${51200 + 2000 * clicks}, other: true, duplex_share: 0 %}, {end: ${51200 + 4000 * clicks}, other: true, duplex_share: 100 %}]`,
  });
  const shares = ['batches[1].duplex_share', 'batches[2].duplex_share'];
  tellsApart([
    { what: '2 % are spoilt', near: counted(18360), far: counted(18361), said: said('18361') },
    {
      what: 'none are asked about before a page is printed',
      near: counted(5, { meter: '{start: 51200, end: 51200}' }),
      far: counted(5, { meter: '{start: 51200, end: 51220}' }),
      said: said('5', '15'),
    },
    { what: 'or missing', near: counted(17640), far: counted(17639), said: said('17639') },
    {
      what: 'more where the plan has more to spare',
      near: counted(18900, spare),
      far: counted(18901, spare),
      said: said('18901'),
    },
    {
      what: 'or fewer',
      near: counted(17100, spare),
      far: counted(17099, spare),
      said: said('17099'),
    },
    {
      what: 'those of other pages were counted with them',
      near: counted(21360, other(1)),
      far: counted(21361, other(1)),
      said: said('21361', '18000', ...shares),
    },
    {
      what: 'with two clicks to a page',
      near: counted(21360, other(2)),
      far: counted(21361, other(2)),
      said: said('21361', '18000', ...shares),
    },
    {
      what: 'or were not',
      near: counted(17640, other(1)),
      far: counted(17639, other(1)),
      said: said('17639', '18000', ...shares),
    },
    {
      what: 'names the batches alone that have a share of their own; 18,000.75 sheets to six digits',
      near: counted(18000, { meter: '{start: 51200, end: 75201}' }),
      far: counted(30000, {
        meter: '{start: 51200, end: 75201}',
        batches: '[{end: 53200}, {end: 63200, duplex_share: 50 %}]',
      }),
      said: said('30000', '18000.8', 'batches[2].duplex_share'),
    },
  ]);
});

describe('a reading of the air', () => {
  const air = (...days: readonly string[]): string =>
    `[${days.map((at) => `{at: ${at}, temperature: 21.5}`).join(', ')}]`;
  const at = (...days: readonly string[]): Changes => ({ ambient: air(...days) });
  const said = (
    written: string,
    days: number,
    where: 'before' | 'after' | 'others',
    reading = 'ambient[1]',
  ): Found => ({
    code: 'reading-not-of-run',
    written,
    days,
    where,
    path: `${reading}.at`,
    readings: [reading],
  });
  const batches =
    '[{end: 63200, started: 2026-05-04T09:00, finished: 2026-05-04T16:00}, {end: 75200, started: 2026-05-10T09:00, finished: 2026-05-10T16:00}]';
  const dated = (day: string, trial = 'Poplar Walk lot 12'): Changes => ({ trial, batches, ...at(day) });
  const undated = (...days: readonly string[]): Changes => ({ trial: 'Poplar Walk lot 12', ...at(...days) });
  const ofReference = (day: string): Changes => ({
    reference: `{meter: {start: 40000, end: 48000}, batches: [{end: 44000, started: 2026-02-04T09:00, finished: 2026-02-04T16:00}], ambient: ${air(day)}}`,
  });
  tellsApart([
    {
      what: 'is of the run up to fourteen days and a bit before 4 May',
      near: at('2026-04-19T00:01'),
      far: at('2026-04-19T00:00'),
      said: said('2026-04-19T00:00', 15, 'before'),
    },
    {
      what: 'and after 8 May',
      near: at('2026-05-22T23:59'),
      far: at('2026-05-23T00:00'),
      said: said('2026-05-23T00:00', 15, 'after'),
    },
    {
      what: 'before the first batch, where the trial has no dates',
      near: dated('2026-04-19T09:01'),
      far: dated('2026-04-19T09:00'),
      said: said('2026-04-19T09:00', 15, 'before'),
    },
    {
      what: 'after the last of them',
      near: dated('2026-05-25T15:59'),
      far: dated('2026-05-25T16:00'),
      said: said('2026-05-25T16:00', 15, 'after'),
    },
    {
      what: 'after the last of them, where only its start is known',
      near: dated('2026-05-25T15:59', '{title: Poplar Walk lot 12, started: 2026-05-01}'),
      far: dated('2026-05-25T16:00', '{title: Poplar Walk lot 12, started: 2026-05-01}'),
      said: said('2026-05-25T16:00', 15, 'after'),
    },
    {
      what: 'after the only time there is of a batch',
      near: { trial: 'P', batches: '[{end: 63200, started: 2026-05-04T09:00}]', ...at('2026-05-19T08:59') },
      far: { trial: 'P', batches: '[{end: 63200, started: 2026-05-04T09:00}]', ...at('2026-05-19T09:00') },
      said: said('2026-05-19T09:00', 15, 'after'),
    },
    {
      what: 'is never after a run of which only the start is known',
      near: { trial: '{title: Poplar Walk lot 12, started: 2026-05-04}', ...at('2027-05-04') },
      far: { trial: '{title: Poplar Walk lot 12, started: 2026-05-04}', ...at('2026-04-19') },
      said: said('2026-04-19', 15, 'before'),
    },
    {
      what: 'is held against the end, where only that is known',
      near: { trial: '{title: Poplar Walk lot 12, finished: 2026-05-08}', ...at('2026-04-24') },
      far: { trial: '{title: Poplar Walk lot 12, finished: 2026-05-08}', ...at('2026-04-23') },
      said: said('2026-04-23', 15, 'before'),
    },
    {
      what: 'of the reference is held against its own batches',
      near: ofReference('2026-02-19T15:59'),
      far: ofReference('2026-02-19T16:00'),
      said: said('2026-02-19T16:00', 15, 'after', 'reference.ambient[1]'),
    },
    {
      what: 'before the reference too',
      near: ofReference('2026-01-20T09:01'),
      far: ofReference('2026-01-20T09:00'),
      said: said('2026-01-20T09:00', 15, 'before', 'reference.ambient[1]'),
    },
    {
      what: 'without any date of the run, 61 days after all others',
      near: undated('2026-01-01', '2026-01-01', '2026-03-02'),
      far: undated('2026-01-01', '2026-01-01', '2026-03-03'),
      said: said('2026-03-03', 61, 'others', 'ambient[3]'),
    },
    {
      what: 'or before them',
      near: undated('2026-01-01', '2026-03-02', '2026-03-02'),
      far: undated('2026-01-01', '2026-03-03', '2026-03-03'),
      said: said('2026-01-01', 61, 'others'),
    },
    {
      what: 'and more than three times as far as they are from each other: 75 and 76 days after 25',
      near: undated('2026-01-01', '2026-01-26', '2026-04-11'),
      far: undated('2026-01-01', '2026-01-26', '2026-04-12'),
      said: said('2026-04-12', 76, 'others', 'ambient[3]'),
    },
    {
      what: '75 and 76 days before 25',
      near: undated('2026-01-02', '2026-03-18', '2026-04-12'),
      far: undated('2026-01-01', '2026-03-18', '2026-04-12'),
      said: said('2026-01-01', 76, 'others'),
    },
    {
      what: 'of two nobody knows which is the odd one',
      near: undated('2026-01-01', '2026-09-01'),
      far: undated('2026-01-01', '2026-01-02', '2026-09-01'),
      said: said('2026-09-01', 242, 'others', 'ambient[3]'),
    },
    {
      what: 'in the order they were taken, not as they were written',
      near: undated('2026-01-01', '2026-09-01', '2026-01-02', '2026-09-02'),
      far: {
        trial: 'Poplar Walk lot 12',
        ambient:
          '[{at: 2026-09-01, temperature: 20}, {temperature: 21}, {at: 2026-01-02, temperature: 20}, {at: 2026-01-01, temperature: 20}]',
      },
      said: said('2026-09-01', 242, 'others'),
    },
  ]);
});

/*
 * The waste of stretches of a run, in g per thousand pages. A stretch is held against the n others by
 * (rate − their rate) / √(s² (1 + 1/n) + u² + Σ uᵢ²/n²), s a tenth of their rate or, of three and more, their scatter.
 * Weights are to 0.1 g, so that the u of a stretch of 10,000 pages is √(0.02/12) / 10 = 0.004 g: next to nothing.
 */
describe('the waste of a stretch', () => {
  const stretches = (
    rates: readonly number[],
    at: readonly number[] = rates.map((_, index) => 10000 * (index + 1)),
    meter = '',
  ): Changes => {
    let mass = 600;
    const weights = rates.map((rate, index) => {
      mass += (rate * ((at[index] ?? 0) - (at[index - 1] ?? 0))) / 1000;
      return mass.toFixed(1);
    });
    const batches = weights
      .slice(0, -1)
      .map((one, index) => `{end: ${at[index] ?? 0}, container_mass: ${one}}`);
    return {
      meter: `{start: 0, end: ${at.at(-1) ?? 0}${meter}}`,
      waste_container: `{tare: 600.0, final: ${weights.at(-1) ?? ''}}`,
      batches: `[${batches.join(', ')}]`,
    };
  };
  const said = (
    from: number,
    to: number,
    rate: string,
    others: string,
    ...readings: readonly string[]
  ): Found => ({
    code: 'waste-rate-apart',
    from: String(from),
    to: String(to),
    rate,
    others,
    path: readings.find((reading) => !reading.endsWith('tare')),
    readings,
  });
  const FINAL = 'waste_container.final';
  const [FIRST, SECOND, FOURTH] = ['batches[1]', 'batches[2]', 'batches[4]'].map(
    (batch) => `${batch}.container_mass`,
  ) as [string, string, string];
  const coarse = (final: number): Changes => ({
    meter: '{start: 0, end: 2000}',
    waste_container: `{tare: 600, final: ${final}}`,
    batches: batchesOf([1000, 605]),
  });
  const four: Changes = {
    meter: '{start: 0, end: 4000}',
    batches: batchesOf([1000, 605], [2000, 610], [3000, 615]),
  };
  const lengths = [4000, 8000, 12000, 16000, 20000];

  tellsApart([
    {
      what: 'five away from the only other: 20 and 20 + 5 √(2 × 2²) = 34.14',
      near: stretches([20, 34.14]),
      far: stretches([20, 34.15]),
      said: said(10000, 20000, '34.1', '20', FINAL, FIRST),
    },
    {
      // Two weights to 1 g and the last to 0.1 g.
      what: 'with what the scale may be off: 5 and 5 + 5 √(2 × 0.5² + 2/12 + 1.01/12) = 9.33',
      near: coarse(614.3),
      far: coarse(614.4),
      said: said(1000, 2000, '9.4', '5', FINAL, FIRST),
    },
    {
      // Rates of 5; of the others u² is 3 × 2/12 / 3².
      what: 'of three others their mean is: 5 + 4 √(4/3 × 0.5² + 1.01/12 + 0.5/9) = 7.75',
      near: { ...coarse(622.7), ...four },
      far: { ...coarse(622.8), ...four },
      said: said(3000, 4000, '7.8', '5', FINAL),
    },
    {
      what: 'four away from two others, be they apart: 18 and 12, and 15 + 4 √(1.5 × 1.5²) = 22.35',
      near: stretches([18, 12, 22.34]),
      far: stretches([18, 12, 22.35]),
      said: said(20000, 30000, '22.4', '15', FINAL),
    },
    {
      // Their rate is 850 g in 35,000 pages, 24.29; s² = (4.286² + 14.286² + 5.714²) / 2 = 127.55.
      what: 'four away from three that scatter: 24.29 + 4 √(4/3 × 127.55) = 76.45',
      near: stretches([20, 10, 30, 76.44], [10000, 15000, 35000, 45000]),
      far: stretches([20, 10, 30, 76.46], [10000, 15000, 35000, 45000]),
      said: said(35000, 45000, '76.5', '24.3', FINAL),
    },
    {
      what: 'at the beginning it is the empty container or the first weight',
      near: stretches([24, 20, 20]),
      far: stretches([34, 20, 20]),
      said: said(0, 10000, '34', '20', 'waste_container.tare', FIRST),
    },
    {
      what: 'is told for a thousand pages, be there two clicks to each',
      near: stretches([20, 34.14], [10000, 20000], ', clicks_per_page: 2'),
      far: stretches([20, 34.15], [10000, 20000], ', clicks_per_page: 2'),
      said: said(10000, 20000, '68.3', '40', FINAL, FIRST),
    },
    {
      what: 'of one weight on the way, both beside it, four away from three others: 4 √(4/3 × 2²) = 9.24',
      near: stretches([20, 29.23, 10.77, 20, 20]),
      far: stretches([20, 29.24, 10.76, 20, 20]),
      said: said(10000, 20000, '29.2', '20', SECOND),
    },
    {
      what: 'of the last weight on the way too',
      near: stretches([20, 20, 20, 29.23, 10.77]),
      far: stretches([20, 20, 20, 29.24, 10.76]),
      said: said(30000, 40000, '29.2', '20', FOURTH),
    },
    {
      what: 'and together they fit the others: 20 above and 10 below do not, 19.9 do',
      near: stretches([20, 40, 10, 20, 20]),
      far: stretches([20, 39.9, 10, 20, 20]),
      said: said(10000, 20000, '39.9', '20', SECOND),
    },
    {
      what: 'of three, five away from the one that is left: 5 √(2 × 2²) = 14.14',
      near: stretches([20, 24, 16]),
      far: stretches([20, 34.15, 5.85]),
      said: said(10000, 20000, '34.1', '20', SECOND, FIRST),
    },
  ]);

  test('which of three is in doubt: the end of the run where the weight on the way is not far enough', () => {
    expect(found(run(stretches([20, 34.14, 5.86])))).toEqual([said(20000, 30000, '5.86', '27.1', FINAL)]);
  });

  test('one on the way and one at the end may be wrong at once', () => {
    const rates = [...Array.from({ length: 3 }, () => 20), 39, 1, ...Array.from({ length: 8 }, () => 20), 34];
    expect(found(run(stretches(rates))).map((one) => one['readings'])).toEqual([[FOURTH], [FINAL]]);
  });

  test('a checkpoint at the very end is the end of the last stretch', () => {
    const text = run({
      meter: '{start: 0, end: 12000}',
      waste_container: '{tare: 600, final: 1000}',
      batches: batchesOf([4000, 680], [8000, 760], [12000, 1000]),
    });
    expect(found(text).map((one) => one['readings'])).toEqual([['batches[3].container_mass']]);
  });

  test('where a mass falls, that alone is said', () => {
    expect(found(run(stretches([20, 60, -5, 20, 20]))).map(({ code }) => code)).toEqual(['interim-falls']);
  });

  test('is far from none at all, once there is some', () => {
    expect(found(run(stretches([0, 0, 0, 0, 0])))).toEqual([]);
    expect(found(run(stretches([0, 0, 0, 0, 20])))).toEqual([said(40000, 50000, '20', '0', FINAL)]);
  });

  test.each<[what: string, at: readonly number[], meter: boolean]>([
    ['3800 pages where the others have 4000', [...lengths, 23800], false],
    ['3799 pages', [...lengths, 23799], true],
    ['4200 pages', [...lengths, 24200], false],
    ['4201 pages', [...lengths, 24201], true],
    ['5000 pages where they have 4000 and 4200', [4000, 8000, 12000, 16200, 21200], true],
    ['5000 pages where they have 4000 and 4201', [4000, 8000, 12000, 16201, 21201], false],
    ['5000 pages where two others have 4000', [4000, 8000, 13000], true],
    ['5000 pages where only one other tells', [4000, 9000], false],
  ])('the end of the meter is doubted with the last weight: %s', (_, at, meter) => {
    const rates = at.map((__, index) => (index === at.length - 1 ? 60 : 20));
    const readings = found(run(stretches(rates, at))).flatMap((one) => one['readings']);
    expect(readings).toContain(FINAL);
    expect(readings.includes('meter.end')).toBe(meter);
  });

  test('the end of the meter is not doubted where the last weight was taken before it', () => {
    const text = run({
      meter: '{start: 0, end: 24000}',
      waste_container: '{tare: 600.0, final: }',
      batches: batchesOf([4000, 680], [8000, 760], [12000, 840], [16000, 920], [21000, 1220]),
    });
    expect(found(text).map(({ readings }) => readings)).toEqual([['batches[5].container_mass']]);
  });

  test('two weights beside pages of another kind are not one weight on the way', () => {
    // 30 and 10 g a thousand, with pages at 20 % coverage between them: nothing is four away from the other six.
    const masses = [800, 1000, 1300, 1900, 2000, 2200, 2400];
    const batches = masses.map(
      (mass, index) =>
        `{end: ${10000 * (index + 1)}, container_mass: ${mass}${index === 3 ? ', coverage: 20 %' : ''}}`,
    );
    const text = run({
      meter: '{start: 0, end: 80000}',
      waste_container: '{tare: 600, final: 2600}',
      batches: `[${batches.join(', ')}]`,
    });
    expect(found(text)).toEqual([]);
  });

  test('two stretches of two kinds are not held against each other', () => {
    const batch = (coverage: string): Changes => ({
      meter: '{start: 0, end: 20000}',
      waste_container: '{tare: 600, final: 1600}',
      batches: `[{end: 10000, container_mass: 800, coverage: ${coverage}}]`,
    });
    expect(found(run(batch('20 %')))).toEqual([]);
    expect(found(run(batch('5 %'))).map(({ code }) => code)).toEqual(['waste-rate-apart']);
  });

  test('a stretch is of a kind where all of its batches are', () => {
    // Weighed after every second batch of 5000 pages: 20, 20, 20 and 34 g a thousand.
    const batches = (coverages: readonly (number | null)[]): Changes => ({
      meter: '{start: 0, end: 40000}',
      waste_container: '{tare: 600, final: 1540}',
      batches: `[${coverages
        .map((coverage, index) => {
          const mass = index % 2 === 1 ? `, container_mass: ${600 + 100 * (index + 1)}` : '';
          return `{end: ${5000 * (index + 1)}${mass}${coverage === null ? '' : `, coverage: ${coverage} %`}}`;
        })
        .join(', ')}]`,
    });
    const doubted = [['waste_container.final']];
    const readings = (...coverages: readonly (number | null)[]) =>
      found(run(batches(coverages))).map((one) => one['readings']);
    expect(readings(20, 20, null, null, null, null, null)).toEqual(doubted);
    // The last stretch is of two kinds, and is held against none.
    expect(readings(20, 20, null, null, null, null, 20)).toEqual([]);
  });

  test('each of three containers has its own, parted where they were changed, in whatever order that was noted', () => {
    // 76 g for every 4000 pages, but for the last stretch of the second container: 276 g.
    const events = (...noted: readonly string[]): Changes => ({
      meter: '{start: 51200, end: 79200}',
      waste_container: '[{tare: 626, final: 778}, {tare: 626, final: 1054}, {tare: 626, final: 778}]',
      // At 59200 the container that was taken out was weighed, at 71200 the one that was put in.
      batches: batchesOf([55200, 702], [59200, 778], [63200, 702], [67200, 778], [71200, 626], [75200, 702]),
      events: `[${noted.join(', ')}]`,
    });
    const [one, two] = ['{at: 59200, kind: container_change}', '{at: 71200, kind: container_change}'];
    const doubted = ['waste_container[2].final'];
    expect(found(run(events('{kind: jam}', two, one))).map(({ readings }) => readings)).toEqual([doubted]);
    // Where one of the changes is not told, it is not known which container was weighed on the way.
    expect(found(run(events(one, '{kind: container_change}')))).toEqual([]);
    expect(found(run(events(one, two, '{kind: container_change}')))).toEqual([]);
  });
});

describe('what was looked at again', () => {
  const WRONG = { waste_container: '{tare: 626, final: 982}', batches: batchesOf([63200, 1006]) };
  const again = (...readings: readonly string[]) => {
    const checked = `[${readings.map((reading) => `{reading: "${reading}", note: weighed again}`).join(', ')}]`;
    const [doubt] = assessed(run({ ...WRONG, checked })).doubts;
    return { checked: doubt?.checked.map(({ reading }) => reading), open: doubt?.open.map(dotted) };
  };
  const [onTheWay, final] = ['batches[1].container_mass', 'waste_container.final'];

  test('is the reading itself, or the entry it stands in; what is not of the doubt does not count', () => {
    expect(again(final)).toEqual({ checked: [final], open: [onTheWay] });
    expect(again('waste_container')).toEqual({ checked: ['waste_container'], open: [onTheWay] });
    expect(again('batches[1]', final)).toEqual({ checked: ['batches[1]', final], open: [] });
    expect(again('meter.end', 'waste_container.tare')).toEqual({ checked: [], open: [onTheWay, final] });
    expect(again('meter.end', final)).toEqual({ checked: [final], open: [onTheWay] });
  });
});
