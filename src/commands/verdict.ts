import { InvalidArgumentError, Option } from 'commander';
import { collect, type Define, limitsOnly } from './define.ts';
import { EXIT_CODES, MANY_FILES } from './help.ts';
import { harmless } from '../output/harmless.ts';
import { JSON_ARRAY } from '../output/json-array.ts';
import { type Counts, JUNIT_TAIL, junitHead } from '../output/junit.ts';
import { CASE_OF } from '../output/junit-verdict.ts';
import { type Listed, Summary } from '../output/summary.ts';
import { type Column, COLUMN_NAMES, columnOf, csvHeads, DEFAULT_COLUMNS } from '../output/verdict-csv.ts';
import { nearest } from '../trial/nearest.ts';
import { EXIT, exitOf } from '../world/exit.ts';
import { startThreads } from '../many/threads.ts';
import { type Threads, inOrder } from '../many/in-order.ts';
import type { Io } from '../world/io.ts';
import { toolName } from '../world/tool.ts';
import { paintFor } from '../world/terminal.ts';
import { type Given, givenWell, mayBeSeveral, trialFiles } from '../files/trial-files.ts';
import { type Shown, type VerdictPlan, type VerdictRecord, verdictStep } from '../many/verdict-step.ts';

export const FORMATS = ['text', 'json', 'jsonl', 'csv', 'junit'] as const;
export const VERDICTS = ['pass', 'fail', 'inconclusive', 'invalid'] as const;

export interface VerdictOptions {
  readonly limits?: readonly string[];
  readonly limitsOnly?: readonly string[];
  readonly format: (typeof FORMATS)[number];
  readonly quiet?: boolean;
  readonly strict?: boolean;
  readonly summary?: boolean;
  readonly filesFrom?: string;
  readonly only?: readonly (typeof VERDICTS)[number][];
  readonly failFast?: boolean;
  readonly allowEmpty?: boolean;
  readonly columns?: readonly string[];
}

/** `verdict PATH…`: each trial read, derived, judged and shown, whatever becomes of the others. */
export function verdict(paths: readonly string[], options: VerdictOptions, io: Io): number {
  const given: Given = { paths, filesFrom: options.filesFrom, allowEmpty: options.allowEmpty };
  if (!givenWell(given, 'verdict', io)) return EXIT.usage;
  const columns = columnsOf(options, io);
  if (columns === null) return EXIT.usage;

  if (options.summary && options.format !== 'text' && options.format !== 'json') {
    io.err('tallytare: --summary has --format text and json\n');
    return EXIT.usage;
  }
  const shown: Shown = options.quiet ? 'quiet' : options.summary ? 'summary' : options.format;
  const names = columns.map(({ head }) => head);
  const plan: VerdictPlan = {
    limits: options.limitsOnly ?? options.limits ?? [],
    alone: options.limitsOnly !== undefined,
    shown,
    strict: options.strict ?? false,
    columns: names,
  };
  const step = verdictStep(plan, io);
  if (typeof step === 'number') return step;
  const output = outputOf(
    shown,
    options.format,
    columns,
    mayBeSeveral(given, io),
    options.only !== undefined,
    io,
  );
  if (typeof step !== 'function') {
    io.err(step.err);
    output.add(step, true);
    output.end();
    return EXIT.unreadable;
  }
  const seen = new Set<VerdictRecord['verdict']>();
  const parts = new Set<string>();
  let fault = false;
  const threads = (): Threads<VerdictRecord> => startThreads({ verdict: plan }, io);
  for (const record of inOrder(trialFiles(given, io), step, threads)) {
    seen.add(record.verdict);
    fault ||= record.fault;
    for (const part of record.parts) parts.add(part);
    const wanted = options.only?.includes(record.verdict) ?? true;
    const hidden = !wanted && record.verdict === 'invalid' && record.err === '';
    io.err(hidden ? record.errors : record.err);
    output.add(record, wanted);
    if (options.failFast && (record.verdict === 'fail' || record.verdict === 'invalid')) {
      io.err(
        `tallytare: stopped at ${harmless(record.file)} (--fail-fast); what comes after it was not judged\n`,
      );
      break;
    }
  }
  output.end();
  if (seen.size === 0 && options.allowEmpty) return EXIT.pass;
  for (const { head, hasPart } of columns) {
    if (hasPart === undefined || parts.has(head)) continue;
    io.err(`tallytare: the column ${harmless(head)} is empty: no trial has this part\n`);
  }
  if (seen.size === 0) {
    io.err('tallytare: nothing was judged: there are only sets of limits\n');
    return EXIT.unreadable;
  }
  return fault ? EXIT.other : exitOf(seen);
}

/** Puts out records one after the other, and what belongs before, between and after them. */
interface Output {
  add(record: VerdictRecord, wanted: boolean): void;
  end(): void;
}

function outputOf(
  shown: Shown,
  format: VerdictOptions['format'],
  columns: readonly Column[],
  several: boolean,
  chosen: boolean,
  io: Io,
): Output {
  switch (shown) {
    case 'json':
      return several ? arrayOutput(io) : plainOutput(io, ({ out }) => `${out}\n`);
    case 'junit':
      return junitOutput(io);
    case 'csv':
      io.out(csvHeads(columns));
      return plainOutput(io, ({ out }) => out);
    case 'summary':
      return format === 'json' ? summaryJson(chosen, io) : summaryOutput(chosen, io);
    case 'text':
      return plainOutput(io, ({ out }, index) => (index > 0 ? `\n${out}` : out));
    default:
      return plainOutput(io, ({ out }) => out);
  }
}

function plainOutput(io: Io, print: (record: VerdictRecord, index: number) => string): Output {
  let index = 0;
  return {
    add: (record, wanted) => {
      if (wanted) io.out(print(record, index++));
    },
    end: () => undefined,
  };
}

function arrayOutput(io: Io): Output {
  let entries = 0;
  return {
    add: ({ out }, wanted) => {
      if (wanted) io.out(JSON_ARRAY.before(entries++) + JSON_ARRAY.entry(out));
    },
    end: () => io.out(JSON_ARRAY.after(entries)),
  };
}

/** The cases are counted in front of the first, so they are kept until the last. */
function junitOutput(io: Io): Output {
  const counts = { passed: 0, failed: 0, error: 0, skipped: 0 } satisfies Counts;
  const cases: string[] = [];
  return {
    add: ({ verdict, out }, wanted) => {
      if (!wanted) return;
      counts[CASE_OF[verdict]] += 1;
      cases.push(out);
    },
    end: () => {
      io.out(junitHead('tallytare verdict', counts));
      for (const one of cases) io.out(one);
      io.out(JUNIT_TAIL);
    },
  };
}

/** One table over all; where some were chosen, a line for each of them before it. */
function summaryOutput(chosen: boolean, io: Io): Output {
  const summary = new Summary();
  let lines = 0;
  return {
    add: ({ file, verdict, limits, out }, wanted) => {
      summary.add(file, verdict, limits);
      if (!chosen || !wanted) return;
      lines += 1;
      io.out(out);
    },
    end: () => io.out(`${lines > 0 ? '\n' : ''}${summary.text(paintFor(io))}`),
  };
}

/** The same table as JSON, with the trials that were chosen in it. */
function summaryJson(chosen: boolean, io: Io): Output {
  const summary = new Summary();
  const listed: Listed[] = [];
  return {
    add: ({ file, verdict, limits }, wanted) => {
      summary.add(file, verdict, limits);
      if (chosen && wanted) listed.push({ file, verdict });
    },
    end: () => io.out(summary.json(chosen ? listed : null, toolName())),
  };
}

/**
 * The columns of a table; none where no table is printed. Null, once said, where one of them is none, or where
 * they are chosen of no table.
 */
function columnsOf({ columns, format }: VerdictOptions, io: Io): readonly Column[] | null {
  if (format !== 'csv') {
    if (columns === undefined) return [];
    io.err('tallytare: --columns chooses the columns of --format csv\n');
    return null;
  }
  const names =
    columns?.flatMap((list) => list.split(/ *, */)).filter((name) => name !== '') ?? DEFAULT_COLUMNS;
  const found: Column[] = [];
  for (const name of names) {
    const column = columnOf(name);
    if (column === null) {
      const near = nearest(name.replace(/[:.].*$/, ''), COLUMN_NAMES);
      const hint = near === null ? `there are ${COLUMN_NAMES.join(', ')}` : `did you mean "${near}"?`;
      io.err(`tallytare: there is no column "${harmless(name)}"; ${hint}\n`);
      return null;
    }
    found.push(column);
  }
  return found;
}

const COLUMNS = `
Columns: file, trial, id, started, finished, operator, lot, lots, supplier,
machine, machine_serial, serials, prices, verdict, ground, missed, open,
caveats, errors, warnings, and figures: FIGURE, FIGURE:PART or FIGURE:STAT, each
with .u, .unit, .bound, .outcome, .margin, .min or .max behind it where that is
wanted.`;

/** A verdict that may be given again. */
function verdictsOf(value: string, before: readonly string[] | undefined): readonly string[] {
  if ((VERDICTS as readonly string[]).includes(value)) return collect(value, before);
  throw new InvalidArgumentError(`Allowed choices are ${VERDICTS.join(', ')}.`);
}

/** The command `verdict` on the command line. */
export const verdictCommand: Define = (program, io, done) => {
  program
    .command('verdict')
    .description('judge trials against their limits')
    .argument('[path...]', 'trial files, folders of them, patterns; - reads standard input')
    .option('--files-from <list>', 'a file, or -, that lists more of them: by line, or by NUL')
    .option('--limits <file|preset>', 'limits laid over the file’s own; may be given again', collect)
    .addOption(limitsOnly())
    .addOption(
      new Option('--only <verdict>', 'print these alone; may be given again; the exit code is of all')
        .choices(VERDICTS)
        .argParser(verdictsOf),
    )
    .option('--strict', 'a trial with anything to know before relying on it does not pass')
    .option('--allow-empty', 'a folder, pattern or list without a trial is no error')
    .option('--fail-fast', 'stop at the first that fails or cannot be read')
    .addOption(new Option('--format <format>', 'how to print').choices(FORMATS).default('text'))
    .option('--columns <names>', 'columns of csv, with commas between; may be given again', collect)
    .addOption(new Option('-q, --quiet', 'one line a file: the verdict, a tab, the file').conflicts('format'))
    .addOption(
      new Option('--summary', 'one table over all of them in place of their verdicts').conflicts('quiet'),
    )
    .addHelpText(
      'after',
      `${MANY_FILES}${COLUMNS}${EXIT_CODES}\n\nExamples:\n  tallytare verdict examples/harbour-street.yaml --limits office\n  tallytare verdict trials --summary --only fail\n  tallytare verdict trials --format csv --columns file,verdict,waste_mass,waste_mass.u`,
    )
    .action((files: string[], options: VerdictOptions) => done(verdict(files, options, io)));
};
