import type { Image } from './content.ts';

/** Photos by what is in them, whatever their names say. */

/** More bytes than this has no photo that is fit for a letter. */
export const LARGEST_PHOTO = 5 * 1024 * 1024;
/** All photos of one report together: as much as mail takes. */
export const ALL_PHOTOS = 15 * 1024 * 1024;

type Kind = Pick<Image, 'type' | 'width' | 'height'>;

/** What kind of image the bytes are, by their signature and header; null where they are none of the three. */
export function imageKind(bytes: Uint8Array): Kind | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    const found = png(view) ?? jpeg(view) ?? webp(view);
    return found !== null && found.width > 0 && found.height > 0 ? found : null;
  } catch (error) {
    // The header goes on past the end of the bytes.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

const text = (view: DataView, at: number, length: number): string =>
  String.fromCharCode(...Array.from({ length }, (_, index) => view.getUint8(at + index)));

/** Signature, then the header chunk with width and height (ISO/IEC 15948, 5.2 and 11.2.2). */
function png(view: DataView): Kind | null {
  if (text(view, 0, 8) !== '\x89PNG\r\n\x1a\n' || text(view, 12, 4) !== 'IHDR') return null;
  return { type: 'image/png', width: view.getUint32(16), height: view.getUint32(20) };
}

/** Start of image, then segments up to the start of a frame with height and width (ITU-T T.81, B.1 and B.2.2). */
function jpeg(view: DataView): Kind | null {
  if (view.getUint16(0) !== 0xffd8 || view.getUint8(2) !== 0xff) return null;
  for (let at = 2; view.getUint8(at) === 0xff;) {
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    const frame = marker >= 0xc0 && marker <= 0xcf && !NO_FRAME.has(marker);
    if (frame) return { type: 'image/jpeg', height: view.getUint16(at + 5), width: view.getUint16(at + 7) };
    const length = view.getUint16(at + 2);
    if (marker < 0xc0 || length < 2) return null;
    at += 2 + length;
  }
  return null;
}

/** Markers among those of frames that begin none: tables, an extension, arithmetic conditioning. */
const NO_FRAME: ReadonlySet<number> = new Set([0xc4, 0xc8, 0xcc]);

/** A RIFF container of one of the three kinds (RFC 9649, 2.4 to 2.7). */
function webp(view: DataView): Kind | null {
  if (text(view, 0, 4) !== 'RIFF' || text(view, 8, 4) !== 'WEBP') return null;
  const size = ((): readonly [number, number] | null => {
    switch (text(view, 12, 4)) {
      case 'VP8 ':
        if (text(view, 23, 3) !== '\x9d\x01\x2a') return null;
        return [view.getUint16(26, true) & 0x3fff, view.getUint16(28, true) & 0x3fff];
      case 'VP8L': {
        if (view.getUint8(20) !== 0x2f) return null;
        const bits = view.getUint32(21, true);
        return [(bits & 0x3fff) + 1, ((bits >>> 14) & 0x3fff) + 1];
      }
      case 'VP8X':
        return [
          (view.getUint32(24, true) & 0xffffff) + 1,
          view.getUint16(27, true) + (view.getUint8(29) << 16) + 1,
        ];
      default:
        return null;
    }
  })();
  return size && { type: 'image/webp', width: size[0], height: size[1] };
}
