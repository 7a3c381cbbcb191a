import { Option } from 'commander';
import { type Define, collect } from './define.ts';
import { limitsOver } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import { sameFile } from '../files/same-file.ts';
import { trialFiles } from '../files/trial-files.ts';
import { gatherReadable } from '../many/gather.ts';
import { harmless } from '../output/harmless.ts';
import {
  noRepeatWords,
  precisionCsv,
  precisionJson,
  precisionText,
  precisionYaml,
} from '../output/precision.ts';
import { Repeats } from '../pool/precision.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { refusable } from '../world/refused.ts';
import { paintFor } from '../world/terminal.ts';
import { toolName } from '../world/tool.ts';
import { wrote } from '../world/wrote.ts';

export const PRECISION_FORMATS = ['text', 'json', 'csv'] as const;

export interface PrecisionOptions {
  readonly write?: string;
  readonly force?: boolean;
  readonly limits?: readonly string[];
  readonly format: (typeof PRECISION_FORMATS)[number];
}

/** `precision FILE…`: how figures scatter over repeated trials of one lot. */
export const precision = (files: readonly string[], options: PrecisionOptions, io: Io): number =>
  refusable(() => precisionOf(files, options, io));

function precisionOf(paths: readonly string[], options: PrecisionOptions, io: Io): number {
  const limitsFiles = new LimitsFiles(io);
  const over = limitsOver(options.limits ?? [], limitsFiles, io);
  if (typeof over === 'number') return over;
  const repeats = new Repeats();
  const files = [...trialFiles({ paths }, io)];
  const unreadable = gatherReadable(files, over, repeats, io, { limitsFiles });
  const { noRepeat } = repeats;
  if (noRepeat !== null) {
    io.err(`tallytare: ${harmless(noRepeatWords(noRepeat))}\n`);
    return EXIT.unreadable;
  }
  const result = repeats.result();
  if (options.write !== undefined) {
    const { write: target, force = false } = options;
    if (files.some(({ file }) => sameFile(file, target, io))) {
      io.err(`tallytare: ${harmless(target)} is one of the trials; give the precision a name of its own\n`);
      return EXIT.usage;
    }
    if (result.figures.length === 0) {
      io.err(`tallytare: ${harmless(target)} was not written: no figure repeats\n`);
      return EXIT.unreadable;
    }
    const text = precisionYaml(result, toolName());
    if (!wrote(target, () => io.write(target, text, force), io)) return EXIT.other;
  }
  const write = {
    text: () => precisionText(result, paintFor(io)),
    json: () => precisionJson(result, toolName()),
    csv: () => precisionCsv(result),
  };
  io.out(write[options.format]());
  return unreadable > 0 ? EXIT.unreadable : EXIT.pass;
}

/** The command `precision` on the command line. */
export const precisionCommand: Define = (program, io, done) => {
  program
    .command('precision')
    .description('say how figures scatter over repeated trials of one lot')
    .argument('<file...>', 'trial files, or folders of them')
    .option('--write <file>', 'write it as limits that a trial can name')
    .option('--force', 'replace a file that is there')
    .option('--limits <file|preset>', 'limits laid over the files’ own; may be given again', collect)
    .addOption(new Option('--format <format>', 'how to print').choices(PRECISION_FORMATS).default('text'))
    .addHelpText(
      'after',
      '\nExit codes: 0 done; 3 a file could not be read, the trials are of two\nlots or coverages, or nothing repeats;\n4 wrong usage; 5 anything else.\n\nExample:\n  tallytare precision examples/pool --write precision.yaml',
    )
    .action((files: string[], options: PrecisionOptions) => done(precision(files, options, io)));
};
