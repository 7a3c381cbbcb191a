import { dirname, isAbsolute, join } from 'node:path';
import { find } from '../text/finding.ts';
import { findingLine } from '../output/findings.ts';
import { harmless } from '../output/harmless.ts';
import { imageKind } from '../report/photo.ts';
import { harmlessSvg } from '../report/svg-logo.ts';
import type { Logo } from '../report/letterhead.ts';
import { readLetterhead } from '../trial/read.ts';
import type { LetterheadData } from '../trial/schema/letterhead.ts';
import { decode } from '../world/decode.ts';
import { EXIT } from '../world/exit.ts';
import { type Io, systemWords } from '../world/io.ts';
import { Refused } from '../world/refused.ts';
import { open } from './open.ts';

/** A letterhead with its logo, and the files they are from. */
export interface OpenedLetterhead {
  readonly data: LetterheadData;
  readonly logo: Logo | null;
  readonly files: readonly {
    readonly kind: 'letterhead' | 'logo';
    readonly file: string;
    readonly sha256: string;
  }[];
}

/** A logo is small: it stands in every report. */
const LARGEST_LOGO = 1024 * 1024;

/** Reads a letterhead and its logo. @throws Refused where either cannot be used; once said */
export function openLetterhead(file: string, io: Io): OpenedLetterhead {
  const { source, bytes } = open(io, file);
  const { letterhead: data, problems } = readLetterhead(source);
  if (data === null || bytes === null) {
    io.err(problems.map((problem) => `${findingLine(find(problem, source))}\n`).join(''));
    throw new Refused(EXIT.unreadable);
  }
  const own = { kind: 'letterhead' as const, file, sha256: io.digest(bytes) };
  if (data.logo == null || data.logo === '') return { data, logo: null, files: [own] };
  const place = source.place({ path: ['logo'] });
  const refuse = (why: string): never => {
    io.err(`tallytare: ${harmless(file)}:${place.line}:${place.column}: ${harmless(why)}\n`);
    throw new Refused(EXIT.unreadable);
  };
  const name = join(dirname(file), data.logo);
  if (isAbsolute(data.logo) || data.logo.split(/[\\/]/).includes('..')) {
    refuse(`the logo ${data.logo} is not in the letterhead’s folder or below; put it there`);
  }
  const picture = readLogo(name, data.logo, io, refuse);
  const logo = logoOf(picture) ?? refuse(`the logo ${data.logo} is no PNG, JPEG or SVG that says its size`);
  return { data, logo, files: [own, { kind: 'logo', file: name, sha256: io.digest(picture) }] };
}

function readLogo(file: string, name: string, io: Io, refuse: (why: string) => never): Uint8Array {
  let bytes: Uint8Array;
  try {
    bytes = io.plainFile(io.real(file), LARGEST_LOGO);
  } catch (error) {
    return refuse(`the logo ${name} cannot be read: ${systemWords(error)}`);
  }
  return bytes.length > LARGEST_LOGO
    ? refuse(`the logo ${name} has more than 1 MiB; make it smaller`)
    : bytes;
}

/** A logo by what is in its file; an SVG is written anew, without anything that could do harm. */
function logoOf(bytes: Uint8Array): Logo | null {
  const base64 = (of: Uint8Array): string => Buffer.from(of).toString('base64');
  const kind = imageKind(bytes);
  if (kind?.type === 'image/png' || kind?.type === 'image/jpeg') {
    return { type: kind.type, width: kind.width, height: kind.height, base64: base64(bytes) };
  }
  const decoded = kind === null ? decode(bytes) : null;
  const drawn = decoded !== null && 'text' in decoded ? harmlessSvg(decoded.text) : null;
  if (drawn === null) return null;
  const { svg, width, height } = drawn;
  return { type: 'image/svg+xml', width, height, base64: base64(Buffer.from(svg)) };
}
