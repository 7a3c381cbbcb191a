import { Option } from 'commander';
import { type Define, collect } from './define.ts';
import type { Assessed } from '../judge/assess.ts';
import { FIGURES } from '../figures/list.ts';
import { findingLine } from '../output/findings.ts';
import { harmless } from '../output/harmless.ts';
import { poolCsv, poolJson } from '../output/pool-data.ts';
import { poolText } from '../output/pool-text.ts';
import { compareGroups } from '../pool/against.ts';
import { cartridgesOf, type LeftOut, type PooledCartridge, twice } from '../pool/cartridge.ts';
import { type Confidence, type Group, groupsOf, poolGroup } from '../pool/group.ts';
import { type TrendPoint, trendOf, trendPoint } from '../pool/trend.ts';
import type { Kind } from '../trial/quantity.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { type Judgement, judgeFound, limitsOver } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import { quantityOption } from './options.ts';
import { Refused, refusable } from '../world/refused.ts';
import { paintFor } from '../world/terminal.ts';
import { trialFiles } from '../files/trial-files.ts';

export const POOL_FORMATS = ['text', 'json', 'csv'] as const;
export const TAILS = ['one-sided', 'two-sided'] as const;

export interface PoolOptions {
  readonly byLot?: boolean;
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

/** What was gathered from files. */
export interface Gathered {
  readonly cartridges: PooledCartridge[];
  readonly leftOut: LeftOut[];
  readonly points: TrendPoint[];
  readonly claims: Decimal[];
  readonly coverages: Map<string, string>;
  unreadable: boolean;
}

/** `pool FILE…`: the yields of many trials together, and what may be claimed of them. */
export function pool(files: readonly string[], options: PoolOptions, io: Io): number {
  return refusable(() => pooledFrom(files, options, io));
}

/** Options that say how another one is done, and mean nothing without it. */
const HANGS_ON = [
  ['margin', 'against'],
  ['of', 'trend'],
] as const;

function pooledFrom(files: readonly string[], options: PoolOptions, io: Io): number {
  for (const [option, other] of HANGS_ON) {
    if (options[option] === undefined || options[other] !== undefined) continue;
    io.err(`tallytare: --${option} needs --${other}, which is not given\n`);
    return EXIT.usage;
  }
  const limitsFiles = new LimitsFiles(io);
  const over = limitsOver(options.limits ?? [], limitsFiles, io);
  if (typeof over === 'number') return over;
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
  const digests = new Map<string, string>();
  const gather = (paths: readonly string[]): Gathered => {
    const found: Gathered = {
      cartridges: [],
      leftOut: [],
      points: [],
      claims: [],
      coverages: new Map(),
      unreadable: false,
    };
    const all = [...trialFiles({ paths }, io)];
    for (const [index, given] of all.entries()) {
      io.progress(index + 1, all.length);
      const judged = judgeFound(given, over, limitsFiles, io);
      if (judged === null) continue;
      const { result } = judged;
      if (result.verdict === 'invalid') {
        io.err(
          result.findings
            .slice(0, 1)
            .map((finding) => `${findingLine(finding)}\n`)
            .join(''),
        );
        found.unreadable = true;
        continue;
      }
      refuseTwins(judged, digests, io);
      take(result, found, figure, options.of ?? null);
    }
    io.progress(null, all.length);
    return found;
  };
  const own = gather(files);
  const other = options.against ? gather(options.against) : null;
  refuseMixture(own, other, io);

  const confidence: Confidence = { level, tail: options.tail };
  const planned = claimed === null ? differentClaims(own.claims) : [];
  const claim = claimed ?? (planned.length === 1 ? (planned[0] ?? null) : null);
  const groups = groupsOf(own.cartridges, options.byLot ?? false).map(({ slot, lot, cartridges }) =>
    poolGroup(cartridges, slot, lot, confidence, claim, options.few ?? false),
  );
  const [coverage] = own.coverages.keys();
  const pooled = {
    referenceCoverage: quantityOption('', coverage ?? '5', { unit: '%' }, io).value,
    groups,
    leftOut: own.leftOut,
    against: other ? compareGroups(own.cartridges, other.cartridges, level, margin) : [],
    trend: figure === undefined ? null : trendOf(figure, options.of ?? null, own.points),
    claims: planned.length > 1 ? planned : [],
  };
  const write = {
    text: () => poolText(pooled, paintFor(io)),
    json: () => poolJson(pooled),
    csv: () => poolCsv(pooled),
  };
  io.out(write[options.format]());
  if (own.unreadable || other?.unreadable) return EXIT.unreadable;
  return claim === null ? EXIT.pass : claimCode(groups);
}

/** Takes from a judged trial what pooling needs, so that the trial itself can be let go. */
export function take(result: Assessed, found: Gathered, figure: string | undefined, of: string | null): void {
  const { pooled, leftOut } = cartridgesOf(result);
  found.cartridges.push(...pooled);
  found.leftOut.push(...leftOut);
  const coverage = result.agreed.referenceCoverage.toFixed();
  if (!found.coverages.has(coverage)) found.coverages.set(coverage, result.file);
  const claim = result.trial.data.target?.claim?.value;
  if (claim) found.claims.push(claim);
  const point = figure === undefined ? null : trendPoint(result, figure, of);
  if (point !== null) found.points.push(point);
}

/** The claims the trials plan for, each once. */
export const differentClaims = (claims: readonly Decimal[]): Decimal[] =>
  claims.filter((claim, index) => claims.findIndex((other) => other.eq(claim)) === index);

/** One file twice would count its cartridges twice; what is compared are the bytes that were judged. */
export function refuseTwins({ result, used }: Judgement, digests: Map<string, string>, io: Io): void {
  const bytes = used.find(({ kind }) => kind === 'trial')?.bytes;
  if (!bytes) return;
  const digest = io.digest(bytes);
  const first = digests.get(digest);
  digests.set(digest, result.file);
  if (first === undefined) return;
  io.err(
    `tallytare: ${harmless(first)} and ${harmless(result.file)} are the same bytes; give each trial once\n`,
  );
  throw new Refused(EXIT.unreadable);
}

/** Yields at different reference coverages, and one cartridge twice, do not pool. */
export function refuseMixture(own: Gathered, other: Gathered | null, io: Io): void {
  const coverages = [...own.coverages, ...(other?.coverages ?? [])];
  const [first] = coverages;
  const second = coverages.find(([coverage]) => coverage !== first?.[0]);
  if (first && second) {
    io.err(
      `tallytare: ${harmless(first[1])} refers its yields to ${first[0]} % coverage, ${harmless(second[1])} to ${second[0]} %; give both one reference_coverage, with --limits perhaps\n`,
    );
    throw new Refused(EXIT.unreadable);
  }
  const again = twice([...own.cartridges, ...(other?.cartridges ?? [])]);
  if (again) {
    const [a, b] = again;
    io.err(
      `tallytare: cartridge ${harmless(a.serial ?? '')}${a.slot === null ? '' : ` (${harmless(a.slot)})`} is in ${harmless(a.file)} and in ${harmless(b.file)}; one cartridge yields once\n`,
    );
    throw new Refused(EXIT.unreadable);
  }
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
    .argument('<file...>', 'trial files, or folders of them')
    .option('--by-lot', 'keep lots apart')
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
      '\nExit codes: with a claim 0 supported, 1 not, 2 not decidable yet; 3 a file could\nnot be read or does not pool with the others; 4 wrong usage; 5 anything else.\n\nExample:\n  tallytare pool examples/pool --claim 10500',
    )
    .action((files: string[], options: PoolOptions) => done(pool(files, options, io)));
};
