import { Command, CommanderError, Option } from 'commander';
import { EXIT } from './exit.ts';
import { type Io, OutputLost, systemWords } from './io.ts';
import { explain, EXPLAIN_FORMATS, type ExplainOptions } from './explain.ts';
import { marks, type MarksOptions } from './marks.ts';
import { plan, PLAN_FORMATS, type PlanOptions } from './plan.ts';
import { pool, POOL_FORMATS, type PoolOptions, TAILS } from './pool.ts';
import { schema } from './schema.ts';
import { NEW_FILE, start, type StartOptions } from './start.ts';
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

/** An option that may be given again. */
const collect = (value: string, before: readonly string[] | undefined): readonly string[] => [
  ...(before ?? []),
  value,
];

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
    .option('--limits <file|preset>', 'limits laid over the file’s own; may be given again', collect)
    .addOption(new Option('--format <format>', 'how to print').choices(FORMATS).default('text'))
    .addOption(new Option('-q, --quiet', 'one line a file: the verdict, a tab, the file').conflicts('format'))
    .addHelpText(
      'after',
      `${EXIT_CODES}\n\nExample:\n  tallytare verdict examples/harbour-street.yaml --limits office`,
    )
    .action((files: string[], options: VerdictOptions) => done(verdict(files, options, io)));

  program
    .command('start')
    .description('begin the file of a new trial')
    .argument('[file]', `the file to write; ${NEW_FILE} unless said, - prints it`)
    .option('--output <file>', 'the file to write, as an option')
    .option('--force', 'write over a file that is there')
    .addOption(
      new Option(
        '--from <file>',
        'take machine, instruments, paper and limits from an earlier trial',
      ).conflicts(['machine', 'serial', 'speed', 'paper', 'grammage', 'limits']),
    )
    .option('--title <text>', 'what is tried, in a line')
    .option('--id <text>', 'number the trial is filed under')
    .option('--operator <name>', 'who does it')
    .option('--started <day>', 'when it begins')
    .option('--lot <text>', 'lot under test')
    .option('--slots <names>', 'colour positions, with commas between them')
    .option('--rated-yield <pages>', 'pages the supplier claims for a cartridge')
    .option('--machine <label>', 'name of the machine in the house')
    .option('--serial <text>', 'its serial number')
    .option('--speed <pages>', 'pages per minute it is rated for')
    .option('--pages <n>', 'pages to print')
    .option('--batch <n>', 'pages in a batch')
    .option('--hours-per-day <n>', 'printing hours in a day')
    .option('--claim <pages>', 'yield to be claimed')
    .option('--coverage <percent>', 'coverage of every slot; 5 % unless said')
    .option('--duplex-share <percent>', 'share of the pages on two-sided sheets; 0 % unless said')
    .option('--paper <size>', 'A4 unless said')
    .option('--grammage <g/m²>', '80 g/m² unless said')
    .option('--limits <file|preset>', 'what it must keep to; may be given again', collect)
    .addHelpText(
      'after',
      '\nExit codes: 0 written; 3 the earlier trial could not be read; 4 wrong usage;\n5 not written, such as over a file that is there.\n\nExample:\n  tallytare start lot-k20.yaml --lot K-20 --slots black,cyan --pages 12000',
    )
    .action((file: string | undefined, options: StartOptions) => done(start(file, options, io)));

  program
    .command('plan')
    .description('say what a trial asks for before it is run')
    .argument('<file>', 'a trial with its target; - reads standard input')
    .option('--failing <percent>', 'share of failing cartridges to be ruled out; may be given again', collect)
    .option('--limits <file|preset>', 'limits laid over the file’s own; may be given again', collect)
    .addOption(new Option('--format <format>', 'how to print').choices(PLAN_FORMATS).default('text'))
    .addOption(new Option('--record', 'a sheet to fill in by hand at the machine').conflicts('format'))
    .addHelpText('after', '\nExample:\n  tallytare plan examples/before-the-run.yaml')
    .action((file: string, options: PlanOptions) => done(plan(file, options, io)));

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

  program
    .command('explain')
    .description('say what a figure means, and how it came out in a trial')
    .argument('<figure>', 'name of a figure')
    .argument('[file]', 'a trial; - reads standard input')
    .option('--limits <file|preset>', 'limits laid over the file’s own; may be given again', collect)
    .addOption(new Option('--format <format>', 'how to print').choices(EXPLAIN_FORMATS).default('text'))
    .addHelpText('after', '\nExample:\n  tallytare explain waste_per_thousand examples/harbour-street.yaml')
    .action((figure: string, file: string | undefined, options: ExplainOptions) =>
      done(explain(figure, file, options, io)),
    );

  program
    .command('marks')
    .description('find the rotating part that a repeating mark comes from')
    .argument('[file]', 'a trial with its machine’s rotating parts and marks; - reads standard input')
    .option('--distance <mm>', 'distance from one mark to the next; may be given again', collect)
    .option('--part <name=mm>', 'a rotating part with its diameter; may be given again', collect)
    .option('--tolerance <percent>', 'how far distance and part may be apart; 2 unless given')
    .addOption(new Option('--format <format>', 'how to print').choices(EXPLAIN_FORMATS).default('text'))
    .addHelpText(
      'after',
      '\nExample:\n  tallytare marks --distance 94.3 --part drum=30 --part "charge roller=12"',
    )
    .action((file: string | undefined, options: MarksOptions) => done(marks(file, options, io)));

  program
    .command('schema')
    .description('print the JSON Schema of the trial file, for editors')
    .addHelpText('after', '\nExample:\n  tallytare schema > trial.schema.json')
    .action(() => done(schema(io)));

  return program;
}
