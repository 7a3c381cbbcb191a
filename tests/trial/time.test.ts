import { describe, expect, test } from 'vitest';
import { isAfter, readTime, type Time } from '../../src/trial/time.ts';

/*
 * ISO 8601-1 dates and date-times in the extended format (from memory). Seconds since 1970 computed with
 * Python 3.11 datetime: civil times as if in UTC, offset times in UTC.
 */

function read(text: string): Time {
  const outcome = readTime(text);
  if ('fault' in outcome) throw new Error(`${text}: ${outcome.fault.code}`);
  return outcome.value;
}

describe('accepted', () => {
  test.each<[text: string, kind: Time['kind'], seconds: number]>([
    ['2026-03-09', 'date', 1773014400],
    ['2026-03-09T14:30', 'civil', 1773066600],
    ['2026-03-09T14:30:15', 'civil', 1773066615],
    ['2026-03-09T14:30:15.250', 'civil', 1773066615.25],
    ['2026-03-09T14:30Z', 'offset', 1773066600],
    ['2026-03-09T14:30+00:00', 'offset', 1773066600],
    ['2026-03-09T14:30+01:00', 'offset', 1773063000],
    ['2026-03-09T14:30-05:30', 'offset', 1773086400],
    ['2026-03-09T14:30:15+01:00', 'offset', 1773063015],
    ['2028-02-29', 'date', 1835395200],
    ['2026-03-09T00:00', 'civil', 1773014400],
  ])('%s', (text, kind, seconds) => {
    expect(read(text)).toEqual({ text, kind, day: text.slice(0, 10), seconds });
  });

  test('offsets that are in use, from −12:00 to +14:00 (from memory)', () => {
    for (const offset of ['-12:00', '-03:30', '+05:45', '+12:45', '+14:00']) {
      expect(read(`2026-03-09T14:30${offset}`).kind).toBe('offset');
    }
  });

  test('space around it does not count', () => {
    expect(read(' 2026-03-09 ').text).toBe('2026-03-09');
  });
});

describe('not a time as ISO 8601 writes it', () => {
  test.each([
    '',
    'yesterday',
    '20260309',
    '2026-03',
    '2026',
    '2026-W11-1',
    '2026-03-09T14',
    '2026-03-09T1430',
    '2026-03-09T14:30:',
    '2026-03-09T14:30:15.',
    '2026-03-09T14:30+1',
    '2026-03-09T14:30 CET',
    '2026-03-09Z',
    '1773014400',
    '2026-03-09T14:30Z extra',
  ])('%s', (text) => {
    expect(readTime(text)).toEqual({ fault: { code: 'not-a-time', written: text, readings: [] } });
  });
});

describe('typed otherwise, where it can mean one time only', () => {
  test.each([
    ['2026-3-9', '2026-03-09'],
    ['2026/03/09', '2026-03-09'],
    ['2026-03-09 14:30', '2026-03-09T14:30'],
    ['2026-03-09 9:05', '2026-03-09T09:05'],
    ['2026-03-09T9:30', '2026-03-09T09:30'],
    ['2026-03-09T14:30+0100', '2026-03-09T14:30+01:00'],
    ['2026-03-09T2:30 pm', '2026-03-09T14:30'],
  ])('%s is %s', (typed, text) => {
    expect(read(typed)).toEqual({ ...read(text), typed });
  });
});

describe('a day that ends with its year', () => {
  test.each([
    ['12.09.2026', ['2026-09-12', '2026-12-09']],
    ['09/12/2026', ['2026-12-09', '2026-09-12']],
    ['9.3.2026 9:05', ['2026-03-09T09:05', '2026-09-03T09:05']],
    ['13.09.2026', ['2026-09-13']],
    ['05-05-2026', ['2026-05-05']],
  ])('%s can be %j', (written, readings) => {
    expect(readTime(written)).toEqual({ fault: { code: 'not-a-time', written, readings } });
  });
});

describe('no such time', () => {
  test.each([
    '2026-02-29',
    '2026-02-30',
    '1900-02-29',
    '2026-04-31',
    '2026-13-01',
    '2026-00-10',
    '2026-03-00',
    '2026-03-32',
    '0000-01-01',
    '2026-03-09T24:00',
    '2026-03-09T25:00',
    '2026-03-09T14:60',
    '2026-03-09T14:30:61',
    '2026-03-09T14:30+15:00',
    '2026-03-09T14:30+24:00',
    '2026-03-09T14:30-99:00',
  ])('%s', (text) => {
    expect(readTime(text)).toEqual({ fault: { code: 'no-such-time', written: text } });
  });

  test('an hour has sixty minutes in an offset too', () => {
    for (const text of ['2026-03-09T14:30+01:60', '2026-03-09T14:30+01:75', '2026-03-09T14:30-00:99']) {
      expect(readTime(text)).toEqual({ fault: { code: 'no-such-time', written: text } });
    }
  });
});

describe('which is later', () => {
  test.each<[a: string, b: string, after: boolean]>([
    ['2026-03-10', '2026-03-09', true],
    ['2026-03-09', '2026-03-09', false],
    ['2026-03-09', '2026-03-10', false],
    ['2026-03-09T14:31', '2026-03-09T14:30', true],
    ['2026-03-09T14:30', '2026-03-09T14:30', false],
    ['2026-03-09T14:30:01', '2026-03-09T14:30', true],
    // A date covers its whole day: nothing on that day is surely after it, or before.
    ['2026-03-09T23:59', '2026-03-09', false],
    ['2026-03-09', '2026-03-09T00:00', false],
    ['2026-03-10T00:00', '2026-03-09', true],
    // Offsets: the instant counts, not the clock on the wall.
    ['2026-03-09T14:30+01:00', '2026-03-09T14:00Z', false],
    ['2026-03-09T14:30-01:00', '2026-03-09T15:00Z', true],
    ['2026-03-09T23:30-02:00', '2026-03-10T01:00Z', true],
  ])('%s after %s: %s', (a, b, after) => {
    expect(isAfter(read(a), read(b))).toBe(after);
  });

  test('civil times do not depend on the zone of the computer', () => {
    const before = process.env['TZ'];
    try {
      for (const zone of ['UTC', 'Pacific/Auckland', 'America/St_Johns']) {
        process.env['TZ'] = zone;
        expect(read('2026-03-29T02:30').seconds).toBe(1774751400);
        expect(read('2026-03-09').seconds).toBe(1773014400);
      }
    } finally {
      if (before === undefined) delete process.env['TZ'];
      else process.env['TZ'] = before;
    }
  });
});
