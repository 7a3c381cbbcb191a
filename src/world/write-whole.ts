import {
  chmodSync,
  chownSync,
  closeSync,
  existsSync,
  fsyncSync,
  linkSync,
  openSync,
  readdirSync,
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
 * @throws a system error; EEXIST when there is such a file and it was not to be replaced; NOT_A_FILE where a
 *   device or a pipe stands there, which is never replaced
 */
export function writeWhole(file: string, text: string, force: boolean): void {
  if (!force && existsSync(file)) throw taken(file);
  const place = force && existsSync(file) ? realpathSync(file) : file;
  const there = statSync(place, { throwIfNoEntry: false });
  if (there && !there.isFile() && !there.isDirectory())
    throw Object.assign(new Error(`${file} is a device or a pipe`), { code: 'NOT_A_FILE' });
  const name = `.${basename(place).slice(0, 60)}.`;
  const temporary = join(dirname(place), `${name}${process.pid}.part`);
  clearAway(dirname(place), name);
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

/** Removes what a run that was killed left of the same file; a run that still goes on keeps its part. */
function clearAway(folder: string, name: string): void {
  for (const left of readdirSync(folder)) {
    const process = left.startsWith(name) ? /^(\d+)[.]part$/.exec(left.slice(name.length))?.[1] : undefined;
    if (process !== undefined && !isRunning(Number(process))) rmSync(join(folder, left), { force: true });
  }
}

function isRunning(id: number): boolean {
  try {
    process.kill(id, 0);
    return true;
  } catch (error) {
    // Somebody else's process may not be asked, and is there.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

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
  if (before) {
    try {
      chownSync(temporary, before.uid, before.gid);
    } catch {
      // Only some may give a file away; the others own what they write.
    }
    chmodSync(temporary, before.mode);
  }
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
