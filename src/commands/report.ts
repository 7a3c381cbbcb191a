import { dirname, isAbsolute, join } from 'node:path';
import type { Input } from '../archive/input.ts';
import { type Assessed, type Invalid, type Result } from '../judge/assess.ts';
import { find } from '../text/finding.ts';
import { FIGURES } from '../figures/list.ts';
import { findingLines } from '../output/findings.ts';
import { harmless } from '../output/harmless.ts';
import { PLAIN } from '../output/paint.ts';
import { text } from '../output/text.ts';
import { gather, refuseMixture } from '../many/gather.ts';
import { Gathered, pooledFrom } from '../pool/gathered.ts';
import type { Confidence } from '../pool/group.ts';
import type { Report } from '../report/content.ts';
import { html } from '../report/html.ts';
import { markdown } from '../report/markdown.ts';
import { type InShort, inShort, pooledReport } from '../report/pooled-report.ts';
import { trialReport } from '../report/trial-report.ts';
import { nearest } from '../trial/nearest.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { EXIT } from '../world/exit.ts';
import { type Io, systemWords } from '../world/io.ts';
import { inputsOf, type Judgement, judgeFound, limitsOver } from '../files/judge-file.ts';
import { LimitsFiles, openSource } from '../files/limits-files.ts';
import { sameFile } from '../files/same-file.ts';
import { photosIn, readPhotos } from '../files/photos.ts';
import type { ReportOptions } from '../report/report-options.ts';
import { quantityOption } from './options.ts';
import { Refused, refusable } from '../world/refused.ts';
import { toolName } from '../world/tool.ts';
import { type TrialFile, trialFiles } from '../files/trial-files.ts';

/**
 * `report FILE…`: the page that goes to the customer, of one trial whole, of several each in short with
 * their yields pooled. Written whole, or not at all where anything is wrong.
 */
export const report = (paths: readonly string[], options: ReportOptions, io: Io): number =>
  refusable(() => reported(paths, options, io));

function reported(paths: readonly string[], options: ReportOptions, io: Io): number {
  const limitsFiles = new LimitsFiles(io);
  const over = limitsOver(options.limits ?? [], limitsFiles, io);
  if (typeof over === 'number') return over;
  const all = [...trialFiles({ paths }, io)].filter(({ trouble }) => trouble?.code !== 'no-trials-here');
  const wrong = wrongUsage(all.length, options);
  if (wrong !== null) {
    io.err(`tallytare: ${harmless(wrong)}\n`);
    return EXIT.usage;
  }
  const [only] = all;
  const own = new Set<string>();
  const judged = (found: TrialFile): Judgement | null => {
    const judgement = judgeFound(found, over, limitsFiles, io);
    for (const file of judgement === null ? [] : filesOf(judgement)) own.add(file);
    return judgement;
  };
  const page =
    all.length === 1 && only
      ? onOne(only, judged, options.internal ?? false, io)
      : onSeveral(all, judged, options, io);
  const files = all.map(({ file }) => file);
  return put(page, files, [...own], paths, options, io);
}

function wrongUsage(files: number, { trend, of }: ReportOptions): string | null {
  if (files === 0) return 'there is no trial in that folder';
  if (of !== undefined && trend === undefined) return '--of says of which part --trend is; give --trend too';
  if (trend === undefined) return null;
  const names = FIGURES.map(({ name }) => name);
  if (!names.includes(trend)) {
    const near = nearest(trend, names);
    return `there is no figure "${trend}" to follow${near === null ? '' : `; did you mean "${near}"?`}`;
  }
  return files === 1 ? '--trend follows a figure over several trials; give them all' : null;
}

/** Says what is wrong with files that are no trials, as `verdict` does. @throws Refused where there is one */
function refuseInvalid(results: readonly Result[], io: Io): asserts results is readonly Assessed[] {
  const invalid = results.filter((result): result is Invalid => result.verdict === 'invalid');
  io.err(invalid.map((result) => text(result)).join('\n'));
  if (invalid.length > 0) throw new Refused(EXIT.unreadable);
}

type Judge = (found: TrialFile) => Judgement | null;

function onOne(found: TrialFile, judge: Judge, internal: boolean, io: Io): Report {
  const { file } = found;
  const judged = judge(found);
  if (judged === null) {
    io.err(`tallytare: ${harmless(file)} holds limits, and is no trial\n`);
    throw new Refused(EXIT.unreadable);
  }
  const { result, used } = judged;
  refuseInvalid([result], io);
  const assessed = result as Assessed;
  const { photos, problems } = readPhotos(assessed.trial, file, io);
  if (problems.length > 0) {
    const source = openSource(io, file);
    const lines = problems.flatMap((problem, index) => [
      ...(index > 0 ? [''] : []),
      ...findingLines(find(problem, source), PLAIN),
    ]);
    io.err(`${['NO REPORT: its photos cannot be used', '', ...lines].join('\n')}\n`);
    throw new Refused(EXIT.unreadable);
  }
  return trialReport(assessed, { inputs: inputsOf(used, io), photos, tool: toolName(), internal });
}

function onSeveral(files: readonly TrialFile[], judge: Judge, options: ReportOptions, io: Io): Report {
  const option = (name: string, given: string, unit: string, least: number, greatest?: number): Decimal =>
    quantityOption(name, given, { unit, least, ...(greatest === undefined ? {} : { greatest }) }, io).value;
  const confidence: Confidence = {
    level: option('--confidence', options.confidence ?? '90', '%', 50, 99.99)
      .div(100)
      .toNumber(),
    tail: options.tail,
  };
  const claimed = options.claim === undefined ? null : option('--claim', options.claim, 'page', 1);
  const { trend: figure } = options;
  const found = new Gathered(figure === undefined ? null : { figure, of: options.of ?? null });
  const trials: InShort[] = [];
  const inputs: Input[] = [];
  const invalid: Result[] = [];
  const each = {
    valid: (result: Assessed, { used }: Judgement): void => {
      trials.push(inShort(result));
      inputs.push(...inputsOf(used, io));
    },
    invalid: (result: Invalid): void => void invalid.push(result),
  };
  gather(files, judge, found, new Map(), each, io);
  refuseInvalid(invalid, io);
  refuseMixture([found], io);
  const { pooled, groups } = pooledFrom(found, {
    byLot: options.byLot ?? false,
    confidence,
    claim: claimed,
    few: options.few ?? false,
  });
  return pooledReport(trials, pooled, groups, onceEach(inputs), toolName());
}

const ENDING = { html: 'html', md: 'md' } as const;

/** Where a report goes that was not told where: beside its trial; of several here; of standard input there. */
function placeOf(
  files: readonly string[],
  paths: readonly string[],
  format: ReportOptions['format'],
): string {
  const [file = '-'] = files;
  if (paths.includes('-')) return '-';
  if (files.length > 1) return `report.${ENDING[format]}`;
  return `${file.replace(/\.ya?ml$/i, '')}.${ENDING[format]}`;
}

/** The files a report of a trial is made from, whichever folder their names count from. */
function filesOf({ result, used }: Judgement): string[] {
  const photos = result.verdict === 'invalid' ? [] : photosIn(result.trial.data);
  const named = [
    ...used.flatMap(({ kind, file }) => (kind === 'preset' ? [] : [file])),
    ...photos.map(({ name }) => name),
  ];
  const folder = dirname(result.file);
  return named.flatMap((file) => (isAbsolute(file) ? [file] : [file, join(folder, file)]));
}

function put(
  page: Report,
  files: readonly string[],
  own: readonly string[],
  paths: readonly string[],
  options: ReportOptions,
  io: Io,
): number {
  const written = options.format === 'md' ? markdown(page) : html(page, (one) => io.digest(Buffer.from(one)));
  const place = options.output ?? placeOf(files, paths, options.format);
  if (place === '-') {
    io.out(written);
    return EXIT.pass;
  }
  const taken = (names: readonly string[]): boolean =>
    names.some((file) => file !== '-' && sameFile(file, place, io));
  if (taken(files) || taken(own)) {
    const what = taken(files) ? 'one of the trials' : 'a file the report is made from';
    io.err(`tallytare: ${harmless(place)} is ${what}; give the report a name of its own\n`);
    return EXIT.usage;
  }
  try {
    io.write(place, written, options.force ?? false);
  } catch (error) {
    io.err(`tallytare: ${harmless(place)} cannot be written: ${systemWords(error, 'write')}\n`);
    return EXIT.other;
  }
  io.out(`${harmless(place)}\n`);
  return EXIT.pass;
}

/** Inputs without those that were there before. */
const onceEach = (inputs: readonly Input[]): Input[] => [
  ...new Map(inputs.map((input) => [JSON.stringify(input), input])).values(),
];
