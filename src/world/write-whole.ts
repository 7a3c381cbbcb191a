import {
  chmodSync,
  chownSync,
  closeSync,
  existsSync,
  fsyncSync,
  linkSync,
  openSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
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
  moveInto(place, text, (temporary) => {
    if (force) replace(temporary, place);
    else putInto(temporary, place);
  });
}

/**
 * Writes a file anew, whole or not at all, where it is still as it was read. Of several that do so at once one does,
 * and the others are told.
 *
 * @throws a system error; CHANGED where it is another by now; BUSY while somebody else writes it so
 */
export function writeUnchanged(file: string, read: Uint8Array, text: string): void {
  const place = realpathSync(file);
  const lock = join(dirname(place), `.${basename(place).slice(0, 60)}.lock`);
  takeLock(lock);
  try {
    moveInto(place, text, (temporary) => {
      if (!readFileSync(place).equals(read))
        throw Object.assign(new Error(`${file} has changed`), { code: 'CHANGED' });
      replace(temporary, place);
    });
  } finally {
    rmSync(lock, { force: true });
  }
}

/** A file that only one can make holds the others off; one that a killed run left does not. */
function takeLock(lock: string): void {
  try {
    writeFileSync(lock, String(process.pid), { flag: 'wx' });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    const holder = Number(readFileSync(lock, 'latin1'));
    // One that was just made does not name its holder yet.
    if (!(holder > 0) || isRunning(holder))
      throw Object.assign(new Error(`${lock} is held`), { code: 'BUSY' }, { path: lock });
    rmSync(lock, { force: true });
    writeFileSync(lock, String(process.pid), { flag: 'wx' });
  }
}

/** Writes a text down beside a place and has it moved there. */
function moveInto(place: string, text: string, move: (temporary: string) => void): void {
  const there = statSync(place, { throwIfNoEntry: false });
  if (there && !there.isFile() && !there.isDirectory())
    throw Object.assign(new Error(`${place} is a device or a pipe`), { code: 'NOT_A_FILE' });
  const name = `.${basename(place).slice(0, 60)}.`;
  const temporary = join(dirname(place), `${name}${process.pid}.part`);
  clearAway(dirname(place), name);
  try {
    writeDown(temporary, Buffer.from(text));
    move(temporary);
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
