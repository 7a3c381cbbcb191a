import { Buffer, isUtf8 } from 'node:buffer';
import type { Problem } from '../problems/problem.ts';
import { kindOfBytes } from '../text/kind.ts';
import { LARGEST_FILE } from '../text/source.ts';

const BYTE_ORDER_MARK = '\uFEFF';

/** Bytes to text; UTF-8 only, a byte order mark is passed over. */
export function decode(
  bytes: Uint8Array,
  largest = LARGEST_FILE,
): { readonly text: string } | { readonly problem: Problem } {
  if (bytes.length > largest) {
    return { problem: { code: 'file-too-large', path: [] } };
  }
  const kind = kindOfBytes(bytes);
  if (kind !== null) return { problem: { code: 'other-kind', kind, path: [] } };
  if (!isUtf8(bytes)) return { problem: { code: 'not-utf8', byte: firstBadByte(bytes), path: [] } };
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString();
  return { text: text.startsWith(BYTE_ORDER_MARK) ? text.slice(1) : text };
}

function firstBadByte(bytes: Uint8Array): number {
  const shown = new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
  const encoder = new TextEncoder();
  for (let at = shown.indexOf('\uFFFD'); at !== -1; at = shown.indexOf('\uFFFD', at + 1)) {
    const offset = encoder.encode(shown.slice(0, at)).length;
    const genuine = bytes[offset] === 0xef && bytes[offset + 1] === 0xbf && bytes[offset + 2] === 0xbd;
    if (!genuine) return offset;
  }
  return 0;
}
