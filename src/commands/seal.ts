import { InvalidArgumentError } from 'commander';
import { readTime } from '../trial/time.ts';
import { sealArchive } from './seal-archive.ts';
import { collect, type Define } from './define.ts';
import { MANY_FILES } from './help.ts';
import { bytesOf, sealText } from '../archive/seal-text.ts';
import { findingLine } from '../output/findings.ts';
import { harmless } from '../output/harmless.ts';
import { messageOf } from '../output/words.ts';
import { LARGEST_FILE } from '../text/source.ts';
import { decode } from '../world/decode.ts';
import { EXIT } from '../world/exit.ts';
import { type Io, OutputLost, systemWords } from '../world/io.ts';
import { type Judgement, judgeFound, limitsOver, type Over } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import { photoInputs } from '../files/photos.ts';
import { sealFor } from '../files/seal-for.ts';
import { sealNameOf } from '../files/seal-name.ts';
import { givenWell, trialFiles } from '../files/trial-files.ts';

export interface SealOptions {
  readonly limits?: readonly string[];
  readonly filesFrom?: string;
  readonly force?: boolean;
  readonly allowEmpty?: boolean;
  readonly archive?: string;
  readonly date?: string;
}

/** `seal FILE…`: a sealed result beside each trial, whatever becomes of the others. */
export function seal(paths: readonly string[], options: SealOptions, io: Io): number {
  if (options.archive !== undefined) {
    if (paths.length === 0 && options.filesFrom === undefined && options.limits === undefined)
      return sealArchive(options.archive, options.date ?? null, options.force ?? false, io);
    io.err('tallytare: --archive seals a folder as it stands; seal its trials first, without it\n');
    return EXIT.usage;
  }
  if (options.date !== undefined) {
    io.err('tallytare: --date is the day an archive is sealed; it goes with --archive\n');
    return EXIT.usage;
  }
  const given = { paths, filesFrom: options.filesFrom, allowEmpty: options.allowEmpty };
  if (!givenWell(given, 'seal', io)) return EXIT.usage;
  if (paths.includes('-')) {
    io.err('tallytare: a seal stands beside its trial; standard input has no place for one\n');
    return EXIT.usage;
  }
  const limitsFiles = new LimitsFiles(io);
  const over = limitsOver(options.limits ?? [], limitsFiles, io);
  if (typeof over === 'number') return over;

  const codes = new Set<number>();
  let silent = false;
  for (const found of trialFiles(given, io)) {
    const judged = judgeFound(found, over, limitsFiles, io);
    if (judged === null) continue;
    const { code, said } = sealOne(judged, over, options.force ?? false, io);
    codes.add(code);
    try {
      if (!silent) io.out(said);
    } catch (error) {
      // The seals are the work, not the lines about them: with nobody to read these, the work goes on.
      if (!(error instanceof OutputLost)) throw error;
      silent = true;
      codes.add(EXIT.other);
    }
  }
  if (codes.size === 0 && options.allowEmpty) return EXIT.pass;
  if (codes.size === 0) {
    io.err('tallytare: nothing was sealed: there are only sets of limits\n');
    return EXIT.unreadable;
  }
  if (codes.has(EXIT.unreadable)) return EXIT.unreadable;
  return codes.has(EXIT.other) ? EXIT.other : EXIT.pass;
}

/** A seal written, or why not; what stands in its place is told from what it would be. */
function sealOne(judged: Judgement, over: Over, force: boolean, io: Io): { code: number; said: string } {
  const { result } = judged;
  if (result.verdict === 'invalid') {
    io.err(result.findings.map((finding) => `${findingLine(finding)}\n`).join(''));
    return { code: EXIT.unreadable, said: '' };
  }
  for (const problem of photoInputs(result.trial, result.file, io).problems) {
    io.err(`tallytare: ${harmless(result.file)}: a photo is not sealed: ${harmless(messageOf(problem))}\n`);
  }
  const name = sealNameOf(result.file);
  const text = sealText(sealFor(result, judged, over.used.length, io), (content) => io.digest(content));
  const refuse = (why: string): { code: number; said: string } => {
    io.err(`tallytare: ${harmless(name)}: ${why}\n`);
    return { code: EXIT.other, said: '' };
  };
  if (bytesOf(text).length > LARGEST_FILE) return refuse('this seal would be too large to be read again');
  try {
    const before = sealThere(name, io);
    if (before === text) return { code: EXIT.pass, said: `sealed already  ${harmless(name)}\n` };
    if (before !== null && !force) {
      return refuse('another seal of this trial is there already; --force replaces it');
    }
    io.write(name, text, force);
    return { code: EXIT.pass, said: `sealed          ${harmless(name)}\n` };
  } catch (error) {
    // Another run may have sealed it meanwhile.
    if ((error as NodeJS.ErrnoException).code === 'EEXIST' && sealThere(name, io) === text)
      return { code: EXIT.pass, said: `sealed already  ${harmless(name)}\n` };
    return refuse(systemWords(error, 'write'));
  }
}

/** What stands in the place of a seal; null where nothing does. */
function sealThere(name: string, io: Io): string | null {
  if (io.kind(name) === 'nothing') return null;
  const decoded = decode(io.read(name));
  return 'text' in decoded ? decoded.text : '';
}

/** A day as ISO 8601 writes it. */
function dayOf(value: string): string {
  const read = readTime(value);
  if ('value' in read && /^\d{4}-\d\d-\d\d$/.test(value)) return value;
  throw new InvalidArgumentError('A day is written as 2026-11-27.');
}

/** The command `seal` on the command line. */
export const sealCommand: Define = (program, io, done) => {
  program
    .command('seal')
    .description('write the sealed result of each trial beside it')
    .argument('[path...]', 'trial files, folders of them, patterns')
    .option('--files-from <list>', 'a file, or -, that lists more of them: by line, or by NUL')
    .option('--limits <file|preset>', 'limits laid over the file’s own; recheck uses them too', collect)
    .option('--archive <folder>', 'seal a whole archive instead: write a list of its files, archive.seal')
    .option('--date <day>', 'the day that archive.seal says, as 2026-11-27; none unless given', dayOf)
    .option('--allow-empty', 'a folder, pattern or list without a trial is no error')
    .option('--force', 'replace a seal that says something else')
    .addHelpText(
      'after',
      `${MANY_FILES}

The seal of TRIAL is TRIAL.seal.json. Whatever the verdict, a trial that can be
read is sealed; sealed again unchanged it stays as it is.

Exit codes: 0 all are sealed, 3 a trial or limits file could not be read,
4 wrong usage, 5 anything else: a seal that says something else is there, or
cannot be written. Each file is sealed whatever the others do.

Examples:
  tallytare seal trials/*.yaml --limits office
  tallytare seal trials --force
  tallytare seal --archive trials --date 2026-11-27`,
    )
    .action((paths: string[], options: SealOptions) => done(seal(paths, options, io)));
};
