import { Option } from 'commander';
import { type Define, collect } from './define.ts';
import { FIGURES } from '../figures/list.ts';
import { explained, explainedFor, explainJson } from '../output/explain.ts';
import { harmless } from '../output/harmless.ts';
import { nearest } from '../trial/nearest.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { judgedTrial } from '../files/judge-file.ts';
import { refusable } from '../world/refused.ts';
import { paintFor } from '../world/terminal.ts';

export const EXPLAIN_FORMATS = ['text', 'json'] as const;

export interface ExplainOptions {
  readonly limits?: readonly string[];
  readonly format: (typeof EXPLAIN_FORMATS)[number];
}

/** `explain FIGURE [FILE]`: what a figure means, and how it came out in a trial. */
export function explain(name: string, file: string | undefined, options: ExplainOptions, io: Io): number {
  const figure = FIGURES.find((one) => one.name === name);
  if (figure === undefined) {
    const names = FIGURES.map((one) => one.name);
    const near = nearest(name, names);
    const hint = near === null ? `the figures are ${names.join(', ')}` : `did you mean "${near}"?`;
    io.err(`tallytare: there is no figure "${harmless(name)}"; ${hint}\n`);
    return EXIT.usage;
  }
  if (file === undefined) {
    io.out(options.format === 'json' ? explainJson(figure, null) : explained(figure, paintFor(io)));
    return EXIT.pass;
  }
  const result = judgedTrial(file, options.limits ?? [], io);
  io.out(
    options.format === 'json' ? explainJson(figure, result) : explainedFor(figure, result, paintFor(io)),
  );
  return EXIT.pass;
}

/** The command `explain` on the command line. */
export const explainCommand: Define = (program, io, done) => {
  program
    .command('explain')
    .description('say what a figure means, and how it came out in a trial')
    .argument('<figure>', 'name of a figure')
    .argument('[file]', 'a trial; - reads standard input')
    .option('--limits <file|preset>', 'limits laid over the file’s own; may be given again', collect)
    .addOption(new Option('--format <format>', 'how to print').choices(EXPLAIN_FORMATS).default('text'))
    .addHelpText('after', '\nExample:\n  tallytare explain waste_per_thousand examples/harbour-street.yaml')
    .action((figure: string, file: string | undefined, options: ExplainOptions) =>
      done(refusable(() => explain(figure, file, options, io))),
    );
};
