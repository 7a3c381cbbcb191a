import { dirname } from 'node:path';
import type { Input } from '../archive/input.ts';
import type { Image } from '../report/content.ts';
import { ALL_PHOTOS, imageKind, LARGEST_PHOTO } from '../report/photo.ts';
import type { Fault, Problem } from '../problems/problem.ts';
import type { TrialData } from '../trial/schema/trial.ts';
import type { Trial } from '../trial/trial.ts';
import { dotted, type Path } from '../uncertainty/path.ts';
import type { Io } from '../world/io.ts';
import { openBelow } from './below.ts';

/** The photos of a trial by the place of their finding or print, and what is wrong with those that cannot be used. */
export interface ReadPhotos {
  readonly photos: ReadonlyMap<string, Image>;
  readonly problems: readonly Problem[];
}

const MEBIBYTE = 1024 * 1024;

/** Reads the photos that a trial names, from its own folder and below. */
export function readPhotos({ data }: Trial, file: string, io: Io): ReadPhotos {
  const named = photosIn(data);
  const folder = file === '-' ? '.' : dirname(file);
  const photos = new Map<string, Image>();
  const problems: Problem[] = [];
  let total = 0;
  for (const { path, name } of named) {
    const read = readPhoto(name, folder, io);
    const place = [...path, 'photo'];
    if ('code' in read) {
      problems.push({ ...read, path: place });
      continue;
    }
    total += read.bytes;
    if (total > ALL_PHOTOS) {
      problems.push({ code: 'photos-too-large', mebibytes: ALL_PHOTOS / MEBIBYTE, path: place });
      break;
    }
    photos.set(dotted(path), read.image);
  }
  return { photos, problems };
}

/** The photos a trial names and can show, as inputs of its result; and what is wrong with the others. */
export function photoInputs(
  { data }: Trial,
  file: string,
  io: Io,
): { readonly inputs: readonly Input[]; readonly problems: readonly Problem[] } {
  const inputs = new Map<string, Input>();
  const problems: Problem[] = [];
  const folder = dirname(file);
  for (const { path, name } of photosIn(data)) {
    if (inputs.has(name)) continue;
    const opened = openPhoto(name, folder, io);
    if ('code' in opened) problems.push({ ...opened, path: [...path, 'photo'] });
    else inputs.set(name, { kind: 'photo', file: name, sha256: io.digest(opened.bytes) });
  }
  return { inputs: [...inputs.values()], problems };
}

/** Every photo a trial names, with its finding or print. */
export const photosIn = ({ inspection, prints, reference }: TrialData): { path: Path; name: string }[] => [
  ...photosOf(inspection, ['inspection']),
  ...photosOf(prints?.by_eye, ['prints', 'by_eye']),
  ...photosOf(reference?.inspection, ['reference', 'inspection']),
  ...photosOf(reference?.prints?.by_eye, ['reference', 'prints', 'by_eye']),
];

function photosOf(
  found: readonly { readonly photo?: string | null | undefined }[] | null | undefined,
  path: Path,
): { path: Path; name: string }[] {
  return (found ?? []).flatMap(({ photo }, index) =>
    photo == null ? [] : [{ path: [...path, index], name: photo }],
  );
}

function readPhoto(name: string, folder: string, io: Io): { image: Image; bytes: number } | Fault {
  const opened = openPhoto(name, folder, io);
  if ('code' in opened) return opened;
  const { bytes } = opened;
  const kind = imageKind(bytes);
  if (kind === null) return { code: 'photo-no-image', photo: name };
  const base64 = Buffer.from(bytes).toString('base64');
  return { image: { name, ...kind, base64, sha256: io.digest(bytes) }, bytes: bytes.length };
}

/** The bytes of a photo in the folder or below. */
function openPhoto(name: string, folder: string, io: Io): { bytes: Uint8Array } | Fault {
  const opened = openBelow(name, folder, LARGEST_PHOTO, io);
  if ('bytes' in opened) return opened;
  switch (opened.trouble) {
    case 'outside':
      return { code: 'photo-outside', photo: name };
    case 'too-large':
      return { code: 'photo-too-large', photo: name, mebibytes: LARGEST_PHOTO / MEBIBYTE };
    case 'unreadable':
      return { code: 'photo-unreadable', photo: name, why: opened.why };
  }
}
