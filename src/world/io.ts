import {
  closeSync,
  constants,
  fstatSync,
  opendirSync,
  openSync,
  readdirSync,
  readSync,
  realpathSync,
  type Stats,
  statSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { LARGEST_FILE } from '../text/source.ts';
import type { OutputName } from '../output/schema/names.ts';
import type { ReportOptions } from '../report/report-options.ts';
import { writeUnchanged, writeWhole } from './write-whole.ts';

/** Something that stands in a folder. A link is what it leads to, but a link to a folder is told apart. */
export interface Entry {
  readonly name: string;
  readonly kind: 'file' | 'folder' | 'linked-folder';
}

/** What `report` does, which stands in a bundle of its own. */
type Report = (paths: readonly string[], options: ReportOptions, io: Io) => number;

/** What prints the schema of an output, which stands in a bundle of its own. */
type OutputSchema = (name: OutputName) => object;

/** What a command may touch of the world. Tests give their own. */
export interface Io {
  /** Writes to standard output, whole. @throws OutputLost */
  out(text: string): void;
  /** Writes to standard error. */
  err(text: string): void;
  /**
   * At most one byte more than a trial may have, of a file or (`-`) of standard input.
   *
   * @throws a system error; also where it is no file, or changed meanwhile
   */
  read(file: string): Uint8Array;
  /** A list of any length, of a file or (`-`) of standard input, piece by piece. @throws a system error */
  pieces(file: string): Iterable<Uint8Array>;
  /** Names of the files in a folder. @throws a system error */
  list(folder: string): string[];
  /** What stands in a folder, in no order. @throws a system error */
  entries(folder: string): Entry[];
  /** Whether something is there under a name, and is a folder. */
  kind(path: string): 'folder' | 'other' | 'nothing';
  /**
   * Writes a file whole or not at all. @throws a system error, EEXIST when it is there and not to be replaced
   */
  write(file: string, text: string, force: boolean): void;
  /**
   * Writes a file anew, whole or not at all, where it still holds the bytes that were read. @throws a system error,
   * CHANGED where it does not, BUSY while somebody else writes it so
   */
  rewrite(file: string, read: Uint8Array, text: string): void;
  /** The civil time on the clock of the computer, to the minute: YYYY-MM-DDTHH:MM. */
  now(): string;
  /** Whether somebody sits at a terminal who can be asked. */
  canAsk(): boolean;
  /** The line that is typed to a question on the terminal; null where the input ends. @throws a system error */
  ask(question: string): string | null;
  /** A path with its links followed, absolute. @throws a system error */
  real(path: string): string;
  /** At most one byte more than `most` of a plain file, never of a device or a pipe. @throws a system error */
  plainFile(file: string, most: number): Uint8Array;
  /** The report command, loaded only here: what it draws with is larger than all else together. */
  report(): Report;
  /** The schemas of JSON outputs, loaded only here. */
  outputSchema(): OutputSchema;
  /** SHA-256 of bytes, in hexadecimal. */
  digest(bytes: Uint8Array): string;
  /** Says on a terminal how far a long work has come; null clears it. */
  progress(done: number | null, of: number): void;
  /** Threads that work may be given to: one for every core, or none. */
  threads(): number;
  /** The folder that holds `shared/`. */
  readonly root: string;
  /** Whether standard output takes colour. */
  readonly colour: boolean;
}

/** Standard output is gone or full; said already, where there is anyone to say it to. */
export class OutputLost extends Error {}

const [STANDARD_INPUT, STANDARD_OUTPUT, STANDARD_ERROR] = [0, 1, 2];

const CHUNK = 65536;

/** Reads to the end, or to a byte beyond `most`. Where a size is expected no more space is taken than it needs. */
function readAtMost(descriptor: number, most: number, expected = 0): Uint8Array {
  const chunks: Buffer[] = [];
  let total = 0;
  while (total <= most) {
    const wanted = total < expected ? expected - total : total === expected && expected > 0 ? 1 : CHUNK;
    const chunk = Buffer.allocUnsafe(Math.min(wanted, most + 1 - total));
    const got = readOnce(descriptor, chunk);
    if (got === 0) break;
    chunks.push(chunk.subarray(0, got));
    total += got;
  }
  return chunks.length === 1 && chunks[0] ? chunks[0] : Buffer.concat(chunks);
}

const readOnce = (descriptor: number, chunk: Buffer): number => {
  try {
    return patiently(() => readSync(descriptor, chunk));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EOF') return 0;
    throw error;
  }
};

function writeAll(descriptor: number, text: string): void {
  const bytes = Buffer.from(text);
  for (let done = 0; done < bytes.length;) {
    const from = done;
    done += patiently(() => writeSync(descriptor, bytes, from));
  }
}

/** Calls again while a terminal or a slow pipe has nothing yet, or can take no more just now. */
function patiently<T>(call: () => T): T {
  for (;;) {
    try {
      return call();
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 10);
    }
  }
}

/** The world as this process has it. */
export function processIo(root: string): Io {
  let input: Uint8Array | null = null;
  const err = (text: string): void => {
    try {
      writeAll(STANDARD_ERROR, text);
    } catch {
      // Nobody is left to tell.
    }
  };
  const bundle = (name: string): unknown => {
    const path = join(root, 'dist', name);
    return process.getBuiltinModule('node:module').createRequire(path)(path);
  };
  return {
    root,
    colour: takesColour(),
    out: (text) => {
      try {
        writeAll(STANDARD_OUTPUT, text);
      } catch (error) {
        const closed = (error as NodeJS.ErrnoException).code === 'EPIPE';
        if (!closed) err(`tallytare: the output cannot be written: ${systemWords(error)}\n`);
        throw new OutputLost();
      }
    },
    err,
    read: (file) => {
      if (file === '-') return (input ??= readAtMost(STANDARD_INPUT, LARGEST_FILE));
      return readFile(file);
    },
    pieces,
    list: (folder) => readdirSync(folder),
    entries,
    kind: (path) => {
      try {
        return statSync(path).isDirectory() ? 'folder' : 'other';
      } catch (error) {
        return (error as NodeJS.ErrnoException).code === 'ENOENT' ? 'nothing' : 'other';
      }
    },
    real: (path) => realpathSync(path),
    plainFile: readPlainFile,
    report: () => (bundle('report.cjs') as { report: Report }).report,
    outputSchema: () => (bundle('schemas.cjs') as { outputSchema: OutputSchema }).outputSchema,
    write: writeWhole,
    rewrite: writeUnchanged,
    now: civilNow,
    canAsk: () => [STANDARD_INPUT, STANDARD_ERROR].every(isTerminal),
    ask: (question) => {
      err(question);
      return readLine();
    },
    threads: () => process.getBuiltinModule('node:os').availableParallelism(),
    // Loaded only where it is used: the module takes a tenth of the start.
    digest: (bytes) => process.getBuiltinModule('node:crypto').hash('sha256', bytes),
    progress: (done, of) => {
      if (of < 50 || !process.stderr.isTTY) return;
      if (done === null) err('\r\u001b[K');
      else if (done % 25 === 0) err(`\r${done} of ${of} files`);
    },
  };
}

/** The time on the wall, in the computer's zone. */
function civilNow(): string {
  const now = new Date();
  const two = (number: number): string => String(number).padStart(2, '0');
  const day = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  return `${day}T${two(now.getHours())}:${two(now.getMinutes())}`;
}

const isTerminal = (descriptor: number): boolean => process.getBuiltinModule('node:tty').isatty(descriptor);

/** A line from standard input, byte by byte, so that what follows it stays there; null where it ends. */
function readLine(): string | null {
  const bytes: number[] = [];
  const byte = Buffer.alloc(1);
  while (bytes.length < CHUNK && readOnce(STANDARD_INPUT, byte) === 1) {
    if (byte[0] === 10) return Buffer.from(bytes).toString();
    bytes.push(byte[0] ?? 0);
  }
  return bytes.length === 0 ? null : Buffer.from(bytes).toString();
}

/** More than a list of a million names takes. */
const LARGEST_LIST = 256 * 1024 * 1024;

/** How long a named pipe may stand without anyone who writes to it, in steps of 50 ms. */
const PATIENCE = 100;

/** A device that is neither a terminal nor the one that holds nothing. */
const isEndless = (descriptor: number, found: Stats): boolean =>
  found.isCharacterDevice() && !isNullDevice(found.rdev) && !isTerminal(descriptor);

function* pieces(file: string): Generator<Uint8Array> {
  const descriptor =
    file === '-' ? STANDARD_INPUT : openSync(file, constants.O_RDONLY | constants.O_NONBLOCK);
  try {
    const found = fstatSync(descriptor);
    if (file !== '-' && isEndless(descriptor, found)) throw systemError('NOT_A_FILE');
    const waits = file !== '-' && found.isFIFO();
    let [total, waited] = [0, 0];
    for (;;) {
      const piece = Buffer.allocUnsafe(CHUNK);
      const got = readOnce(descriptor, piece);
      total += got;
      if (total > LARGEST_LIST) throw systemError('ENDLESS');
      if (got > 0) yield piece.subarray(0, got);
      else if (total > 0 || !waits) return;
      else if (waited === PATIENCE) throw systemError('NOBODY_WRITES');
      else {
        waited += 1;
        Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 50);
      }
    }
  } finally {
    if (file !== '-') closeSync(descriptor);
  }
}

/**
 * A file whole. It is opened without waiting, since a pipe that nobody writes to would keep the program
 * for ever; and looked at again when it was read, since half of one state and half of another is neither.
 */
function readFile(file: string): Uint8Array {
  // Where there is no such way of opening, it counts as nothing.
  const descriptor = openSync(file, constants.O_RDONLY | constants.O_NONBLOCK);
  try {
    const before = fstatSync(descriptor);
    const piped = before.isFIFO() && OWN_STREAM.test(file);
    if (!before.isFile() && !before.isDirectory() && !piped) throw systemError('NOT_A_FILE');
    const bytes = readAtMost(descriptor, LARGEST_FILE, before.isFile() ? before.size : 0);
    if (before.isFile() && changed(before, fstatSync(descriptor))) throw systemError('CHANGED');
    return bytes;
  } finally {
    closeSync(descriptor);
  }
}

/** A plain file, at most one byte more than `most`. @throws a system error; also where it is none */
function readPlainFile(file: string, most: number): Uint8Array {
  const descriptor = openSync(file, constants.O_RDONLY | constants.O_NONBLOCK);
  try {
    const found = fstatSync(descriptor);
    if (!found.isFile()) throw systemError('NOT_A_FILE');
    return readAtMost(descriptor, most, Math.min(found.size, most));
  } finally {
    closeSync(descriptor);
  }
}

/** What a shell names when it hands a program the output of another one. */
const OWN_STREAM = /^\/dev\/(stdin|fd\/\d+)$/;

const changed = (before: Stats, after: Stats): boolean =>
  before.size !== after.size || before.mtimeMs !== after.mtimeMs;

const systemError = (code: keyof typeof SYSTEM_WORDS): NodeJS.ErrnoException =>
  Object.assign(new Error(SYSTEM_WORDS[code]), { code });

function entries(folder: string): Entry[] {
  const found: Entry[] = [];
  const reader = opendirSync(folder, { bufferSize: 256 });
  try {
    // One after the other: of a folder of very many files no more is kept than this.
    for (let entry = reader.readSync(); entry !== null; entry = reader.readSync()) {
      const { name } = entry;
      if (entry.isDirectory()) found.push({ name, kind: 'folder' });
      else if (!entry.isSymbolicLink()) found.push({ name, kind: 'file' });
      else found.push({ name, kind: leadsToFolder(join(folder, name)) ? 'linked-folder' : 'file' });
    }
  } finally {
    reader.closeSync();
  }
  return found;
}

function leadsToFolder(link: string): boolean {
  try {
    return statSync(link).isDirectory();
  } catch {
    // What is wrong with it is said when it is read.
    return false;
  }
}

/** Output thrown away goes to a device too, but to one that can be told from a terminal without a stream. */
const isNullDevice = (device: number): boolean =>
  statSync('/dev/null', { throwIfNoEntry: false })?.rdev === device;

/** A terminal that was not asked for plain text. Only a device can be one, and asking a device is quick. */
function takesColour(): boolean {
  const { NO_COLOR, TERM } = process.env;
  if (NO_COLOR || TERM === 'dumb') return false;
  try {
    const output = fstatSync(STANDARD_OUTPUT);
    return output.isCharacterDevice() && !isNullDevice(output.rdev) && process.stdout.isTTY;
  } catch {
    return false;
  }
}

const SYSTEM_WORDS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EISDIR: 'it is a folder',
  ENXIO: 'it is not a file',
  NOT_A_FILE: 'it is not a file',
  ENDLESS: 'it does not end',
  NOBODY_WRITES: 'it is a pipe, and nobody writes to it',
  ERR_INVALID_ARG_VALUE: 'no file has such a name',
  CHANGED: 'it changed while it was read; try again',
  BUSY: 'somebody else is writing it; try again',
  ENOTDIR: 'part of its path is not a folder',
  ELOOP: 'its links go in a loop',
  ENAMETOOLONG: 'its name is too long',
  ENOSPC: 'the disk is full',
  EIO: 'the disk reports an error',
  EROFS: 'the disk may only be read',
  EDQUOT: 'your share of the disk is full',
  EEXIST: 'there is such a file already; --force replaces it',
};

/** No further file can be opened, whichever it is: no fault of the one that was to be. */
export const outOfFiles = (error: unknown): boolean =>
  ['EMFILE', 'ENFILE'].includes((error as NodeJS.ErrnoException | null)?.code ?? '');

/**
 * A system error in words, without a stack; `what` was to be done with the file.
 *
 * @throws the error itself where no file can be opened any more: that is said once, not of every file
 */
export function systemWords(error: unknown, what: 'read' | 'write' = 'read'): string {
  if (outOfFiles(error)) throw error;
  const code = (error as NodeJS.ErrnoException | null)?.code ?? '';
  if (code === 'EACCES' || code === 'EPERM')
    return what === 'read' ? 'you may not read it' : 'you may not write there';
  if (code === 'ENOENT' && what === 'write') return 'there is no such folder';
  // Bytes of a name that are no UTF-8 arrive as this sign, and the name they stood for is lost.
  if (code === 'ENOENT' && (error as NodeJS.ErrnoException).path?.includes('\ufffd'))
    return 'its name is not UTF-8, or there is no such file; rename it';
  return SYSTEM_WORDS[code] ?? (code === '' ? String(error) : `the system says ${code}`);
}

export const sharedFolder = (io: Io, ...names: string[]): string => join(io.root, 'shared', ...names);
