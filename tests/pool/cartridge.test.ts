import { describe, expect, test } from 'vitest';
import {
  broughtBack,
  carried,
  type CarriedCartridge,
  cartridgesOf,
  type PooledCartridge,
  twice,
} from '../../src/pool/cartridge.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { assessed } from '../assessed.ts';
import { cartridge } from './cartridge.ts';

/* What pooling takes from a judged trial, cartridge by cartridge. The trials are invented. */

const trial = (
  cartridges: string,
  more = '',
): string => `trial: {title: Weir Street lot 6, started: 2026-03-02}
lot: {id: K-6, supplier: Millrace Works}
machine: {label: Ash, serial: A-17}
meter: {start: 30000, end: 42000}
coverage: 5 %
cartridges: [${cartridges}]
${more}`;

const of = (cartridges: string, more = '') => cartridgesOf(assessed(trial(cartridges, more), 'w6.yaml'));

const EXHAUSTED = 'slot: black, exhausted_at: 42000';
const WASTE = 'waste_container: {tare: 640 g, final: 880 g}\n';

describe('a cartridge of a trial', () => {
  test('is taken with everything that names it, and the waste of its trial: 240 g in 12,000 pages', () => {
    const { pooled, leftOut } = of(`{${EXHAUSTED}, serial: S-1, price: 40.50 EUR}`, WASTE);
    expect(leftOut).toEqual([]);
    expect(pooled).toMatchObject([
      {
        file: 'w6.yaml',
        machine: 'A-17',
        machineLabel: 'Ash',
        machineSerial: 'A-17',
        slot: 'black',
        lot: 'K-6',
        supplier: 'Millrace Works',
        serial: 'S-1',
        day: '2026-03-02',
        exhausted: true,
        failed: false,
        doubted: false,
        coverageU: 0,
      },
    ]);
    const [one] = pooled;
    expect([one?.pages, one?.waste, one?.price?.amount].map((value) => value?.toFixed())).toEqual([
      '12000',
      '20',
      '40.5',
    ]);
    expect(one?.price?.currency).toBe('EUR');
  });

  test('names no machine where its trial names none', () => {
    const text = trial(`{${EXHAUSTED}}`).replace(/machine:.*\n/, '');
    expect(cartridgesOf(assessed(text)).pooled).toMatchObject([
      { machine: null, machineLabel: null, machineSerial: null },
    ]);
  });

  test.each([
    ['was run to its end', EXHAUSTED, { exhausted: true, failed: false }],
    ['was not: its pages are a lower bound', 'slot: black', { exhausted: false, failed: false }],
    ['failed', 'slot: black, failed_at: 42000, failed_by: leak', { exhausted: false, failed: true }],
  ])('%s', (_, told, expected) => {
    expect(of(`{${told}}`).pooled).toMatchObject([expected]);
  });

  test('that failed counts as one though no yield follows from its readings', () => {
    const text = trial('{slot: black, failed_by: leak}').replace('coverage: 5 %\n', '');
    const { pooled, leftOut } = cartridgesOf(assessed(text));
    expect(leftOut).toEqual([]);
    expect(pooled.map(({ failed, pages }) => [failed, pages.toFixed()])).toEqual([[true, '0']]);
  });

  test('of which no yield follows is left out, with the reason', () => {
    const text = trial(`{${EXHAUSTED}}`).replace('coverage: 5 %\n', '');
    const { pooled, leftOut } = cartridgesOf(assessed(text, 'w7.yaml'));
    expect(pooled).toEqual([]);
    expect(leftOut).toMatchObject([{ file: 'w7.yaml', name: 'black', reason: { code: 'reading-missing' } }]);
  });

  test('that was put in for another and not run to its end is left out', () => {
    const { pooled, leftOut } = of('{slot: black, exhausted_at: 40000}, {slot: black}');
    expect(pooled.map(({ pages }) => pages.toFixed())).toEqual(['10000']);
    expect(leftOut).toEqual([{ file: 'w6.yaml', name: 'black#2', reason: { code: 'still-in-at-end' } }]);
  });

  test('in doubt is told and counted, and not pooled; one that failed is counted as failed alone', () => {
    // Exhausted with 100 of 600 g used.
    const masses = 'start_mass: 900, end_mass: 800, fill_mass: 600';
    const { pooled, leftOut } = of(`{${EXHAUSTED}, ${masses}}`);
    expect(pooled).toMatchObject([{ doubted: true, exhausted: true }]);
    expect(leftOut).toMatchObject([{ name: 'black', reason: { code: 'doubted', doubt: 'exhausted-early' } }]);
    // 12,000 pages of 8,000 planned: the end of the meter is in doubt, and the pages of a failed one say nothing.
    const failed = of('{slot: black, failed_at: 42000, failed_by: leak}', 'target: {pages: 8000}\n');
    expect(failed.pooled).toMatchObject([{ failed: true, doubted: false }]);
    expect(failed.leftOut).toEqual([]);
  });
});

describe('the waste of a trial', () => {
  const waste = (more: string) => of(`{${EXHAUSTED}}`, more).pooled.map((one) => one.waste?.toFixed());

  test('is not told where it is not known, is only a bound, or is in doubt', () => {
    expect(waste(WASTE)).toEqual(['20']);
    expect(waste('')).toEqual([undefined]);
    expect(waste(`${WASTE}batches: [{end: 34000, other: true}]\n`)).toEqual([undefined]);
    expect(waste('waste_container: {tare: 640 g, final: 880 g, capacity: 100 g}\n')).toEqual([undefined]);
  });
});

test('handed from one thread to another it stays what it was', () => {
  const price = { amount: new Decimal('40.50'), currency: 'EUR' };
  for (const one of [cartridge(12000.5, { price, waste: new Decimal(20) }), cartridge(12000)]) {
    const handed = JSON.parse(JSON.stringify(carried(one))) as CarriedCartridge;
    expect(broughtBack(handed)).toEqual(one);
  }
});

describe('a cartridge that is there twice', () => {
  const fitted = (slot: string | null, serial: string | null): PooledCartridge =>
    cartridge(10000, { slot, serial });

  test('has one serial number in one slot, however it was typed', () => {
    const [first, other, again] = [fitted('black', 'S-1'), fitted('black', 'S-2'), fitted('black', ' s-1')];
    expect(twice([first, other, again])).toEqual([first, again]);
    expect(twice([first, other])).toBeNull();
  });

  test('is not told without a serial number, nor of two slots', () => {
    expect(twice([fitted('black', null), fitted('black', null)])).toBeNull();
    expect(twice([fitted('black', 'S-1'), fitted('cyan', 'S-1')])).toBeNull();
  });
});
