/** A page as pixels. */
export interface Raster {
  readonly width: number;
  readonly height: number;
  /** What its samples are: grey; red, green and blue; or cyan, magenta, yellow and black. */
  readonly inks: 'grey' | 'rgb' | 'cmyk';
  /** Samples row by row, those of a pixel side by side. */
  readonly data: Uint8Array | Uint16Array;
  /** From one pixel to the next in `data`. */
  readonly stride: number;
  /** The greatest sample, 2ⁿ − 1. */
  readonly most: number;
  /** Whether the greatest sample is full toner; else it is white. */
  readonly highIsToner: boolean;
  readonly resolution: Resolution | null;
}

/** Pixels for each inch, across and down. */
export interface Resolution {
  readonly across: number;
  readonly down: number;
}

/** Why a file gives no coverage. */
export type RasterFault =
  /** Neither PNG nor TIFF. */
  | { readonly code: 'no-raster' }
  | { readonly code: 'damaged'; readonly why: string }
  | { readonly code: 'too-many-pixels'; readonly width: number; readonly height: number }
  | { readonly code: 'too-many-pages'; readonly most: number }
  | { readonly code: 'interlaced' }
  /** Red, green and blue that are not alike in some pixel. */
  | { readonly code: 'coloured' }
  | { readonly code: 'transparent' }
  /** Grey pages and coloured ones in one file. */
  | { readonly code: 'pages-differ' }
  /** Something that is not read here: a way of packing, a kind of sample. */
  | { readonly code: 'unsupported'; readonly what: Unsupported; readonly value: number };

export type Unsupported = 'compression' | 'samples' | 'inks' | 'channels' | 'predictor';

/** A raster that gives no coverage. */
export class RasterRefused extends Error {
  constructor(readonly fault: RasterFault) {
    super(fault.code);
  }
}

export const refuse = (fault: RasterFault): never => {
  throw new RasterRefused(fault);
};

export const damaged = (why: string): never => refuse({ code: 'damaged', why });

/** A4 at 900 pixels for each inch, A3 at 600. */
const MOST_PIXELS = 80_000_000;

/** A page's size within bounds, or refused before anything is unpacked. @throws RasterRefused */
export function sized(width: number, height: number): void {
  if (!(width >= 1 && height >= 1)) damaged('it has no pixels');
  if (width * height > MOST_PIXELS) refuse({ code: 'too-many-pixels', width, height });
}

/** A resolution that can be one. */
export const knownResolution = (resolution: Resolution | null): Resolution | null =>
  resolution !== null && resolution.across >= 1 && resolution.down >= 1 ? resolution : null;
