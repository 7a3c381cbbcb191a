import { describe, expect, test } from 'vitest';
import { figure, judge, type ResultJson, run } from '../run.ts';

/*
 * What a thousand pages cost: 1000 × price / yield at reference coverage, worked by hand beside each test.
 * Currencies are told by their ISO 4217 codes and never added or compared across; prices and lots are
 * invented.
 */

type Figure = ResultJson['figures'][number];

const trial = (cartridges: string, more = ''): string => `
trial: Chandler Hill lot 77, machine Russet
meter: {start: 10000, end: 22000}
coverage: 6 %
cartridges: [${cartridges}]
${more}
`;

const cost = (text: string, of: string | null = null): Figure => {
  const found = figure(text, 'cost_per_thousand', of);
  if (found === undefined) throw new Error('cost_per_thousand was not derived');
  return found;
};

const codes = (text: string): string[] => judge(text).notes.map(({ code }) => code);

// 10 000 pages at 6 % are 12 000 at 5 %; 12 000 pages are 14 400.
const BLACK = '{slot: black, exhausted_at: 20000, price: 48.00 EUR}';
const CYAN = '{slot: cyan, exhausted_at: 22000, price: 72.00 EUR}';

describe('cost_per_thousand', () => {
  test('1000 × 48 / 12 000 = 4 EUR and 1000 × 72 / 14 400 = 5 EUR', () => {
    const text = trial(`${BLACK}, ${CYAN}`);
    expect(cost(text, 'black')).toMatchObject({ value: '4', unit: 'EUR', u: '0', bound: 'exact' });
    expect(cost(text, 'cyan')).toMatchObject({ value: '5', unit: 'EUR', bound: 'exact' });
  });

  test('in all, a page of every slot: 4 + 5 = 9 EUR', () => {
    expect(cost(trial(`${BLACK}, ${CYAN}`))).toMatchObject({ value: '9', unit: 'EUR', bound: 'exact' });
  });

  test('two cartridges in one slot cost what both cost over what both yield: 90 000 / 14 400 = 6.25', () => {
    // 6000 and 6000 pages, 7200 each at 5 %: 1000 × (48 + 42) / 14 400.
    const two = trial(
      '{slot: black, exhausted_at: 16000, price: 48 EUR}, {slot: black, exhausted_at: 22000, price: 42 EUR}',
    );
    expect(Number(cost(two, 'black').value)).toBeCloseTo(48000 / 7200, 9);
    expect(Number(cost(two, 'black#2').value)).toBeCloseTo(42000 / 7200, 9);
    expect(cost(two).value).toBe('6.25');
  });

  test('a coverage tolerance of 0.6 brings 0.1/√3 of the value', () => {
    const loose = trial(BLACK).replace('coverage: 6 %', 'coverage: {value: 6 %, tolerance: 0.6 %}');
    expect(Number(cost(loose, 'black').u)).toBeCloseTo((4 * 0.1) / Math.sqrt(3), 9);
  });

  test('a yield that is at least 12 000 makes the cost at most 4 EUR, and what it is part of too', () => {
    const open = trial('{slot: black, removed_at: 20000, price: 48 EUR}, ' + CYAN);
    expect(cost(open, 'black')).toMatchObject({ value: '4', bound: 'at_most' });
    expect(cost(open, 'cyan')).toMatchObject({ value: '5', bound: 'exact' });
    expect(cost(open)).toMatchObject({ value: '9', bound: 'at_most' });
  });

  test('without a price there is none, nor one in all', () => {
    const unpriced = trial(`${BLACK}, {slot: cyan, exhausted_at: 22000}`);
    expect(cost(unpriced, 'black').value).toBe('4');
    expect(figure(unpriced, 'cost_per_thousand', 'cyan')).toBeUndefined();
    expect(figure(unpriced, 'cost_per_thousand')).toBeUndefined();
    const { code, limits } = judge(`${unpriced}limits: {cost_per_thousand: {of: total, max: 9 EUR}}`);
    expect(code).toBe(2);
    expect(limits[0]?.reason).toContain('cartridges[2].price');
  });

  test('any currency in use: 1000 × 7200 / 12 000 = 600 JPY', () => {
    expect(cost(trial(BLACK.replace('48.00 EUR', '7200 JPY')), 'black')).toMatchObject({
      value: '600',
      unit: 'JPY',
    });
  });
});

describe('limits', () => {
  const code = (limits: string, cartridges = `${BLACK}, ${CYAN}`): number =>
    judge(trial(cartridges, `limits: {${limits}}`)).code;

  test('of a cartridge, of every one, of the whole', () => {
    expect(code('cost_per_thousand: {of: black, max: 4 EUR}')).toBe(0);
    expect(code('cost_per_thousand: {of: black, max: 3.99 EUR}')).toBe(1);
    expect(code('cost_per_thousand: {max: 5 EUR}')).toBe(0);
    expect(code('cost_per_thousand: {max: 4.50 EUR}')).toBe(1);
    expect(code('cost_per_thousand: {of: total, max: 9.00 EUR}')).toBe(0);
    expect(code('cost_per_thousand: {of: total, max: 8.99 EUR}')).toBe(1);
  });

  test('JSON gives the currency as unit, amounts as decimals', () => {
    const { limits } = judge(trial(BLACK, 'limits: {cost_per_thousand: {of: black, max: 4.50 EUR}}'));
    expect(limits[0]).toMatchObject({ max: '4.5', unit: 'EUR', outcome: 'met', margin: '0.5' });
  });

  test('at most 4 EUR meets a maximum of 4, cannot tell 3.99, and misses a minimum of 4.01', () => {
    // Not exhausted after 12 000 pages at 6 %: 57.60 EUR for at least 14 400.
    const open = '{slot: black, price: 57.60 EUR}';
    expect(code('cost_per_thousand: {of: black, max: 4 EUR}', open)).toBe(0);
    expect(code('cost_per_thousand: {of: black, max: 3.99 EUR}', open)).toBe(2);
    expect(code('cost_per_thousand: {of: black, min: 4.01 EUR}', open)).toBe(1);
  });

  test('a limit wants a currency', () => {
    const { code, notes } = judge(trial(BLACK, 'limits: {cost_per_thousand: {max: 4}}'));
    expect(code).toBe(3);
    expect(notes.map(({ code }) => code)).toContain('unknown-currency');
  });
});

describe('different currencies', () => {
  test('in one run are an error, at the second price', () => {
    const { code, notes } = judge(trial('{slot: black, price: 48 EUR}, {slot: cyan, price: 72 CHF}'));
    expect(code).toBe(3);
    const note = notes.find(({ code }) => code === 'currencies-differ');
    expect(note).toMatchObject({ kind: 'error', key: 'price' });
    expect(note?.message).toMatch(/EUR.*CHF|CHF.*EUR/);
  });

  test('of candidate and reference are an error too', () => {
    const reference =
      'reference: {meter: {start: 0, end: 10000}, cartridges: [{slot: black, price: 48 USD}]}';
    const { code, notes } = judge(trial(BLACK, reference));
    expect(code).toBe(3);
    expect(notes.map(({ code }) => code)).toContain('currencies-differ');
  });

  test('a limit in another one is an error inline', () => {
    const { code, notes } = judge(trial(BLACK, 'limits: {cost_per_thousand: {max: 5 USD}}'));
    expect(code).toBe(3);
    const note = notes.find(({ code }) => code === 'limit-in-other-currency');
    expect(note?.kind).toBe('error');
    expect(note?.message).toContain('USD');
    expect(note?.message).toContain('EUR');
  });

  test('one in a file is not applied, with a note', () => {
    const { code, out } = run(['verdict', 'trial.yaml', '--format', 'json', '--limits', 'house.yaml'], {
      'trial.yaml': trial(BLACK),
      'house.yaml': 'cost_per_thousand: {max: 1 USD}\npages: {min: 12000}\n',
    });
    const { limits, notes } = JSON.parse(out) as ResultJson;
    expect(code).toBe(0);
    expect(limits.map(({ figure }) => figure)).toEqual(['pages']);
    const note = notes.find(({ code }) => code === 'limit-currency-not-applied');
    expect(note?.kind).toBe('note');
    expect(note?.message).toContain('USD');
  });

  test('the two edges of one limit in two currencies are an error, whichever the prices are in', () => {
    expect(judge(trial(BLACK, 'limits: {cost_per_thousand: {min: 3 EUR, max: 5 USD}}')).code).toBe(3);
    expect(judge(trial(BLACK, 'limits: {cost_per_thousand: {min: 3 USD, max: 5 EUR}}')).code).toBe(3);
  });

  test('a cost stated in another one does not agree by its number alone', () => {
    const stated = (text: string): string[] =>
      judge(trial(BLACK, `stated: {cost_per_thousand: {value: ${text}, of: black}}`))
        .notes.filter(({ kind }) => kind !== 'note')
        .map(({ key, code }) => `${key ?? ''} ${code}`)
        .filter((said) => said.includes('stated') || said.includes('currenc'));
    expect(stated('4.00 EUR')).toEqual([]);
    expect(stated('4.00 USD')).not.toEqual([]);
  });

  test.each(['48 XYZ', '48 coins', '48', '-1 EUR'])('%s is no price', (price) => {
    expect(judge(trial(BLACK.replace('48.00 EUR', `"${price}"`))).code).toBe(3);
  });
});

test('candidate and reference side by side: 4 EUR against 1000 × 50 / 9600 = 5.208 EUR', () => {
  // 8000 pages of the reference at 6 % are 9600 at 5 %.
  const text = trial(
    BLACK,
    'reference: {meter: {start: 0, end: 10000}, cartridges: [{slot: black, exhausted_at: 8000, price: 50 EUR}]}',
  );
  const { out } = run(['verdict', 'trial.yaml'], { 'trial.yaml': text });
  expect(out.slice(out.indexOf('CANDIDATE AND REFERENCE'))).toMatch(
    /cost per thousand of black, EUR +4 +5\.208/,
  );
  expect(codes(text)).not.toContain('currencies-differ');
});
