import type { Seal } from './seal.ts';

/** SHA-256 of bytes, in hexadecimal. */
export type Digest = (bytes: Uint8Array) => string;

/**
 * The one way a seal is written: JSON with two spaces of indent, an entry of a list a line, keys in the
 * order of the seal, lines ending in LF. The digest stands on a line of its own, the second, and is that
 * of the text without this line:
 *
 *     sed 2d TRIAL.seal.json | sha256sum
 */
export function sealText(seal: Seal, digest: Digest): string {
  const content = contentText(seal);
  return `${OPEN}  "digest": "${digest(bytesOf(content))}",\n${content.slice(OPEN.length)}`;
}

const OPEN = '{\n';

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** The text of a seal without its digest. */
export function contentText(seal: object): string {
  const entries = Object.entries(seal).map(([key, value]) => `  ${json(key)}: ${lines(value)}`);
  return `${OPEN}${entries.join(',\n')}\n}\n`;
}

/** A list of objects takes a line for each, so that a line that differs is a figure that differs. */
function lines(value: unknown): string {
  if (!Array.isArray(value) || typeof value[0] !== 'object') return inLine(value);
  return `[\n${value.map((entry) => `    ${inLine(entry)}`).join(',\n')}\n  ]`;
}

function inLine(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(inLine).join(', ')}]`;
  if (value === null || typeof value !== 'object') return json(value);
  // Keys are those of the format, which are plain.
  let line = '';
  for (const key in value) line += `${line === '' ? '{' : ', '}"${key}": ${inLine(value[key as never])}`;
  return line === '' ? '{}' : `${line}}`;
}

/** Text that JSON writes as it stands, between quotation marks: most there is. */
const PLAIN = /^[ !#-[\]-~]*$/;

/**
 * What a terminal might obey: DEL, the C1 controls, marks and overrides of direction, line and paragraph
 * separators, the byte order mark. JSON itself escapes the C0 controls. The list is part of the format.
 */
const UNSAFE = /[\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/g;

const json = (value: unknown): string =>
  typeof value === 'string' && PLAIN.test(value) ? `"${value}"` : escaped(value);

const escaped = (value: unknown): string =>
  JSON.stringify(value).replace(UNSAFE, (char) => `\\u${char.charCodeAt(0).toString(16).padStart(4, '0')}`);
