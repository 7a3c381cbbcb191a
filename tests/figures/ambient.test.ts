import { describe, expect, test } from 'vitest';
import { figure, judge, run } from '../run.ts';

/*
 * The air of a trial over the times of printing. Means are worked by hand beside each test, u with them; the readings
 * are invented.
 */

const trial = (batches: string, ambient: string, more = ''): string => `
trial: Rope Walk lot 51, machine Petrel
meter: {start: 0, end: 4000}
${batches}
ambient: [${ambient}]
limits: {temperature: {stat: mean, max: 25 °C}}
${more}
`;
const at = (time: string, temperature: string): string =>
  `{at: 2026-02-${time}, temperature: ${temperature} °C, humidity: 45 %}`;
const temperature = (text: string, stat: string): string | undefined =>
  figure(text, 'temperature', null, stat)?.value;

const TWO_DAYS =
  'batches: [{end: 2000, started: 2026-02-03T08:00, finished: 2026-02-03T16:00}, {end: 4000, started: 2026-02-04T08:00, finished: 2026-02-04T16:00}]';
/** Two days at 25.25 °C, and the night between them with the heating off. */
const NIGHT = [
  at('03T08:00', '25.2'),
  at('03T16:00', '25.3'),
  at('03T20:00', '17.0'),
  at('04T04:00', '17.0'),
  at('04T08:00', '25.2'),
  at('04T16:00', '25.3'),
].join(', ');

describe('the ambient air while pages are printed', () => {
  test('a cold night between two days of printing does not hide a room that was too warm', () => {
    const text = trial(TWO_DAYS, NIGHT);
    expect(temperature(text, 'mean')).toBe('25.25');
    expect(temperature(text, 'least')).toBe('25.2');
    expect(judge(text).verdict).toBe('inconclusive');
  });

  test('nor does it make the mean uncertain: its scatter is that of the readings while pages were printed', () => {
    // Differences 0.1, −0.1, 0.1: s² = 0.03/6, u² = s²/4; four readings to 0.1 °C, a quarter each: 0.1²/12/4.
    const u = Math.sqrt(0.00125 + 0.01 / 48);
    expect(Number(figure(trial(TWO_DAYS, NIGHT), 'temperature', null, 'mean')?.u)).toBeCloseTo(u, 9);
  });

  test('without times of printing, all of it counts', () => {
    // ∫ = 8 × 25.25 + 4 × 21.15 + 8 × 17 + 4 × 21.1 + 8 × 25.25 = 709 over 32 h.
    expect(temperature(trial('', NIGHT), 'mean')).toBe('22.15625');
    expect(temperature(trial('', NIGHT), 'least')).toBe('17');
  });

  test('where one batch has no time, the whole run does: from started to finished', () => {
    const text = trial('batches: [{end: 2000}, {end: 4000}]', NIGHT).replace(
      'trial: Rope Walk lot 51, machine Petrel',
      'trial: {title: Rope Walk lot 51, started: 2026-02-03T08:00, finished: 2026-02-03T16:00}',
    );
    expect(temperature(text, 'mean')).toBe('25.25');
  });

  test('a reading half an hour before the first page counts, one a minute earlier does not', () => {
    const batch = 'batches: [{end: 4000, started: 2026-02-03T10:00, finished: 2026-02-03T12:00}]';
    const two = (first: string): string => trial(batch, `${at(first, '20.0')}, ${at('03T11:00', '22.0')}`);
    expect(temperature(two('03T09:30'), 'least')).toBe('20');
    expect(temperature(two('03T09:29'), 'least')).toBe('22');
  });

  test('readings of the day alone always count, in a plain mean', () => {
    const text = trial(TWO_DAYS, [at('03', '22.0'), at('03', '24.0'), at('04', '26.0')].join(', '));
    expect(temperature(text, 'greatest')).toBe('26');
  });

  test('readings that all lie outside count, rather than none', () => {
    const text = trial(TWO_DAYS, [at('03T20:00', '17.0'), at('04T04:00', '18.0')].join(', '));
    expect(temperature(text, 'least')).toBe('17');
  });

  test('a batch longer than the readings: the air is as in the last one', () => {
    // From 08:00 to 12:00 the line from 20 to 24, mean 22; from 12:00 to 16:00 as at 12:00, 24.
    const batch = 'batches: [{end: 4000, started: 2026-02-03T08:00, finished: 2026-02-03T16:00}]';
    expect(temperature(trial(batch, `${at('03T08:00', '20.0')}, ${at('03T12:00', '24.0')}`), 'mean')).toBe(
      '23',
    );
  });
});

describe('what readings do not cover', () => {
  test('the scale’s error as one for both weighings cancels in their difference', () => {
    const text = (more: string): string =>
      trial(
        '',
        at('03T08:00', '22.0'),
        `instruments: {scale: {resolution: 1 g, max_error: 2 g${more}}}\nwaste_container: {tare: 640 g, final: 700 g}`,
      );
    // Two readings to 1 g: u² = 2/12. With an error of up to 2 g at each of them 2 × 4/3 more.
    expect(Number(figure(text(', shared_error: true'), 'waste_mass')?.u)).toBeCloseTo(Math.sqrt(2 / 12), 12);
    for (const own of ['', ', shared_error: false'])
      expect(Number(figure(text(own), 'waste_mass')?.u)).toBeCloseTo(Math.sqrt(2 / 12 + 8 / 3), 12);
  });

  test('anything but true or false is told', () => {
    const text = trial('', at('03T08:00', '22.0'), 'instruments: {scale: {shared_error: yes}}');
    const { code, out } = run(['verdict', '-'], {}, text);
    expect(code).toBe(3);
    expect(out).toContain('Write true or false.');
  });

  test('the formula of absolute humidity is good to 0.8 %: u of it, from exact readings', () => {
    const text = trial(
      '',
      at('03T08:00', '22.0'),
      'instruments: {thermometer: {resolution: 1e-9 °C}, hygrometer: {resolution: 1e-9 %}}',
    );
    const found = figure(text, 'absolute_humidity', null, 'mean');
    expect(Number(found?.u) / Number(found?.value)).toBeCloseTo(0.008 / Math.sqrt(3), 6);
  });
});
