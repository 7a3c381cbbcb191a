import { Command, CommanderError, Option } from 'commander';
import { EXIT } from './exit.ts';
import { type Io, OutputLost, systemWords } from './io.ts';
import { schema } from './schema.ts';
import { version } from './tool.ts';
import { FORMATS, verdict, type VerdictOptions } from './verdict.ts';

const EXIT_CODES = `
Exit codes: 0 pass, 1 fail, 2 inconclusive, 3 a trial or limits file is missing
or could not be read as one, 4 wrong usage, 5 anything else. Over many files:
3 if any could not be read, else 1 if any failed, else 2 if any is inconclusive.`;

/**
 * The whole program but for the process around it: words of the command line in, exit code out.
 * Nothing is thrown.
 */
export function main(argv: readonly string[], io: Io): number {
  let code: number = EXIT.pass;
  const program = commands(io, (done) => (code = done));
  try {
    program.parse([...argv], { from: 'user' });
    return code;
  } catch (error) {
    if (error instanceof OutputLost) return EXIT.other;
    if (error instanceof CommanderError) {
      return error.exitCode === 0 ? EXIT.pass : EXIT.usage;
    }
    io.err(`tallytare: something went wrong that should not have: ${systemWords(error)}\n`);
    return EXIT.other;
  }
}

function commands(io: Io, done: (code: number) => void): Command {
  const program = new Command('tallytare')
    .description('A calculator for consumable yield trials: readings in, a defended verdict out.')
    .version(version, '--version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .exitOverride()
    .configureOutput({
      writeOut: (text) => io.out(text),
      writeErr: (text) => io.err(text),
      getOutHelpWidth: () => 80,
      getErrHelpWidth: () => 80,
      getOutHasColors: () => false,
      getErrHasColors: () => false,
    })
    .addHelpText('after', EXIT_CODES);

  program
    .command('verdict')
    .description('judge trials against their limits')
    .argument('<file...>', 'trial files; - reads standard input')
    .option(
      '--limits <file|preset>',
      'limits laid over the file’s own; may be given again',
      (name: string, before: readonly string[]) => [...before, name],
      [] as readonly string[],
    )
    .addOption(new Option('--format <format>', 'how to print').choices(FORMATS).default('text'))
    .addOption(
      new Option('-q, --quiet', 'one line a file: the verdict, a tab, the file')
        .default(false)
        .conflicts('format'),
    )
    .addHelpText(
      'after',
      `${EXIT_CODES}\n\nExample:\n  tallytare verdict examples/harbour-street.yaml --limits office`,
    )
    .action((files: string[], options: VerdictOptions) => done(verdict(files, options, io)));

  program
    .command('schema')
    .description('print the JSON Schema of the trial file, for editors')
    .addHelpText('after', '\nExample:\n  tallytare schema > trial.schema.json')
    .action(() => done(schema(io)));

  return program;
}
