import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readNumber, type Written } from '../../src/trial/number.ts';
import type { Fault } from '../../src/problems/problem.ts';

/*
 * How numbers are written in a trial file: digits with a point, an exponent if need be, and a unit behind.
 * Expected values follow from the digits as written; what a slip was meant to say is common practice, no
 * source.
 */

function read(text: string): Written {
  const outcome = readNumber(text);
  if ('fault' in outcome) throw new Error(`${text}: ${outcome.fault.code}`);
  return outcome.value;
}

function fault(text: string): Fault {
  const outcome = readNumber(text);
  if ('value' in outcome) throw new Error(`${text} was read as ${outcome.value.value.toFixed()}`);
  return outcome.fault;
}

/** What a refusal says to write instead. */
function suggestions(text: string): readonly string[] {
  const found = fault(text);
  return 'write' in found && Array.isArray(found.write) ? (found.write as readonly string[]) : [];
}

describe('a number as written', () => {
  test.each([
    ['948', '948', '1'],
    ['948.0', '948', '0.1'],
    ['948.00', '948', '0.01'],
    ['0.948', '0.948', '0.001'],
    ['012', '12', '1'],
    ['5.', '5', '1'],
    ['.5', '0.5', '0.1'],
    ['+5', '5', '1'],
    ['-5.5', '-5.5', '0.1'],
    ['-.5', '-0.5', '0.1'],
    ['0', '0', '1'],
    ['0.000', '0', '0.001'],
    ['-0', '0', '1'],
    ['-0.0', '0', '0.1'],
    ['1e3', '1000', '1000'],
    ['1E3', '1000', '1000'],
    ['1e+3', '1000', '1000'],
    ['1.5e3', '1500', '100'],
    ['1500e-3', '1.5', '0.001'],
    ['0.1', '0.1', '0.1'],
    ['1e12', '1000000000000', '1000000000000'],
    ['1000000000000', '1000000000000', '1'],
    ['-1000000000000', '-1000000000000', '1'],
    ['0.000000000001', '0.000000000001', '0.000000000001'],
    ['1500.50', '1500.5', '0.01'],
    // More than a double holds: no digit is lost.
    ['123456789012.123456789012345', '123456789012.123456789012345', '0.000000000000001'],
  ])('%s has the value %s and the resolution %s', (text, value, resolution) => {
    const written = read(text);
    expect(written.value.toFixed()).toBe(value);
    expect(written.resolution.toFixed()).toBe(resolution);
    expect(written.rest).toBe('');
    // Zero has no sign.
    expect(written.value.isNegative()).toBe(value.startsWith('-'));
  });

  test.each([
    ['948 g', '948', 'g'],
    ['948g', '948', 'g'],
    ['948   g', '948', 'g'],
    ['5 %', '5', '%'],
    ['5%', '5', '%'],
    ['80 g/m²', '80', 'g/m²'],
    ['22.5 °C', '22.5', '°C'],
    ['41.50 EUR', '41.5', 'EUR'],
    // An e without digits behind it is no exponent.
    ['5 e', '5', 'e'],
    ['5e', '5', 'e'],
  ])('%s: what stands behind the number is its unit', (text, value, rest) => {
    const written = read(text);
    expect([written.value.toFixed(), written.rest]).toEqual([value, rest]);
  });

  test('any digits: the value they say, and one unit of the last as resolution', () => {
    fc.assert(
      fc.property(
        fc.boolean(),
        fc.integer({ min: 0, max: 999_999_999 }),
        fc.array(fc.nat(9), { maxLength: 12 }),
        (negative, whole, decimals) => {
          const digits = decimals.join('');
          const text = `${negative ? '-' : ''}${whole}${digits === '' ? '' : `.${digits}`}`;
          const written = read(text);
          // The digits, read again as one whole number of units of the last place.
          const units = BigInt(`${whole}${digits}`) * (negative ? -1n : 1n);
          const scaled = written.value.div(written.resolution);
          expect(written.resolution.toFixed()).toBe(
            digits.length === 0 ? '1' : `0.${'1'.padStart(digits.length, '0')}`,
          );
          expect(scaled.toFixed()).toBe(units.toString());
        },
      ),
      { seed: 20260309, numRuns: 500 },
    );
  });
});

describe('a comma', () => {
  test.each([
    ['1,5', ['1.5']],
    ['0,5 %', ['0.5 %']],
    ['22,5 °C', ['22.5 °C']],
    ['1,5g', ['1.5 g']],
    ['80,0 g/m²', ['80.0 g/m²']],
    ['41,50 EUR', ['41.50 EUR']],
    ['12,34', ['12.34']],
    ['1,2345', ['1.2345']],
    // No thousands are counted from a zero: these are decimals.
    ['0,948 kg', ['0.948 kg']],
    ['0,500', ['0.500']],
    // Three digits behind one comma can be meant either way.
    ['12,500', ['12.500', '12500']],
    ['1,234,567', ['1234567']],
    ['1,234.5 g', ['1234.5 g']],
    ['1.234,5 g', ['1234.5 g']],
    ['1.234.567,5', ['1234567.5']],
    ['1,234,567.5', ['1234567.5']],
    ['12 345,6 g', ['12345.6 g']],
    ["12'345,6 g", ['12345.6 g']],
  ])('%s is refused; write %j', (text, write) => {
    expect(fault(text)).toEqual({ code: 'comma', written: text, write });
  });

  test('commas that group stay groups where three decimals follow a point: 1,234,567.891', () => {
    expect(fault('1,234,567.891 kg').code).toBe('comma');
    expect(suggestions('1,234,567.891 kg')).toEqual(['1234567.891 kg']);
  });

  test('the sign is kept: −1,5 °C is not 1.5 °C', () => {
    expect(suggestions('-1,5 °C')).toEqual(['-1.5 °C']);
    expect(suggestions('-1,234.5')).toEqual(['-1234.5']);
  });

  test('an exponent is kept', () => {
    expect(suggestions('1,5e3')).toEqual(['1.5e3']);
  });

  test('after the number or before it: refused', () => {
    for (const text of ['5,', ',5', '5, g', '1,,5']) expect(readNumber(text)).toHaveProperty('fault');
  });
});

describe('digits set apart', () => {
  test.each([
    ['1 000', ['1000']],
    ['1 000 g', ['1000 g']],
    ['12 345 678', ['12345678']],
    ["1'000", ['1000']],
    ['1’000 g', ['1000 g']],
    ['1_000', ['1000']],
    ['1_0', ['10']],
    ['1.234.567', ['1234567']],
    ['1\u00a0000', ['1000']],
    ['1\u202f000 g', ['1000 g']],
  ])('%s is refused; write %j', (text, write) => {
    expect(fault(text)).toEqual({ code: 'grouped-digits', written: text, write });
  });

  test.each([
    ["1'234.50 g", '1234.50 g'],
    ['1 234.5 g', '1234.5 g'],
    ['12 345.6 g', '12345.6 g'],
    ['1_234.5', '1234.5'],
  ])('the point of %s stays a point; write %s', (text, write) => {
    expect(fault(text).code).toBe('grouped-digits');
    expect(suggestions(text)).toEqual([write]);
  });

  test('the sign is kept: −1 000 is not 1000', () => {
    expect(suggestions('-1 000')).toEqual(['-1000']);
  });
});

describe('not a number', () => {
  test.each(['NaN', 'nan', '.nan', 'Infinity', '-Infinity', '+Infinity', 'inf', '.inf', '-.inf'])(
    '%s is refused',
    (text) => {
      expect(fault(text)).toEqual({ code: 'not-a-number', written: text });
    },
  );

  test.each([
    '',
    ' ',
    'g',
    'about 5',
    '~5 g',
    '<5',
    '.',
    '-',
    '+',
    '--5',
    '+-5',
    '- 5',
    'e5',
    '.e5',
    '٣',
    '½',
  ])('"%s" is refused', (text) => {
    expect(fault(text)).toEqual({ code: 'not-a-number', written: text });
  });

  test.each(['0x1F', '0b101', '0o17'])(
    '%s: no prefix of another base; it is 0 with a strange unit',
    (text) => {
      const { value, rest } = read(text);
      expect([value.toFixed(), rest]).toEqual(['0', text.slice(1)]);
    },
  );
});

describe('beyond what is read', () => {
  test.each([
    '1e999',
    '-1e999',
    '1e13',
    '1000000000000.1',
    '-1000000000001',
    '9e12',
    '1e99999999999999999999',
  ])('%s is beyond 10^12', (text) => {
    expect(fault(text)).toEqual({ code: 'number-too-large', written: text });
  });

  test.each(['1e-999', '1e-13', '0.0000000000009', '-1e-13', '1e-99999999999999999999'])(
    '%s is closer to zero than 10^-12',
    (text) => {
      expect(fault(text)).toEqual({ code: 'number-too-small', written: text });
    },
  );

  test('zero is zero whatever its exponent', () => {
    for (const text of ['0e999', '0e-999', '0.0e50', '0e5']) expect(read(text).value.toFixed()).toBe('0');
  });

  test.each([`1.${'0'.repeat(40)}`, '0'.repeat(41), `0.${'3'.repeat(1000)}`, '9'.repeat(100_000)])(
    'more digits than any instrument shows',
    (text) => {
      expect(fault(text)).toEqual({ code: 'too-many-digits', written: text });
    },
  );

  test('thirty digits are read, every one of them', () => {
    const whole = '0'.repeat(28);
    expect(read(`${whole}12`).value.toFixed()).toBe('12');
    expect(read('0.12345678901234567890123456789').value.toFixed()).toBe('0.12345678901234567890123456789');
  });
});

describe('what a refusal suggests', () => {
  test('can always be read', () => {
    for (const text of [
      '1,5',
      '-1,5',
      '1,234,567.8',
      '1 000',
      "1'000.5",
      '1_0',
      '1.234,5',
      '12,500 g',
      '1 234,5 kg',
    ]) {
      const write = suggestions(text);
      expect(write.length).toBeGreaterThan(0);
      for (const one of write) expect(readNumber(one)).toHaveProperty('value');
    }
  });

  test('a grouped number with decimals is suggested as what it was', () => {
    const grouping = fc.constantFrom(
      [',', '.'],
      ['.', ','],
      [' ', ','],
      [' ', '.'],
      ["'", '.'],
      ["'", ','],
      ['_', '.'],
    );
    fc.assert(
      fc.property(
        grouping,
        fc.integer({ min: 1_000, max: 999_999_999 }),
        fc.integer({ min: 0, max: 99 }),
        ([mark = '', point = ''], whole, cents) => {
          const grouped = `${whole}`.replace(/\B(?=(\d{3})+$)/g, mark);
          const decimals = `${cents}`.padStart(2, '0');
          expect(suggestions(`${grouped}${point}${decimals} g`)).toEqual([`${whole}.${decimals} g`]);
        },
      ),
      { seed: 20260309, numRuns: 300 },
    );
  });
});
