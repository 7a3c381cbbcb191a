/** The seal of a whole archive: what stands in it, file by file. */

/** A file of an archive: its path from the archive's folder, with slashes, and the SHA-256 of its bytes. */
export interface ArchiveFile {
  readonly file: string;
  readonly sha256: string;
}

export interface Manifest {
  /** The day it was sealed, as it was given; null where none was. */
  readonly date: string | null;
  /** The digest of the manifest that this one replaced; null for the first. */
  readonly before: string | null;
  /** In the order of their paths. */
  readonly files: readonly ArchiveFile[];
}

/** Where it stands in the archive's folder. */
export const MANIFEST_NAME = 'archive.seal';

const HEAD = /^# tallytare archive 1; (\d+) files?(?:; sealed (\d{4}-\d\d-\d\d))?$/;
const BEFORE = /^# before: (none|[0-9a-f]{64})$/;
const LINE = /^(\\?)([0-9a-f]{64}) {2}(.+)$/;

/**
 * The one way a manifest is written: two lines of comment, then the lines that `sha256sum` writes and
 * `sha256sum -c` reads, in the order of the paths; a name with a line break or a backslash in it is written as
 * sha256sum writes it.
 */
export function manifestText({ date, before, files }: Manifest): string {
  const count = `${files.length} ${files.length === 1 ? 'file' : 'files'}`;
  const head = `# tallytare archive 1; ${count}${date === null ? '' : `; sealed ${date}`}\n# before: ${before ?? 'none'}\n`;
  return head + files.map(({ file, sha256 }) => lineOf(file, sha256)).join('');
}

function lineOf(file: string, sha256: string): string {
  const escaped = file.replaceAll('\\', '\\\\').replaceAll('\n', '\\n').replaceAll('\r', '\\r');
  return `${escaped === file ? '' : '\\'}${sha256}  ${escaped}\n`;
}

/** A manifest from its text, which is not trusted; null where it is not as one is written. */
export function readManifest(text: string): Manifest | null {
  const plain = text.replaceAll('\r\n', '\n');
  const [first = '', second = '', ...lines] = plain.split('\n');
  const [head, before] = [HEAD.exec(first), BEFORE.exec(second)];
  if (head === null || before === null || lines.pop() !== '') return null;
  const files: ArchiveFile[] = [];
  for (const line of lines) {
    const [, escaped, sha256, name] = LINE.exec(line) ?? [];
    if (sha256 === undefined || name === undefined) return null;
    files.push({ file: escaped === '' ? name : name.replace(/\\([\\nr])/g, unescaped), sha256 });
  }
  const manifest = {
    date: head[2] ?? null,
    before: before[1] === 'none' ? null : (before[1] ?? null),
    files,
  };
  const inOrder = files.every(({ file }, index) => index === 0 || (files[index - 1]?.file ?? '') < file);
  return inOrder && manifestText(manifest) === plain ? manifest : null;
}

const unescaped = (_: string, char: string): string => (char === 'n' ? '\n' : char === 'r' ? '\r' : char);

/** What became of a file of an archive since its manifest was written. */
export type ArchiveChange =
  | { readonly code: 'archive-changed' | 'archive-removed' | 'archive-added'; readonly file: string }
  /** The same bytes stand elsewhere. */
  | { readonly code: 'archive-moved'; readonly file: string; readonly to: string };

/**
 * What differs between a manifest and the files there are now. A file that is gone, while the same bytes stand where
 * no file was sealed, was moved; `hidden` gives the files in hidden places, and is asked only where one is gone.
 */
export function archiveChanges(
  sealed: readonly ArchiveFile[],
  now: readonly ArchiveFile[],
  hidden: () => readonly ArchiveFile[],
): readonly ArchiveChange[] {
  const before = new Map(sealed.map(({ file, sha256 }) => [file, sha256]));
  const after = new Map(now.map(({ file, sha256 }) => [file, sha256]));
  const gone = sealed.filter(({ file }) => !after.has(file));
  const added = now.filter(({ file }) => !before.has(file));
  const places = new Map<string, string[]>();
  for (const { file, sha256 } of gone.length === 0 ? [] : [...added, ...hidden()]) {
    places.set(sha256, [...(places.get(sha256) ?? []), file]);
  }
  const changes: ArchiveChange[] = [];
  const taken = new Set<string>();
  for (const { file, sha256 } of sealed) {
    const is = after.get(file);
    if (is === sha256) continue;
    const to = is === undefined ? places.get(sha256)?.shift() : undefined;
    if (to !== undefined) taken.add(to);
    if (is !== undefined) changes.push({ code: 'archive-changed', file });
    else
      changes.push(
        to === undefined ? { code: 'archive-removed', file } : { code: 'archive-moved', file, to },
      );
  }
  return [
    ...changes,
    ...added.flatMap(({ file }): ArchiveChange[] =>
      taken.has(file) ? [] : [{ code: 'archive-added', file }],
    ),
  ];
}
