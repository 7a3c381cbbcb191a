import { closeSync, openSync, readdirSync, readSync } from 'node:fs';
import { join } from 'node:path';
import { LARGEST_FILE } from '../trial/source.ts';

/** What a command may touch of the world. Tests give their own. */
export interface Io {
  /** Writes to standard output; resolves once it is out. @throws OutputLost */
  out(text: string): Promise<void>;
  /** Writes to standard error. */
  err(text: string): void;
  /** At most one byte more than a trial may have, of a file or (`-`) of standard input. @throws a system error */
  read(file: string): Uint8Array;
  /** Names of the files in a folder. @throws a system error */
  list(folder: string): string[];
  /** The folder that holds `shared/`. */
  readonly root: string;
  /** Whether standard output takes colour. */
  readonly colour: boolean;
}

/** Standard output is gone or full; said already, where there is anyone to say it to. */
export class OutputLost extends Error {}

const STANDARD_INPUT = 0;

function readAtMost(descriptor: number, most: number): Uint8Array {
  const chunks: Buffer[] = [];
  let total = 0;
  while (total <= most) {
    const chunk = Buffer.allocUnsafe(Math.min(65536, most + 1 - total));
    const got = readOnce(descriptor, chunk);
    if (got === 0) break;
    chunks.push(chunk.subarray(0, got));
    total += got;
    if (total > most) break;
  }
  return chunks.length === 1 && chunks[0] ? chunks[0] : Buffer.concat(chunks);
}

/** A terminal or a slow pipe may have nothing yet; then the call is made again. */
function readOnce(descriptor: number, chunk: Buffer): number {
  for (;;) {
    try {
      return readSync(descriptor, chunk);
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      if (code === 'EOF') return 0;
      if (code !== 'EAGAIN') throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 10);
    }
  }
}

/** The world as this process has it. */
export function processIo(root: string): Io {
  let input: Uint8Array | null = null;
  const { stdout, stderr, env } = process;
  stdout.on('error', () => undefined);
  stderr.on('error', () => undefined);
  return {
    root,
    colour: Boolean(stdout.isTTY) && !env['NO_COLOR'] && env['TERM'] !== 'dumb',
    out: (text) =>
      new Promise((resolve, reject) => {
        stdout.write(text, (error) => {
          if (!error) return resolve();
          const { code } = error as NodeJS.ErrnoException;
          if (code !== 'EPIPE')
            stderr.write(`tallytare: the output cannot be written: ${systemWords(error)}\n`);
          reject(new OutputLost());
        });
      }),
    err: (text) => void stderr.write(text),
    read: (file) => {
      if (file === '-') return (input ??= readAtMost(STANDARD_INPUT, LARGEST_FILE));
      const descriptor = openSync(file, 'r');
      try {
        return readAtMost(descriptor, LARGEST_FILE);
      } finally {
        closeSync(descriptor);
      }
    },
    list: (folder) => readdirSync(folder),
  };
}

const SYSTEM_WORDS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EACCES: 'you may not read it',
  EPERM: 'you may not read it',
  EISDIR: 'it is a folder',
  ENOTDIR: 'part of its path is not a folder',
  ELOOP: 'its links go in a loop',
  ENAMETOOLONG: 'its name is too long',
  ENOSPC: 'the disk is full',
  EIO: 'the disk reports an error',
};

/** A system error in words, without a stack. */
export function systemWords(error: unknown): string {
  const code = (error as NodeJS.ErrnoException | null)?.code ?? '';
  return SYSTEM_WORDS[code] ?? (code === '' ? String(error) : `the system says ${code}`);
}

export const sharedFolder = (io: Io, ...names: string[]): string => join(io.root, 'shared', ...names);
