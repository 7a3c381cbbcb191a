import { describe, expect, test } from 'vitest';
import { timeOf, trendOf, type TrendPoint, trendPoint } from '../../src/pool/trend.ts';
import { assessed } from '../assessed.ts';

/* A figure over trials: which value of a trial it is, of which day, and in which order they stand. All invented. */

const HEAD = '{title: Weir Street lot 6, started: 2026-03-02T08:30}';

const trial = (more: string, head = HEAD): string => `trial: ${head}
meter: {start: 30000, end: 42000}
coverage: 5 %
${more}`;

const AIR =
  'ambient: [{at: 2026-03-02T09:00, temperature: 21}, {at: 2026-03-02T11:00, temperature: 22}, {at: 2026-03-02T12:00, temperature: 26}]\n';

describe('the value of a trial', () => {
  const value = (more: string, figure: string, of: string | null = null) =>
    trendPoint(assessed(trial(more)), figure, of)?.value;

  test('is the figure itself', () => {
    expect(value('', 'pages')).toBe(12000);
  });

  test('is of readings their mean over the hours: 21 to 22 for two, 22 to 26 for one', () => {
    // (21.5 × 2 + 24 × 1) / 3 = 22.3333.
    expect(value(AIR, 'temperature')).toBeCloseTo(67 / 3, 9);
  });

  test('is of cartridges that of the slot asked for, of the whole where there is one, else the least', () => {
    const two =
      'cartridges: [{slot: black, exhausted_at: 41000, start_mass: 900, end_mass: 700}, {slot: cyan, exhausted_at: 40000, start_mass: 900, end_mass: 800}]\n';
    expect(value(two, 'yield_at_reference', 'black')).toBe(11000);
    expect(value(two, 'yield_at_reference', 'cyan')).toBe(10000);
    expect(value(two, 'yield_at_reference')).toBe(10000);
    expect(value(two, 'toner_used')).toBe(300);
    // Of neither there is one value: the first.
    expect(value(two, 'yield')).toBe(11000);
    expect(value(two, 'yield', 'magenta')).toBeUndefined();
  });

  test('is none where it is not derived, or there is no such figure', () => {
    expect(value('', 'waste_per_thousand')).toBeUndefined();
    expect(value('', 'no_such_figure')).toBeUndefined();
  });

  test('says when it is only a bound, and in which unit', () => {
    const point = trendPoint(assessed(trial('cartridges: [{slot: black}]\n')), 'yield', 'black');
    expect(point).toMatchObject({ bound: 'at_least', unit: 'page', file: 'trial.yaml' });
    expect(trendPoint(assessed(trial('')), 'pages', null)).toMatchObject({ bound: 'exact' });
  });

  test('stands beside what was agreed of it, each edge as far as it was', () => {
    const agreed = (limits: string, figure = 'pages') =>
      trendPoint(assessed(trial(`${AIR}limits: {${limits}}\n`)), figure, null)?.agreed;
    expect(agreed('pages: {min: 9000}')).toEqual({ min: 9000, max: null });
    expect(agreed('pages: {min: 9000, max: 13000}')).toEqual({ min: 9000, max: 13000 });
    expect(agreed('temperature: {max: 26}')).toBeNull();
    // What is agreed of the mean, where that is followed.
    expect(agreed('temperature: {max: 26, stat: greatest}', 'temperature')).toBeNull();
    expect(agreed('temperature: {max: 24, stat: mean}', 'temperature')).toEqual({ min: null, max: 24 });
  });
});

describe('the day of a trial', () => {
  const day = (head: string, more = '') => timeOf(assessed(trial(more, head)))?.day;
  const batches = (times: string): string => `batches: [{end: 34000}, {end: 38000, ${times}}]\n`;

  test('is when it began, else ended, else when its first batch did, else its first dated reading', () => {
    const ended = '{title: T, finished: 2026-03-05}';
    expect(day('{title: T, started: 2026-03-02, finished: 2026-03-05}')).toBe('2026-03-02');
    expect(day(ended, batches('started: 2026-03-04T09:00'))).toBe('2026-03-05');
    expect(day('T', `${batches('started: 2026-03-04T09:00, finished: 2026-03-04T12:00')}${AIR}`)).toBe(
      '2026-03-04',
    );
    expect(day('T', `${batches('finished: 2026-03-06T09:00')}${AIR}`)).toBe('2026-03-06');
    expect(day('T', AIR)).toBe('2026-03-02');
    expect(day('T')).toBeUndefined();
  });

  test('comes with the time on it', () => {
    const seconds = (head: string) => trendPoint(assessed(trial('', head)), 'pages', null);
    const [early, late] = ['08:30', '09:30'].map((time) =>
      seconds(`{title: T, started: 2026-03-02T${time}}`),
    );
    expect((late?.seconds ?? 0) - (early?.seconds ?? 0)).toBe(3600);
    expect(seconds('T')).toMatchObject({ day: null, seconds: 0 });
  });
});

describe('points over time', () => {
  const point = (
    file: string,
    day: string | null,
    value: number,
    over: Partial<TrendPoint> = {},
  ): TrendPoint => ({
    file,
    day,
    seconds: 0,
    value,
    bound: 'exact',
    unit: 'page',
    agreed: null,
    ...over,
  });

  test('stand in the order of their days, then of the time on them; those without a day at the end as they came', () => {
    const points = [
      point('f', null, 1),
      point('d', '2026-02-03', 1, { seconds: 200 }),
      point('b', '2026-01-20', 1),
      point('e', '2026-11-01', 1),
      point('c', '2026-02-03', 1, { seconds: 100 }),
      point('g', null, 1),
      point('a', '2025-12-31', 1),
    ];
    expect(trendOf('yield', null, points).points.map(({ file }) => file)).toEqual([
      'a',
      'b',
      'c',
      'd',
      'e',
      'f',
      'g',
    ]);
  });

  test('a bound keeps its place, and counts in neither centre nor limits', () => {
    const trend = trendOf('yield', 'black', [
      point('a', '2026-01-01', 10),
      point('b', '2026-01-02', 99, { bound: 'at_least' }),
      point('c', '2026-01-03', 14),
    ]);
    expect([trend.figure, trend.of]).toEqual(['yield', 'black']);
    expect(trend.chart?.centre).toBe(12);
    expect(trend.points.map(({ file, charted }) => [file, charted === null])).toEqual([
      ['a', false],
      ['b', true],
      ['c', false],
    ]);
    // The third is the second of the chart: it moved by 4.
    expect(trend.points[2]?.charted).toBe(trend.chart?.points[1]);
  });

  test('two make a chart, one does not', () => {
    const [one, other] = [point('a', '2026-01-01', 10), point('b', '2026-01-02', 12)];
    expect(trendOf('yield', null, [one, other]).chart).not.toBeNull();
    expect(trendOf('yield', null, [one]).chart).toBeNull();
    expect(trendOf('yield', null, [one]).points).toEqual([{ ...one, charted: null }]);
  });
});
