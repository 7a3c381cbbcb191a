import { sep } from 'node:path';
import picomatch from 'picomatch/posix';
import { harmless } from '../output/harmless.ts';
import type { Fault } from '../problems/problem.ts';
import { type Entry, type Io, systemWords } from '../world/io.ts';
import { namesIn } from './names-in.ts';
import { isSealName, trialNameOf } from './seal-name.ts';

/** A file to be judged or re-checked, in the order given. */
export interface TrialFile {
  readonly file: string;
  /** It was met in a folder, not named: there are other things in folders than trials. */
  readonly met: boolean;
  /** Why there is nothing to read: a folder, or a pattern, that gave no file. */
  readonly trouble: Fault | null;
}

/** What names trial files on a command line. */
export interface Given {
  /** Files, `-`, folders, and patterns that the shell left as they are. */
  readonly paths: readonly string[];
  /** A file, or `-`, that lists further files and folders: a line each, or each ended by NUL. */
  readonly filesFrom?: string | undefined;
  /** Whether a seal stands for its trial, be it gone. */
  readonly sealed?: boolean;
  /** Whether it may be that there is none at all. */
  readonly allowEmpty?: boolean | undefined;
}

/** Whether something is given, and standard input for one thing only; what is amiss is said. */
export function givenWell({ paths, filesFrom }: Given, command: string, io: Io): boolean {
  if (paths.length === 0 && filesFrom === undefined) {
    io.err(`tallytare: ${command} needs trial files, or --files-from with a list of them\n`);
    return false;
  }
  if (filesFrom === '-' && paths.includes('-')) {
    io.err('tallytare: standard input cannot be a trial and the list of them\n');
    return false;
  }
  return true;
}

/** Whether what is given can come to more than one trial, however many there are. */
export const mayBeSeveral = ({ paths, filesFrom }: Given, io: Io): boolean =>
  filesFrom !== undefined ||
  paths.length > 1 ||
  paths.some((path) => path !== '-' && (io.kind(path) === 'folder' || isPattern(path, io)));

/** The trial files that are given, found as they are asked for: nothing is kept of those before. */
export function* trialFiles(given: Given, io: Io): Generator<TrialFile> {
  for (const path of given.paths) {
    if (path !== '-' && isPattern(path, io)) yield* fitting(path, given, io);
    else yield* named(path, given, io);
  }
  if (given.filesFrom === undefined) return;
  let any = false;
  try {
    for (const path of namesIn(io.pieces(given.filesFrom))) {
      any = true;
      const trial = given.sealed && isSealName(path) ? trialNameOf(path) : path;
      yield* named(trial === '-' ? './-' : trial, given, io);
    }
  } catch (error) {
    yield nothing(given.filesFrom, { code: 'file-unreadable', why: systemWords(error) });
    return;
  }
  if (!any && !given.allowEmpty) yield nothing(given.filesFrom, { code: 'empty-list' });
}

const found = (file: string, met: boolean): TrialFile => ({ file, met, trouble: null });
const nothing = (file: string, trouble: Fault): TrialFile => ({ file, met: false, trouble });

function* named(path: string, given: Given, io: Io): Generator<TrialFile> {
  if (path === '-' || io.kind(path) !== 'folder') {
    yield found(path, false);
    return;
  }
  let any = false;
  for (const one of below(path === '.' ? '' : path, given, io)) {
    any = true;
    yield one;
  }
  if (!any && !given.allowEmpty) yield nothing(path, { code: 'no-trials-here' });
}

/** Trial files end so. Hidden files are none; neither are seals, nor what a seal is written into first. */
const isTrialName = (name: string): boolean => /\.ya?ml$/i.test(name) && !isHidden(name);

/** Hidden, or full of other people's files. */
const isPassedOver = (folder: string): boolean => isHidden(folder) || folder === 'node_modules';
const isHidden = (name: string): boolean => name.startsWith('.');

const within = (folder: string, name: string): string =>
  folder === '' || folder.endsWith('/') || folder.endsWith(sep)
    ? `${folder}${name}`
    : `${folder}${sep}${name}`;

/** The trials of a folder and of those in it, in the order of their paths. */
function* below(folder: string, given: Given, io: Io): Generator<TrialFile> {
  for (const { name, kind } of inOrder(folder, given.sealed ?? false, io)) {
    const path = within(folder, name);
    if (kind === 'unreadable')
      yield nothing(folder === '' ? '.' : folder, { code: 'folder-unreadable', why: name });
    else if (kind === 'file') {
      if (isTrialName(name)) yield found(path, true);
    } else if (!isPassedOver(name) && followed(path, kind, io)) yield* below(path, given, io);
  }
}

/** What stands in a folder, or why that cannot be told. */
type Met = Entry | { readonly name: string; readonly kind: 'unreadable' };

/**
 * What stands in a folder in the order of the paths below it, where a folder sorts as its name with the
 * separator behind it. Folders of very many files are common, so little is kept of each.
 */
function inOrder(folder: string, sealed: boolean, io: Io): Met[] {
  try {
    const entries = io.entries(folder === '' ? '.' : folder);
    return (sealed ? [...entries, ...gone(entries)] : entries).toSorted((a, b) =>
      keyOf(a) < keyOf(b) ? -1 : 1,
    );
  } catch (error) {
    return [{ name: systemWords(error), kind: 'unreadable' }];
  }
}

const keyOf = ({ name, kind }: Entry): string => (kind === 'file' ? name : `${name}/`);

/** Trials that are not there, though their seals are. */
function gone(entries: readonly Entry[]): Entry[] {
  const names = new Set(entries.filter(({ kind }) => kind === 'file').map(({ name }) => name));
  return [...names]
    .filter(isSealName)
    .map(trialNameOf)
    .filter((name) => !names.has(name))
    .map((name) => ({ name, kind: 'file' }));
}

/** Links to folders are not followed: they lead in circles, or to the same trials a second time. */
function followed(path: string, kind: Entry['kind'], io: Io): boolean {
  if (kind === 'folder') return true;
  io.err(`tallytare: ${harmless(path)} is a link to a folder and was not followed\n`);
  return false;
}

/** A name with a wildcard in it that nothing goes by. */
const isPattern = (path: string, io: Io): boolean => /[*?[{]/.test(path) && io.kind(path) === 'nothing';

/** Stars, question marks, classes and braces; what takes another's time beyond all bounds is left out. */
const PATTERN: picomatch.PicomatchOptions = { nonegate: true, noextglob: true };

/** More stars in one name cost too much on a long name. */
const MOST_STARS = 4;

/** Whether a pattern is one, and one that can be tried in good time. */
const isTriable = (glob: string): boolean =>
  glob !== '' &&
  glob.length < 4096 &&
  glob.split('/').every((part) => (part.match(/[*]+/g) ?? []).length <= MOST_STARS);

/** The trials that fit a pattern, and those of the folders that fit it. */
function* fitting(pattern: string, given: Given, io: Io): Generator<TrialFile> {
  const { base, glob } = picomatch.scan(sep === '/' ? pattern : pattern.replaceAll(sep, '/'), PATTERN);
  if (!isTriable(glob)) {
    yield nothing(pattern, { code: 'no-file-fits' });
    return;
  }
  const fits = picomatch(glob, PATTERN);
  const deepest = glob.includes('**') ? Infinity : glob.split('/').length;
  let any = false;
  function* into(folder: string, above: string, depth: number): Generator<TrialFile> {
    for (const { name, kind } of inOrder(folder, false, io)) {
      const path = within(folder, name);
      const inside = `${above}${name}`;
      if (kind === 'unreadable') {
        const there = depth > 1 || io.kind(folder === '' ? '.' : folder) !== 'nothing';
        if (there) yield nothing(folder, { code: 'folder-unreadable', why: name });
      } else if (kind === 'file') {
        if (isTrialName(name) && fits(inside)) yield found(path, false);
      } else if (isPassedOver(name)) continue;
      else if (fits(inside)) yield* below(path, given, io);
      else if (depth < deepest && followed(path, kind, io)) yield* into(path, `${inside}/`, depth + 1);
    }
  }
  for (const one of into(base, '', 1)) {
    any = true;
    yield one;
  }
  if (!any && !given.allowEmpty) yield nothing(pattern, { code: 'no-file-fits' });
}
