/** What a file is that is no text of YAML, by how it begins. */

export type FileKind = 'pdf' | 'picture' | 'spreadsheet' | 'packed' | 'utf-16' | 'table';

/** Signs at the beginning of files (the formats' own registrations; from memory), in hexadecimal. */
const SIGNS: readonly (readonly [begins: string, kind: FileKind])[] = [
  ['255044462d', 'pdf'],
  ['89504e470d0a1a0a', 'picture'],
  ['ffd8ff', 'picture'],
  ['474946383761', 'picture'],
  ['474946383961', 'picture'],
  ['49492a00', 'picture'],
  ['4d4d002a', 'picture'],
  ['504b0304', 'spreadsheet'],
  ['d0cf11e0a1b11ae1', 'spreadsheet'],
  ['1f8b', 'packed'],
  ['fffe', 'utf-16'],
  ['feff', 'utf-16'],
];

/** The kind of a file by its bytes; null where nothing tells. */
export function kindOfBytes(bytes: Uint8Array): FileKind | null {
  const head = [...bytes.subarray(0, 16)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  const found = SIGNS.find(([begins]) => head.startsWith(begins))?.[1];
  if (found !== undefined) return found;
  if (/^52494646.{8}57454250/.test(head)) return 'picture';
  if (/^.{8}66747970(?:68656963|68656978|6d696631|61766966)/.test(head)) return 'picture';
  // Latin letters of UTF-16 without its mark: every second byte is zero.
  return /^(?:00[2-7].){4}|^(?:[2-7].00){4}/.test(head) ? 'utf-16' : null;
}

/** Rows that a look at a table takes. */
const LOOKED_AT = 4;

/** Whether a text looks like rows of cells: as many marks in each of its first lines, and no key in front of them. */
export function looksLikeTable(text: string): boolean {
  const lines = text
    .slice(0, 20_000)
    .split(/\r\n?|\n/)
    .filter((line) => line.trim() !== '')
    .slice(0, LOOKED_AT);
  if (lines.length < 2 || lines.some((line) => /^\s*(?:#|- |[{[]|[\w ]+:(?:\s|$))/.test(line))) return false;
  return ['\t', ';', ','].some((mark) => {
    const counts = lines.map((line) => line.split(mark).length);
    return (counts[0] ?? 0) > 1 && counts.every((count) => count === counts[0]);
  });
}
