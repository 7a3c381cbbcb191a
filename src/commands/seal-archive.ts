import { join } from 'node:path';
import { archiveChanges, MANIFEST_NAME, type Manifest, manifestText } from '../archive/manifest.ts';
import { archiveFiles, openManifest, type OpenedManifest } from '../files/archive-files.ts';
import { judgeFound } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import { sealNameOf } from '../files/seal-name.ts';
import { trialFiles } from '../files/trial-files.ts';
import { remarkWords } from '../output/archive-words.ts';
import { harmless } from '../output/harmless.ts';
import { EXIT } from '../world/exit.ts';
import { type Io, systemWords } from '../world/io.ts';

/** As many files are named where very many are gone. */
const MOST_NAMED = 20;

/** `seal --archive FOLDER`: one list of every file in it, with their digests and that of the list before. */
export function sealArchive(folder: string, date: string | null, force: boolean, io: Io): number {
  if (io.kind(folder) !== 'folder') {
    io.err(`tallytare: ${harmless(folder)}: there is no such folder\n`);
    return EXIT.unreadable;
  }
  const name = join(folder, MANIFEST_NAME);
  const { files, notRead, links } = archiveFiles(folder, 'plain', io);
  for (const link of links)
    io.err(`tallytare: ${harmless(link)} is a link to a folder and was not followed\n`);
  for (const { file, why } of notRead) io.err(`tallytare: ${harmless(file)} cannot be read: ${why}\n`);
  if (notRead.length > 0) return EXIT.unreadable;
  try {
    const before = openManifest(folder, io);
    if (before !== null && !force && !mayReplace(name, before, files, io)) return EXIT.other;
    if (before?.manifest != null && saysTheSame(before.manifest, files, date)) {
      io.out(`sealed already  ${harmless(name)}\n`);
    } else {
      const digest = before === null ? null : io.digest(before.bytes);
      io.write(name, manifestText({ date, before: digest, files }), before !== null);
      io.out(`sealed          ${harmless(name)}\n`);
    }
  } catch (error) {
    io.err(`tallytare: ${harmless(name)}: ${systemWords(error, 'write')}\n`);
    return EXIT.other;
  }
  tellUnsealed(folder, new Set(files.map(({ file }) => join(folder, file))), io);
  return EXIT.pass;
}

/** Files that came, or went elsewhere, are the life of an archive; what is gone or another is not sealed over. */
function mayReplace(name: string, { manifest }: OpenedManifest, files: Manifest['files'], io: Io): boolean {
  if (manifest === null) {
    io.err(
      `tallytare: ${harmless(name)}: ${remarkWords({ code: 'archive-seal-altered' })} --force replaces it\n`,
    );
    return false;
  }
  const lost = archiveChanges(manifest.files, files, () => []).filter(
    ({ code }) => code === 'archive-removed' || code === 'archive-changed',
  );
  for (const change of lost.slice(0, MOST_NAMED)) io.err(`tallytare: ${harmless(remarkWords(change))}\n`);
  if (lost.length === 0) return true;
  const more = lost.length > MOST_NAMED ? ` and ${lost.length - MOST_NAMED} more` : '';
  io.err(`tallytare: ${harmless(name)} was not replaced because of these${more}; --force replaces it\n`);
  return false;
}

function saysTheSame(manifest: Manifest, files: Manifest['files'], date: string | null): boolean {
  const { before } = manifest;
  return (
    (date === null || date === manifest.date) &&
    manifestText({ date, before, files }) === manifestText({ ...manifest, date })
  );
}

/** Trials that have no seal are in the list all the same; it is told which. */
function tellUnsealed(folder: string, files: ReadonlySet<string>, io: Io): void {
  const limitsFiles = new LimitsFiles(io);
  for (const found of trialFiles({ paths: [folder] }, io)) {
    if (found.trouble !== null || files.has(join(sealNameOf(found.file)))) continue;
    if (judgeFound(found, { layers: [], used: [] }, limitsFiles, io) === null) continue;
    io.err(`tallytare: ${harmless(found.file)} was never sealed\n`);
  }
}
