import {
  chmodSync,
  closeSync,
  existsSync,
  fsyncSync,
  linkSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';

/**
 * Writes a file whole or not at all: under a temporary name beside it, and then moved to its own.
 *
 * @param force whether a file that is there already is replaced; it keeps its permissions, and stays
 *   where a link leads to
 * @throws a system error; EEXIST when there is such a file and it was not to be replaced
 */
export function writeWhole(file: string, text: string, force: boolean): void {
  if (!force && existsSync(file)) throw taken(file);
  const place = force && existsSync(file) ? realpathSync(file) : file;
  const temporary = join(dirname(place), `.${basename(place).slice(0, 60)}.${process.pid}.part`);
  try {
    writeDown(temporary, Buffer.from(text));
    if (force) replace(temporary, place);
    else putInto(temporary, place);
  } finally {
    rmSync(temporary, { force: true });
  }
}

const taken = (file: string): NodeJS.ErrnoException =>
  Object.assign(new Error(`there is a file ${file}`), { code: 'EEXIST' });

function writeDown(temporary: string, bytes: Buffer): void {
  rmSync(temporary, { force: true });
  const descriptor = openSync(temporary, 'wx');
  try {
    for (let done = 0; done < bytes.length;) done += writeSync(descriptor, bytes, done);
    // A full disk may only tell when the bytes are really to be written.
    fsyncSync(descriptor);
  } finally {
    closeSync(descriptor);
  }
}

function replace(temporary: string, place: string): void {
  const before = statSync(place, { throwIfNoEntry: false });
  if (before) chmodSync(temporary, before.mode);
  renameSync(temporary, place);
}

/** A link is refused where a name is taken, a move is not: nothing that came meanwhile is written over. */
function putInto(temporary: string, place: string): void {
  try {
    linkSync(temporary, place);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') throw taken(place);
    // Not every disk knows links.
    if (existsSync(place)) throw taken(place);
    renameSync(temporary, place);
  }
}
