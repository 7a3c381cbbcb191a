import { type Counted, type CountedDocument, type CountedPage, countPage } from './count.ts';
import { PNG_SIGN, readPng } from './png.ts';
import { type Raster, RasterRefused, type RasterFault, refuse } from './raster.ts';
import { readTiff, TIFF_SIGNS } from './tiff.ts';

const begins = (bytes: Uint8Array, sign: readonly number[]): boolean =>
  sign.every((byte, index) => bytes[index] === byte);

/** The coverage of a document by the bytes of its raster; nothing is thrown. */
export function countDocument(bytes: Uint8Array): CountedDocument | RasterFault {
  try {
    const kind = begins(bytes, PNG_SIGN)
      ? 'PNG'
      : TIFF_SIGNS.some((sign) => begins(bytes, sign))
        ? 'TIFF'
        : refuse({ code: 'no-raster' });
    const pages: CountedPage[] = [];
    for (const page of kind === 'PNG' ? onePage(bytes) : readTiff(bytes)) {
      pages.push(countPage(page));
      if (pages[0]?.slots.length !== pages.at(-1)?.slots.length) refuse({ code: 'pages-differ' });
    }
    return { kind, pages, slots: meanOf(pages) };
  } catch (error) {
    if (error instanceof RasterRefused) return error.fault;
    // What the libraries do not say themselves: a place outside of the file, a size that no memory has.
    return { code: 'damaged', why: error instanceof RangeError ? 'its sizes make no sense' : String(error) };
  }
}

function* onePage(bytes: Uint8Array): Generator<Raster> {
  yield readPng(bytes);
}

/** The mean of each colour. One rule of painting holds for all pages, so that what they may be off is the mean, too. */
function meanOf(pages: readonly CountedPage[]): Counted[] {
  return (pages[0]?.slots ?? []).map(({ slot }, index): Counted => {
    const mean = (of: (one: Counted) => number): number =>
      pages.reduce((sum, { slots }) => sum + (slots[index] ? of(slots[index]) : 0), 0) / pages.length;
    return {
      slot,
      coverage: mean((one) => one.coverage),
      tolerance: mean((one) => one.tolerance),
      edges: mean((one) => one.edges),
      places: mean((one) => one.places),
      toned: mean((one) => one.toned),
      aboveHalf: mean((one) => one.aboveHalf),
      aboveHalfTolerance: mean((one) => one.aboveHalfTolerance),
    };
  });
}
