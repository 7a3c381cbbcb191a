import { crc32, deflateSync, inflateSync } from 'node:zlib';

/** Colours of one image, each 0 to 255. */
export type Colour = readonly [red: number, green: number, blue: number];

/** A picture of few colours: an index into the palette for each pixel, row by row. */
export interface Drawn {
  readonly width: number;
  readonly height: number;
  readonly palette: readonly Colour[];
  readonly pixels: Uint8Array;
}

const SIGNATURE = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);

function chunk(type: string, data: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  check.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, check]);
}

/** Every row with its filter byte before it, as a PNG holds them. */
const rowsOf = ({ width, height, pixels }: Drawn): Buffer =>
  Buffer.concat(
    Array.from({ length: height }, (_, row) =>
      Buffer.concat([Buffer.from([0]), pixels.subarray(row * width, (row + 1) * width)]),
    ),
  );

/** An indexed PNG of eight bits (ISO/IEC 15948). */
export function png(drawn: Drawn): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(drawn.width, 0);
  header.writeUInt32BE(drawn.height, 4);
  header.set([8, 3, 0, 0, 0], 8);
  return Buffer.concat([
    SIGNATURE,
    chunk('IHDR', header),
    chunk('PLTE', Buffer.from(drawn.palette.flat())),
    chunk('IDAT', deflateSync(rowsOf(drawn), { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** Whether a PNG made here holds what was drawn; its compression may be another zlib's. */
export function holds(file: Buffer, drawn: Drawn): boolean {
  const at = file.indexOf('IDAT');
  const data = file.subarray(at + 4, at + 4 + file.readUInt32BE(at - 4));
  return inflateSync(data).equals(rowsOf(drawn)) && file.includes(Buffer.from(drawn.palette.flat()));
}
