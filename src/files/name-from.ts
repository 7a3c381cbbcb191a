import { basename, dirname, isAbsolute, join, relative, sep } from 'node:path';
import type { Io } from '../world/io.ts';

/**
 * A file as it is named from a folder, with slashes, whichever way both were typed. Where one was typed in full and the
 * other was not, links on the way are followed, since the folder the program runs in has none in its name.
 */
export function nameFrom(folder: string, file: string, io: Io): string {
  const mixed = isAbsolute(folder) !== isAbsolute(file);
  const name = mixed
    ? relative(real(folder, io), join(real(dirname(file), io), basename(file)))
    : relative(folder, file);
  return name.replaceAll(sep, '/');
}

function real(path: string, io: Io): string {
  try {
    return io.real(path);
  } catch {
    // What is wrong with it is said where it is opened.
    return path;
  }
}
