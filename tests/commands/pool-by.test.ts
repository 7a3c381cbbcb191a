import { describe, expect, test } from 'vitest';
import { type Files, run } from '../run.ts';

/*
 * Trials of a year as tables: what is kept apart, set beside each other, and told of every cartridge. Lots, suppliers
 * and prices are invented; sums are worked by hand beside each check.
 */

interface Told {
  readonly id: string;
  readonly started?: string;
  readonly lot?: string;
  readonly supplier?: string;
  readonly machine?: string;
  /** Pages of the run; 20 g of waste are weighed for each thousand of 10 000. */
  readonly pages: number;
  readonly waste?: number;
  /** Further keys of the one cartridge. */
  readonly cartridge?: string;
  readonly exhausted?: boolean;
}

const trial = (told: Told): string =>
  [
    `trial: {id: ${told.id}, title: "Mill Lane ${told.id}"${told.started ? `, started: ${told.started}` : ''}}`,
    `lot: {${told.lot ? `id: ${told.lot}, ` : ''}supplier: ${told.supplier ?? 'Millrace Works'}}`,
    `machine: {serial: "${told.machine ?? '0047'}"}`,
    `meter: {start: 10000, end: ${10000 + told.pages}}`,
    'coverage: 5 %',
    `waste_container: {tare: 640 g, final: ${640 + (told.waste ?? 200)} g}`,
    `cartridges: [{slot: black, serial: S-${told.id}${told.exhausted === false ? '' : `, exhausted_at: ${10000 + told.pages}`}${told.cartridge ? `, ${told.cartridge}` : ''}}]`,
    'limits: {waste_per_thousand: {max: 25 g}}',
    '',
  ].join('\n');

const YEAR: Files = {
  'y/1.yaml': trial({
    id: 'T-1',
    started: '2026-01-08',
    lot: 'K-1',
    pages: 10000,
    cartridge: 'price: 40.00 EUR',
  }),
  'y/2.yaml': trial({
    id: 'T-2',
    started: '2026-02-03',
    lot: 'K-2',
    supplier: 'Orchard Lane Supplies',
    machine: '0051',
    pages: 8000,
    waste: 240,
    cartridge: 'price: 30.00 EUR',
  }),
  'y/3.yaml': trial({
    id: 'T-3',
    started: '2026-01-20',
    lot: 'K-2',
    supplier: 'Orchard Lane Supplies',
    machine: '0051',
    pages: 12000,
    cartridge: 'price: 30.00 EUR, lot: K-3',
  }),
  'y/4.yaml': trial({ id: 'T-4', pages: 11000, cartridge: 'price: 40.00 EUR' }),
};

const json = (...options: string[]): Record<string, unknown>[] =>
  (
    JSON.parse(run(['pool', 'y', '--format', 'json', ...options], YEAR).out) as {
      groups: Record<string, unknown>[];
    }
  ).groups;

const cells = (out: string): Record<string, string>[] => {
  const [heads = [], ...rows] = out.split('\r\n').map((line) => line.split(','));
  return rows
    .filter((row) => row.length > 1)
    .map((row) => Object.fromEntries(heads.map((head, index) => [head, row[index] ?? ''])));
};

describe('pool --by', () => {
  test.each([
    // The cartridge of T-3 is of its own lot, K-3, of which nobody says who delivered it.
    ['lot', ['K-1', 'K-2', 'K-3', null], [10000, 8000, 12000, 11000]],
    ['supplier', ['Millrace Works', 'Orchard Lane Supplies', null], [10500, 8000, 12000]],
    ['machine', ['0047', '0051'], [10500, 10000]],
    ['month', ['2026-01', '2026-02', null], [11000, 8000, 11000]],
  ])('%s: a group each, in the order of their names, those without one last', (by, keys, means) => {
    const groups = json('--by', by);
    expect(groups.map((group) => group[by])).toEqual(keys);
    expect(groups.map(({ mean }) => Number(mean))).toEqual(means);
    for (const other of ['supplier', 'machine', 'month'].filter((one) => one !== by))
      expect(new Set(groups.map((group) => group[other]))).toEqual(new Set([null]));
    const rows = cells(run(['pool', 'y', '--format', 'csv', '--by', by], YEAR).out);
    expect(rows.map((row) => row[by])).toEqual(keys.map((key) => key ?? ''));
  });

  test('waste, cost and days of a group', () => {
    const [, second] = json('--by', 'machine');
    // (240 / 8 + 200 / 12) / 2 g; 1000 × 60 EUR / 20 000 pages.
    expect(Number(second?.['waste_per_thousand'])).toBeCloseTo(23.3333333333, 9);
    expect(second).toMatchObject({
      ...{ trials: 2, first_day: '2026-01-20', last_day: '2026-02-03' },
      ...{ cost_per_thousand: '3', currency: 'EUR', cost_bound: 'exact' },
    });
  });

  test.each([
    ['a cartridge without a price', { id: 'T-9', pages: 9000 }, null],
    ['another currency', { id: 'T-9', pages: 9000, cartridge: 'price: 40.00 USD' }, null],
    // Two of 40 EUR for 10 000 and 6000 pages: 5 EUR, were it not for what the second had left.
    ['one not exhausted', { id: 'T-9', pages: 6000, exhausted: false, cartridge: 'price: 40.00 EUR' }, '5'],
    // A failed one was paid for: 80 EUR for 10 000 pages.
    [
      'one that failed',
      { id: 'T-9', pages: 100, exhausted: false, cartridge: 'price: 40.00 EUR, failed_by: leak' },
      '8',
    ],
  ])('cost of a group with %s', (what, told, cost) => {
    const files = { 'z/1.yaml': YEAR['y/1.yaml'] ?? '', 'z/9.yaml': trial({ ...told, lot: 'K-1' }) };
    const [row] = cells(run(['pool', 'z', '--by', 'lot', '--format', 'csv'], files).out);
    expect(row?.['cost_per_thousand']).toBe(cost ?? '');
    expect(row?.['cost_bound']).toBe(cost === null ? '' : what === 'one not exhausted' ? 'at_most' : 'exact');
  });

  test('text: the groups beside each other by mean yield, within 80 columns', () => {
    const { out } = run(['pool', 'y', '--by', 'lot'], YEAR);
    for (const line of out.split('\n')) expect(Array.from(line).length, line).toBeLessThanOrEqual(80);
    const league = out.slice(out.indexOf('BY LOT of black, BY MEAN YIELD')).split('\n');
    expect(league.slice(1, 6)).toEqual([
      '             n   mean  bound  waste      cost  failed',
      '  K-3        1  12000      -  16.67  2.50 EUR       0',
      '  not named  1  11000      -  18.18  3.64 EUR       0',
      '  K-1        1  10000      -  20.00  4.00 EUR       0',
      '  K-2        1   8000      -  30.00  3.75 EUR       0',
    ]);
  });

  test('--files-from; --by-lot is --by lot; what does not go together is wrong usage', () => {
    const listed = run(
      ['pool', '--files-from', '-', '--by', 'lot', '--format', 'csv'],
      YEAR,
      'y/1.yaml\ny/2.yaml\n',
    );
    expect(cells(listed.out).map(({ lot }) => lot)).toEqual(['K-1', 'K-2']);
    expect(run(['pool', 'y', '--by-lot'], YEAR).out).toBe(run(['pool', 'y', '--by', 'lot'], YEAR).out);
    expect(run(['pool', 'y', '--by-lot', '--by', 'month'], YEAR).code).toBe(4);
    expect(run(['pool', 'y', '--by', 'colour'], YEAR).code).toBe(4);
    expect(run(['pool'], YEAR).code).toBe(4);
  });

  test('jsonl: a group a line, with what is told beside', () => {
    const lines = run(['pool', 'y', '--by', 'machine', '--format', 'jsonl'], YEAR).out.trimEnd().split('\n');
    expect(lines.map((line) => JSON.parse(line) as unknown)).toEqual([
      expect.objectContaining({ format: 1, machine: '0047', n: 2, trials: 2 }),
      expect.objectContaining({ format: 1, machine: '0051', n: 2, currency: 'EUR' }),
    ]);
  });
});

describe('pool --cartridges', () => {
  test('csv: a row for each cartridge, with what its trial says', () => {
    const rows = cells(run(['pool', 'y', '--cartridges', '--format', 'csv'], YEAR).out);
    expect(rows).toHaveLength(4);
    expect(rows[1]).toMatchObject({
      ...{
        file: 'y/2.yaml',
        id: 'T-2',
        started: '2026-02-03',
        lot: 'K-2',
        supplier: 'Orchard Lane Supplies',
      },
      ...{ machine_serial: '0051', slot: 'black', serial: 'S-T-2', price: '30', currency: 'EUR' },
      ...{
        yield_at_reference: '8000',
        bound: 'exact',
        failed: 'false',
        verdict: 'fail',
        ground: 'fails-missed',
      },
    });
    expect(rows[2]).toMatchObject({ lot: 'K-3', supplier: '' });
  });

  test('jsonl: the same, an object a line; one that is not pooled says why', () => {
    const files = { 'z.yaml': 'trial: under way\nmeter: {start: 10000}\ncoverage: 5 %\n' };
    const { out } = run(['pool', 'z.yaml', '--cartridges', '--format', 'jsonl'], files);
    expect(JSON.parse(out)).toMatchObject({ trial: 'under way', yield_at_reference: null, bound: null });
    expect((JSON.parse(out) as { left_out: string }).left_out).toContain('meter.end');
  });

  test.each([
    ['--format', 'text'],
    ['--format', 'json'],
    ['--format', 'csv', '--trend', 'yield'],
  ])('not with %s %s', (...options) =>
    expect(run(['pool', 'y', '--cartridges', ...options], YEAR).code).toBe(4),
  );
});

describe('whose lot a cartridge is: its own, else that of its trial', () => {
  const of = (lot: string, own: string): Files => ({
    'a.yaml': trial({ id: 'A', lot, pages: 10000, ...(own === '' ? {} : { cartridge: `lot: ${own}` }) }),
  });
  test.each([
    ['K-1', '', 'K-1', 'K-1'],
    ['K-1', 'K-2', 'K-1', 'K-2'],
    ['', 'K-2', 'K-2', 'K-2'],
  ])('trial %s, cartridge %s', (lot, own, ofTrial, ofCartridge) => {
    const files = of(lot, own);
    const verdict = JSON.parse(run(['verdict', 'a.yaml', '--format', 'json'], files).out) as {
      lot: string;
      cartridges: { lot: string }[];
    };
    expect(verdict.lot).toBe(ofTrial);
    expect(verdict.cartridges[0]?.lot).toBe(ofCartridge);
    const columns = ['--columns', 'lot,lots'];
    const [row] = cells(run(['verdict', 'a.yaml', '--format', 'csv', ...columns], files).out);
    expect(row).toEqual({ lot: ofTrial, lots: ofCartridge });
    const [group] = cells(run(['pool', 'a.yaml', '--by', 'lot', '--format', 'csv'], files).out);
    expect(group?.['lot']).toBe(ofCartridge);
    const forLot = run(
      ['lot', 'a.yaml', '--size', '40', '--limiting-quality', '10', '--format', 'json'],
      files,
    );
    expect((JSON.parse(forLot.out) as { lot: string }).lot).toBe(ofCartridge);
  });
});

test('a trend: what is only a bound is marked, and counts neither in the centre nor in the limits', () => {
  const files: Files = {
    ...{ 'y/1.yaml': YEAR['y/1.yaml'] ?? '', 'y/3.yaml': YEAR['y/3.yaml'] ?? '' },
    'y/5.yaml': trial({ id: 'T-5', started: '2026-03-01', pages: 3000, exhausted: false }),
  };
  const follow = (...more: string[]) =>
    run(['pool', 'y', '--trend', 'yield', '--of', 'black', ...more], files).out;
  expect(follow()).toMatch(/2026-03-01 {2}5\.yaml +at least 3000\n/);
  expect(follow()).toContain('centre                           11000');
  const { trend } = JSON.parse(follow('--format', 'json')) as {
    trend: { centre: string; points: { bound: string; signals: string[]; moving_range: string | null }[] };
  };
  expect(trend.centre).toBe('11000');
  expect(trend.points.map(({ bound }) => bound)).toEqual(['exact', 'exact', 'at_least']);
  expect(trend.points[2]).toMatchObject({ signals: [], moving_range: null });
  expect(follow('--format', 'csv')).toContain('y/5.yaml,2026-03-01,3000,,,at_least\r\n');
});
