import { Unzlib } from 'fflate';
import { damaged, refuse } from './raster.ts';

/** Ways in which the pixels of a TIFF are packed (TIFF 6.0 and its Technical Note 2, from memory). */
const [PLAIN, LZW, DEFLATE, OLD_DEFLATE, PACK_BITS] = [1, 5, 8, 32946, 32773];

/**
 * A strip or tile unpacked to exactly `size` bytes: none is taken that is shorter, and nothing is unpacked beyond.
 *
 * @throws RasterRefused
 */
export function unpackStrip(packed: Uint8Array, compression: number, size: number): Uint8Array {
  switch (compression) {
    case PLAIN:
      return packed.length < size ? tooShort() : packed.subarray(0, size);
    case LZW:
      return unpackLzw(packed, size);
    case DEFLATE:
    case OLD_DEFLATE:
      return inflate(packed, size);
    case PACK_BITS:
      return unpackBits(packed, size);
    default:
      return refuse({ code: 'unsupported', what: 'compression', value: compression });
  }
}

const tooShort = (): never => damaged('its pixels end too early');

/** Each byte of what is fed unpacks to a thousand at the most. */
const PIECE = 16_384;

function inflate(packed: Uint8Array, size: number): Uint8Array {
  const out = new Uint8Array(size);
  let done = 0;
  const stream = new Unzlib((piece) => {
    if (done + piece.length > size) damaged('more is packed in it than its pixels take');
    out.set(piece, done);
    done += piece.length;
  });
  for (let at = 0; at < packed.length; at += PIECE)
    stream.push(packed.subarray(at, at + PIECE), at + PIECE >= packed.length);
  return done < size ? tooShort() : out;
}

/** A count below 128 copies so many bytes and one more; above, the next byte is repeated 257 − count times. */
function unpackBits(packed: Uint8Array, size: number): Uint8Array {
  const out = new Uint8Array(size);
  let [at, done] = [0, 0];
  while (done < size) {
    const count = packed[at++];
    if (count === undefined) return tooShort();
    if (count === 128) continue;
    const length = Math.min(count < 128 ? count + 1 : 257 - count, size - done);
    if (count < 128) {
      if (at + length > packed.length) return tooShort();
      out.set(packed.subarray(at, at + length), done);
      at += count + 1;
    } else {
      const repeated = packed[at++];
      if (repeated === undefined) return tooShort();
      out.fill(repeated, done, done + length);
    }
    done += length;
  }
  return out;
}

const [CLEAR, END, FIRST, MOST_CODES] = [256, 257, 258, 4096];

/** Codes of 9 to 12 bits, the highest bit first; each new one is the text before it and the first byte of what follows. */
function unpackLzw(packed: Uint8Array, size: number): Uint8Array {
  const out = new Uint8Array(size);
  // Where in what is unpacked the text of a code stands, and how long it is.
  const from = new Uint32Array(MOST_CODES);
  const lengths = new Uint32Array(MOST_CODES).fill(1, 0, CLEAR);
  let [bits, held, at, done] = [0, 0, 0, 0];
  let [width, next, last] = [9, FIRST, -1];
  while (done < size) {
    while (held < width) {
      const byte = packed[at++];
      if (byte === undefined) return tooShort();
      bits = ((bits << 8) | byte) & 0xfffff;
      held += 8;
    }
    held -= width;
    const code = (bits >> held) & ((1 << width) - 1);
    if (code === END) return tooShort();
    if (code === CLEAR) {
      [width, next, last] = [9, FIRST, -1];
      continue;
    }
    if (last < 0 ? code > 255 : code > next || (code > 255 && code < FIRST))
      return damaged('its packed pixels make no sense');
    const begin = done;
    if (code < 256) out[done++] = code;
    else {
      // The text of a code that is just being made overlaps with what is written.
      const start = code === next ? begin - (lengths[last] ?? 0) : (from[code] ?? 0);
      const length = code === next ? (lengths[last] ?? 0) + 1 : (lengths[code] ?? 0);
      for (let i = 0; i < length && done < size; i++) out[done++] = out[start + i] ?? 0;
    }
    if (last >= 0 && next < MOST_CODES) {
      from[next] = begin - (lengths[last] ?? 0);
      lengths[next] = (lengths[last] ?? 0) + 1;
      next += 1;
      // The width grows one code early.
      if (next === 2 ** width - 1 && width < 12) width += 1;
    }
    last = code;
  }
  return out;
}
