import { findingsOf } from '../checks/findings.ts';
import type { Assessed, Result } from '../judge/assess.ts';
import { isUnderWay } from '../plan/progress.ts';
import type { Finding } from '../text/finding.ts';
import { severityOf } from '../problems/codes.ts';
import type { Code } from '../problems/problem.ts';
import type { Trial } from '../trial/trial.ts';
import { dotted } from '../uncertainty/path.ts';
import { asideWords } from './ambient-aside.ts';
import { caveatLines } from './caveats.ts';
import { padEnd, wrap } from './columns.ts';
import { findingLines, foundLines } from './findings.ts';
import { harmless } from './harmless.ts';
import { openReadings } from './open-readings.ts';
import { type Paint, PLAIN } from './paint.ts';
import { comparisonLines } from './text-comparison.ts';
import { eventLines, inspectionLines } from './text-events.ts';
import { cartridgeLines, legend, patchLines, ambientLines, runLines } from './text-figures.ts';
import { byEyeLines, markLines } from './text-prints.ts';
import { agreedHow, limitLines } from './text-limits.ts';
import { trialLines } from './trial-lines.ts';
import { messageOf } from './words.ts';
import { count, SPEAKS_OF, groundWords } from './ground-words.ts';

/** The verdict on one trial for people: plain text of at most 80 columns, the verdict on the last line. */
export function text(result: Result, paint: Paint = PLAIN): string {
  const lines =
    result.verdict === 'invalid' ? invalid(result.file, result.findings, paint) : assessed(result, paint);
  return `${lines.join('\n')}\n`;
}

function invalid(file: string, findings: readonly Finding[], paint: Paint): string[] {
  const errors = findings.filter(({ problem }) => severityOf(problem) === 'error');
  return [
    ...wrap(harmless(file)).map((line) => paint.strong(line)),
    '',
    paint.strong(`NOT READ AS A TRIAL: ${count(errors.length, 'error')}`),
    ...errors.flatMap((finding) => ['', ...findingLines(finding, paint)]),
    '',
    paint.bad('VERDICT: INVALID'),
  ];
}

function assessed(result: Assessed, paint: Paint): string[] {
  const { file, trial } = result;
  const findings = findingsOf(result);
  const toRead = findings.filter(({ problem }) => problem.code === 'to-be-read');
  const warnings = findings.filter(({ problem }) => severityOf(problem) === 'warning');
  const progress = findings.filter(({ problem }) => PROGRESS.has(problem.code));
  const notes = findings.filter(
    (f) => severityOf(f.problem) === 'note' && !toRead.includes(f) && !progress.includes(f),
  );
  const section = (name: string, lines: readonly string[]): string[] =>
    lines.length === 0 ? [] : ['', paint.strong(name), ...lines];
  return [
    ...wrap(harmless(trial.title)).map((line) => paint.strong(line)),
    ...wrap(harmless(file)).map((line) => paint.faint(line)),
    ...(isUnderWay(trial) ? ['', ...wrap(UNDER_WAY).map((line) => paint.strong(line))] : []),
    ...section('WHAT WAS TRIED', triedLines(result)),
    ...section('HOW FAR IT IS', progress.flatMap(progressLine)),
    ...section('WHAT FOLLOWS', runLines(result.derived)),
    ...section('CARTRIDGES', cartridgeLines(result.derived, paint)),
    ...section('CANDIDATE AND REFERENCE', comparisonLines(result, paint)),
    ...section('AMBIENT', [...ambientLines(result.derived, paint), ...asideLines(trial)]),
    ...section('PRINTS', [
      ...patchLines(result.derived, paint),
      ...markLines(trial),
      ...byEyeLines(trial.run.prints.byEye),
    ]),
    ...section('EVENTS', eventLines(result)),
    ...section('INSPECTION', inspectionLines(trial.run)),
    ...legend(result),
    ...section(`LIMITS${agreedHow(result)}`, limitLines(result, paint)),
    ...section('STILL TO BE READ', toReadLines(toRead, trial)),
    ...section(warnings.length > 1 ? 'WARNINGS' : 'WARNING', foundLines(warnings, paint)),
    ...section(notes.length > 1 ? 'NOTES' : 'NOTE', foundLines(notes, paint)),
    '',
    ...grounds(result),
    ...caveatLines(result).map((line) => paint.unsure(line)),
    verdictLine(result, paint),
  ];
}

function triedLines(result: Assessed): string[] {
  return trialLines(result).flatMap(([word, said]) => wrap(harmless(said), `  ${padEnd(word, 12)}`));
}

function toReadLines(toRead: readonly Finding[], trial: Trial): string[] {
  const lineAt = new Map(toRead.map(({ problem, place }) => [dotted(problem.path), place?.line]));
  return openReadings(
    toRead.map(({ problem }) => problem.path),
    trial,
  ).flatMap(({ words, paths }) => {
    const lines = paths.flatMap((path) => lineAt.get(dotted(path)) ?? []);
    const [first, last] = [Math.min(...lines), Math.max(...lines)];
    const where =
      lines.length === 0 ? '' : first === last ? ` (line ${first})` : ` (lines ${first} to ${last})`;
    return wrap(harmless(`${words}${where}`), '  ', '    ');
  });
}

function asideLines({ run }: Trial): string[] {
  const said = asideWords(run);
  return said === null ? [] : wrap(said, '  ', '    ');
}

/** What is said of a run that goes on, and has a section of its own. */
const PROGRESS: ReadonlySet<Code> = new Set(['run-under-way', 'run-expected-end', 'waste-so-far']);

const progressLine = ({ problem }: Finding): string[] => wrap(harmless(messageOf(problem)), '  ');

/** Why the verdict is what it is, and what it speaks of, in sentences. */
const grounds = (result: Assessed): string[] => [...wrap(groundWords(result)), SPEAKS_OF];

/** Said first, so that nobody takes the figures for those of the run as a whole. */
const UNDER_WAY = 'RUN UNDER WAY: its end is not read yet. What follows is how it stands so far.';

function verdictLine({ verdict, trial }: Assessed, paint: Paint): string {
  const tone = { pass: paint.good, fail: paint.bad, inconclusive: paint.unsure }[verdict];
  return paint.strong(tone(`VERDICT: ${verdict.toUpperCase()}${isUnderWay(trial) ? ' (under way)' : ''}`));
}
