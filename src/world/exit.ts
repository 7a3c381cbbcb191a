import { join } from 'node:path';
import type { Result } from '../judge/assess.ts';
import { type Io, outOfFiles, OutputLost, systemWords } from './io.ts';

/** Exit codes, as documented in the README and in --help. */
export const EXIT = {
  pass: 0,
  fail: 1,
  inconclusive: 2,
  /** A trial or limits file is missing, or could not be read as one. */
  unreadable: 3,
  /** An unknown command, option or preset. */
  usage: 4,
  /** Anything else: the output cannot be written, say. */
  other: 5,
} as const;

/** Over many files the worst that happened: unreadable, failed, inconclusive, passed. */
export function exitOf(seen: ReadonlySet<Result['verdict']>): number {
  if (seen.has('invalid')) return EXIT.unreadable;
  if (seen.has('fail')) return EXIT.fail;
  return seen.has('inconclusive') ? EXIT.inconclusive : EXIT.pass;
}

/** The exit code of some work, whatever comes of it. Nothing is thrown. */
export function guarded(io: Io, work: () => number): number {
  try {
    return work();
  } catch (error) {
    const missing = missingPart(error, io.root);
    if (outOfFiles(error))
      io.err(
        'tallytare: too many files are open, so nothing more can be read; "ulimit -n 1024" in this shell allows more\n',
      );
    else if (missing !== null)
      io.err(
        `tallytare is not whole: ${missing} is missing; install it again, or "npm ci && npm run build" in ${io.root} builds it\n`,
      );
    else if (!(error instanceof OutputLost))
      io.err(`tallytare: something went wrong that should not have: ${systemWords(error)}\n`);
    return EXIT.other;
  }
}

/** The part of the program itself that an error says is not there; null where it says something else. */
export function missingPart(error: unknown, root: string): string | null {
  const { code, path } = (error ?? {}) as NodeJS.ErrnoException;
  if (code === 'MODULE_NOT_FOUND') return join(root, 'dist');
  const own = ['shared', 'dist'].some((folder) => path?.startsWith(join(root, folder)));
  return code === 'ENOENT' && own ? (path ?? null) : null;
}
