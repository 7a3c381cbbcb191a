import { basename, dirname, isAbsolute, join } from 'node:path';
import type { Input } from '../archive/input.ts';
import { type Assessed, type Invalid, type Result } from '../judge/assess.ts';
import { find } from '../text/finding.ts';
import { FIGURES } from '../figures/list.ts';
import { findingLines } from '../output/findings.ts';
import { harmless } from '../output/harmless.ts';
import { PLAIN } from '../output/paint.ts';
import { text } from '../output/text.ts';
import { gather, refuseMixture } from '../many/gather.ts';
import { GatheredLot } from '../lot/gathered-lot.ts';
import { lotSaid } from '../report/lot-said.ts';
import { Gathered, type GroupOfCartridges, pooledFrom } from '../pool/gathered.ts';
import type { Confidence, Group } from '../pool/group.ts';
import type { Pooled } from '../pool/pooled.ts';
import type { Fit } from '../forecast/fit.ts';
import { forecastFrom, type ForecastResult, type SideResult } from '../forecast/forecast.ts';
import { TriedStops } from '../forecast/stops.ts';
import { mixtureIn, Tried } from '../forecast/tried.ts';
import { isFileName } from '../judge/limits.ts';
import { mixtureWords } from '../output/forecast-words.ts';
import { figuresCsv } from '../report/data.ts';
import { type Indexed, indexed, indexReport } from '../report/index-report.ts';
import { letterheadOf } from '../report/letterhead.ts';
import type { MadeFrom } from '../report/sections/closing.ts';
import { readTime } from '../trial/time.ts';
import { nameFrom } from '../files/name-from.ts';
import { type OpenedLetterhead, openLetterhead } from '../files/letterhead.ts';
import { seenFromItsFolder } from '../files/seen-from.ts';
import type { Report } from '../report/content.ts';
import { html } from '../report/html.ts';
import { markdown } from '../report/markdown.ts';
import { type TrialInShort, trialInShort } from '../report/in-short.ts';
import { pooledReport } from '../report/pooled-report.ts';
import { trialReport } from '../report/trial-report.ts';
import { nearest } from '../trial/nearest.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { EXIT } from '../world/exit.ts';
import { type Io, systemWords } from '../world/io.ts';
import { inputsOf, type Judgement, judgeFound, limitsOver } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import { openSource } from '../files/open.ts';
import { sameFile } from '../files/same-file.ts';
import { photosIn, readPhotos } from '../files/photos.ts';
import type { ReportOptions } from '../report/report-options.ts';
import { mixFrom, refuse } from './mix-option.ts';
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
  const { letterhead: head } = options;
  const all = [...trialFiles({ paths }, io)].filter(
    ({ file, trouble }) =>
      trouble?.code !== 'no-trials-here' && (head === undefined || !sameFile(file, head, io)),
  );
  const wrong = wrongUsage(all.length, options);
  if (wrong !== null) {
    io.err(`tallytare: ${harmless(wrong)}\n`);
    return EXIT.usage;
  }
  const letterhead = options.letterhead === undefined ? null : openLetterhead(options.letterhead, io);
  const own = new Set(letterhead?.files.map(({ file }) => file));
  const judge = (found: TrialFile): Judgement | null => {
    const judgement = judgeFound(found, over, limitsFiles, io);
    for (const file of judgement === null ? [] : filesOf(judgement)) own.add(file);
    return judgement;
  };
  const writer: Writer = { paths, files: all.map(({ file }) => file), own, options, io };
  if (options.each) return eachOf(all, judge, letterhead, writer);
  const [only] = all;
  if (all.length !== 1 || !only) return put(onSeveral(all, judge, letterhead, options, io), writer);
  const { page, result } = onOne(only, judge, letterhead, options, io);
  const code = put(page, writer);
  return options.data && code === EXIT.pass ? putData(result, only.file, writer) : code;
}

/** What a page is written with. */
interface Writer {
  readonly paths: readonly string[];
  readonly files: readonly string[];
  /** Every file that a page was made from. */
  readonly own: ReadonlySet<string>;
  readonly options: ReportOptions;
  readonly io: Io;
}

function wrongUsage(files: number, options: ReportOptions): string | null {
  const { trend, of, claim, each, data, output, issued, mix, countedBy, pagesPerMonth, beyond } = options;
  if (files === 0) return 'there is no trial in that folder';
  if (of !== undefined && trend === undefined) return '--of says of which part --trend is; give --trend too';
  const day = issued === undefined ? null : readTime(issued);
  if (day !== null && !('value' in day)) return `--issued ${issued} is no day; write it as 2026-03-16`;
  if (each && (claim !== undefined || trend !== undefined))
    return '--claim and --trend speak of all trials together; leave --each out for the page on them all';
  if (each && output === '-') return '--each writes several pages, which cannot all go to standard output';
  if (data && (files > 1 || output === '-'))
    return '--data writes a table beside the page of one trial; give one trial, and a file for the page';
  if (mix === undefined && (countedBy !== undefined || pagesPerMonth !== undefined || beyond !== undefined))
    return '--counted-by, --pages-per-month and --beyond need --mix, which is not given';
  if (mix !== undefined && (files === 1 || each))
    return '--mix is forecast from trials at several coverages; give them all, without --each';
  if (claim !== undefined && files === 1)
    return '--claim is about what several cartridges yield, and one trial says nothing of how much they differ; give several trials';
  if (trend === undefined) return null;
  const names = FIGURES.map(({ name }) => name);
  if (!names.includes(trend)) {
    const near = nearest(trend, names);
    return `there is no figure "${trend}" to follow${near === null ? '' : `; did you mean "${near}"?`}`;
  }
  return files === 1 ? '--trend follows a figure over several trials; give them all' : null;
}

/** The options that shape a page, as they are given again; files are named from where the trial is. */
function shapedBy(options: ReportOptions, name: (file: string) => string): string[] {
  const { limits, letterhead, number, revision, issued, internal } = options;
  const { byLot, confidence, tail, claim, few, rule, trend, of } = options;
  const { mix, countedBy, pagesPerMonth, beyond } = options;
  const valued = (option: string, value: string | undefined): string[] =>
    value === undefined ? [] : [`${option} ${value}`];
  return [
    ...(limits ?? []).map((one) => `--limits ${isFileName(one) ? name(one) : one}`),
    ...valued('--letterhead', letterhead && name(letterhead)),
    ...valued('--number', number),
    ...valued('--revision', revision),
    ...valued('--issued', issued),
    ...(internal ? ['--internal'] : []),
    ...(byLot ? ['--by-lot'] : []),
    ...valued('--confidence', confidence),
    ...(tail === 'one-sided' ? [] : [`--tail ${tail}`]),
    ...valued('--claim', claim),
    ...(few ? ['--few'] : []),
    ...(rule === 'single' ? [] : [`--rule ${rule}`]),
    ...valued('--trend', trend),
    ...valued('--of', of),
    ...valued('--mix', mix && name(mix)),
    ...valued('--counted-by', countedBy),
    ...valued('--pages-per-month', pagesPerMonth),
    ...(beyond ? ['--beyond'] : []),
  ];
}

/** Says what is wrong with files that are no trials, as `verdict` does. @throws Refused where there is one */
function refuseInvalid(results: readonly Result[], io: Io): asserts results is readonly Assessed[] {
  const invalid = results.filter((result): result is Invalid => result.verdict === 'invalid');
  io.err(invalid.map((result) => text(result)).join('\n'));
  if (invalid.length > 0) throw new Refused(EXIT.unreadable);
}

type Judge = (found: TrialFile) => Judgement | null;

/** A judged trial with its page; it names every file from its own folder. @throws Refused */
function onOne(
  found: TrialFile,
  judge: Judge,
  letterhead: OpenedLetterhead | null,
  options: ReportOptions,
  io: Io,
): { readonly page: Report; readonly result: Assessed } {
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
  const folder = file === '-' ? '.' : dirname(file);
  const name = (one: string): string => (one === file ? basename(file) : nameFrom(folder, one, io));
  const seen = seenFromItsFolder(assessed, io);
  const inputs = inputsOf(used, io).map((one) =>
    one.kind === 'trial' ? { ...one, file: name(one.file) } : one,
  );
  const lots = new GatheredLot();
  lots.take({ ...seen, file: name(file) });
  const page = trialReport(seen, {
    inputs: [...inputs, ...headFiles(letterhead, name)],
    lot: lotSaid(lots, options.rule),
    photos,
    tool: toolName(),
    internal: options.internal ?? false,
    letterhead: letterheadOf(letterhead?.data ?? null, letterhead?.logo ?? null, options),
    shapedBy: shapedBy(options, name),
  });
  return { page, result: seen };
}

const headFiles = (letterhead: OpenedLetterhead | null, name: (file: string) => string): MadeFrom[] =>
  (letterhead?.files ?? []).map((one) => ({ ...one, file: name(one.file) }));

/** A page for each trial, and an index of them; what cannot be read is said, and has none. */
function eachOf(
  files: readonly TrialFile[],
  judge: Judge,
  letterhead: OpenedLetterhead | null,
  writer: Writer,
): number {
  const { paths, options, io } = writer;
  const index =
    options.output ??
    join(io.kind(paths[0] ?? '.') === 'folder' ? (paths[0] ?? '.') : '.', `index.${ENDING[options.format]}`);
  const pages: Indexed[] = [];
  const unread: string[] = [];
  let worst: number = EXIT.pass;
  for (const found of files) {
    const place = besides(found.file, options.format);
    try {
      const { page, result } = onOne(found, judge, letterhead, options, io);
      const code = putAt(place, page, writer);
      if (code !== EXIT.pass) worst = code;
      pages.push(indexed(result, nameFrom(dirname(index), place, io)));
    } catch (refusal) {
      if (!(refusal instanceof Refused)) throw refusal;
      unread.push(nameFrom(dirname(index), found.file, io));
    }
  }
  const code = putAt(index, indexReport(pages, unread, toolName()), writer);
  return unread.length > 0 ? EXIT.unreadable : code === EXIT.pass ? worst : code;
}

function onSeveral(
  files: readonly TrialFile[],
  judge: Judge,
  letterhead: OpenedLetterhead | null,
  options: ReportOptions,
  io: Io,
): Report {
  const folder = folderOfAll(files.map(({ file }) => file));
  const name = (file: string): string => nameFrom(folder, file, io);
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
  const lots = new GatheredLot();
  const trials: TrialInShort[] = [];
  const inputs: Input[] = [];
  const invalid: Result[] = [];
  const each = {
    valid: (result: Assessed, { used }: Judgement): void => {
      trials.push(trialInShort(result));
      lots.take({ ...result, file: name(result.file) });
      inputs.push(
        ...inputsOf(used, io).map((one) => (one.kind === 'trial' ? { ...one, file: name(one.file) } : one)),
      );
    },
    invalid: (result: Invalid): void => void invalid.push(result),
  };
  const [tried, stops] = [new Tried(), new TriedStops()];
  const into = {
    take: (result: Assessed): void => {
      found.take(result);
      tried.take(result);
      stops.take(result);
    },
  };
  gather(files, judge, into, new Map(), each, io);
  refuseInvalid(invalid, io);
  refuseMixture([found], io);
  const { pooled, groups } = pooledFrom(found, {
    by: options.byLot ? 'lot' : null,
    confidence,
    claim: claimed,
    few: options.few ?? false,
  });
  const named = namedFrom(pooled, groups, name);
  // It says what is wrong with a mix, so that the mix is digested after it.
  const forecast = forecastOf(tried, stops, name, options, io);
  const mixed = options.mix === undefined ? [] : [mixInput(options.mix, name, io)];
  return pooledReport(trials, named.pooled, named.groups, forecast, {
    inputs: [...onceEach(inputs), ...mixed, ...headFiles(letterhead, name)],
    lot: lotSaid(lots, options.rule),
    tool: toolName(),
    letterhead: letterheadOf(letterhead?.data ?? null, letterhead?.logo ?? null, options),
    shapedBy: shapedBy(options, name),
  });
}

/** The lines through trials at several coverages, and what a mix takes; null where they make none. @throws Refused */
function forecastOf(
  tried: Tried,
  stops: TriedStops,
  name: (file: string) => string,
  { mix: given, countedBy, pagesPerMonth, beyond = false }: ReportOptions,
  io: Io,
): ForecastResult | null {
  const mixture = mixtureIn(tried);
  if (mixture !== null) {
    if (given !== undefined) refuse(mixtureWords(mixture), EXIT.unreadable, io);
    return null;
  }
  const result = forecastFrom(tried, stops, {
    mix: given === undefined ? null : mixFrom(given, countedBy, tried, io),
    pagesPerMonth:
      pagesPerMonth === undefined
        ? null
        : quantityOption('--pages-per-month', pagesPerMonth, { unit: 'page', least: 1 }, io).value,
    beyond,
  });
  if (result.candidate.slots.some(({ fit }) => fit !== null)) return filesNamed(result, name);
  if (given !== undefined)
    refuse('nothing to forecast by: a line takes trials at two coverages or more', EXIT.unreadable, io);
  return null;
}

/** A forecast with every trial named anew. */
function filesNamed(result: ForecastResult, name: (file: string) => string): ForecastResult {
  const fit = <F extends Fit | null>(one: F): F =>
    one && {
      ...one,
      levels: one.levels.map((level) => ({
        ...level,
        points: level.points.map((point) => ({ ...point, file: name(point.file) })),
      })),
    };
  const side = <S extends SideResult | null>(one: S): S =>
    one && {
      ...one,
      slots: one.slots.map((slot) => ({ ...slot, fit: fit(slot.fit) })),
      waste: { ...one.waste, fit: fit(one.waste.fit) },
    };
  return {
    ...result,
    candidate: side(result.candidate),
    reference: side(result.reference),
    leftOut: result.leftOut.map((one) => ({ ...one, file: name(one.file) })),
  };
}

/** A mix as a file that a report is made from; it was read before. */
const mixInput = (file: string, name: (file: string) => string, io: Io): MadeFrom => ({
  kind: 'mix',
  file: name(file),
  sha256: io.digest(io.read(file)),
});

const ENDING = { html: 'html', md: 'md' } as const;

const besides = (file: string, format: ReportOptions['format']): string =>
  `${file.replace(/\.ya?ml$/i, '')}.${ENDING[format]}`;

/** Where a report goes that was not told where: beside its trial; of several here; of standard input there. */
function placeOf({ files, paths, options: { format } }: Writer): string {
  const [file = '-'] = files;
  if (paths.includes('-')) return '-';
  return files.length > 1 ? `report.${ENDING[format]}` : besides(file, format);
}

/** The folder that holds all these files, so far as their names say. */
function folderOfAll(files: readonly string[]): string {
  const [first = [], ...others] = files.map((file) => dirname(file).split('/'));
  const shared = first.findIndex((part, index) => others.some((other) => other[index] !== part));
  return (
    (shared === -1 ? first : first.slice(0, shared)).join('/') || (files[0]?.startsWith('/') ? '/' : '.')
  );
}

/** What was pooled, with every file named anew. */
function namedFrom(
  pooled: Pooled,
  groups: readonly GroupOfCartridges[],
  name: (file: string) => string,
): { readonly pooled: Pooled; readonly groups: readonly GroupOfCartridges[] } {
  const anew = <T extends { readonly file: string }>(one: T): T => ({ ...one, file: name(one.file) });
  const again = (group: Group): Group => ({
    ...group,
    furthest: group.furthest && { ...group.furthest, cartridge: anew(group.furthest.cartridge) },
  });
  return {
    pooled: {
      ...pooled,
      leftOut: pooled.leftOut.map(anew),
      trend: pooled.trend && { ...pooled.trend, points: pooled.trend.points.map(anew) },
    },
    groups: groups.map(([group, cartridges]) => [again(group), cartridges.map(anew)]),
  };
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

const put = (page: Report, writer: Writer): number =>
  putAt(writer.options.output ?? placeOf(writer), page, writer);

function putAt(place: string, page: Report, writer: Writer): number {
  const { options, io } = writer;
  const written = options.format === 'md' ? markdown(page) : html(page, (one) => io.digest(Buffer.from(one)));
  return write(place, written, writer);
}

/** The figures of a trial as a table, beside its page. */
function putData(result: Assessed, file: string, writer: Writer): number {
  const page = writer.options.output ?? besides(file, writer.options.format);
  return write(`${page.replace(/\.[^./]+$/, '')}.csv`, figuresCsv(result, toolName()), writer);
}

function write(place: string, written: string, { files, own, options, io }: Writer): number {
  if (place === '-') {
    io.out(written);
    return EXIT.pass;
  }
  const taken = (names: Iterable<string>): boolean =>
    [...names].some((file) => file !== '-' && sameFile(file, place, io));
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
