import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Entry, Io } from '../src/world/io.ts';
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

/** Below the project, where a file of the test's own does not stand in the way. */
const inProject = (path: string): string =>
  join(ROOT, path.startsWith(ROOT) ? path.slice(ROOT.length) : path);

/** What stands in a folder: of the test's own files where there are any below it, else of the project. */
function entriesOf(folder: string, files: readonly string[]): Entry[] {
  const above = folder === '.' ? '' : `${folder}/`;
  const own = files.filter((file) => file.startsWith(above)).map((file) => file.slice(above.length));
  if (own.length === 0) {
    return readdirSync(inProject(folder), { withFileTypes: true }).map((entry) => ({
      name: entry.name,
      kind: entry.isDirectory() ? 'folder' : 'file',
    }));
  }
  return [...new Set(own.map((file) => file.replace(/\/.*$/, '/')))].map((name) =>
    name.endsWith('/') ? { name: name.slice(0, -1), kind: 'folder' } : { name, kind: 'file' },
  );
}

function kindOf(path: string, files: readonly string[]): ReturnType<Io['kind']> {
  if (files.includes(path)) return 'other';
  if (path === '.' || files.some((file) => file.startsWith(`${path}/`))) return 'folder';
  const found = statSync(inProject(path), { throwIfNoEntry: false });
  return found === undefined ? 'nothing' : found.isDirectory() ? 'folder' : 'other';
}

/** Runs the program on a command line, with files of its own and nothing of the world beside the project's. */
export function run(argv: readonly string[], files: Files = {}, input = '', more: Partial<Io> = {}): Ran {
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
      return readFileSync(inProject(file));
    },
    pieces: (file) => [io.read(file)],
    list: (folder) => readdirSync(folder),
    entries: (folder) => entriesOf(folder, [...Object.keys(files), ...Object.keys(written)]),
    kind: (path) => kindOf(path, [...Object.keys(files), ...Object.keys(written)]),
    write: (file, text, force) => {
      const taken = Object.hasOwn(files, file) || Object.hasOwn(written, file);
      if (taken && !force) throw Object.assign(new Error('taken'), { code: 'EEXIST' });
      written[file] = text;
    },
    rewrite: (file, _read, text) => void (written[file] = text),
    now: () => '2026-03-09T09:10',
    canAsk: () => false,
    ask: () => null,
    digest: (bytes) => createHash('sha256').update(bytes).digest('hex'),
    progress: () => undefined,
    threads: () => 0,
    real: (path) => (path.startsWith(ROOT) ? path : join(ROOT, path)),
    plainFile: (file) => io.read(Object.hasOwn(files, relative(ROOT, file)) ? relative(ROOT, file) : file),
    outputSchema: () => {
      throw new Error('only tests of the schemas load them; see tests/output/schemas.test.ts');
    },
    report: () => {
      throw new Error('only tests of the report load it; see tests/report.ts');
    },
    ...more,
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
    readonly margin: string | null;
    readonly reason: string | null;
    readonly effect: string;
  }[];
  readonly caveats: readonly { readonly code: string; readonly message: string }[];
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
