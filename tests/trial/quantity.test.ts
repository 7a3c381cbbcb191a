import { describe, expect, test } from 'vitest';
import type { Fault } from '../../src/problems/problem.ts';
import { type Kind, readPrice, readQuantity } from '../../src/trial/quantity.ts';
import { judge } from '../run.ts';

/*
 * Quantities as the format of the trial file agrees them: a number with its unit, or a bare number in the
 * key's own unit. Conversions are checked against their factors in tests/published/units.test.ts.
 */

const GRAM: Kind = { unit: 'g', least: 0 };
const PAGE: Kind = { unit: 'page', whole: true, least: 0 };
const PERCENT: Kind = { unit: '%', least: 0, greatest: 100 };
const CELSIUS: Kind = { unit: '°C', least: -273.15 };
const MILLIMETRE: Kind = { unit: 'mm', least: 0 };
const PLAIN: Kind = { unit: '1' };

function read(text: string, kind: Kind): [value: string, resolution: string] {
  const outcome = readQuantity(text, kind);
  if ('fault' in outcome) throw new Error(`${text}: ${outcome.fault.code}`);
  return [outcome.value.value.toFixed(), outcome.value.resolution.toFixed()];
}

function fault(text: string, kind: Kind): Fault {
  const outcome = readQuantity(text, kind);
  if ('value' in outcome) throw new Error(`${text} was read as ${outcome.value.value.toFixed()}`);
  return outcome.fault;
}

describe('accepted', () => {
  test.each<[text: string, kind: Kind, value: string, resolution: string]>([
    ['948 g', GRAM, '948', '1'],
    ['948.0 g', GRAM, '948', '0.1'],
    ['948', GRAM, '948', '1'],
    ['  948 g ', GRAM, '948', '1'],
    ['948g', GRAM, '948', '1'],
    ['0.948 kg', GRAM, '948', '1'],
    ['948000 mg', GRAM, '948', '0.001'],
    ['0 g', GRAM, '0', '1'],
    ['15000', PAGE, '15000', '1'],
    ['15000 pages', PAGE, '15000', '1'],
    ['1 page', PAGE, '1', '1'],
    ['12.0', PAGE, '12', '0.1'],
    ['1.5e4', PAGE, '15000', '1000'],
    ['5 %', PERCENT, '5', '1'],
    ['5', PERCENT, '5', '1'],
    ['0 %', PERCENT, '0', '1'],
    ['100 %', PERCENT, '100', '1'],
    ['-5.5 °C', CELSIUS, '-5.5', '0.1'],
    ['-273.15', CELSIUS, '-273.15', '0.01'],
    ['80 g/m²', { unit: 'g/m²' }, '80', '1'],
    ['80', { unit: 'g/m²' }, '80', '1'],
    ['12 GU', { unit: 'GU' }, '12', '1'],
    ['1.42', PLAIN, '1.42', '0.01'],
    ['-0.02', PLAIN, '-0.02', '0.01'],
    ['16.7 mg/cm²', { unit: 'mg/cm²' }, '16.7', '0.1'],
  ])('%s', (text, kind, value, resolution) => {
    expect(read(text, kind)).toEqual([value, resolution]);
  });

  test('the text is kept as written, for what is said about it', () => {
    expect(readQuantity(' 0.948 kg ', GRAM)).toMatchObject({ value: { text: '0.948 kg' } });
  });
});

describe('refused: a unit that does not fit', () => {
  const accepted = (text: string, kind: Kind): string[] => {
    const found = fault(text, kind);
    if (found.code !== 'unknown-unit') throw new Error(`${text}: ${found.code}`);
    return found.accepted.toSorted();
  };

  test.each<[kind: Kind, units: readonly string[]]>([
    [GRAM, ['g', 'kg', 'lb', 'mg', 'oz']],
    [MILLIMETRE, ['cm', 'in', 'mm']],
    [CELSIUS, ['C', 'F', 'K', '°C', '°F']],
    [PERCENT, ['%']],
    [{ unit: 'g/m²' }, ['g/m²']],
    [PLAIN, []],
  ])('for $unit it says which do: %j', (kind, units) => {
    expect(accepted('5 stone', kind)).toEqual([...units].toSorted());
  });

  test.each<[text: string, kind: Kind, unit: string]>([
    ['5 stone', GRAM, 'stone'],
    ['5 G', GRAM, 'G'],
    ['5 µg', GRAM, 'µg'],
    ['5 mm', GRAM, 'mm'],
    ['5 g', PAGE, 'g'],
    ['5 °C', PERCENT, '°C'],
    ['5 g', CELSIUS, 'g'],
    ['5 °R', CELSIUS, '°R'],
    ['5 %', PLAIN, '%'],
    ['5 kg/m²', { unit: 'g/m²' }, 'kg/m²'],
    ['0x1F', GRAM, 'x1F'],
    ['0x1F', PLAIN, 'x1F'],
    ['3–4 g', GRAM, '–4 g'],
    ['5 ± 1 g', GRAM, '± 1 g'],
    ['5 constructor', GRAM, 'constructor'],
    ['5 valueOf', GRAM, 'valueOf'],
    ['5 toString', PLAIN, 'toString'],
  ])('%s', (text, kind, unit) => {
    expect(fault(text, kind)).toMatchObject({ code: 'unknown-unit', written: text, unit });
  });
});

describe('refused: a number that cannot be', () => {
  test.each<[text: string, kind: Kind, code: Fault['code']]>([
    ['-5 g', GRAM, 'too-low'],
    ['-0.001 kg', GRAM, 'too-low'],
    ['-1', PAGE, 'too-low'],
    ['-0.1 %', PERCENT, 'too-low'],
    ['100.1 %', PERCENT, 'too-high'],
    ['-273.16 °C', CELSIUS, 'too-low'],
    ['-1 K', CELSIUS, 'too-low'],
    ['-460 °F', CELSIUS, 'too-low'],
    ['1.5', PAGE, 'not-whole'],
    ['1e-3', PAGE, 'not-whole'],
    ['NaN', GRAM, 'not-a-number'],
    ['Infinity', PAGE, 'not-a-number'],
    ['', GRAM, 'not-a-number'],
    ['g', GRAM, 'not-a-number'],
    ['1e999 g', GRAM, 'number-too-large'],
    ['1e999', PAGE, 'number-too-large'],
    ['1e-999 g', GRAM, 'number-too-small'],
    ['1_0 g', GRAM, 'grouped-digits'],
    ['12 480', PAGE, 'grouped-digits'],
    ['5,5 g', GRAM, 'comma'],
    [`0.${'1'.repeat(60)} g`, GRAM, 'too-many-digits'],
  ])('%s', (text, kind, code) => {
    expect(fault(text, kind).code).toBe(code);
  });

  test('the limit passed is named in the key’s own unit', () => {
    expect(fault('-1 kg', GRAM)).toEqual({ code: 'too-low', written: '-1 kg', least: 0, unit: 'g' });
    expect(fault('101', PERCENT)).toEqual({ code: 'too-high', written: '101', greatest: 100, unit: '%' });
  });

  test('what to write instead is named with its unit', () => {
    expect(fault('640,5 g', GRAM)).toMatchObject({ write: ['640.5 g'] });
    expect(fault('112 480', PAGE)).toMatchObject({ write: ['112480'] });
  });
});

describe('a price', () => {
  test.each([
    ['41.50 EUR', '41.5', 'EUR'],
    ['41.50EUR', '41.5', 'EUR'],
    ['0 JPY', '0', 'JPY'],
    ['  7 GBP ', '7', 'GBP'],
  ])('%s', (text, amount, currency) => {
    const outcome = readPrice(text);
    if ('fault' in outcome) throw new Error(outcome.fault.code);
    expect([outcome.value.amount.toFixed(), outcome.value.currency]).toEqual([amount, currency]);
  });

  test.each<[text: string, fault: object]>([
    ['41.50', { code: 'unknown-currency', currency: '' }],
    ['41.50 $', { code: 'unknown-currency', currency: '$', write: ['41.50 USD', '41.50 CAD', '41.50 AUD'] }],
    ['41.50 £', { code: 'unknown-currency', currency: '£', write: ['41.50 GBP'] }],
    ['41,50 €', { code: 'comma', write: ['41.50 EUR'] }],
    ['41,50 EUR', { code: 'comma', write: ['41.50 EUR'] }],
    ['1 250 EUR', { code: 'grouped-digits', write: ['1250 EUR'] }],
    ['-1 EUR', { code: 'too-low', least: 0 }],
    ['about 41.50', { code: 'not-a-number' }],
    ['1e999 EUR', { code: 'number-too-large' }],
  ])('%s is refused', (text, expected) => {
    expect(readPrice(text)).toMatchObject({ fault: expected });
  });
});

describe('typed as people type', () => {
  test.each([
    ['815 grams', GRAM, '815 g', '815'],
    ['0.815 Kilograms', GRAM, '0.815 kg', '815'],
    ['21 degrees', CELSIUS, '21 °C', '21'],
    ['21º', CELSIUS, '21 °C', '21'],
    ['21 ºC', CELSIUS, '21 °C', '21'],
    ['21°', CELSIUS, '21 °C', '21'],
    ['72.5 degrees F', CELSIUS, '72.5 °F', '22.5'],
    ['30 percent', PERCENT, '30 %', '30'],
    ['45 %RH', PERCENT, '45 %', '45'],
    ['45 % RH', PERCENT, '45 %', '45'],
    ['80 g/m2', { unit: 'g/m²' }, '80 g/m²', '80'],
  ])('%s', (text, kind, write, value) => {
    const outcome = readQuantity(text, kind);
    if ('fault' in outcome) throw new Error(outcome.fault.code);
    expect([outcome.value.write, outcome.value.value.toFixed()]).toEqual([write, value]);
  });

  test.each([
    ['41.50 €', '41.50 EUR'],
    ['41.50 eur', '41.50 EUR'],
    ['€ 41.50', '41.50 EUR'],
    ['EUR 41.50', '41.50 EUR'],
  ])('%s', (text, write) => {
    expect(readPrice(text)).toMatchObject({ value: { write, currency: 'EUR' } });
  });

  test.each(['815g', '815 g', '21 °C', '21 C', '30 %', '30'])('%s is as it should be', (text) => {
    const outcome = [GRAM, CELSIUS, PERCENT]
      .map((kind) => readQuantity(text, kind))
      .find((one) => 'value' in one);
    expect(outcome).not.toHaveProperty('value.write');
  });

  test('what is no unit of the key is refused, in whichever letters', () => {
    expect(fault('21 degrees', GRAM).code).toBe('unknown-unit');
    expect(fault('12 Mg', GRAM).code).toBe('unknown-unit');
  });
});

describe('in a trial file', () => {
  const trial = (line: string): string =>
    `trial: Ferry Lane lot 3, machine Teal\nmeter: {start: 1000, end: 2000}\n${line}\n`;

  test.each<[line: string, code: string, says: string]>([
    ['waste_container: {tare: "640,5 g"}', 'comma', '640.5 g'],
    ['waste_container: {tare: 640 stone}', 'unknown-unit', 'oz'],
    ['waste_container: {tare: -5 g}', 'too-low', '-5 g'],
    ['waste_container: {tare: 0x1F}', 'unknown-unit', 'g'],
    ['waste_container: {tare: 6_40 g}', 'grouped-digits', '640 g'],
    ['waste_container: {tare: .nan}', 'not-a-number', '.nan'],
    ['waste_container: {tare: .inf}', 'not-a-number', '.inf'],
    ['waste_container: {tare: 1e999}', 'number-too-large', '10^12'],
    ['coverage: 101 %', 'too-high', '100'],
    ['duplex_share: -1 %', 'too-low', '-1 %'],
    ['ambient: [{temperature: "-5,5 °C"}]', 'comma', '-5.5 °C'],
  ])('%s makes the file invalid, and says how to write it', (line, code, says) => {
    const { verdict, code: exit, figures, notes } = judge(trial(line));
    expect([verdict, exit, figures.length]).toEqual(['invalid', 3, 0]);
    const note = notes.find((one) => one.code === code);
    expect(note).toMatchObject({ kind: 'error', line: 3 });
    expect(note?.message).toContain(says);
  });

  test('inside braces a decimal comma splits off a stray key, and that is what is said', () => {
    const { verdict, notes } = judge(trial('waste_container: {tare: 640,5 g, final: 948 g}'));
    expect(verdict).toBe('invalid');
    expect(notes).toHaveLength(1);
    expect(notes[0]?.message).toMatch(/comma/);
    expect(notes[0]?.message).toContain('640.5 g');
  });
});
