import { describe, expect, test } from 'vitest';
import currencies from '../../shared/currencies.json' with { type: 'json' };
import { type Kind, type Quantity, readPrice, readQuantity } from '../../src/trial/quantity.ts';

/*
 * Conversion factors. The pound is 0.453 592 37 kg exactly, the ounce a sixteenth of it, the inch 25.4 mm
 * exactly (NIST SP 811, appendix B.8; from memory). t/°C = (t/°F − 32) × 5/9, t/°C = T/K − 273.15, both
 * exact (NIST SP 811, B.8; from memory). Everything else worked by hand from these.
 */

const GRAM: Kind = { unit: 'g' };
const MILLIGRAM: Kind = { unit: 'mg' };
const MILLIMETRE: Kind = { unit: 'mm' };
const CELSIUS: Kind = { unit: '°C' };

function read(text: string, kind: Kind): Quantity {
  const outcome = readQuantity(text, kind);
  if ('fault' in outcome) throw new Error(`${text}: ${outcome.fault.code}`);
  return outcome.value;
}

const value = (text: string, kind: Kind): string => read(text, kind).value.toFixed();
const resolution = (text: string, kind: Kind): string => read(text, kind).resolution.toFixed();

describe('mass', () => {
  test.each([
    ['1 g', '1'],
    ['1000 mg', '1'],
    ['0.948 kg', '948'],
    ['1 lb', '453.59237'],
    ['1 oz', '28.349523125'],
    ['16 oz', '453.59237'],
    ['2.5 lb', '1133.980925'],
    ['948', '948'],
  ])('%s is %s g', (text, grams) => {
    expect(value(text, GRAM)).toBe(grams);
  });

  test.each([
    ['3 mg', '3'],
    ['0.003 g', '3'],
    ['0.000003 kg', '3'],
    ['1 oz', '28349.523125'],
    ['3', '3'],
  ])('%s is %s mg', (text, milligrams) => {
    expect(value(text, MILLIGRAM)).toBe(milligrams);
  });
});

describe('length', () => {
  test.each([
    ['1 in', '25.4'],
    ['8.5 in', '215.9'],
    ['11 in', '279.4'],
    ['14 in', '355.6'],
    ['21 cm', '210'],
    ['297 mm', '297'],
  ])('%s is %s mm', (text, millimetres) => {
    expect(value(text, MILLIMETRE)).toBe(millimetres);
  });
});

describe('temperature', () => {
  test.each([
    ['22.5 °C', '22.5'],
    ['22.5 C', '22.5'],
    ['72.5 °F', '22.5'],
    ['72.5 F', '22.5'],
    ['295.65 K', '22.5'],
    ['32 °F', '0'],
    ['212 °F', '100'],
    ['-40 °F', '-40'],
    ['273.15 K', '0'],
    ['0 K', '-273.15'],
    ['-459.67 °F', '-273.15'],
  ])('%s is %s °C, exactly', (text, celsius) => {
    expect(value(text, CELSIUS)).toBe(celsius);
  });

  test('71 °F is 21 2/3 °C, which no decimal holds: 34 digits of it', () => {
    const { value: celsius } = read('71 °F', CELSIUS);
    expect(celsius.times(3).minus(65).abs().lt('1e-30')).toBe(true);
    expect(celsius.toFixed(10)).toBe('21.6666666667');
  });

  test('a step is not a point: an error of 1 °F is 5/9 °C, one of 1 K is 1 °C', () => {
    const step: Kind = { unit: '°C', difference: true };
    expect(read('1 °F', step).value.times(9).minus(5).abs().lt('1e-30')).toBe(true);
    expect(value('0.9 °F', step)).toBe('0.5');
    expect(value('1 K', step)).toBe('1');
    expect(value('0.5 °C', step)).toBe('0.5');
  });
});

describe('resolution is carried over without the zero of the scale', () => {
  test.each([
    ['948 g', GRAM, '1'],
    ['948.0 g', GRAM, '0.1'],
    ['0.948 kg', GRAM, '1'],
    ['0.9480 kg', GRAM, '0.1'],
    ['33.4 oz', GRAM, '2.8349523125'],
    ['2 lb', GRAM, '453.59237'],
    ['8.5 in', MILLIMETRE, '2.54'],
    ['21.0 cm', MILLIMETRE, '1'],
    ['22.5 °C', CELSIUS, '0.1'],
    ['295.65 K', CELSIUS, '0.01'],
    ['72.9 °F', { unit: '°C', difference: true }, '0.0555555556'],
    ['72.5 °F', CELSIUS, '0.0555555556'],
    ['71 °F', CELSIUS, '0.5555555556'],
  ] as const)('%s', (text, kind, expected) => {
    const found = read(text, kind).resolution;
    expect(expected.length > 11 ? found.toFixed(10) : resolution(text, kind)).toBe(expected);
  });
});

describe('ISO 4217', () => {
  const { codes } = currencies;

  test('every code is three capital letters, once, in order', () => {
    for (const code of codes) expect(code).toMatch(/^[A-Z]{3}$/);
    expect(codes).toEqual([...new Set(codes)].toSorted());
  });

  test('every code is a currency of the CLDR data that Node ships', () => {
    const known = new Set(Intl.supportedValuesOf('currency'));
    expect(codes.filter((code) => !known.has(code))).toEqual([]);
  });

  // From memory: in use, and no longer or never money one pays with.
  test.each(['EUR', 'USD', 'GBP', 'CHF', 'JPY', 'CNY', 'INR', 'XOF', 'XAF', 'XPF', 'XCD', 'SLE', 'VES'])(
    '%s is among them',
    (code) => {
      expect(codes).toContain(code);
    },
  );
  test.each(['DEM', 'FRF', 'HRK', 'SLL', 'ZWL', 'XDR', 'XAU', 'XTS', 'XXX', 'CHE', 'CLF'])(
    '%s is not',
    (code) => {
      expect(codes).not.toContain(code);
    },
  );

  test('a price takes each of them, and nothing else', () => {
    for (const code of codes) {
      const outcome = readPrice(`41.50 ${code}`);
      if ('fault' in outcome) throw new Error(code);
      expect([outcome.value.amount.toFixed(), outcome.value.currency]).toEqual(['41.5', code]);
    }
    for (const text of ['41.50', '41.50 DEM', '41.50 E', '41.50 constructor']) {
      expect(readPrice(text)).toMatchObject({ fault: { code: 'unknown-currency' } });
    }
  });
});
