import { Option } from 'commander';
import { type Define, collect } from './define.ts';
import { EXIT_CODES } from './exit-codes.ts';
import type { Result } from '../checks/assess.ts';
import { findingLine } from '../output/findings.ts';
import { harmless } from '../output/harmless.ts';
import { json, jsonLine } from '../output/json.ts';
import { text } from '../output/text.ts';
import { EXIT } from './exit.ts';
import type { Io } from './io.ts';
import { judgeFile, layersOver } from './judge-file.ts';
import { LimitsFiles } from './limits-files.ts';
import { paintFor } from './terminal.ts';
import { toolName } from './tool.ts';

export const FORMATS = ['text', 'json', 'jsonl'] as const;

export interface VerdictOptions {
  readonly limits?: readonly string[];
  readonly format: (typeof FORMATS)[number];
  readonly quiet?: boolean;
}

/** `verdict FILE…`: each file read, derived, judged and shown, whatever the others do. */
export function verdict(files: readonly string[], options: VerdictOptions, io: Io): number {
  const limitsFiles = new LimitsFiles(io);
  const over = layersOver(options.limits ?? [], limitsFiles, io);
  if (typeof over === 'number') return over;

  const results: Result[] = [];
  const several = files.length > 1;
  for (const [index, file] of files.entries()) {
    const result = judgeFile(file, over, limitsFiles, io);
    results.push(result);
    if (options.quiet) {
      if (result.verdict === 'invalid')
        io.err(result.findings.map((finding) => `${findingLine(finding)}\n`).join(''));
      io.out(`${result.verdict}\t${harmless(file)}\n`);
    } else if (options.format === 'text') {
      io.out(`${index > 0 ? '\n' : ''}${text(result, paintFor(io))}`);
    } else if (options.format === 'jsonl') io.out(jsonLine(result, toolName()));
  }
  if (options.format === 'json' && !options.quiet) io.out(json(results, several, toolName()));
  return exitCode(results);
}

/** Over many files the worst that happened: unreadable, failed, inconclusive, passed. */
function exitCode(results: readonly Result[]): number {
  const verdicts = new Set(results.map(({ verdict }) => verdict));
  if (verdicts.has('invalid')) return EXIT.unreadable;
  if (verdicts.has('fail')) return EXIT.fail;
  return verdicts.has('inconclusive') ? EXIT.inconclusive : EXIT.pass;
}

/** The command `verdict` on the command line. */
export const verdictCommand: Define = (program, io, done) => {
  program
    .command('verdict')
    .description('judge trials against their limits')
    .argument('<file...>', 'trial files; - reads standard input')
    .option('--limits <file|preset>', 'limits laid over the file’s own; may be given again', collect)
    .addOption(new Option('--format <format>', 'how to print').choices(FORMATS).default('text'))
    .addOption(new Option('-q, --quiet', 'one line a file: the verdict, a tab, the file').conflicts('format'))
    .addHelpText(
      'after',
      `${EXIT_CODES}\n\nExample:\n  tallytare verdict examples/harbour-street.yaml --limits office`,
    )
    .action((files: string[], options: VerdictOptions) => done(verdict(files, options, io)));
};
