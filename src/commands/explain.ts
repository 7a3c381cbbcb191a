import { Option } from 'commander';
import { type Define, collect } from './define.ts';
import { CATALOGUE, FIGURES } from '../figures/list.ts';
import { wrap } from '../output/columns.ts';
import { codeJson, codeText, keyJson, keyText } from '../output/explain-words.ts';
import { CODES } from '../problems/codes.ts';
import type { Code } from '../problems/problem.ts';
import { accountOf, allKeys } from '../trial/schema/key-account.ts';
import { ATTRIBUTES } from '../trial/schema/prints.ts';
import { toolName } from '../world/tool.ts';
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

/** `explain FIGURE|KEY|CODE [FILE]`: what one means, and how a figure came out in a trial. */
export function explain(name: string, file: string | undefined, options: ExplainOptions, io: Io): number {
  const figure = FIGURES.find((one) => one.name === name);
  if (figure === undefined) return explainOther(name, options, io);
  if (file === undefined) {
    io.out(
      options.format === 'json' ? explainJson(figure, null, toolName()) : explained(figure, paintFor(io)),
    );
    return EXIT.pass;
  }
  const result = judgedTrial(file, options.limits ?? [], io);
  io.out(
    options.format === 'json'
      ? explainJson(figure, result, toolName())
      : explainedFor(figure, result, paintFor(io)),
  );
  return EXIT.pass;
}

/** A code of a finding, or a key of the trial file. */
function explainOther(name: string, { format }: ExplainOptions, io: Io): number {
  const code = Object.hasOwn(CODES, name) ? CODES[name as Code] : undefined;
  if (code !== undefined) {
    const [severity, meaning] = code;
    io.out(
      format === 'json'
        ? codeJson(name, severity, meaning, toolName())
        : codeText(name, severity, meaning, paintFor(io)),
    );
    return EXIT.pass;
  }
  const account = accountOf(name, CATALOGUE);
  if (account !== null) {
    io.out(format === 'json' ? keyJson(account, toolName()) : keyText(account, paintFor(io)));
    return EXIT.pass;
  }
  const near = meant(name);
  const hint =
    near === null
      ? `the figures are ${FIGURES.map((one) => one.name).join(', ')}; "tallytare help trial-file" lists the keys, "tallytare help codes" the codes`
      : `did you mean "${near}"?`.replaceAll(' ', '\u00a0');
  const said = wrap(`tallytare: there is no figure, key or code "${harmless(name)}"; ${hint}`, '', '  ');
  io.err(`${said.join('\n')}\n`);
  return EXIT.usage;
}

/** The figure, code or key nearest to a name: a key may be given by its last part, or by what is judged by eye. */
function meant(name: string): string | null {
  const keys = allKeys(CATALOGUE);
  const written = name.toLowerCase();
  return (
    keys.find((key) => key.endsWith(`.${written}`)) ??
    (ATTRIBUTES.some((one) => one === written) ? 'prints.by_eye' : null) ??
    nearest(name, [...FIGURES.map((one) => one.name), ...Object.keys(CODES), ...keys])
  );
}

/** The command `explain` on the command line. */
export const explainCommand: Define = (program, io, done) => {
  program
    .command('explain')
    .description('say what a figure, a key or a code means; a figure in a trial')
    .argument('<figure|key|code>', 'name of a figure, a key of the file, or a code')
    .argument('[file]', 'a trial; - reads standard input')
    .option('--limits <file|preset>', 'limits laid over the file’s own; may be given again', collect)
    .addOption(new Option('--format <format>', 'how to print').choices(EXPLAIN_FORMATS).default('text'))
    .addHelpText(
      'after',
      '\nExamples:\n  tallytare explain waste_per_thousand examples/harbour-street.yaml\n  tallytare explain cartridges.exhausted_at\n  tallytare explain final-below-tare',
    )
    .action((figure: string, file: string | undefined, options: ExplainOptions) =>
      done(refusable(() => explain(figure, file, options, io))),
    );
};
