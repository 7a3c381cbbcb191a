import { describe, expect, test } from 'vitest';
import { DayEvidence, isoTime, readingsOfDay } from '../../../src/trial/days.ts';
import { DecimalEvidence, plainNumber } from '../../../src/trial/table/decimals.ts';
import { columnsOf, headingOf } from '../../../src/trial/table/headings.ts';

/* How people and programs write numbers, days and headings; what each means is told by whoever wrote it. */

describe('the decimal mark', () => {
  const markOf = (...cells: string[]) => {
    const evidence = new DecimalEvidence<number>();
    cells.forEach((cell, index) => evidence.add(cell, index));
    return evidence.mark;
  };

  test.each([
    [['22,5', '23'], 'comma'],
    [['22.5', '23'], 'point'],
    [['22', '23'], 'point'],
    // Three digits behind a comma are thousands or decimals; another row tells.
    [['43,903', '22,5'], 'comma'],
    [['43,903', '22.5'], 'point'],
    [['43.903', '22,5'], 'comma'],
    [['1.234,5'], 'comma'],
    [['1,234.5'], 'point'],
    [['1,234,567'], 'point'],
    [['0,903'], 'comma'],
    [['22,5 °C', '-3'], 'comma'],
  ])('%j: %s', (cells, mark) => {
    expect(markOf(...cells)).toEqual({ mark });
  });

  test('is asked for where no row tells, and refused where two rows differ', () => {
    expect(markOf('12', '43,903')).toEqual({ fault: 'unclear', written: '43,903', where: 1 });
    expect(markOf('22,5', '22.5')).toEqual({ fault: 'mixed', written: '22.5', where: 1 });
  });

  test.each([
    ['22,5', 'comma', '22.5'],
    ['43.903', 'comma', '43903'],
    ['-1.234,50', 'comma', '-1234.50'],
    ['43,903', 'point', '43903'],
    ['43,903', 'comma', '43.903'],
    // What is neither is left for the reader of numbers to refuse.
    ['4,39', 'point', '4,39'],
  ] as const)('%s with a %s: %s', (written, mark, plain) => {
    expect(plainNumber(written, mark)).toBe(plain);
  });
});

describe('the order of a day', () => {
  const orderOf = (...cells: string[]) => {
    const evidence = new DayEvidence<number>();
    cells.forEach((cell, index) => evidence.add(cell, index));
    return evidence.order;
  };

  test.each([
    [['2026-03-09 09:30', '2026-03-10'], null],
    [['2026/03/09'], null],
    [['09.03.2026', '13.03.2026'], 'day_first'],
    [['03/09/2026', '03/13/2026'], 'month_first'],
    [['05/05/2026'], 'day_first'],
    // There is no 30 February.
    [['26.02.28', '30.02.28'], 'year_first'],
  ])('%j: %s', (cells, order) => {
    expect(orderOf(...cells)).toEqual({ order });
  });

  test('is asked for where no row tells, and refused where none fits all', () => {
    expect(orderOf('05.05.2026', '09.03.2026')).toEqual({
      fault: 'unclear',
      written: '09.03.2026',
      where: 1,
    });
    expect(orderOf('13.03.2026', '03.13.2026')).toEqual({ fault: 'mixed', written: '03.13.2026', where: 1 });
    expect(readingsOfDay('12.09.2026')).toEqual(['2026-09-12', '2026-12-09']);
  });

  test.each([
    ['9.3.2026 9:05', '2026-03-09T09:05'],
    ['09.03.2026, 09:05:07,250', '2026-03-09T09:05:07.250'],
    ['09/03/26 12:30 AM', '2026-03-09T00:30'],
    ['09/03/2026 2:30:00 p.m.', '2026-03-09T14:30:00'],
    ['2026-03-09T09:05+0100', '2026-03-09T09:05+01:00'],
    ['2026-03-09 09:05Z', '2026-03-09T09:05Z'],
    ['31.02.2026', null],
    ['09.03.2026 noon', null],
    ['at nine', null],
  ])('%s, day first: %s', (written, iso) => {
    expect(isoTime(written, 'day_first')).toBe(iso);
  });
});

describe('headings', () => {
  test.each([
    ['Temperature (°C)', 'temperature', '°C'],
    ['Temp [F]', 'temp', '°F'],
    ['Temp. deg C', 'temp', '°C'],
    ['T, °C', 't', '°C'],
    ['RH %', 'rh', '%'],
    ['%RH', '', '%'],
    ['rel. Feuchte/%', 'rel feuchte', '%'],
    ['Humidité relative', 'humidite relative', null],
    ['container mass (kg)', 'container mass', 'kg'],
    // A unit is set apart: this is no "ta" in grams.
    ['Tag', 'tag', null],
    ['Logging', 'logging', null],
  ])('%s', (text, words, unit) => {
    expect(headingOf(text)).toEqual({ text, words, unit });
  });

  const KEYS = ['at', 'temperature', 'humidity'];
  const columns = (
    headings: readonly string[],
    named: Readonly<Record<string, string[]>> = {},
    keys = KEYS,
  ) => {
    const found = columnsOf(headings.map(headingOf), keys, new Map(Object.entries(named)));
    return {
      ...Object.fromEntries(found.columns),
      ...(found.faults.length > 0 ? { faults: found.faults } : {}),
    };
  };

  test('are found by common words, a day and a clock together', () => {
    expect(columns(['No.', 'Time', 'Temp (°C)', 'RH %', 'Dew point'])).toEqual({
      at: [1],
      temperature: [2],
      humidity: [3],
    });
    expect(columns(['Datum', 'Uhrzeit', 'Temperatur', 'Luftfeuchte'])).toEqual({
      at: [0, 1],
      temperature: [2],
      humidity: [3],
    });
    expect(columns(['Date', 'Time', 'Temp'])).toEqual({ at: [0, 1], temperature: [2] });
  });

  test('are named where words do not tell', () => {
    expect(columns(['Time', 'T1 (°C)', 'T2 (°C)'], { temperature: ['T1'] })).toEqual({
      at: [0],
      temperature: [1],
    });
    expect(columns(['Time', 'Temp', 'Temperature'])).toEqual({
      at: [0],
      faults: [{ fault: 'twice', key: 'temperature', headings: ['Temp', 'Temperature'] }],
    });
    expect(columns(['Time', 'T1'], { temperature: ['T3'] })).toMatchObject({
      faults: [{ fault: 'not-there', key: 'temperature', heading: 'T3' }],
    });
  });

  test('name a map by its key and a point', () => {
    const keys = ['end', 'cartridge_mass'];
    expect(columns(['meter', 'cartridge_mass.black'], {}, keys)).toEqual({
      end: [0],
      'cartridge_mass.black': [1],
    });
  });
});
