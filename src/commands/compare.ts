import { Option } from 'commander';
import { collect, type Define, limitsOnly } from './define.ts';
import { MANY_FILES } from './help.ts';
import { compareHeads, CompareTable } from '../output/compare.ts';
import { JSON_ARRAY } from '../output/json-array.ts';
import { type ComparePlan, type CompareRecord, compareStep } from '../many/compare-step.ts';
import { type Threads, inOrder } from '../many/in-order.ts';
import { startThreads } from '../many/threads.ts';
import { type Given, givenWell, mayBeSeveral, trialFiles } from '../files/trial-files.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { paintFor } from '../world/terminal.ts';

export const COMPARE_FORMATS = ['text', 'json', 'jsonl', 'csv'] as const;

export interface CompareOptions {
  readonly limits?: readonly string[];
  readonly limitsOnly?: readonly string[];
  readonly against?: readonly string[];
  readonly filesFrom?: string;
  readonly format: (typeof COMPARE_FORMATS)[number];
}

/** `compare PATH…`: each trial judged under two sets of limits, and what turns. */
export function compare(paths: readonly string[], options: CompareOptions, io: Io): number {
  const given: Given = { paths, filesFrom: options.filesFrom };
  if (!givenWell(given, 'compare', io)) return EXIT.usage;
  const limits = options.limitsOnly ?? options.limits;
  if (limits === undefined) {
    io.err('tallytare: compare needs the limits in question: --limits or --limits-only\n');
    return EXIT.usage;
  }
  const shown = options.format;
  const plan: ComparePlan = {
    limits,
    against: options.against ?? [],
    alone: options.limitsOnly !== undefined,
    shown,
  };
  const step = compareStep(plan, io);
  if (typeof step === 'number') return step;
  const several = mayBeSeveral(given, io);
  const table = new CompareTable();
  const threads = (): Threads<CompareRecord> => startThreads({ compare: plan }, io);
  let [index, turned, listed] = [0, 0, false];
  let [invalid, fault] = [false, false];
  if (shown === 'csv') io.out(compareHeads());
  // Limits that cannot be read are all there is to show.
  const records = typeof step === 'function' ? inOrder(trialFiles(given, io), step, threads) : [step];
  for (const { seen, out, err, fault: failed } of records) {
    io.err(err);
    table.add(seen);
    if (seen.before !== seen.after) turned += 1;
    invalid ||= seen.before === 'invalid' || seen.after === 'invalid';
    fault ||= failed;
    if (shown !== 'json') io.out(out);
    else io.out(several ? JSON_ARRAY.before(index) + JSON_ARRAY.entry(out) : `${out}\n`);
    listed ||= out !== '';
    index += 1;
  }
  if (shown === 'json' && several) io.out(JSON_ARRAY.after(index));
  if (index === 0) {
    io.err('tallytare: nothing was compared: there are only sets of limits\n');
    return EXIT.unreadable;
  }
  if (shown === 'text') io.out(`${listed ? '\n' : ''}${table.text(paintFor(io))}`);
  if (fault) return EXIT.other;
  return invalid ? EXIT.unreadable : turned > 0 ? EXIT.fail : EXIT.pass;
}

/** The command `compare` on the command line. */
export const compareCommand: Define = (program, io, done) => {
  program
    .command('compare')
    .description('say which verdicts other limits would turn, by which limit, by how much')
    .argument('[path...]', 'trial files, folders of them, patterns; - reads standard input')
    .option('--files-from <list>', 'a file, or -, that lists more of them: by line, or by NUL')
    .option('--limits <file|preset>', 'the limits in question, laid over the files’ own', collect)
    .addOption(limitsOnly())
    .option('--against <file|preset>', 'what they are held against; the files’ own unless given', collect)
    .addOption(new Option('--format <format>', 'how to print').choices(COMPARE_FORMATS).default('text'))
    .addHelpText(
      'after',
      `${MANY_FILES}

Each trial is judged twice: by its own limits (with --against laid over them),
and with the limits in question laid over them. With --limits-only the limits
in question stand alone, and so do those of --against where it is given.
Text shows the trials whose verdict turns, then counts over all; the other
formats show every trial, with every limit that differs.

Exit codes: 0 no verdict turns, 1 at least one does, 3 a trial or limits file is
missing or could not be read as one, 4 wrong usage, 5 anything else.

Examples:
  tallytare compare archive --limits new.yaml
  tallytare compare archive --limits new.yaml --against old.yaml --format csv`,
    )
    .action((paths: string[], options: CompareOptions) => done(compare(paths, options, io)));
};
