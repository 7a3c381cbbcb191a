import { join } from 'node:path';
import {
  archiveChanges,
  type ArchiveFile,
  MANIFEST_NAME,
  type Manifest,
  readManifest,
} from '../archive/manifest.ts';
import type { Rechecked, Remark } from '../archive/compare.ts';
import { type Io, systemWords } from '../world/io.ts';

/** A file of an archive that cannot be read, or a folder. */
export interface NotRead {
  readonly file: string;
  readonly why: string;
}

/** The files of an archive as they are now. */
export interface ArchiveFiles {
  readonly files: readonly ArchiveFile[];
  readonly notRead: readonly NotRead[];
  /** Links to folders, which are not followed. */
  readonly links: readonly string[];
}

/** Trials and limits files, seals, tables, photos. */
const OF_ARCHIVE = /\.(ya?ml|seal\.json|csv|tsv|jpe?g|png|webp)$/i;

/** More than any photo or table of a trial. */
const LARGEST = 256 * 1024 * 1024;

/** The files of an archive in the order of their paths: those in plain places, or those in hidden ones. */
export function archiveFiles(folder: string, which: 'plain' | 'hidden', io: Io): ArchiveFiles {
  const files: ArchiveFile[] = [];
  const notRead: NotRead[] = [];
  const links: string[] = [];
  const attempt = (file: string, work: () => void): void => {
    try {
      work();
    } catch (error) {
      notRead.push({ file, why: systemWords(error) });
    }
  };
  const take = (file: string): void => {
    const bytes = io.plainFile(join(folder, file), LARGEST);
    if (bytes.length > LARGEST) notRead.push({ file, why: 'it has more than 256 MiB' });
    else files.push({ file, sha256: io.digest(bytes) });
  };
  const into = (above: string, hidden: boolean): void => {
    attempt(above === '' ? '.' : above, () => {
      for (const { name, kind } of io.entries(join(folder, above))) {
        const file = `${above}${name}`;
        const isHidden = hidden || name.startsWith('.') || name === 'node_modules';
        if (isHidden && (which === 'plain' || name === '.git')) continue;
        if (kind === 'folder') into(`${file}/`, isHidden);
        else if (kind === 'linked-folder') links.push(file);
        else if (OF_ARCHIVE.test(name) && isHidden === (which === 'hidden')) attempt(file, () => take(file));
      }
    });
  };
  into('', false);
  files.sort((a, b) => (a.file < b.file ? -1 : 1));
  return { files, notRead, links };
}

/** What stands as the manifest of a folder: its bytes, and what they hold. */
export interface OpenedManifest {
  readonly bytes: Uint8Array;
  readonly manifest: Manifest | null;
}

/** More than a million files take. */
const LARGEST_MANIFEST = 512 * 1024 * 1024;

/** The manifest of a folder; null where there is none. @throws a system error */
export function openManifest(folder: string, io: Io): OpenedManifest | null {
  const name = join(folder, MANIFEST_NAME);
  if (io.kind(name) === 'nothing') return null;
  const bytes = io.plainFile(name, LARGEST_MANIFEST);
  return { bytes, manifest: readManifest(Buffer.from(bytes).toString('utf8')) };
}

/** The files of an archive held against its manifest. */
export function recheckArchive(folder: string, io: Io): Rechecked {
  const came = (state: Rechecked['state'], remarks: readonly Remark[]): Rechecked => ({
    file: join(folder, MANIFEST_NAME),
    state,
    sealed: null,
    verdict: null,
    remarks,
  });
  let opened: OpenedManifest | null;
  try {
    opened = openManifest(folder, io);
  } catch (error) {
    return came('unreadable', [{ code: 'seal-unreadable', why: systemWords(error) }]);
  }
  if (opened === null) return came('unreadable', [{ code: 'archive-not-sealed' }]);
  if (opened.manifest === null) return came('seal damaged', [{ code: 'archive-seal-altered' }]);
  const { files, notRead } = archiveFiles(folder, 'plain', io);
  if (notRead.length > 0) {
    return came(
      'unreadable',
      notRead.map(({ file, why }): Remark => ({ code: 'archive-unreadable', file, why })),
    );
  }
  const changes = archiveChanges(
    opened.manifest.files,
    files,
    () => archiveFiles(folder, 'hidden', io).files,
  );
  if (changes.length === 0) return came('same', []);
  return came(
    changes.every(({ code }) => code === 'archive-added') ? 'seal missing' : 'files changed',
    changes,
  );
}
