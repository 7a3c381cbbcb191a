import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { figure, judge, ROOT } from '../run.ts';

/*
 * Values as a practitioner stated them (common practice, no source). They are check values, and stand in this file
 * alone: the last test holds that no example, no page for users and no other test carries them.
 */

// Common practice, no source.
const START = 36303;
const END = 60303;
const TARE = 827;
const FINAL = 1369;
const WASTE = 542;
const SLIPPED = 452;

const RUN = `trial: Ferry Lane lot 3, machine Teal
meter: {start: ${START}, end: ${END}}
waste_container: {tare: ${TARE} g, final: ${FINAL} g, capacity: 900 g}
`;

// Common practice, no source.
describe('a trial worked out on paper', () => {
  test('24 000 pages', () => {
    expect(figure(RUN, 'pages')?.value).toBe('24000');
  });

  test('542 g of waste', () => {
    expect(figure(RUN, 'waste_mass')?.value).toBe(String(WASTE));
  });

  test('22.58 g per thousand pages: 542 / 24 = 22.58333…', () => {
    const rate = figure(RUN, 'waste_per_thousand');
    expect(new Decimal(rate?.value ?? NaN).toFixed(2)).toBe('22.58');
    // Two weighings to 1 g over an exact count: √(1/6) / 24 = 0.01701035 g, by hand.
    expect(Number(rate?.u)).toBeCloseTo(0.01701035, 8);
  });

  test('a container that takes 900 g is full after 24000 × 900 / 542 = 39 852.4 pages', () => {
    expect(Number(figure(RUN, 'container_life')?.value)).toBeCloseTo(39852.3985, 4);
  });
});

// Common practice, no source.
test('452 g stated for 542 g: two digits are swapped', () => {
  const { notes } = judge(`${RUN}stated: {waste_mass: ${SLIPPED} g}\n`);
  const [note] = notes.filter(({ code }) => code === 'stated-differs');
  expect(note).toMatchObject({ slip: 'digits-swapped' });
  expect(note?.message).toContain(`${WASTE} g`);
});

test('they stand nowhere else', () => {
  const stated = new RegExp(
    [START, END, FINAL, `${TARE} g`, `tare: ${TARE}`, '22[.]58', `${WASTE} g`, '39 ?852']
      .map((value) => `(?<![\\d.])${value}(?!\\d)`)
      .join('|'),
  );
  const places = ['examples', 'tests', 'shared', 'src'].flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && /\.(ts|mjs|cjs|py|ya?ml|md|json)$/.test(entry.name))
      .map((entry) => join(entry.parentPath, entry.name)),
  );
  const all = [...places, ...['README.md', 'DEVELOPERS.md', 'CHANGELOG.md'].map((name) => join(ROOT, name))];
  const carrying = all.filter((path) => stated.test(readFileSync(path, 'utf8')));
  expect(carrying.map((path) => path.slice(ROOT.length + 1))).toEqual(['tests/published/practice.test.ts']);
});
