import { type Raster, refuse, type Resolution } from './raster.ts';

/** Colour positions of a raster, in the order in which they are told. */
export const RASTER_SLOTS = ['black', 'cyan', 'magenta', 'yellow'] as const;
export type RasterSlot = (typeof RASTER_SLOTS)[number];

/** What one colour takes of a page, or of the mean of several. Shares are in percent of the raster. */
export interface Counted {
  readonly slot: RasterSlot;
  /** By tint: a pixel counts as much as it is toned. */
  readonly coverage: number;
  /** Half-width of what the coverage may be off, rectangular. */
  readonly tolerance: number;
  /** Edges, each one pixel wide and as deep as the tint changes there; those aslant as the steps that they take. */
  readonly edges: number;
  /** Places across a pixel that its renderer looked at: 1 where pixels are toned in full or not at all. */
  readonly places: number;
  /** Pixels that hold any toner. */
  readonly toned: number;
  /** Pixels toned by half or more. */
  readonly aboveHalf: number;
  /** Half-width of that, rectangular: half of the pixels between a quarter and three quarters. */
  readonly aboveHalfTolerance: number;
}

/** A page as it was counted. */
export interface CountedPage {
  readonly width: number;
  readonly height: number;
  readonly resolution: Resolution | null;
  readonly slots: readonly Counted[];
  /** Rows and columns without any toner, from each edge of the raster; null where the page is empty. */
  readonly margins: Margins | null;
}

export interface Margins {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Where each colour stands in a pixel. */
const PLACES: Readonly<Record<Raster['inks'], readonly (readonly [slot: RasterSlot, offset: number])[]>> = {
  grey: [['black', 0]],
  rgb: [['black', 0]],
  cmyk: [
    ['black', 3],
    ['cyan', 0],
    ['magenta', 1],
    ['yellow', 2],
  ],
};

/**
 * The coverage of a page. @throws RasterRefused where it is of red, green and blue that are not alike everywhere
 */
export function countPage(raster: Raster): CountedPage {
  if (raster.inks === 'rgb') greyThroughout(raster);
  const { width, height, resolution } = raster;
  const counted = PLACES[raster.inks].map(([slot, offset]) => countOne(raster, slot, offset));
  const least = (of: (margins: Margins) => number): number =>
    Math.min(...counted.flatMap(({ margins }) => (margins === null ? [] : [of(margins)])));
  const margins = counted.every((one) => one.margins === null)
    ? null
    : {
        left: least(({ left }) => left),
        top: least(({ top }) => top),
        right: least(({ right }) => right),
        bottom: least(({ bottom }) => bottom),
      };
  return { width, height, resolution, slots: counted.map(({ slot }) => slot), margins };
}

function greyThroughout({ data, stride }: Raster): void {
  for (let at = 0; at < data.length; at += stride)
    if (data[at] !== data[at + 1] || data[at] !== data[at + 2]) refuse({ code: 'coloured' });
}

/** Tints that fewer of the soft pixels have are strays: corners, and where two edges meet. */
const STRAY = 0.005;

/**
 * One colour of a page, by tint.
 *
 * What an edge leaves open: a renderer that tones a pixel in full or not at all puts every edge on the grid of pixels. It
 * tones the pixels whose middle a figure covers, or all that it touches: by one rule on the whole page, so that each edge
 * may be half a pixel off, all the same way. A renderer that softens edges looks at k × k places in a pixel and has k² + 1
 * tints for it; then an edge is half a place off. k is told by the tints of soft pixels: those between a lighter and a
 * darker neighbour that are at least half of the full tint apart. The edges are the sum of all steps of the tint to the
 * right and down, which is by how many pixels the toned area grows where all that is touched is toned, twice over. Tints
 * that are no edges are known to half a step of the samples.
 */
function countOne(
  { data, stride, width, height, most, highIsToner }: Raster,
  slot: RasterSlot,
  offset: number,
): { readonly slot: Counted; readonly margins: Margins | null } {
  // Samples are 2ⁿ − 1 at the most: this turns them round.
  const turn = highIsToner ? 0 : most;
  const row = width * stride;
  const soft = new Uint32Array(256);
  const bin = Math.max(1, (most + 1) / 256);
  let [ink, steps, toned, full, softPixels, quarter, half, threeQuarters] = [0, 0, 0, 0, 0, 0, 0, 0];
  let [left, top, right, bottom] = [width, height, -1, -1];
  for (let y = 0, at = offset; y < height; y++) {
    const last = y + 1 === height;
    let next = (data[at] ?? 0) ^ turn;
    let before = next;
    for (let x = 0; x < width; x++, at += stride) {
      const tint = next;
      if (x + 1 < width) next = (data[at + stride] ?? 0) ^ turn;
      const below = last ? tint : (data[at + row] ?? 0) ^ turn;
      steps += Math.abs(tint - next) + Math.abs(tint - below);
      if (tint !== 0) {
        ink += tint;
        toned += 1;
        if (x < left) left = x;
        if (x > right) right = x;
        if (top > y) top = y;
        bottom = y;
        if (4 * tint >= most) quarter += 1;
        if (2 * tint >= most) half += 1;
        if (4 * tint >= 3 * most) threeQuarters += 1;
        if (tint === most) full += 1;
        else {
          const above = y === 0 ? tint : (data[at - row] ?? 0) ^ turn;
          if (between(before, tint, next, most) || between(above, tint, below, most)) {
            softPixels += 1;
            const one = Math.floor(tint / bin);
            soft[one] = (soft[one] ?? 0) + 1;
          }
        }
      }
      before = tint;
    }
  }
  const share = (of: number): number => (100 * of) / (width * height);
  const tints = soft.filter((count) => count > 0 && count >= STRAY * softPixels).length;
  const places = Math.sqrt(tints + 1);
  const coverage = share(ink / most);
  const edges = share(steps / most);
  const off = Math.hypot(edges / (2 * places), share(toned - full) / (2 * most));
  return {
    slot: {
      slot,
      coverage,
      tolerance: Math.min(off, coverage, 100 - coverage),
      edges,
      places,
      toned: share(toned),
      aboveHalf: share(half),
      aboveHalfTolerance: share(quarter - threeQuarters) / 2,
    },
    margins: right < 0 ? null : { left, top, right: width - 1 - right, bottom: height - 1 - bottom },
  };
}

/** Whether a tint lies between those of two neighbours, which are half of the full tint apart or more. */
const between = (one: number, tint: number, other: number, most: number): boolean =>
  one < tint
    ? tint < other && 2 * (other - one) >= most
    : tint < one && other < tint && 2 * (one - other) >= most;

/** A document as it was counted. */
export interface CountedDocument {
  readonly kind: 'PNG' | 'TIFF';
  readonly pages: readonly CountedPage[];
  /** The mean over the pages, colour by colour. */
  readonly slots: readonly Counted[];
}
