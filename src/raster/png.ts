import { PNG } from 'pngjs';
import { damaged, knownResolution, type Raster, type Resolution, refuse, sized } from './raster.ts';

export const PNG_SIGN = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

const METRES_OF_INCH = 0.0254;

/**
 * The page of a PNG. Its head is looked at before the library unpacks it: within the size that is allowed it unpacks no
 * more bytes than the page has, but for interlaced pages, where it knows no bound.
 *
 * @throws RasterRefused
 */
export function readPng(bytes: Uint8Array): Raster {
  const { width, height, depth, interlaced, resolution } = headOf(bytes);
  sized(width, height);
  if (interlaced) refuse({ code: 'interlaced' });
  const page = unpacked(bytes);
  // Of a palette the library gives the colours, which have eight bits.
  const most = page.palette !== false ? 255 : 2 ** depth - 1;
  const { data } = page;
  if (data.length !== width * height * 4) return damaged('it ends too early');
  for (let at = 3; at < data.length; at += 4) if (data[at] !== most) return refuse({ code: 'transparent' });
  const inks = page.color ? 'rgb' : 'grey';
  return { width, height, inks, data, stride: 4, most, highIsToner: false, resolution };
}

interface Unpacked {
  readonly data: Uint8Array | Uint16Array;
  /** False where there is none. */
  readonly palette: unknown;
  readonly color: boolean;
}

/** What the library makes of it: four samples a pixel, the last its opacity. @throws RasterRefused */
function unpacked(bytes: Uint8Array): Unpacked {
  try {
    const { data, palette, color } = PNG.sync.read(
      Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length),
      {
        skipRescale: true,
      },
    ) as unknown as Unpacked;
    return { data, palette: palette !== false, color };
  } catch {
    return damaged('its pixels cannot be unpacked');
  }
}

interface Head {
  readonly width: number;
  readonly height: number;
  readonly depth: number;
  readonly interlaced: boolean;
  readonly resolution: Resolution | null;
}

/** What stands in front of the pixels (W3C PNG, 11.2.1 and 11.3.4.3, from memory). */
function headOf(bytes: Uint8Array): Head {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  let head: Omit<Head, 'resolution'> | null = null;
  let resolution: Resolution | null = null;
  for (let at = PNG_SIGN.length; at + 12 <= bytes.length;) {
    const length = view.getUint32(at);
    const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    if (name === 'IDAT' || at + 12 + length > bytes.length) break;
    if (name === 'IHDR' && length === 13)
      head = {
        width: view.getUint32(at + 8),
        height: view.getUint32(at + 12),
        depth: bytes[at + 16] ?? 0,
        interlaced: bytes[at + 20] !== 0,
      };
    if (name === 'pHYs' && length === 9 && bytes[at + 16] === 1) {
      const [across, down] = [view.getUint32(at + 8), view.getUint32(at + 12)];
      resolution = { across: across * METRES_OF_INCH, down: down * METRES_OF_INCH };
    }
    at += 12 + length;
  }
  if (head === null) return damaged('its head is missing');
  return { ...head, resolution: knownResolution(resolution) };
}
