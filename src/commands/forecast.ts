import { dirname } from 'node:path';
import { Option } from 'commander';
import type { Define } from './define.ts';
import { DEVICES, mixFrom, refuse } from './mix-option.ts';
import { quantityOption } from './options.ts';
import { nameFrom } from '../files/name-from.ts';
import { sameFile } from '../files/same-file.ts';
import { trialFiles } from '../files/trial-files.ts';
import { forecastFrom, type ForecastResult, isForecast } from '../forecast/forecast.ts';
import type { InkDevice } from '../forecast/mix.ts';
import { TriedStops } from '../forecast/stops.ts';
import { mixtureIn, Tried } from '../forecast/tried.ts';
import type { Assessed } from '../judge/assess.ts';
import { gatherReadable } from '../many/gather.ts';
import { forecastCsv, forecastJson } from '../output/forecast-data.ts';
import { forecastText } from '../output/forecast-text.ts';
import { usageYaml } from '../output/forecast-usage.ts';
import { mixtureWords, nothingWords } from '../output/forecast-words.ts';
import { harmless } from '../output/harmless.ts';
import { isUsageName } from '../trial/usage/usage-name.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { refusable } from '../world/refused.ts';
import { paintFor } from '../world/terminal.ts';
import { toolName } from '../world/tool.ts';
import { wrote } from '../world/wrote.ts';

export const FORECAST_FORMATS = ['text', 'json', 'csv'] as const;

export interface ForecastOptions {
  readonly mix?: string;
  readonly countedBy?: InkDevice;
  readonly pagesPerMonth?: string;
  readonly beyond?: boolean;
  readonly write?: string;
  readonly force?: boolean;
  readonly format: (typeof FORECAST_FORMATS)[number];
}

/** `forecast FILE…`: toner against coverage over several trials, and what a customer's pages will take. */
export const forecast = (files: readonly string[], options: ForecastOptions, io: Io): number =>
  refusable(() => forecastFiles(files, options, io));

/** Options that mean nothing without a mix. */
const OF_A_MIX = [
  ['pagesPerMonth', '--pages-per-month'],
  ['beyond', '--beyond'],
  ['countedBy', '--counted-by'],
] as const;

function forecastFiles(files: readonly string[], options: ForecastOptions, io: Io): number {
  const needless = OF_A_MIX.find(([key]) => options.mix === undefined && options[key] !== undefined);
  if (needless !== undefined) refuse(`${needless[1]} needs --mix, which is not given`, EXIT.usage, io);
  const pagesPerMonth =
    options.pagesPerMonth === undefined
      ? null
      : quantityOption('--pages-per-month', options.pagesPerMonth, { unit: 'page', least: 1 }, io).value;
  const tried = new Tried();
  const stops = new TriedStops();
  const over = { layers: [], used: [] };
  const given = [...trialFiles({ paths: files }, io)];
  const { write: target } = options;
  if (target !== undefined && !isUsageName(target))
    refuse(
      `--write ${harmless(target)}: give a file that ends in .yaml; a trial can name no other as usage file`,
      EXIT.usage,
      io,
    );
  if (target !== undefined && given.some(({ file }) => sameFile(file, target, io)))
    refuse(`${harmless(target)} is one of the trials; give the usage file a name of its own`, EXIT.usage, io);
  if (options.force && target === undefined)
    refuse('--force needs --write, which is not given', EXIT.usage, io);
  const [names, days]: [string[], string[]] = [[], []];
  const into = {
    take: (result: Assessed): void => {
      tried.take(result);
      stops.take(result);
      days.push(...lastDayOf(result));
      names.push(result.file);
    },
  };
  const unreadable = gatherReadable(given, over, into, io);
  const mixture = mixtureIn(tried);
  if (mixture !== null) refuse(mixtureWords(mixture), EXIT.unreadable, io);
  const mix = options.mix === undefined ? null : mixFrom(options.mix, options.countedBy, tried, io);
  const result = forecastFrom(tried, stops, { mix, pagesPerMonth, beyond: options.beyond ?? false });
  if (result.candidate.slots.every(({ fit }) => fit === null)) {
    const why = nothingWords(result).map((one) => `\n  ${harmless(one)}`);
    refuse(
      `nothing to forecast by: a line takes trials at two coverages or more.${why.join('')}`,
      EXIT.unreadable,
      io,
    );
  }
  if (target !== undefined) {
    const from = dirname(target);
    const trials = {
      files: names.map((file) => (file === '-' ? file : nameFrom(from, file, io))),
      until: days.toSorted().at(-1) ?? null,
    };
    const yaml = usageYaml(result, trials, toolName());
    if (yaml === null) return refuse(`${harmless(target)} was not written: ${NO_USAGE}`, EXIT.unreadable, io);
    if (!wrote(target, () => io.write(target, yaml, options.force ?? false), io)) return EXIT.other;
  }
  const write = {
    text: () => forecastText(result, paintFor(io)),
    json: () => forecastJson(result, toolName()),
    csv: () => forecastCsv(result),
  };
  io.out(write[options.format]());
  if (unreadable > 0) return EXIT.unreadable;
  return mix === null || isWhole(result) ? EXIT.pass : EXIT.inconclusive;
}

const NO_USAGE = 'no slot has a line with toner above zero at no coverage, and more with more coverage';

/** The day on which a trial ended, as far as it says so. */
function lastDayOf({ trial: { data } }: Assessed): string[] {
  const head = typeof data.trial === 'string' ? null : data.trial;
  const day = head?.finished?.day ?? head?.started?.day;
  return day === undefined ? [] : [day];
}

/** Whether what every slot takes was forecast. */
const isWhole = ({ candidate }: ForecastResult): boolean =>
  candidate.slots.every(({ mix }) => mix !== null && isForecast(mix.usage));

/** The command `forecast` on the command line. */
export const forecastCommand: Define = (program, io, done) => {
  program
    .command('forecast')
    .description('fit toner against coverage, and say what a customer’s pages will take')
    .argument('<file...>', 'trials at two coverages or more, or folders of them')
    .option('--mix <file>', 'the customer’s pages: kinds of page (.yaml), or a text that Ghostscript made')
    .addOption(new Option('--counted-by <device>', 'which device of Ghostscript made it').choices(DEVICES))
    .option('--pages-per-month <pages>', 'how much the customer prints')
    .option('--write <file>', 'keep the fit as a file that a trial, or limits, name under non_image_usage')
    .option('--force', 'replace a file that is there')
    .option('--beyond', 'forecast pages beyond the coverages tried too, at two times the uncertainty or more')
    .addOption(new Option('--format <format>', 'how to print').choices(FORECAST_FORMATS).default('text'))
    .addHelpText(
      'after',
      '\nExit codes: 0 done; 2 the mix, or part of it, is not forecast: the output\nsays why; 3 a file could not be read, or the trials make no line; 4 wrong usage;\n5 the file of --write could not be written, or anything else.\n\nExample:\n  tallytare forecast examples/forecast --mix examples/mixes/quay-street.yaml',
    )
    .action((files: string[], options: ForecastOptions) => done(forecast(files, options, io)));
};
