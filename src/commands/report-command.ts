import { Option } from 'commander';
import { collect, type Define } from './define.ts';
import { DEVICES } from './mix-option.ts';
import { TAILS } from './pool.ts';
import { LOT_RULES } from '../lot/rule.ts';
import type { ReportOptions } from '../report/report-options.ts';

/** The command `report` on the command line; what it does is in a bundle of its own. */
export const reportCommand: Define = (program, io, done) => {
  program
    .command('report')
    .description('write the page that goes to the customer')
    .argument('<file...>', 'trial files, or folders of them; - reads standard input')
    .option('--output <file>', 'where to write; - is standard output; beside the trial unless given')
    .option('--force', 'replace a file that is there')
    .addOption(new Option('--format <format>', 'what to write').choices(['html', 'md']).default('html'))
    .option('--limits <file|preset>', 'limits laid over the files’ own; may be given again', collect)
    .option('--letterhead <file>', 'your name, address, logo, the customer and the number of the report')
    .option('--number <text>', 'number of the report; over that of the letterhead')
    .option('--revision <text>', 'revision of the report')
    .option('--issued <day>', 'day of issue, as 2026-03-16')
    .option('--data', 'of one trial: its figures as CSV, beside the report')
    .option('--each', 'of several trials: a page for each, and an index of them')
    .option(
      '--internal',
      'with what is for the house alone: draft figures, lines of the file, readings to come',
    )
    .option('--by-lot', 'of several trials: keep lots apart')
    .option('--confidence <percent>', 'of several trials: confidence of the bounds; 90 unless given')
    .addOption(
      new Option('--tail <tail>', 'of several trials: which side the bounds are on')
        .choices(TAILS)
        .default('one-sided'),
    )
    .option('--claim <pages>', 'of several trials: the yield to be claimed')
    .option('--few', 'fewer than nine cartridges or three machines, or failures, are enough for a claim')
    .addOption(
      new Option('--rule <rule>', 'how the lot is decided that target.lot speaks of')
        .choices(LOT_RULES)
        .default('single'),
    )
    .option('--trend <figure>', 'of several trials: follow a figure in order of their days')
    .option('--of <part>', 'slot, patch, stage or part the trend is of')
    .option('--mix <file>', 'of trials at several coverages: the customer’s pages, as forecast takes them')
    .addOption(new Option('--counted-by <device>', 'which device of Ghostscript made it').choices(DEVICES))
    .option('--pages-per-month <pages>', 'with --mix: how much the customer prints')
    .option('--beyond', 'with --mix: forecast pages beyond the coverages tried too')
    .addHelpText(
      'after',
      '\nExit codes: 0 written, whatever the verdict; 3 a file or photo could not be used;\n4 wrong usage; 5 it could not be written. Nothing is written but whole.\n\nExample:\n  tallytare report examples/four-colour-pass.yaml',
    )
    .action((files: string[], options: ReportOptions) => done(io.report()(files, options, io)));
};
