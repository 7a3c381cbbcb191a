import { crc32, deflateSync } from 'node:zlib';

/* Pictures drawn by the tests, and files of them written without the libraries that read them. */

/** Full toner is 1. */
export type Tint = (x: number, y: number) => number;

/** Samples of a picture, row by row; those of a pixel side by side. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly channels: number;
  readonly depth: number;
  readonly samples: readonly number[];
}

/** A picture whose channels are drawn one by one; `high` where the greatest sample is full toner. */
export function picture(
  width: number,
  height: number,
  tints: readonly Tint[],
  { depth = 8, high = true }: { depth?: number; high?: boolean } = {},
): Picture {
  const most = 2 ** depth - 1;
  const samples: number[] = [];
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      for (const tint of tints) {
        const value = Math.round(tint(x, y) * most);
        samples.push(high ? value : most - value);
      }
  return { width, height, channels: tints.length, depth, samples };
}

/** A rectangle of whole pixels. */
export const block =
  (left: number, top: number, width: number, height: number, tint = 1): Tint =>
  (x, y) =>
    x >= left && x < left + width && y >= top && y < top + height ? tint : 0;

/** Whether a pixel lies in a figure or beside it as a whole, by its corners and its middle; null where that differs. */
function wholly(inside: (x: number, y: number) => boolean, x: number, y: number): number | null {
  const middle = inside(x + 0.5, y + 0.5);
  const corners = [inside(x, y), inside(x + 1, y), inside(x, y + 1), inside(x + 1, y + 1)];
  return corners.every((corner) => corner === middle) ? Number(middle) : null;
}

/** A figure by whether a point lies in it, as a renderer that looks at k × k places in each pixel tones it. */
export const softened =
  (inside: (x: number, y: number) => boolean, k: number): Tint =>
  (x, y) => {
    const whole = wholly(inside, x, y);
    if (whole !== null) return whole;
    let hit = 0;
    for (let i = 0; i < k; i++)
      for (let j = 0; j < k; j++) if (inside(x + (i + 0.5) / k, y + (j + 0.5) / k)) hit += 1;
    return hit / k ** 2;
  };

/** A renderer that tones every pixel that a figure touches, found by looking at many places in it, edges included. */
export const touched =
  (inside: (x: number, y: number) => boolean): Tint =>
  (x, y) => {
    const whole = wholly(inside, x, y);
    if (whole !== null) return whole;
    for (let i = 0; i <= 8; i++) for (let j = 0; j <= 8; j++) if (inside(x + i / 8, y + j / 8)) return 1;
    return 0;
  };

/** Samples as bytes, each row from a byte of its own. */
function packed({ width, height, channels, depth, samples }: Picture, lowFirst = false): Uint8Array {
  const perRow = width * channels;
  const row = Math.ceil((perRow * depth) / 8);
  const out = new Uint8Array(row * height);
  for (const [index, sample] of samples.entries()) {
    const [y, x] = [Math.floor(index / perRow), index % perRow];
    if (depth === 16) {
      const at = y * row + 2 * x;
      out[at + (lowFirst ? 1 : 0)] = sample >> 8;
      out[at + (lowFirst ? 0 : 1)] = sample & 255;
    } else {
      const bit = x * depth;
      const at = y * row + (bit >> 3);
      out[at] = (out[at] ?? 0) | (sample << (8 - depth - (bit & 7)));
    }
  }
  return out;
}

/** A chunk of a PNG. */
export function chunk(name: string, data: Uint8Array): Uint8Array {
  const out = new Uint8Array(12 + data.length);
  const view = new DataView(out.buffer);
  view.setUint32(0, data.length);
  out.set(Buffer.from(name, 'latin1'), 4);
  out.set(data, 8);
  view.setUint32(8 + data.length, crc32(out.subarray(4, 8 + data.length)));
  return out;
}

const joined = (parts: readonly Uint8Array[]): Uint8Array => new Uint8Array(Buffer.concat(parts));

/** Grey, grey with opacity, colours, a palette, colours with opacity: the type that a PNG has for them. */
const COLOUR_TYPES: Readonly<Record<string, number>> = { 1: 0, 2: 4, 3: 2, palette: 3, 4: 6 };

/** A PNG of a picture (white is high). */
export function png(
  of: Picture,
  more: {
    perMetre?: number;
    palette?: readonly number[];
    interlaced?: boolean;
    idat?: Uint8Array;
    extra?: Uint8Array;
  } = {},
): Uint8Array {
  const { width, height, channels, depth } = of;
  const rows = packed(of);
  const row = rows.length / height;
  const filtered = new Uint8Array((row + 1) * height);
  for (let y = 0; y < height; y++) filtered.set(rows.subarray(y * row, (y + 1) * row), y * (row + 1) + 1);
  const head = new Uint8Array(13);
  const view = new DataView(head.buffer);
  view.setUint32(0, width);
  view.setUint32(4, height);
  head[8] = depth;
  head[9] = COLOUR_TYPES[more.palette ? 'palette' : channels] ?? 0;
  head[12] = more.interlaced ? 1 : 0;
  const physical = new Uint8Array(9);
  new DataView(physical.buffer).setUint32(0, more.perMetre ?? 0);
  new DataView(physical.buffer).setUint32(4, more.perMetre ?? 0);
  physical[8] = 1;
  return joined([
    Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a),
    chunk('IHDR', head),
    ...(more.extra ? [more.extra] : []),
    ...(more.perMetre ? [chunk('pHYs', physical)] : []),
    ...(more.palette ? [chunk('PLTE', Uint8Array.from(more.palette))] : []),
    chunk('IDAT', more.idat ?? new Uint8Array(deflateSync(filtered))),
    chunk('IEND', new Uint8Array(0)),
  ]);
}

/** LZW as TIFF has it: the table is begun anew before it is full. */
export function lzw(bytes: Uint8Array): Uint8Array {
  const out: number[] = [];
  let [held, bits] = [0, 0];
  const write = (code: number, width: number): void => {
    held = (held << width) | code;
    bits += width;
    while (bits >= 8) {
      bits -= 8;
      out.push((held >> bits) & 255);
    }
    held &= (1 << bits) - 1;
  };
  let codes = new Map<string, number>();
  let next = 258;
  const width = (): number => (next < 511 + 1 ? 9 : next < 1023 + 1 ? 10 : next < 2047 + 1 ? 11 : 12);
  const codeOf = (text: string): number => (text.length === 1 ? text.charCodeAt(0) : (codes.get(text) ?? -1));
  write(256, 9);
  let text = '';
  for (const byte of bytes) {
    const longer = text + String.fromCharCode(byte);
    if (codeOf(longer) >= 0) {
      text = longer;
      continue;
    }
    write(codeOf(text), width());
    codes.set(longer, next++);
    text = String.fromCharCode(byte);
    if (next === 4094) {
      write(256, 12);
      codes = new Map();
      next = 258;
    }
  }
  if (text !== '') {
    write(codeOf(text), width());
    next += 1;
  }
  write(257, width());
  if (bits > 0) out.push((held << (8 - bits)) & 255);
  return Uint8Array.from(out);
}

/** Runs of one byte, and what stands between them. */
function packBits(bytes: Uint8Array): Uint8Array {
  const out: number[] = [];
  for (let at = 0; at < bytes.length;) {
    let run = 1;
    while (run < 128 && bytes[at + run] === bytes[at]) run += 1;
    if (run > 1) out.push(257 - run, bytes[at] ?? 0);
    else out.push(0, bytes[at] ?? 0);
    at += run;
  }
  return Uint8Array.from(out);
}

const PACKINGS = {
  none: { code: 1, pack: (bytes: Uint8Array) => bytes },
  lzw: { code: 5, pack: lzw },
  deflate: { code: 8, pack: (bytes: Uint8Array) => new Uint8Array(deflateSync(bytes)) },
  packbits: { code: 32773, pack: packBits },
} as const;

export interface TiffOptions {
  /** Photometric interpretation. */
  readonly inks: number;
  readonly lowFirst?: boolean;
  readonly packing?: keyof typeof PACKINGS;
  readonly rowsPerStrip?: number;
  readonly tile?: number;
  readonly apart?: boolean;
  readonly predicted?: boolean;
  readonly perInch?: number;
  readonly palette?: readonly number[];
  /** Further fields, or other values of those there are. */
  readonly fields?: Readonly<Record<number, readonly number[]>>;
}

/** Parts of a picture: each of its channels. */
const channelsOf = (of: Picture): Picture[] =>
  Array.from({ length: of.channels }, (_, channel) => ({
    ...of,
    channels: 1,
    samples: of.samples.filter((__, index) => index % of.channels === channel),
  }));

/** A rectangle of a picture; what lies beyond it is 0. */
function cutOut(of: Picture, left: number, top: number, width: number, height: number): Picture {
  const samples: number[] = [];
  for (let y = top; y < top + height; y++)
    for (let x = left; x < left + width; x++)
      for (let channel = 0; channel < of.channels; channel++)
        samples.push(
          x < of.width && y < of.height ? (of.samples[(y * of.width + x) * of.channels + channel] ?? 0) : 0,
        );
  return { ...of, width, height, samples };
}

/** Each sample less the one of its channel before it in the row. */
const differences = (of: Picture): Picture => ({
  ...of,
  samples: of.samples.map((sample, index) => {
    const inRow = index % (of.width * of.channels);
    const before = inRow < of.channels ? 0 : (of.samples[index - of.channels] ?? 0);
    return (sample - before) & (2 ** of.depth - 1);
  }),
});

/** A TIFF of one picture or more, written as the options say (TIFF 6.0). */
export function tiff(pages: readonly Picture[], options: TiffOptions): Uint8Array {
  const { lowFirst = false, packing = 'none', inks, tile, apart = false } = options;
  const bytes: number[] = [];
  const u16 = (value: number): number[] => (lowFirst ? [value & 255, value >> 8] : [value >> 8, value & 255]);
  const u32 = (value: number): number[] =>
    lowFirst
      ? [...u16(value & 0xffff), ...u16(value >>> 16)]
      : [...u16(value >>> 16), ...u16(value & 0xffff)];
  const put = (at: number, what: readonly number[]): void =>
    what.forEach((byte, i) => (bytes[at + i] = byte));
  const append = (what: Iterable<number>): number => {
    const at = bytes.length;
    for (const byte of what) bytes.push(byte);
    if (bytes.length % 2 === 1) bytes.push(0);
    return at;
  };
  append([...(lowFirst ? [0x49, 0x49] : [0x4d, 0x4d]), ...u16(42), ...u32(0)]);
  let link = 4;
  for (const page of pages) {
    const rows = options.rowsPerStrip ?? page.height;
    const parts = (apart ? channelsOf(page) : [page]).flatMap((part) => {
      const cuts: Picture[] = [];
      if (tile === undefined)
        for (let top = 0; top < page.height; top += rows)
          cuts.push(cutOut(part, 0, top, page.width, Math.min(rows, page.height - top)));
      else
        for (let top = 0; top < page.height; top += tile)
          for (let left = 0; left < page.width; left += tile) cuts.push(cutOut(part, left, top, tile, tile));
      return cuts;
    });
    const blocks = parts.map((part) =>
      PACKINGS[packing].pack(packed(options.predicted ? differences(part) : part, lowFirst)),
    );
    const places = blocks.map((one) => append(one));
    const sizes = blocks.map(({ length }) => length);
    const fields: Record<number, readonly number[]> = {
      256: [page.width],
      257: [page.height],
      258: Array.from({ length: page.channels }, () => page.depth),
      259: [PACKINGS[packing].code],
      262: [inks],
      277: [page.channels],
      284: [apart ? 2 : 1],
      ...(tile === undefined
        ? { 273: places, 278: [rows], 279: sizes }
        : { 322: [tile], 323: [tile], 324: places, 325: sizes }),
      ...(options.predicted ? { 317: [2] } : {}),
      ...(options.palette ? { 320: options.palette } : {}),
      ...options.fields,
    };
    const entries = Object.entries(fields).map(([tag, values]) => {
      const long = ['273', '279', '324', '325', '256', '257'].includes(tag);
      const data = values.flatMap(long ? u32 : u16);
      const kept = data.length <= 4 ? [...data, 0, 0, 0, 0].slice(0, 4) : u32(append(data));
      return {
        tag: Number(tag),
        entry: [...u16(Number(tag)), ...u16(long ? 4 : 3), ...u32(values.length), ...kept],
      };
    });
    if (options.perInch !== undefined) {
      const ratio = append([...u32(options.perInch), ...u32(1)]);
      for (const tag of [282, 283])
        entries.push({ tag, entry: [...u16(tag), ...u16(5), ...u32(1), ...u32(ratio)] });
    }
    entries.sort((a, b) => a.tag - b.tag);
    const directory = append([...u16(entries.length), ...entries.flatMap(({ entry }) => entry), ...u32(0)]);
    put(link, u32(directory));
    link = directory + 2 + 12 * entries.length;
  }
  return Uint8Array.from(bytes);
}
