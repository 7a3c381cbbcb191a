import { Option } from 'commander';
import { collect, type Define } from './define.ts';
import { MANY_FILES } from './help.ts';
import { limitsOver } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import { type Given, givenWell, trialFiles } from '../files/trial-files.ts';
import { type Asked, GatheredLot, type Mixed, oneLot, type OneLot } from '../lot/gathered-lot.ts';
import { judgeInspection } from '../lot/judged-inspection.ts';
import { judgeLot } from '../lot/judged-lot.ts';
import { LOT_RULES, type LotRule, sequentialRule, singleRule } from '../lot/rule.ts';
import {
  type Agreement,
  CONSUMER_RISK,
  LARGEST_LOT,
  SMALLEST_LOT,
  type Terms,
  termsOf,
} from '../lot/terms.ts';
import { gatherReadable } from '../many/gather.ts';
import { harmless } from '../output/harmless.ts';
import { lotCsv, lotJson } from '../output/lot-data.ts';
import { lotText } from '../output/lot-text.ts';
import { cartridgeName } from '../output/lot-words.ts';
import { reasonWords } from '../output/reason-words.ts';
import type { Kind } from '../trial/quantity.ts';
import { Decimal } from '../uncertainty/decimal.ts';
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
  const decides = ruleFor(found, cartridges, options.rule, byOptions ? EXIT.usage : EXIT.unreadable, io);
  const inspection = termsOrRefused(found, EXIT.unreadable, io, () =>
    judgeInspection(found, cartridges, wanted),
  );
  const consumerRisk = decides?.terms.limiting.risk ?? found.agreement.consumerRisk ?? CONSUMER_RISK;
  const judged = judgeLot(
    found,
    cartridges,
    decides,
    wanted ?? new Decimal(100).minus(consumerRisk),
    inspection,
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

/**
 * The terms and the rule that decide; null where no limiting quality was agreed.
 * @throws Refused with `code` where they are none, once said
 */
function ruleFor(
  lot: OneLot,
  size: number,
  rule: LotOptions['rule'],
  code: number,
  io: Io,
): { readonly terms: Terms; readonly rule: LotRule } | null {
  if (lot.agreement.limitingQuality === null) return null;
  return termsOrRefused(lot, code, io, () => {
    const terms = termsOf(size, lot.agreement);
    return { terms, rule: rule === 'single' ? singleRule(terms) : sequentialRule(terms) };
  });
}

/** What follows from the terms of a lot. @throws Refused with `code` where they are none, once said */
function termsOrRefused<T>({ id }: OneLot, code: number, io: Io, made: () => T): T {
  try {
    return made();
  } catch (refusal) {
    if (!(refusal instanceof NotDerived)) throw refusal;
    io.err(`tallytare: lot ${harmless(id)}: ${harmless(reasonWords(refusal.reason))}\n`);
    throw new Refused(code);
  }
}

/** Why trials are not those of one lot, and how to mend it. */
function mixedWords(mixed: Mixed, named: string | null): string {
  switch (mixed.kind) {
    case 'none':
      return named === null
        ? 'there is no trial to judge a lot by'
        : `no cartridge of lot ${named} was tried or inspected`;
    case 'unnamed':
      return `${cartridgeName(mixed.cartridge)}: its lot is not named; write lot.id, or cartridges.lot`;
    case 'lots': {
      const [a, b] = mixed.cartridges;
      return `${cartridgeName(a)} is of lot ${a.lot ?? ''}, ${cartridgeName(b)} of lot ${b.lot ?? ''}; lots are judged one by one: --lot names one`;
    }
    case 'twice': {
      const [a, b] = mixed.tried;
      return `${cartridgeName(a)} and ${cartridgeName(b)} are one cartridge; each is tried once`;
    }
    case 'differ': {
      const [a, b] = mixed.said;
      return `${mixed.key} is ${a.value} in ${a.file}, ${b.value} in ${b.file}; the trials of one lot agree on it`;
    }
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
