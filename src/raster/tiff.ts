import { decode } from 'tiff';
import { damaged, knownResolution, type Raster, type Resolution, refuse, sized } from './raster.ts';
import { unpackStrip } from './strips.ts';

/** "II", 42, from the low byte, or "MM", 42, from the high one. */
export const TIFF_SIGNS = [
  [0x49, 0x49, 42, 0],
  [0x4d, 0x4d, 0, 42],
];

/** Pages of one file; a file whose directories lead in a circle has no end of them. */
const MOST_PAGES = 100;

/** Tags of a directory (TIFF 6.0, from memory). */
const TAG = {
  kind: 254,
  width: 256,
  height: 257,
  bits: 258,
  compression: 259,
  inks: 262,
  fillOrder: 266,
  stripPlaces: 273,
  channels: 277,
  rowsPerStrip: 278,
  stripBytes: 279,
  across: 282,
  down: 283,
  planes: 284,
  unit: 296,
  predictor: 317,
  palette: 320,
  tileWidth: 322,
  tileHeight: 323,
  tilePlaces: 324,
  tileBytes: 325,
  inkSet: 332,
  extra: 338,
  sampleFormat: 339,
} as const;

/** A reduced picture of a page, or its mask: no pages. */
const NO_PAGE = 1 | 4;

/**
 * The pages of a TIFF, each unpacked when it is asked for. The library reads the directories; its own reader of pixels
 * knows no four inks and no bound on what it unpacks, so that the strips are unpacked here.
 *
 * @throws RasterRefused
 */
export function* readTiff(bytes: Uint8Array): Generator<Raster> {
  let pages = 0;
  for (let at = 0; ; at++) {
    if (at > MOST_PAGES) refuse({ code: 'too-many-pages', most: MOST_PAGES });
    const directory = directoryAt(bytes, at);
    if (directory === null) break;
    if ((directory.one(TAG.kind, 0) & NO_PAGE) !== 0) continue;
    pages += 1;
    yield pageOf(directory, bytes);
  }
  if (pages === 0) damaged('it has no page');
}

/** The fields of a page, as numbers. */
class Directory {
  constructor(private readonly fields: ReadonlyMap<number, unknown>) {}

  /** The numbers of a tag; null where there are none. */
  all(tag: number): readonly number[] | null {
    const field = this.fields.get(tag);
    if (typeof field === 'number') return [field];
    if (field instanceof Uint8Array || field instanceof Uint16Array || field instanceof Uint32Array)
      return [...field];
    return Array.isArray(field) && field.every((one) => typeof one === 'number') ? field : null;
  }

  /** The number of a tag. */
  one(tag: number, otherwise: number): number {
    return this.all(tag)?.[0] ?? otherwise;
  }
}

/** The directory of a page; null behind the last. @throws RasterRefused */
function directoryAt(bytes: Uint8Array, at: number): Directory | null {
  try {
    const [page] = decode(bytes, { ignoreImageData: true, pages: [at] });
    return page === undefined ? null : new Directory(page.fields);
  } catch {
    return damaged('its directories cannot be read');
  }
}

/** What a value of the tag for inks means. */
const INKS: Readonly<Record<number, { readonly inks: Raster['inks']; readonly channels: number }>> = {
  0: { inks: 'grey', channels: 1 },
  1: { inks: 'grey', channels: 1 },
  2: { inks: 'rgb', channels: 3 },
  3: { inks: 'rgb', channels: 1 },
  5: { inks: 'cmyk', channels: 4 },
};

const [WHITE_IS_ZERO, PALETTE, SEPARATED] = [0, 3, 5];

function pageOf(directory: Directory, bytes: Uint8Array): Raster {
  const [width, height] = [directory.one(TAG.width, 0), directory.one(TAG.height, 0)];
  sized(width, height);
  const meaning = directory.one(TAG.inks, -1);
  const known = INKS[meaning];
  if (known === undefined || directory.one(TAG.inkSet, 1) !== 1)
    return refuse({ code: 'unsupported', what: 'inks', value: meaning });
  const channels = directory.one(TAG.channels, 1);
  if (directory.all(TAG.extra) !== null || channels !== known.channels)
    return refuse({ code: 'unsupported', what: 'channels', value: channels });
  const depths = directory.all(TAG.bits) ?? [1];
  const depth = depths[0] ?? 1;
  const whole = directory.one(TAG.sampleFormat, 1) === 1 && depths.every((one) => one === depth);
  if (!whole || ![1, 2, 4, 8, 16].includes(depth))
    return refuse({ code: 'unsupported', what: 'samples', value: depth });
  const page: Layout = {
    width,
    height,
    channels,
    depth,
    lowFirst: bytes[0] === 0x49,
    compression: directory.one(TAG.compression, 1),
    predicted: predictedOf(directory, depth),
    reversed: directory.one(TAG.fillOrder, 1) === 2,
  };
  const data = samplesOf(page, directory, bytes);
  const shared = { width, height, resolution: resolutionOf(directory) };
  if (meaning === PALETTE) return { ...shared, ...coloursOf(data, directory, depth) };
  return {
    ...shared,
    inks: known.inks,
    data,
    stride: channels,
    most: 2 ** depth - 1,
    highIsToner: meaning === WHITE_IS_ZERO || meaning === SEPARATED,
  };
}

/** Whether samples are differences to those before them; only of whole bytes. */
function predictedOf(directory: Directory, depth: number): boolean {
  const predictor = directory.one(TAG.predictor, 1);
  if (predictor === 1) return false;
  if (predictor !== 2 || depth < 8) refuse({ code: 'unsupported', what: 'predictor', value: predictor });
  return true;
}

const [INCH, CENTIMETRE] = [2, 3];

function resolutionOf(directory: Directory): Resolution | null {
  const unit = directory.one(TAG.unit, INCH);
  const factor = unit === INCH ? 1 : unit === CENTIMETRE ? 2.54 : 0;
  const resolution = {
    across: directory.one(TAG.across, 0) * factor,
    down: directory.one(TAG.down, 0) * factor,
  };
  return knownResolution(resolution);
}

/** The colours that a palette gives for each pixel. */
function coloursOf(
  data: Uint8Array | Uint16Array,
  directory: Directory,
  depth: number,
): Pick<Raster, 'inks' | 'data' | 'stride' | 'most' | 'highIsToner'> {
  const palette = directory.all(TAG.palette) ?? [];
  const size = 2 ** depth;
  if (palette.length !== 3 * size) return damaged('its palette does not fit');
  const colours = new Uint16Array(3 * data.length);
  for (const [at, index] of data.entries())
    for (let colour = 0; colour < 3; colour++) colours[3 * at + colour] = palette[colour * size + index] ?? 0;
  return { inks: 'rgb', data: colours, stride: 3, most: 65_535, highIsToner: false };
}

/** How the samples of a page are laid down. */
interface Layout {
  readonly width: number;
  readonly height: number;
  readonly channels: number;
  readonly depth: number;
  readonly lowFirst: boolean;
  readonly compression: number;
  readonly predicted: boolean;
  /** The lowest bit of a byte stands first. */
  readonly reversed: boolean;
}

/** A rectangle of pixels as it is packed: a strip or a tile of all channels, or of one. */
interface Block {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
  /** The first of its channels, and how many it has. */
  readonly channel: number;
  readonly channels: number;
  readonly at: number;
  readonly bytes: number;
}

function samplesOf(page: Layout, directory: Directory, bytes: Uint8Array): Uint8Array | Uint16Array {
  const { width, height, channels, depth } = page;
  const data = new (depth === 16 ? Uint16Array : Uint8Array)(width * height * channels);
  for (const block of blocksOf(page, directory)) {
    if (block.at + block.bytes > bytes.length) return damaged('it ends too early');
    const packed = bytes.subarray(block.at, block.at + block.bytes);
    const row = Math.ceil((block.width * block.channels * depth) / 8);
    put(unpackStrip(packed, page.compression, row * block.height), row, block, page, data);
  }
  return data;
}

/** A tile is a power of two or near it; one far beyond its page is none. */
const LARGEST_TILE = 16_384;

function* blocksOf({ width, height, channels }: Layout, directory: Directory): Generator<Block> {
  const tileWidth = directory.one(TAG.tileWidth, 0);
  const tiled = tileWidth > 0;
  const blockWidth = tiled ? tileWidth : width;
  const blockHeight = tiled
    ? directory.one(TAG.tileHeight, 0)
    : Math.min(directory.one(TAG.rowsPerStrip, height), height);
  if (blockHeight < 1 || (tiled && Math.max(blockWidth, blockHeight) > LARGEST_TILE))
    return damaged('its tiles make no sense');
  const places = directory.all(tiled ? TAG.tilePlaces : TAG.stripPlaces) ?? [];
  const sizes = directory.all(tiled ? TAG.tileBytes : TAG.stripBytes) ?? [];
  const apart = directory.one(TAG.planes, 1) === 2;
  const [across, down] = [Math.ceil(width / blockWidth), Math.ceil(height / blockHeight)];
  const planes = apart ? channels : 1;
  if (places.length < across * down * planes || sizes.length < places.length)
    return damaged('some of its pixels are missing');
  for (let index = 0; index < across * down * planes; index++) {
    const inPlane = index % (across * down);
    const top = Math.floor(inPlane / across) * blockHeight;
    yield {
      left: (inPlane % across) * blockWidth,
      top,
      width: blockWidth,
      height: tiled ? blockHeight : Math.min(blockHeight, height - top),
      channel: apart ? Math.floor(index / (across * down)) : 0,
      channels: apart ? 1 : channels,
      at: places[index] ?? 0,
      bytes: sizes[index] ?? 0,
    };
  }
}

/** Puts the samples of a block in their places; what a tile has beyond the page is left. */
function put(
  unpacked: Uint8Array,
  rowBytes: number,
  block: Block,
  page: Layout,
  data: Uint8Array | Uint16Array,
): void {
  const { depth, channels, lowFirst, reversed, predicted } = page;
  const columns = Math.min(block.width, page.width - block.left);
  const rows = Math.min(block.height, page.height - block.top);
  const mask = 2 ** depth - 1;
  const each = block.channels;
  const before = new Uint16Array(each);
  for (let y = 0; y < rows; y++) {
    const row = y * rowBytes;
    let to = ((block.top + y) * page.width + block.left) * channels + block.channel;
    before.fill(0);
    for (let x = 0, sample = 0; x < columns; x++, to += channels)
      for (let channel = 0; channel < each; channel++, sample++) {
        let value: number;
        if (depth === 8) value = unpacked[row + sample] ?? 0;
        else if (depth === 16) {
          const [first, second] = [unpacked[row + 2 * sample] ?? 0, unpacked[row + 2 * sample + 1] ?? 0];
          value = lowFirst ? first | (second << 8) : (first << 8) | second;
        } else {
          const bit = sample * depth;
          const byte = unpacked[row + (bit >> 3)] ?? 0;
          const shift = reversed ? bit & 7 : 8 - depth - (bit & 7);
          value = (byte >> shift) & mask;
        }
        if (predicted) {
          value = (value + (before[channel] ?? 0)) & mask;
          before[channel] = value;
        }
        data[to + channel] = value;
      }
  }
}
