import { Option } from 'commander';
import { collect, type Define } from './define.ts';
import { MANY_FILES } from './help.ts';
import { limitsOver } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import { type Given, givenWell, trialFiles } from '../files/trial-files.ts';
import { type Asked, GatheredLot, oneLot, type OneLot } from '../lot/gathered-lot.ts';
import { judgeByTerms, type JudgedLot } from '../lot/judged-lot.ts';
import { LOT_RULES } from '../lot/rule.ts';
import { type Agreement, LARGEST_LOT, SMALLEST_LOT } from '../lot/terms.ts';
import { gatherReadable } from '../many/gather.ts';
import { harmless } from '../output/harmless.ts';
import { lotCsv, lotJson } from '../output/lot-data.ts';
import { lotText } from '../output/lot-text.ts';
import { mixedWords } from '../output/lot-words.ts';
import { reasonWords } from '../output/reason-words.ts';
import type { Kind } from '../trial/quantity.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { Refused, refusable } from '../world/refused.ts';
import { paintFor } from '../world/terminal.ts';
import { toolName } from '../world/tool.ts';
import { quantityOption } from './options.ts';

export const LOT_FORMATS = ['text', 'json', 'csv'] as const;

export interface LotOptions {
  readonly filesFrom?: string;
  readonly lot?: string;
  readonly size?: string;
  readonly rule: (typeof LOT_RULES)[number];
  readonly limitingQuality?: string;
  readonly consumerRisk?: string;
  readonly acceptableQuality?: string;
  readonly producerRisk?: string;
  readonly confidence?: string;
  readonly limits?: readonly string[];
  readonly format: (typeof LOT_FORMATS)[number];
}

/** `lot FILE…`: what the trials of a lot say of it: accept, reject, or go on. */
export const lot = (files: readonly string[], options: LotOptions, io: Io): number =>
  refusable(() => lotOf(files, options, io));

const SHARE: Kind = { unit: '%', least: 0.001, greatest: 100 };
const RISK: Kind = { unit: '%', least: 0.001, greatest: 50 };

function lotOf(paths: readonly string[], options: LotOptions, io: Io): number {
  const given: Given = { paths, filesFrom: options.filesFrom };
  if (!givenWell(given, 'lot', io)) return EXIT.usage;
  const number = (option: string, text: string | undefined, kind: Kind): Decimal | null =>
    text === undefined ? null : quantityOption(option, text, kind, io).value;
  const limitsFiles = new LimitsFiles(io);
  const over = limitsOver(options.limits ?? [], limitsFiles, io);
  if (typeof over === 'number') return over;
  const size = number('--size', options.size, {
    unit: '1',
    whole: true,
    least: SMALLEST_LOT,
    greatest: LARGEST_LOT,
  });
  const agreement: Agreement = {
    limitingQuality: number('--limiting-quality', options.limitingQuality, SHARE),
    consumerRisk: number('--consumer-risk', options.consumerRisk, RISK),
    acceptableQuality: number('--acceptable-quality', options.acceptableQuality, SHARE),
    producerRisk: number('--producer-risk', options.producerRisk, RISK),
  };
  const wanted = number('--confidence', options.confidence, { unit: '%', least: 50, greatest: 99.99 });

  const gathered = new GatheredLot();
  const unreadable = gatherReadable([...trialFiles(given, io)], over, gathered, io, { limitsFiles });
  const asked: Asked = { lot: options.lot ?? null, size: size?.toNumber() ?? null, agreement };
  const found = oneLot(gathered, asked);
  if ('kind' in found) {
    io.err(`tallytare: ${harmless(mixedWords(found, asked.lot))}\n`);
    return EXIT.unreadable;
  }
  if (found.size === null) {
    io.err(
      `tallytare: no trial says how many cartridges lot ${harmless(found.id)} has: write lot.size, or give --size\n`,
    );
    return EXIT.unreadable;
  }
  const cartridges = found.size;
  for (const [what, { length }] of [
    ['tried', found.tried],
    ['inspected', found.inspected],
  ] as const) {
    if (length <= cartridges) continue;
    io.err(
      `tallytare: ${length} cartridges of lot ${harmless(found.id)} were ${what}, but it has only ${cartridges} (lot.size); correct the size\n`,
    );
    return EXIT.unreadable;
  }
  const byOptions =
    options.rule === 'sequential' || size !== null || Object.values(agreement).some((one) => one !== null);
  const judged = judgedOrRefused(found, byOptions ? EXIT.usage : EXIT.unreadable, io, () =>
    judgeByTerms(found, cartridges, options.rule, wanted),
  );
  const write = {
    text: () => lotText(judged, paintFor(io)),
    json: () => lotJson(judged, toolName()),
    csv: () => lotCsv(judged),
  };
  io.out(write[options.format]());
  if (unreadable > 0) return EXIT.unreadable;
  return { accept: EXIT.pass, reject: EXIT.fail, 'go-on': EXIT.inconclusive }[judged.decision];
}

/** @throws Refused with `code` where what was agreed by options are no terms, once said; by files, as what cannot be read */
function judgedOrRefused({ id }: OneLot, code: number, io: Io, judge: () => JudgedLot): JudgedLot {
  try {
    return judge();
  } catch (refusal) {
    if (!(refusal instanceof NotDerived)) throw refusal;
    io.err(`tallytare: lot ${harmless(id)}: ${harmless(reasonWords(refusal.reason))}\n`);
    const ofFindings = 'path' in refusal.reason && refusal.reason.path.includes('inspection');
    throw new Refused(ofFindings ? EXIT.unreadable : code);
  }
}

/** The command `lot` on the command line. */
export const lotCommand: Define = (program, io, done) => {
  program
    .command('lot')
    .description('accept a lot, reject it, or go on, from the trials of its cartridges')
    .argument('[file...]', 'trials of one lot, folders of them, patterns; - reads standard input')
    .option('--files-from <list>', 'a file, or -, that lists more of them: by line, or by NUL')
    .option('--lot <id>', 'the lot that is meant, where the trials have cartridges of others too')
    .option('--size <cartridges>', 'cartridges in the lot; the trials’ own lot.size unless given')
    .addOption(new Option('--rule <rule>', 'how it is decided').choices(LOT_RULES).default('single'))
    .option('--limiting-quality <percent>', 'failing share not to be taken; target.lot unless given')
    .option('--consumer-risk <percent>', 'risk to accept it all the same; 10 unless said')
    .option('--acceptable-quality <percent>', 'failing share to be taken; target.lot unless given')
    .option('--producer-risk <percent>', 'risk to reject it all the same; 5 unless said')
    .option('--confidence <percent>', 'of the largest share; 100 less the consumer’s risk unless given')
    .option('--limits <file|preset>', 'limits laid over the files’ own; may be given again', collect)
    .addOption(new Option('--format <format>', 'how to print').choices(LOT_FORMATS).default('text'))
    .addHelpText(
      'after',
      `${MANY_FILES}

Exit codes: 0 accept, 1 reject, 2 go on; 3 a file could not be read, or the
trials are not of one lot; 4 wrong usage; 5 anything else.

Examples:
  tallytare lot examples/pool --size 400 --limiting-quality 10
  tallytare lot trials --lot K-20 --rule sequential`,
    )
    .action((files: string[], options: LotOptions) => done(lot(files, options, io)));
};
