import { isAbsolute, join, relative, sep } from 'node:path';
import { type Io, systemWords } from '../world/io.ts';

/** The bytes of a file that a trial names, or what keeps it from being opened. */
export type Below =
  | { readonly bytes: Uint8Array }
  | { readonly trouble: 'outside' }
  | { readonly trouble: 'too-large' }
  | { readonly trouble: 'unreadable'; readonly why: string };

/** A plain file of at most `most` bytes in a folder or below it. */
export function openBelow(name: string, folder: string, most: number, io: Io): Below {
  if (isAbsolute(name) || name.split(/[\\/]/).includes('..')) return { trouble: 'outside' };
  try {
    // Links may lead anywhere: what counts is where the file really is, and that is what is opened.
    const [home, place] = [io.real(folder), io.real(join(folder, name))];
    if (!isBelow(place, home)) return { trouble: 'outside' };
    const bytes = io.plainFile(place, most);
    return bytes.length > most ? { trouble: 'too-large' } : { bytes };
  } catch (error) {
    return { trouble: 'unreadable', why: systemWords(error) };
  }
}

function isBelow(place: string, folder: string): boolean {
  const way = relative(folder, place);
  return way !== '' && way !== '..' && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}
