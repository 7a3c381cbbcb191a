import { describe, expect, test } from 'vitest';
import { figure, judge } from '../run.ts';

/*
 * Figures where a formula turns: equal values, a second part that is smaller, a time that was not noted. The trials
 * are invented, the sums worked by hand beside each.
 */

const trial = (...lines: readonly string[]): string =>
  ['trial: Weir Street lot 3, machine Ash', 'meter: {start: 30000, end: 42000}', ...lines, ''].join('\n');

describe('how many pages a waste container takes', () => {
  const two = (first: string, second: string): string =>
    trial(
      'waste_container:',
      `  - {tare: 640 g, final: 740 g, capacity: ${first}}`,
      `  - {tare: 640 g, final: 660 g, capacity: ${second}}`,
    );

  test('of two alike: 12000 × 300 / 120 = 30000 pages', () => {
    expect(figure(two('300 g', '300 g'), 'container_life')?.value).toBe('30000');
  });

  test.each([
    ['300 g', '200 g'],
    ['200 g', '300 g'],
  ])('not where they hold different masses, %s and %s', (first, second) => {
    expect(figure(two(first, second), 'container_life')).toBeUndefined();
  });
});

test('all toner used at zero coverage: the yield is the same at any coverage', () => {
  // 144 g over 12000 pages are 12 mg a page, and so is m₀: 12000 × 12 / (12 + 0 × 5/20) = 12000.
  const used = (usage: string): string =>
    trial(
      'coverage: 20 %',
      `non_image_usage: ${usage}`,
      'cartridges: [{slot: black, start_mass: 800 g, end_mass: 656 g, exhausted_at: 42000}]',
    );
  expect(figure(used('12 mg'), 'yield_at_reference', 'black')?.value).toBe('12000');
  expect(figure(used('12.1 mg'), 'yield_at_reference', 'black')).toBeUndefined();
});

test('at the reference coverage the yield depends on the coverage by its part of the toner alone', () => {
  // 30 mg a page, 3 of them at zero coverage: 12000 × 0.9 × (0.5/√3)/5 = 623.5 pages; in proportion 692.8.
  const u = (usage: string): number =>
    Number(
      figure(
        trial(
          'coverage: {value: 5 %, tolerance: 0.5 %}',
          usage,
          'cartridges: [{slot: black, start_mass: 800.00 g, end_mass: 440.00 g, exhausted_at: 42000}]',
        ),
        'yield_at_reference',
        'black',
      )?.u,
    );
  expect(u('non_image_usage: 3.000 mg')).toBeCloseTo((12000 * 0.9 * 0.1) / Math.sqrt(3), 0);
  expect(u('')).toBeCloseTo((12000 * 0.1) / Math.sqrt(3), 0);
  // What is not known yet makes no difference there.
  expect(u('non_image_usage: ')).toBeCloseTo((12000 * 0.1) / Math.sqrt(3), 0);
});

test('toner used at zero coverage that is still to be read leaves the yield open, unless it changes nothing', () => {
  const of = (coverage: string, more = ''): string | undefined =>
    figure(
      trial(
        `coverage: ${coverage}`,
        'non_image_usage: ',
        `cartridges: [{slot: black, start_mass: 800 g, end_mass: 440 g, exhausted_at: 42000${more}}]`,
      ),
      'yield_at_reference',
      'black',
    )?.value;
  expect([of('5 %'), of('20 %')]).toEqual(['12000', undefined]);
  expect(of('5 %', ', used_before: {pages: 3000, coverage: 10 %}')).toBeUndefined();
});

describe('the least yield where one was exhausted at just the pages another printed', () => {
  const exhausted = '{slot: black, exhausted_at: 42000, removed_at: 42000}';
  const going = '{slot: cyan}';

  test.each([
    ['first', `[${exhausted}, ${going}]`],
    ['last', `[${going}, ${exhausted}]`],
  ])('is that yield, known exactly, whether it is listed %s', (_, cartridges) => {
    const least = figure(
      trial('coverage: 5 %', `cartridges: ${cartridges}`),
      'yield_at_reference',
      null,
      'least',
    );
    expect(least).toMatchObject({ value: '12000', bound: 'exact' });
  });

  test('a page fewer of the other, and it is only at least that', () => {
    const fewer = `[${exhausted}, {slot: cyan, removed_at: 41999}]`;
    const least = figure(trial('coverage: 5 %', `cartridges: ${fewer}`), 'yield_at_reference', null, 'least');
    expect(least).toMatchObject({ value: '11999', bound: 'at_least' });
  });
});

describe('readings of the air', () => {
  test('of which one has no time: the mean is plain, (20 + 20 + 26) / 3 = 22', () => {
    const partly = trial(
      'ambient:',
      '  - {at: 2026-03-09T09:00, temperature: 20.0 °C}',
      '  - {at: 2026-03-09T10:00, temperature: 20.0 °C}',
      '  - {temperature: 26.0 °C}',
    );
    expect(figure(partly, 'temperature', null, 'mean')?.value).toBe('22');
  });

  test.each([
    ['hygrometer', 'humidity', '47 %'],
    ['thermometer', 'temperature', '22 °C'],
  ])(
    'alike, and of one %s: its error does not average out, √(1/12/4 + 2²/3) = 1.163687',
    (name, of, value) => {
      const four = trial(
        `instruments: {${name}: {max_error: 2}}`,
        'ambient:',
        ...Array.from({ length: 4 }, () => `  - {${of}: ${value}}`),
      );
      expect(Number(figure(four, of, null, 'mean')?.u)).toBeCloseTo(1.163687, 6);
    },
  );
});

test('a container that loses mass is no trial, and one that keeps it made no waste', () => {
  expect(figure(trial('waste_container: {tare: 640 g, final: 640 g}'), 'waste_mass')?.value).toBe('0');
  expect(judge(trial('waste_container: {tare: 640 g, final: 639 g}')).verdict).toBe('invalid');
});
