import { deflateSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { countDocument } from '../../src/raster/document.ts';
import { block, chunk, picture, png, tiff } from './pictures.ts';

/* Pictures that give no coverage: damaged, too large, or of a kind that has none. */

const SIDE = 60;
const grey = picture(SIDE, SIDE, [block(5, 5, 20, 10)], { high: false });
const four = picture(SIDE, SIDE, [block(5, 5, 20, 10), block(9, 9, 9, 9), () => 0, block(0, 0, 3, 60)]);

describe('kinds that are refused, with the reason', () => {
  const coloured = { ...grey, channels: 3, samples: grey.samples.flatMap((one) => [one, one, 255]) };
  const clear = { ...grey, channels: 2, samples: grey.samples.flatMap((one) => [one, one]) };
  const five = picture(
    SIDE,
    SIDE,
    Array.from({ length: 5 }, () => block(5, 5, 20, 10)),
  );
  test.each([
    ['text', new TextEncoder().encode('trial: none\n'), 'no-raster'],
    ['nothing', new Uint8Array(0), 'no-raster'],
    ['colours in a PNG', png(coloured), 'coloured'],
    ['colours in a TIFF', tiff([coloured], { inks: 2 }), 'coloured'],
    [
      'colours of a palette',
      png(picture(9, 9, [block(1, 1, 2, 2)], { depth: 1 }), { palette: [255, 255, 255, 9, 0, 0] }),
      'coloured',
    ],
    ['transparent parts', png(clear), 'transparent'],
    ['interlaced rows', png(grey, { interlaced: true }), 'interlaced'],
  ])('%s', (_, bytes, code) => {
    expect(countDocument(bytes)).toEqual({ code });
  });

  test.each([
    ['fax packing', { 259: [4] }, 'compression', 4],
    ['samples of 32 bits', { 258: [32, 32, 32, 32] }, 'samples', 32],
    ['samples that differ', { 258: [8, 8, 8, 16] }, 'samples', 8],
    ['numbers with a point', { 339: [3, 3, 3, 3] }, 'samples', 8],
    ['another colour space', { 262: [8] }, 'inks', 8],
    ['other inks', { 332: [2] }, 'inks', 5],
    ['opacity', { 338: [1] }, 'channels', 4],
    ['another predictor', { 317: [3] }, 'predictor', 3],
  ] as const)('TIFF: %s', (_, fields, what, value) => {
    expect(countDocument(tiff([four], { inks: 5, fields }))).toEqual({ code: 'unsupported', what, value });
  });

  test('a further ink', () => {
    const fault = { code: 'unsupported', what: 'channels', value: 5 };
    expect(countDocument(tiff([five], { inks: 5 }))).toEqual(fault);
  });
});

describe('sizes are looked at before anything is unpacked', () => {
  test('more pixels than anybody needs', () => {
    const wide = { ...grey, width: 90_000_000, height: 1, depth: 1, samples: [] };
    const fault = { code: 'too-many-pixels', width: 90_000_000, height: 1 };
    expect(countDocument(png(wide))).toEqual(fault);
    const fields = { 256: [90_000_000], 257: [1] };
    expect(countDocument(tiff([grey], { inks: 1, fields }))).toEqual(fault);
  });

  test.each([
    ['no width', { 256: [0] }],
    ['no height', { 257: [0] }],
    ['no rows in a strip', { 278: [0] }],
    ['places outside of the file', { 273: [4_000_000_000] }],
    ['fewer bytes than a strip takes', { 279: [10] }],
    ['no places', { 273: [] }],
  ] as const)('TIFF: %s', (_, fields) => {
    expect(countDocument(tiff([grey], { inks: 1, fields }))).toMatchObject({ code: 'damaged' });
  });

  test('a strip that unpacks to far more than its page takes', () => {
    // 64 MiB of zeros in 64 KiB.
    const bomb = new Uint8Array(deflateSync(new Uint8Array(64 * 1024 * 1024)));
    const bytes = tiff([grey], { inks: 1, packing: 'deflate' });
    const at = bytes.length;
    const whole = new Uint8Array(Buffer.concat([bytes, bomb]));
    const view = new DataView(whole.buffer);
    const directory = view.getUint32(4);
    for (let entry = directory + 2, n = view.getUint16(directory); n > 0; n--, entry += 12) {
      if (view.getUint16(entry) === 273) view.setUint32(entry + 8, at);
      if (view.getUint16(entry) === 279) view.setUint32(entry + 8, bomb.length);
    }
    expect(countDocument(whole)).toEqual({
      code: 'damaged',
      why: 'more is packed in it than its pixels take',
    });
  });

  test('a PNG that holds more than its page unpacks no more of it; a bomb beside the pixels stays packed', () => {
    const bomb = new Uint8Array(deflateSync(Buffer.alloc(64 * 1024 * 1024, 255)));
    const before = process.memoryUsage().arrayBuffers;
    const profile = chunk('iCCP', new Uint8Array(Buffer.concat([Buffer.from('a\0\0'), bomb])));
    countDocument(png(grey, { idat: bomb }));
    expect(countDocument(png(grey, { extra: profile }))).not.toHaveProperty('code');
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(16 * 1024 * 1024);
  });

  test('a PNG that ends within its pixels is told in our own words', () => {
    const whole = png(grey);
    expect(countDocument(whole.slice(0, whole.length - 30))).toEqual({
      code: 'damaged',
      why: 'its pixels cannot be unpacked',
    });
  });

  test('directories that lead in a circle', () => {
    const bytes = tiff([picture(4, 4, [() => 0], { high: false })], { inks: 1 });
    const view = new DataView(bytes.buffer);
    const directory = view.getUint32(4);
    view.setUint32(directory + 2 + 12 * view.getUint16(directory), directory);
    expect(countDocument(bytes)).toEqual({ code: 'too-many-pages', most: 100 });
  });

  test('grey pages and pages of four colours', () => {
    // Written one after the other into one file: the second directory behind the first.
    const [one, two] = [tiff([grey], { inks: 1 }), tiff([four], { inks: 5 })];
    const whole = new Uint8Array(Buffer.concat([one, two]));
    const view = new DataView(whole.buffer);
    const first = view.getUint32(4);
    const from = one.length;
    const second = from + view.getUint32(from + 4);
    view.setUint32(first + 2 + 12 * view.getUint16(first), second);
    const LONG: Readonly<Record<number, number>> = { 3: 2, 4: 4 };
    for (let entry = second + 2, n = view.getUint16(second); n > 0; n--, entry += 12) {
      const length = (LONG[view.getUint16(entry + 2)] ?? 1) * view.getUint32(entry + 4);
      if (length > 4 || view.getUint16(entry) === 273)
        view.setUint32(entry + 8, view.getUint32(entry + 8) + from);
    }
    expect(countDocument(whole)).toEqual({ code: 'pages-differ' });
  });
});

describe('damaged files: a reason, or a number; never anything else', () => {
  const files: readonly (readonly [name: string, bytes: Uint8Array])[] = [
    ['PNG', png(grey, { perMetre: 11_811 })],
    [
      'PNG of a palette',
      png(picture(SIDE, SIDE, [block(1, 1, 9, 9)], { depth: 1 }), { palette: [255, 255, 255, 0, 0, 0] }),
    ],
    ['TIFF', tiff([grey, grey], { inks: 1, rowsPerStrip: 16, perInch: 300 })],
    ['TIFF by LZW', tiff([four], { inks: 5, packing: 'lzw', predicted: true, rowsPerStrip: 16 })],
    ['TIFF by deflate', tiff([four], { inks: 5, packing: 'deflate', lowFirst: true, tile: 32 })],
    ['TIFF by PackBits', tiff([four], { inks: 5, packing: 'packbits', apart: true })],
  ];

  test.each(files)('%s', (_, bytes) => {
    let state = 41;
    const chance = (of: number): number => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return Math.floor((state / 2 ** 32) * of);
    };
    let faults = 0;
    for (let round = 0; round < 150; round++) {
      let broken = Uint8Array.from(bytes);
      // Half of the time near an end, where the heads and directories of these files are.
      for (let times = 1 + chance(3); times > 0; times--) {
        const near = chance(2) === 0 ? chance(Math.min(300, bytes.length)) : chance(bytes.length);
        broken[chance(2) === 0 ? near : bytes.length - 1 - near] = chance(256);
      }
      if (round % 5 === 0) broken = broken.slice(0, chance(bytes.length));
      const found = countDocument(broken);
      if ('code' in found) {
        faults += 1;
        continue;
      }
      for (const { coverage, tolerance } of found.slots) {
        expect(coverage >= 0 && coverage <= 100, String(coverage)).toBe(true);
        expect(tolerance >= 0 && tolerance <= 100, String(tolerance)).toBe(true);
      }
    }
    expect(faults).toBeGreaterThan(30);
  });
});
