import type { CountedDocument } from '../raster/count.ts';
import { countDocument } from '../raster/document.ts';
import type { RasterFault } from '../raster/raster.ts';

/** A page of 600 pixels for each inch, four colours and no packing takes half of it. */
export const LARGEST_DOCUMENT = 256 * 1024 * 1024;

/** Counting takes a second or more, and the trials of a house name the same few documents. */
const MOST_KEPT = 50;

const kept = new Map<string, CountedDocument | RasterFault>();

/** The coverage of a document by its bytes and their SHA-256; the same bytes are counted once. */
export function counted(bytes: Uint8Array, sha256: string): CountedDocument | RasterFault {
  const known = kept.get(sha256);
  if (known !== undefined) return known;
  const found = countDocument(bytes);
  if (kept.size >= MOST_KEPT) kept.clear();
  kept.set(sha256, found);
  return found;
}
