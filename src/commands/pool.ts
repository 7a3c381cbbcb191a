import { Option } from 'commander';
import { type Define, collect } from './define.ts';
import { refuseMixture, refuseTwin } from '../many/gather.ts';
import { type Threads, inOrder } from '../many/in-order.ts';
import { type PoolPlan, type PoolRecord, poolStep } from '../many/pool-step.ts';
import { startThreads } from '../many/threads.ts';
import { FIGURES } from '../figures/list.ts';
import { harmless } from '../output/harmless.ts';
import { cartridgeHeads } from '../output/pool-cartridges.ts';
import { poolCsv, poolJson, poolLines } from '../output/pool-data.ts';
import { poolText } from '../output/pool-text.ts';
import { compareGroups } from '../pool/against.ts';
import { Gathered, pooledFrom } from '../pool/gathered.ts';
import { type Apart, type Group, KEPT_APART } from '../pool/group.ts';
import type { Kind } from '../trial/quantity.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { quantityOption } from './options.ts';
import { refusable } from '../world/refused.ts';
import { toolName } from '../world/tool.ts';
import { paintFor } from '../world/terminal.ts';
import { type Given, givenWell, trialFiles } from '../files/trial-files.ts';

export const POOL_FORMATS = ['text', 'json', 'jsonl', 'csv'] as const;
export const TAILS = ['one-sided', 'two-sided'] as const;

export interface PoolOptions {
  readonly filesFrom?: string;
  readonly by?: Apart;
  readonly byLot?: boolean;
  readonly cartridges?: boolean;
  readonly few?: boolean;
  readonly confidence?: string;
  readonly tail: (typeof TAILS)[number];
  readonly claim?: string;
  readonly against?: readonly string[];
  readonly margin?: string;
  readonly trend?: string;
  readonly of?: string;
  readonly limits?: readonly string[];
  readonly format: (typeof POOL_FORMATS)[number];
}

/** `pool FILE…`: the yields of many trials together, and what may be claimed of them. */
export function pool(files: readonly string[], options: PoolOptions, io: Io): number {
  return refusable(() => poolFiles(files, options, io));
}

/** Options that say how another one is done, and mean nothing without it. */
const HANGS_ON = [
  ['margin', 'against'],
  ['of', 'trend'],
] as const;

function poolFiles(files: readonly string[], options: PoolOptions, io: Io): number {
  for (const [option, other] of HANGS_ON) {
    if (options[option] === undefined || options[other] !== undefined) continue;
    io.err(`tallytare: --${option} needs --${other}, which is not given\n`);
    return EXIT.usage;
  }
  const given: Given = { paths: files, filesFrom: options.filesFrom };
  if (!givenWell(given, 'pool', io)) return EXIT.usage;
  const amiss = notPrinted(options);
  if (amiss !== null) {
    io.err(`tallytare: ${amiss}\n`);
    return EXIT.usage;
  }
  const rows =
    options.cartridges && (options.format === 'csv' || options.format === 'jsonl') ? options.format : null;
  const number = (option: string, text: string, kind: Kind): Decimal =>
    quantityOption(option, text, kind, io).value;
  const level = number('--confidence', options.confidence ?? '90', { unit: '%', least: 50, greatest: 99.99 })
    .div(100)
    .toNumber();
  const claimed =
    options.claim === undefined ? null : number('--claim', options.claim, { unit: 'page', least: 1 });
  const margin =
    options.margin === undefined
      ? null
      : number('--margin', options.margin, { unit: 'page', least: 0 }).toNumber();
  const figure = options.trend;
  if (figure !== undefined && !FIGURES.some(({ name }) => name === figure)) {
    io.err(`tallytare: there is no figure "${harmless(figure)}" to follow\n`);
    return EXIT.usage;
  }
  const followed = figure === undefined ? null : { figure, of: options.of ?? null };
  const plan: PoolPlan = { limits: options.limits ?? [], followed, rows };
  const step = poolStep(plan, io);
  if (typeof step === 'number') return step;
  const digests = new Map<string, string>();
  let unreadable = 0;
  const lines: string[] = [];
  const threads = (): Threads<PoolRecord> => startThreads({ pool: plan }, io);
  const from = (named: Given): Gathered => {
    const found = new Gathered(followed);
    const trials = [...trialFiles(named, io)];
    let done = 0;
    for (const { file, digest, taken, err, lines: own } of inOrder(trials, step, threads)) {
      io.progress(++done, trials.length);
      io.err(err);
      if (taken === null) unreadable += 1;
      else {
        if (digest !== '') refuseTwin(file, digest, digests, io);
        found.add(taken);
        lines.push(...own);
      }
    }
    io.progress(null, trials.length);
    return found;
  };
  const own = from(given);
  const other = options.against ? from({ paths: options.against }) : null;
  refuseMixture(other ? [own, other] : [own], io);
  if (rows !== null) {
    if (rows === 'csv') io.out(cartridgeHeads());
    for (const line of lines) io.out(line);
    return unreadable > 0 ? EXIT.unreadable : EXIT.pass;
  }

  const { pooled, claim } = pooledFrom(own, {
    by: options.by ?? (options.byLot ? 'lot' : null),
    confidence: { level, tail: options.tail },
    claim: claimed,
    few: options.few ?? false,
  });
  const against = other ? compareGroups(own.cartridges, other.cartridges, level, margin) : [];
  const all = { ...pooled, against };
  const write = {
    text: () => poolText(all, paintFor(io)),
    json: () => poolJson(all, toolName()),
    jsonl: () => poolLines(all, toolName()),
    csv: () => poolCsv(all),
  };
  io.out(write[options.format]());
  if (unreadable > 0) return EXIT.unreadable;
  return claim === null ? EXIT.pass : claimCode(pooled.groups);
}

/** What is amiss with what is asked to be printed, as a sentence; null where nothing is. */
function notPrinted({ cartridges, format, against, trend, claim }: PoolOptions): string | null {
  if (!cartridges) {
    const more = against ?? trend;
    return format === 'jsonl' && more !== undefined
      ? '--format jsonl prints groups; --against and --trend have --format json and csv'
      : null;
  }
  if (against !== undefined || trend !== undefined || claim !== undefined)
    return '--cartridges lists cartridges; --against, --trend and --claim are about groups of them';
  return format === 'csv' || format === 'jsonl' ? null : '--cartridges needs --format csv or --format jsonl';
}

/** 0 supported, 1 not, 2 undecided, as it is where nothing could be pooled; the worst over the groups. */
function claimCode(groups: readonly Group[]): number {
  const claims = groups.flatMap(({ claim }) => claim ?? []);
  if (claims.some(({ supported }) => supported === false)) return EXIT.fail;
  const undecided = claims.length === 0 || claims.some(({ supported }) => supported === null);
  return undecided ? EXIT.inconclusive : EXIT.pass;
}

/** The command `pool` on the command line. */
export const poolCommand: Define = (program, io, done) => {
  program
    .command('pool')
    .description('pool the yields of many trials into what may be claimed')
    .argument('[file...]', 'trial files, folders of them, patterns; - reads standard input')
    .option('--files-from <list>', 'a file, or -, that lists more of them: by line, or by NUL')
    .addOption(
      new Option('--by <what>', 'keep these apart, and set them beside each other').choices(KEPT_APART),
    )
    .addOption(new Option('--by-lot', 'the same as --by lot').conflicts('by'))
    .option('--cartridges', 'csv and jsonl: a row for each cartridge, in place of groups')
    .option('--confidence <percent>', 'confidence of the bounds; 90 unless given')
    .addOption(
      new Option('--tail <tail>', 'which side the bounds are on').choices(TAILS).default('one-sided'),
    )
    .option('--claim <pages>', 'the yield to be claimed; the trials’ own target.claim unless given')
    .option('--few', 'fewer than nine cartridges or three machines, or failures, are enough for a claim')
    .option('--against <file...>', 'trials of a second group, held against the first')
    .option('--margin <pages>', 'how close the means of two groups count as equivalent')
    .option('--trend <figure>', 'follow a figure over the trials in order of their days')
    .option('--of <part>', 'slot, patch, stage or part the trend is of')
    .option('--limits <file|preset>', 'limits laid over the files’ own; may be given again', collect)
    .addOption(new Option('--format <format>', 'how to print').choices(POOL_FORMATS).default('text'))
    .addHelpText(
      'after',
      '\nExit codes: with a claim 0 supported, 1 not, 2 not decidable yet; 3 a file could\nnot be read or does not pool with the others; 4 wrong usage; 5 anything else.\n\nExample:\n  tallytare pool examples/pool --claim 10500\n  tallytare pool trials --by supplier\n  tallytare pool trials --cartridges --format csv > cartridges.csv',
    )
    .action((files: string[], options: PoolOptions) => done(pool(files, options, io)));
};
