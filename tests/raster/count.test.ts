import { decode } from 'tiff';
import { describe, expect, test } from 'vitest';
import type { CountedDocument } from '../../src/raster/count.ts';
import { countDocument } from '../../src/raster/document.ts';
import {
  block,
  lzw,
  type Picture,
  picture,
  png,
  softened,
  type Tint,
  tiff,
  type TiffOptions,
  touched,
} from './pictures.ts';

/* Pictures of a known coverage, drawn here; their areas are worked out by hand. */

function counted(bytes: Uint8Array): CountedDocument {
  const found = countDocument(bytes);
  if ('code' in found) throw new Error(JSON.stringify(found));
  return found;
}

const only = (bytes: Uint8Array) => {
  const [slot] = counted(bytes).slots;
  if (slot === undefined) throw new Error('no slot');
  return slot;
};

const GREY: TiffOptions = { inks: 1 };

describe('a block of 50 by 40 pixels on 200 by 200: 5 %', () => {
  const draw = (depth: number, high: boolean): Picture =>
    picture(200, 200, [block(31, 17, 50, 40)], { depth, high });
  const edges = (100 * 2 * (50 + 40)) / 40_000;

  test.each([1, 2, 4, 8, 16])('PNG of %i bits', (depth) => {
    const { slot, coverage, ...rest } = only(png(draw(depth, false)));
    expect(slot).toBe('black');
    expect(coverage).toBeCloseTo(5, 10);
    expect(rest.edges).toBeCloseTo(edges, 10);
    expect(rest.tolerance).toBeCloseTo(edges / 2, 10);
    expect([rest.toned, rest.aboveHalf, rest.aboveHalfTolerance, rest.places]).toEqual([5, 5, 0, 1]);
  });

  test.each([1, 2, 4, 8, 16])('TIFF of %i bits, black or white zero, from either byte', (depth) => {
    for (const high of [false, true])
      for (const lowFirst of [false, true]) {
        const bytes = tiff([draw(depth, high)], { inks: high ? 0 : 1, lowFirst, rowsPerStrip: 33 });
        expect(only(bytes).coverage).toBeCloseTo(5, 10);
      }
  });

  test.each(['lzw', 'deflate', 'packbits'] as const)('packed by %s', (packing) => {
    for (const predicted of [false, true])
      for (const tile of [undefined, 64])
        for (const depth of [8, 16]) {
          const options = { ...GREY, packing, predicted, ...(tile ? { tile } : { rowsPerStrip: 70 }) };
          expect(only(tiff([draw(depth, false)], options)).coverage).toBeCloseTo(5, 10);
        }
  });

  test('margins and resolution', () => {
    const [page] = counted(png(draw(8, false), { perMetre: 23_622 })).pages;
    expect(page?.margins).toEqual({ left: 31, top: 17, right: 119, bottom: 143 });
    expect(page?.resolution?.across).toBeCloseTo(600, 2);
    expect(counted(tiff([draw(8, false)], { ...GREY, perInch: 300 })).pages[0]?.resolution).toEqual({
      across: 300,
      down: 300,
    });
    expect(counted(png(draw(8, false))).pages[0]?.resolution).toBeNull();
  });

  test('the mean over pages', () => {
    const empty = picture(200, 200, [() => 0], { high: false });
    const bytes = tiff([draw(8, false), empty], GREY);
    expect(only(bytes).coverage).toBeCloseTo(2.5, 10);
    expect(counted(bytes).pages.map(({ margins }) => margins === null)).toEqual([false, true]);
  });

  test('a reduced picture of a page is no page', () => {
    const empty = picture(20, 20, [() => 0], { high: false });
    const reduced = tiff([empty], { ...GREY, fields: { 254: [1] } });
    expect(countDocument(reduced)).toMatchObject({ code: 'damaged', why: 'it has no page' });
  });

  test('grey in red, green and blue; a palette of greys', () => {
    const grey = draw(8, false);
    const triple = { ...grey, channels: 3, samples: grey.samples.flatMap((one) => [one, one, one]) };
    expect(only(png(triple)).coverage).toBeCloseTo(5, 10);
    expect(only(tiff([triple], { inks: 2 })).coverage).toBeCloseTo(5, 10);
    const dark = picture(200, 200, [block(31, 17, 50, 40)], { depth: 1 });
    expect(only(png(dark, { palette: [255, 255, 255, 0, 0, 0] })).coverage).toBeCloseTo(5, 10);
    const palette = [65_535, 0, 65_535, 0, 65_535, 0];
    expect(only(tiff([dark], { inks: 3, palette })).coverage).toBeCloseTo(5, 10);
  });
});

test('a tint counts as much as it is toned, and half of it decides whether a pixel counts', () => {
  // 10 % of the page at 102 of 255, which is 40 %; 5 % at 204, which is 80 %.
  const tints: Tint = (x, y) => block(0, 0, 40, 100, 0.4)(x, y) + block(100, 100, 40, 50, 0.8)(x, y);
  const slot = only(png(picture(200, 200, [tints], { high: false })));
  expect(slot.coverage).toBeCloseTo(10 * 0.4 + 5 * 0.8, 10);
  expect(slot.aboveHalf).toBeCloseTo(5, 10);
  // Between a quarter and three quarters: the first block.
  expect(slot.aboveHalfTolerance).toBeCloseTo(5, 10);
  expect(slot.toned).toBeCloseTo(15, 10);
  // No pixel is between a lighter and a darker one: the edges are hard.
  expect(slot.places).toBe(1);
});

describe('figures at an angle, whose area is known', () => {
  const SIDE = 400;
  const [c, s] = [Math.cos(0.3), Math.sin(0.3)];
  const figures: readonly (readonly [
    name: string,
    area: number,
    inside: (x: number, y: number) => boolean,
  ])[] = [
    [
      'a square of 123 turned by 0.3',
      123 ** 2,
      (x, y) => {
        const [dx, dy] = [x - 200.3, y - 190.7];
        return Math.max(Math.abs(dx * c + dy * s), Math.abs(dy * c - dx * s)) <= 61.5;
      },
    ],
    ['a circle of radius 70', Math.PI * 70 ** 2, (x, y) => Math.hypot(x - 201.4, y - 188.2) <= 70],
    [
      'a ring between 90 and 100',
      Math.PI * (100 ** 2 - 90 ** 2),
      (x, y) => {
        const r = Math.hypot(x - 199.1, y - 202.6);
        return r >= 90 && r <= 100;
      },
    ],
    [
      'lines 3.5 wide and 160 long, 12 apart',
      10 * 3.5 * 160,
      (x, y) => {
        const [along, across] = [(x - 200) * c + (y - 200) * s, (y - 200) * c - (x - 200) * s + 60];
        return Math.abs(along) <= 80 && across >= 0 && across < 120 && across % 12 <= 3.5;
      },
    ],
  ];
  const percentOf = (area: number): number => (100 * area) / SIDE ** 2;
  const draw = (tint: Tint): ReturnType<typeof only> =>
    only(png(picture(SIDE, SIDE, [tint], { high: false })));

  test.each(figures)('%s, with edges softened by 16 × 16 places: to 0.01 %%', (_, area, inside) => {
    const { coverage, tolerance } = draw(softened(inside, 16));
    expect(Math.abs(coverage - percentOf(area))).toBeLessThan(0.01);
    expect(Math.abs(coverage - percentOf(area))).toBeLessThan(tolerance);
  });

  test.each(figures)('%s, with edges softened by 4 × 4 places', (_, area, inside) => {
    const { coverage, tolerance, places, edges } = draw(softened(inside, 4));
    expect(Math.abs(coverage - percentOf(area))).toBeLessThan(tolerance);
    // 17 tints, of which 15 lie between: 16 steps.
    expect(places).toBe(4);
    expect(tolerance).toBeGreaterThan(0.99 * (edges / 8));
  });

  test.each(figures)('%s, toned where a pixel’s middle lies in it', (_, area, inside) => {
    const { coverage, tolerance } = draw(softened(inside, 1));
    expect(Math.abs(coverage - percentOf(area))).toBeLessThan(tolerance);
  });

  test.each(figures)(
    '%s, toned wherever a pixel is touched: too much, and within what is said',
    (_, area, inside) => {
      const { coverage, tolerance } = draw(touched(inside));
      expect(coverage).toBeGreaterThan(percentOf(area));
      expect(coverage - percentOf(area)).toBeLessThan(1.02 * tolerance);
      expect(coverage - percentOf(area)).toBeGreaterThan(0.8 * tolerance);
    },
  );
});

test('a page that is full, and an empty one, leave nothing open', () => {
  expect(only(png(picture(20, 20, [() => 1], { high: false })))).toMatchObject({
    coverage: 100,
    tolerance: 0,
  });
  expect(only(png(picture(20, 20, [() => 0], { high: false })))).toMatchObject({ coverage: 0, tolerance: 0 });
});

describe('cyan, magenta, yellow and black, each with a coverage of its own', () => {
  const tints = [
    block(0, 0, 10, 10),
    block(20, 20, 20, 10),
    block(50, 50, 30, 10, 0.6),
    block(0, 90, 100, 10),
  ];
  const expected = [
    ['black', 10],
    ['cyan', 1],
    ['magenta', 2],
    ['yellow', 1.8],
  ] as const;
  const all = { none: {}, strips: { rowsPerStrip: 7 }, tiles: { tile: 32 } };
  for (const [name, cut] of Object.entries(all))
    for (const apart of [false, true])
      for (const packing of ['none', 'lzw', 'deflate', 'packbits'] as const)
        test(`${name}, ${apart ? 'colour by colour' : 'side by side'}, ${packing}`, () => {
          for (const depth of [8, 16]) {
            const bytes = tiff([picture(100, 100, tints, { depth })], {
              ...{ inks: 5, apart, packing, predicted: packing === 'lzw', lowFirst: depth === 8 },
              ...cut,
            });
            const { slots } = counted(bytes);
            expect(slots.map(({ slot }) => slot)).toEqual(expected.map(([slot]) => slot));
            for (const [index, [, coverage]] of expected.entries())
              expect(slots[index]?.coverage).toBeCloseTo(coverage, 10);
          }
        });

  test('one bit for each colour', () => {
    const bytes = tiff([picture(100, 100, tints, { depth: 1 })], { inks: 5 });
    expect(counted(bytes).slots.map(({ coverage }) => coverage)).toEqual([10, 1, 2, 3]);
  });

  test('margins are those of all colours together', () => {
    const bytes = tiff([picture(100, 100, tints)], { inks: 5 });
    expect(counted(bytes).pages[0]?.margins).toEqual({ left: 0, top: 0, right: 0, bottom: 0 });
  });
});

test('what the tests pack by LZW is read by an independent reader', () => {
  // Noise, so that the table fills and is begun anew.
  let state = 7;
  const noise: Tint = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  const drawn = picture(150, 150, [noise], { high: false });
  expect(lzw(Uint8Array.from(drawn.samples)).length).toBeGreaterThan(20_000);
  const bytes = tiff([drawn], { ...GREY, packing: 'lzw' });
  const [page] = decode(bytes);
  expect([...(page?.data ?? [])]).toEqual(drawn.samples);
  const ink = drawn.samples.reduce((sum, one) => sum + 255 - one, 0);
  expect(only(bytes).coverage).toBeCloseTo((100 * ink) / 255 / 150 ** 2, 10);
});
