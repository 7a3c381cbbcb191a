import { describe, expect, test } from 'vitest';
import { byMeanYield, inShort, type InShort } from '../../src/pool/league.ts';
import { type Group, groupsOf, poolGroup } from '../../src/pool/group.ts';
import { oddNames } from '../../src/pool/names.ts';
import type { PooledCartridge } from '../../src/pool/cartridge.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { cartridge } from './cartridge.ts';

/* Groups beside each other: what they cost, how much waste, when; and the names that tell them apart. All invented. */

const one = (file: string, over: Partial<PooledCartridge> = {}, pages = 10000): PooledCartridge =>
  cartridge(pages, { file, ...over });

const price = (amount: string, currency = 'EUR'): PooledCartridge['price'] => ({
  amount: new Decimal(amount),
  currency,
});

/** A group in short, with its yields as they are pooled. */
const short = (cartridges: readonly PooledCartridge[]): InShort =>
  poolGroup(cartridges, 'black', null, { level: 0.9, tail: 'one-sided' }, null, true).inShort;

describe('a group in short', () => {
  test('counts a trial once, however many of its cartridges are in it', () => {
    const waste = (grams: number) => ({ waste: new Decimal(grams) });
    const { trials, waste: mean } = short([
      one('a.yaml', waste(20)),
      one('a.yaml', waste(20)),
      one('b.yaml', waste(26)),
    ]);
    expect([trials, mean?.toFixed()]).toEqual([2, '23']);
  });

  test('tells waste only where every trial has it', () => {
    expect(short([one('a.yaml', { waste: new Decimal(20) }), one('b.yaml')]).waste).toBeNull();
    expect(short([one('a.yaml')]).waste).toBeNull();
    expect(short([]).waste).toBeNull();
  });

  test('tells the first and the last day there is', () => {
    const days = ['2026-03-09', null, '2026-01-20', '2026-02-03'];
    const found = short(days.map((day, index) => one(`${index}.yaml`, { day })));
    expect([found.firstDay, found.lastDay]).toEqual(['2026-01-20', '2026-03-09']);
    const none = short([one('a.yaml')]);
    expect([none.firstDay, none.lastDay]).toEqual([null, null]);
  });

  test('costs 1000 × all that was paid by all pages: 70 EUR for 20,000 are 3.50', () => {
    const { cost } = short([
      one('a.yaml', { price: price('40') }, 8000),
      one('b.yaml', { price: price('30') }, 12000),
    ]);
    expect([cost?.perThousand.toFixed(), cost?.currency, cost?.bound]).toEqual(['3.5', 'EUR', 'exact']);
  });

  test('costs at most so much where one was not exhausted; one that failed is paid for too', () => {
    const { cost } = short([
      one('a.yaml', { price: price('40'), exhausted: false }, 8000),
      one('b.yaml', { price: price('30') }, 12000),
      one('c.yaml', { price: price('30'), failed: true, exhausted: false }, 100),
    ]);
    expect([cost?.perThousand.toFixed(), cost?.bound]).toEqual(['5', 'at_most']);
  });

  test('has no cost where a price is missing, or is in another currency, or nothing was yielded', () => {
    const paid = one('a.yaml', { price: price('40') });
    const cost = (...cartridges: PooledCartridge[]) => short(cartridges).cost;
    expect(cost(paid, one('b.yaml'))).toBeNull();
    expect(cost(paid, one('b.yaml', { price: price('40', 'USD') }))).toBeNull();
    expect(cost(one('a.yaml', { price: price('40') }, 0))).toBeNull();
    expect(cost(one('a.yaml', { price: price('40'), failed: true, exhausted: false }))).toBeNull();
  });

  test('leaves a cartridge in doubt out of its cost, price or none', () => {
    const paid = one('a.yaml', { price: price('40') });
    for (const doubted of [
      one('b.yaml', { doubted: true }),
      one('b.yaml', { doubted: true, price: price('90') }),
    ])
      expect(short([paid, doubted]).cost?.perThousand.toFixed()).toBe('4');
  });

  test('is of the yields it is told: a mean of nothing costs nothing', () => {
    expect(
      inShort({ n: 0, mean: null, atLeast: 0 }, [one('a.yaml', { price: price('40') })]).cost,
    ).toBeNull();
  });
});

describe('groups beside each other', () => {
  const pooled = (pages: readonly number[]): Group =>
    poolGroup(
      pages.map((own) => cartridge(own)),
      'black',
      null,
      { level: 0.9, tail: 'one-sided' },
      null,
      true,
    );

  test('the greatest mean yield first, those without one last, in the order they came', () => {
    const [none, low, nothing, high] = [pooled([]), pooled([9000]), pooled([]), pooled([10000, 12000])];
    expect(byMeanYield([none, low, nothing, high])).toEqual([high, low, none, nothing]);
    expect(byMeanYield([low, none])).toEqual([low, none]);
    expect(byMeanYield([none, low])).toEqual([low, none]);
  });

  test('kept apart by month, in the order of the calendar, each slot in the order it was met', () => {
    const met = [
      one('1.yaml', { day: null, slot: 'black' }),
      one('2.yaml', { day: '2026-02-03', slot: 'cyan' }),
      one('3.yaml', { day: '2026-02-27', slot: 'black' }),
      one('4.yaml', { day: '2026-01-08', slot: 'cyan' }),
      one('5.yaml', { day: null, slot: 'cyan' }),
      one('6.yaml', { day: '2026-02-10', slot: 'black' }),
    ];
    expect(
      groupsOf(met, 'month').map(({ slot, inCommon, cartridges }) => [
        inCommon?.key,
        slot,
        cartridges.map(({ file }) => file).join(' '),
      ]),
    ).toEqual([
      ['2026-01', 'cyan', '4.yaml'],
      ['2026-02', 'black', '3.yaml 6.yaml'],
      ['2026-02', 'cyan', '2.yaml'],
      [null, 'black', '1.yaml'],
      [null, 'cyan', '5.yaml'],
    ]);
  });
});

describe('names that can hardly all be right', () => {
  const named = (
    machineLabel: string | null,
    machineSerial: string | null,
    more: Partial<PooledCartridge> = {},
  ) => one('a.yaml', { machineLabel, machineSerial, ...more });

  test('one serial number under two labels', () => {
    expect(oddNames([named('Ash', 'A-1'), named('Elm', 'A-1'), named('Ash', 'A-1')])).toEqual([
      { kind: 'labels', serial: 'A-1', labels: ['Ash', 'Elm'] },
    ]);
  });

  test('one label with two serial numbers, of which one may not be there', () => {
    expect(oddNames([named('Ash', 'A-1'), named('Ash', null), named('Ash', 'A-1')])).toEqual([
      { kind: 'serials', label: 'Ash', serials: ['A-1', null] },
    ]);
  });

  test('one cartridge in two slots', () => {
    const [black, cyan] = ['black', 'cyan'].map((slot) => named('Ash', 'A-1', { serial: 'S-1', slot }));
    expect(oddNames([black, cyan, black].flatMap((found) => found ?? []))).toEqual([
      { kind: 'slots', serial: 'S-1', slots: ['black', 'cyan'] },
    ]);
  });

  test('nothing is odd of what is not named', () => {
    const unnamed = [
      named(null, 'A-1'),
      named('Ash', 'A-1'),
      named(null, 'A-2'),
      named(null, null),
      named('Ash', 'A-1', { serial: 'S-1', slot: null }),
      named('Ash', 'A-1', { serial: 'S-1', slot: 'black' }),
      named('Ash', 'A-1', { serial: null, slot: 'cyan' }),
      named('Ash', 'A-1', { serial: null, slot: 'black' }),
    ];
    expect(oddNames(unnamed)).toEqual([]);
  });
});
