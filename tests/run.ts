import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Io } from '../src/commands/io.ts';
import { main } from '../src/commands/main.ts';

export const ROOT = join(dirname(fileURLToPath(import.meta.url)), '..');

/** What a run of the program left behind. */
export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  /** Files it wrote, by name. */
  readonly written: Readonly<Record<string, string>>;
}

/** Files by name, as text or bytes; a name that is not among them is looked up below the project. */
export type Files = Readonly<Record<string, string | Uint8Array>>;

/** The trial files a path names, among the test's own files or below the project. */
function trialsIn(path: string, files: Files): string[] {
  const own = Object.keys(files).filter((file) => file.startsWith(`${path}/`));
  if (own.length > 0) return own.toSorted();
  if (Object.hasOwn(files, path) || !existsSync(join(ROOT, path))) return [path];
  if (!statSync(join(ROOT, path)).isDirectory()) return [path];
  return readdirSync(join(ROOT, path))
    .filter((file) => file.endsWith('.yaml'))
    .map((file) => `${path}/${file}`)
    .toSorted();
}

/** Runs the program on a command line, with files of its own and nothing of the world beside the project's. */
export function run(argv: readonly string[], files: Files = {}, input = ''): Ran {
  let out = '';
  let err = '';
  const written: Record<string, string> = {};
  const io: Io = {
    root: ROOT,
    colour: false,
    out: (text) => void (out += text),
    err: (text) => void (err += text),
    read: (file) => {
      if (file === '-') return Buffer.from(input);
      const own = written[file] ?? (Object.hasOwn(files, file) ? files[file] : undefined);
      if (own !== undefined) return typeof own === 'string' ? Buffer.from(own) : own;
      return readFileSync(join(ROOT, file.startsWith(ROOT) ? file.slice(ROOT.length) : file));
    },
    list: (folder) => readdirSync(folder),
    trials: (path) => trialsIn(path, files),
    write: (file, text, force) => {
      const taken = Object.hasOwn(files, file) || Object.hasOwn(written, file);
      if (taken && !force) throw Object.assign(new Error('taken'), { code: 'EEXIST' });
      written[file] = text;
    },
    digest: (bytes) => createHash('sha256').update(bytes).digest('hex'),
    progress: () => undefined,
  };
  const code = main(argv, io);
  return { code, out, err, written };
}

/** One result of `verdict --format json`, as far as tests look at it. */
export interface ResultJson {
  readonly verdict: string;
  readonly trial: string | null;
  readonly figures: readonly {
    readonly figure: string;
    readonly of: string | null;
    readonly stat: string | null;
    readonly value: string;
    readonly unit: string;
    readonly u: string;
    readonly bound: string;
  }[];
  readonly limits: readonly {
    readonly figure: string;
    readonly of: string | null;
    readonly stat: string | null;
    readonly outcome: string;
    readonly room: string | null;
    readonly reason: string | null;
    readonly weight: string;
  }[];
  readonly notes: readonly {
    readonly kind: string;
    readonly code: string;
    readonly key: string | null;
    readonly message: string;
    readonly line: number | null;
    readonly column: number | null;
  }[];
}

/** The verdict on one trial given as text, as JSON. */
export function judge(trial: string, ...options: string[]): ResultJson & { readonly code: number } {
  const { code, out } = run(['verdict', 'trial.yaml', '--format', 'json', ...options], {
    'trial.yaml': trial,
  });
  return { ...(JSON.parse(out) as ResultJson), code };
}

/** The value of one figure of a trial given as text; undefined where it was not derived. */
export function figure(
  trial: string,
  name: string,
  of: string | null = null,
  stat: string | null = null,
): ResultJson['figures'][number] | undefined {
  return judge(trial).figures.find((one) => one.figure === name && one.of === of && one.stat === stat);
}
