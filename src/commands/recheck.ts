import { basename, dirname, join } from 'node:path';
import { Option } from 'commander';
import type { Define } from './define.ts';
import { MANY_FILES } from './help.ts';
import { type State, STATES } from '../archive/compare.ts';
import { MANIFEST_NAME } from '../archive/manifest.ts';
import { recheckArchive } from '../files/archive-files.ts';
import { JSON_ARRAY } from '../output/json-array.ts';
import { JUNIT_TAIL, junitHead } from '../output/junit.ts';
import { recheckSummary } from '../output/archive-words.ts';
import { EXIT } from '../world/exit.ts';
import { startThreads } from '../many/threads.ts';
import { type Threads, inOrder } from '../many/in-order.ts';
import type { Io } from '../world/io.ts';
import { type RecheckPlan, recheckRecord, type RecheckRecord, recheckStep } from '../many/recheck-step.ts';
import { isSealName, trialNameOf } from '../files/seal-name.ts';
import { type Given, givenWell, mayBeSeveral, trialFiles } from '../files/trial-files.ts';

export const RECHECK_FORMATS = ['text', 'json', 'jsonl', 'junit'] as const;

export interface RecheckOptions {
  readonly filesFrom?: string;
  readonly format: (typeof RECHECK_FORMATS)[number];
  readonly quiet?: boolean;
  readonly allowEmpty?: boolean;
  readonly currentLimits?: boolean;
}

/** `recheck PATH…`: each sealed trial judged anew and held against its seal, whatever becomes of the others. */
export function recheck(paths: readonly string[], options: RecheckOptions, io: Io): number {
  const given: Given = {
    paths: trialsOf(paths),
    filesFrom: options.filesFrom,
    sealed: true,
    allowEmpty: options.allowEmpty,
  };
  const archives = archivesOf(paths, io);
  const archivesAlone = given.paths.length === 0 && options.filesFrom === undefined && archives.length > 0;
  if (!archivesAlone && !givenWell(given, 'recheck', io)) return EXIT.usage;
  if (paths.includes('-')) {
    io.err('tallytare: a seal stands beside its trial; standard input has none\n');
    return EXIT.usage;
  }
  const shown = options.quiet ? 'quiet' : options.format;
  const plan: RecheckPlan = { shown, currentLimits: options.currentLimits ?? false };
  const step = recheckStep(plan, io);
  const several = mayBeSeveral(given, io) || given.paths.length + archives.length > 1;
  const counts = Object.fromEntries(STATES.map((state) => [state, 0])) as Record<State, number>;
  const cases = { passed: 0, failed: 0, error: 0, skipped: 0 };
  // The cases of a JUnit report are counted in front of the first, so they are kept until the last.
  const kept: string[] = [];
  let index = 0;
  const put = ({ out, case: kind }: RecheckRecord): void => {
    if (shown === 'junit') {
      cases[kind] += 1;
      kept.push(out);
    } else if (shown !== 'json') io.out(out);
    else io.out(several ? JSON_ARRAY.before(index) + JSON_ARRAY.entry(out) : `${out}\n`);
    index += 1;
  };
  let fault = false;
  const seen = new Set<State>();
  const threads = (): Threads<RecheckRecord> => startThreads({ recheck: plan }, io);
  for (const record of inOrder(trialFiles(given, io), step, threads)) {
    counts[record.state] += 1;
    seen.add(record.state);
    fault ||= record.fault;
    put(record);
  }
  const record = recheckRecord(shown, io);
  for (const folder of archives) {
    const archive = record(recheckArchive(folder, io), false);
    seen.add(archive.state);
    put(archive);
  }
  if (shown === 'json' && several) io.out(JSON_ARRAY.after(index));
  if (shown === 'junit') {
    io.out(junitHead('tallytare recheck', cases));
    for (const one of kept) io.out(one);
    io.out(JUNIT_TAIL);
  }
  if (index === 0 && options.allowEmpty) return EXIT.pass;
  if (index === 0) {
    io.err('tallytare: nothing was re-checked: there are only sets of limits\n');
    return EXIT.unreadable;
  }
  if (shown === 'text' && !archivesAlone) io.out(`${recheckSummary(counts)}\n`);
  return fault ? EXIT.other : exitCode(seen);
}

/** Seals that were named stand for their trials; a trial named beside its seal is meant once. */
function trialsOf(paths: readonly string[]): string[] {
  const named = new Set(paths);
  return paths.flatMap((path) => {
    if (basename(path) === MANIFEST_NAME) return [];
    if (!isSealName(path)) return path;
    return named.has(trialNameOf(path)) ? [] : trialNameOf(path);
  });
}

/** The worst that happened: something unreadable, changed or damaged, never sealed, all the same. */
function exitCode(seen: ReadonlySet<State>): number {
  const quiet: readonly State[] = ['same', 'seal missing', 'unreadable'];
  if (seen.has('unreadable')) return EXIT.unreadable;
  if ([...seen].some((state) => !quiet.includes(state))) return EXIT.fail;
  return seen.has('seal missing') ? EXIT.inconclusive : EXIT.pass;
}

/** The folders whose manifest is to be looked at: those it is named of, and folders given that have one. */
function archivesOf(paths: readonly string[], io: Io): string[] {
  const folders = paths.flatMap((path) => {
    if (basename(path) === MANIFEST_NAME) return dirname(path);
    if (path === '-' || io.kind(path) !== 'folder') return [];
    return io.kind(join(path, MANIFEST_NAME)) === 'nothing' ? [] : path;
  });
  return [...new Set(folders.map((folder) => join(folder)))];
}

/** The command `recheck` on the command line. */
export const recheckCommand: Define = (program, io, done) => {
  program
    .command('recheck')
    .description('judge sealed trials anew and say what changed since')
    .argument('[path...]', 'trial files, folders of them, patterns; a seal stands for its trial')
    .option('--files-from <list>', 'a file, or -, that lists more of them: by line, or by NUL')
    .option('--allow-empty', 'a folder, pattern or list without a trial is no error')
    .option('--current-limits', 'judge by the limits as they are today, not by those in the seal')
    .addOption(new Option('--format <format>', 'how to print').choices(RECHECK_FORMATS).default('text'))
    .addOption(
      new Option('-q, --quiet', 'one line a file: what became of it, a tab, the file').conflicts('format'),
    )
    .addHelpText(
      'after',
      `${MANY_FILES}

What can become of a trial, the first that holds: seal missing, seal damaged,
trial changed, limits changed (with --current-limits alone), result changed (the
same files, but another result: the tool itself), same. Where a limits file
differs now, the limits in the seal decide, and a note says so. It is unreadable where the trial, its limits or
its seal cannot be read, or the seal is of a later format.

A folder with an archive.seal in it is held against that too: files that were
changed, removed or moved since (files changed), or only added (seal missing).
archive.seal itself may be named alone.

Exit codes: 0 all are the same, 1 anything changed or is damaged, 2 only seals
are missing, 3 something is unreadable, 4 wrong usage, 5 anything else.

Examples:
  tallytare recheck archive
  tallytare recheck archive --format junit > recheck.xml`,
    )
    .action((paths: string[], options: RecheckOptions) => done(recheck(paths, options, io)));
};
