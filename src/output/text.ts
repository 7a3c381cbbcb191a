import { type Derived, isDerived } from '../figures/figure.ts';
import type { Assessed, Finding, Result } from '../limits/assess.ts';
import type { Judged } from '../limits/judge.ts';
import { severityOf } from '../trial/problem.ts';
import type { Measured } from '../uncertainty/measured.ts';
import { padEnd, padStart, width, WIDTH, wrap } from './columns.ts';
import { findingLines } from './findings.ts';
import { harmless } from './harmless.ts';
import { exactly, shown, shownBeside } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';
import { tried } from './tried.ts';
import { reasonWords } from './words.ts';

/** The verdict on one trial for people: plain text of at most 80 columns, the verdict on the last line. */
export function text(result: Result, paint: Paint = PLAIN): string {
  const lines =
    result.verdict === 'invalid' ? invalid(result.file, result.findings, paint) : assessed(result, paint);
  return `${lines.join('\n')}\n`;
}

const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

function invalid(file: string, findings: readonly Finding[], paint: Paint): string[] {
  const errors = findings.filter(({ problem }) => severityOf(problem.code) === 'error');
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
  const { findings, file, trial } = result;
  const toRead = findings.filter(({ problem }) => problem.code === 'to-be-read');
  const warnings = findings.filter(({ problem }) => severityOf(problem.code) === 'warning');
  const notes = findings.filter((f) => severityOf(f.problem.code) === 'note' && !toRead.includes(f));
  const section = (name: string, lines: readonly string[]): string[] =>
    lines.length === 0 ? [] : ['', paint.strong(name), ...lines];
  return [
    ...wrap(harmless(trial.title)).map((line) => paint.strong(line)),
    ...wrap(harmless(file)).map((line) => paint.faint(line)),
    ...section('WHAT WAS TRIED', triedLines(result)),
    ...section('WHAT FOLLOWS', figureLines(result.derived)),
    ...section(`WHAT WAS AGREED${agreedHow(result)}`, limitLines(result, paint)),
    ...section('STILL TO BE READ', toRead.flatMap(readLine)),
    ...warnings.flatMap((finding) => section('WARNING', findingLines(finding, paint))),
    ...notes.flatMap((finding) => section('NOTE', findingLines(finding, paint))),
    '',
    ...grounds(result),
    verdictLine(result, paint),
  ];
}

function triedLines(result: Assessed): string[] {
  return tried(result).flatMap(([word, said]) => wrap(harmless(said), `  ${padEnd(word, 12)}`));
}

/** A figure's name for people, with what it is of. */
function nameOf({ figure, of, stat }: Derived): string {
  return harmless([figure.title, stat, of].filter((part) => part !== null).join(', '));
}

interface Row {
  readonly name: string;
  readonly bound: string;
  /** Before the decimal point, with the sign. */
  readonly whole: string;
  /** From the decimal point on. */
  readonly part: string;
  readonly U: string;
  readonly unit: string;
}

const BOUND = { exact: '', at_least: 'at least', at_most: 'at most' } as const;

function rowOf(derived: Derived & { readonly result: Measured }): Row {
  const { value, u, bound } = derived.result;
  const { value: printed, U } = shown(value, u.times(2));
  const [whole = '', fraction] = printed.split('.');
  const { unit, name } = derived.figure;
  const reams = name === 'sheets' ? `   ${exactly(value.div(500).toDecimalPlaces(2))} reams of 500` : '';
  return {
    name: nameOf(derived),
    bound: BOUND[bound],
    whole,
    part: fraction === undefined ? '' : `.${fraction}`,
    U: U === '' ? '' : `± ${U}`,
    unit: `${unit}${reams}`,
  };
}

const NAME_COLUMNS = 37;

function figureLines(derived: readonly Derived[]): string[] {
  const rows = derived.flatMap((one) =>
    isDerived(one.result) ? [rowOf({ ...one, result: one.result })] : [],
  );
  const widest = (key: 'bound' | 'whole' | 'part' | 'U'): number =>
    Math.max(0, ...rows.map((row) => width(row[key])));
  const [bound, whole, part, U] = [widest('bound'), widest('whole'), widest('part'), widest('U')];
  const lines = rows.flatMap((row) => {
    const value = `${padStart(row.whole, whole)}${padEnd(row.part, part)}`;
    const rest = `${padEnd(row.bound, bound)} ${value} ${padEnd(row.U, U)} ${row.unit}`.trimEnd();
    return beside(row.name, NAME_COLUMNS, rest);
  });
  const refused = derived.flatMap((one) => {
    if (isDerived(one.result) || one.stat === 'greatest' || one.stat === 'mean') return [];
    if (one.result.code === 'reading-missing' || one.result.code === 'no-readings') return [];
    return wrap(harmless(`${nameOf(one)}: not derived; ${reasonWords(one.result)}.`), '  ', '    ');
  });
  const legend = U > 0 ? ['  ± is U = 2u, twice the standard uncertainty; what has none is a count.'] : [];
  return [...lines, ...refused, ...legend];
}

/** A name and what belongs beside it; on lines of their own where they do not fit on one. */
function beside(name: string, columns: number, rest: string): string[] {
  if (width(name) <= columns && columns + 3 + width(rest) <= WIDTH) {
    return [`  ${padEnd(name, columns)} ${rest}`.trimEnd()];
  }
  return [...wrap(name, '  ', '    '), ...wrap(rest, ' '.repeat(6))];
}

function agreedHow({ agreed }: Assessed): string {
  const { rule, factor } = agreed.decision;
  const names = [
    ...new Set(agreed.limits.map(({ origin }) => (origin.kind === 'inline' ? 'this trial' : origin.name))),
  ];
  const how = rule === 'guarded' ? `guarded by ${factor.toFixed()} u` : 'each value as it is';
  return names.length === 0 ? '' : harmless(`: limits of ${names.join(' and ')}, ${how}`);
}

function limitText({ limit, derived }: Judged): string {
  const unit = derived.figure.unit;
  const [min, max] = [limit.min && exactly(limit.min), limit.max && exactly(limit.max)];
  if (min !== null && max !== null) return `${min} to ${max} ${unit}`;
  return min !== null ? `at least ${min} ${unit}` : `at most ${max ?? ''} ${unit}`;
}

function roomText({ room, derived }: Judged): string {
  if (room === null || !isDerived(derived.result)) return '';
  return `${shownBeside(room, derived.result.u.times(2))} ${derived.figure.unit}`;
}

/**
 * The judged limits, one line each; the least and greatest reading under one limit share a line where
 * they come out alike, and the smaller room stands for both.
 */
function limitLines({ judged }: Assessed, paint: Paint): string[] {
  if (judged.length === 0) return [];
  const rows = judged.flatMap((one, index): Judged[] => {
    const twin = (other: Judged | undefined): boolean =>
      other?.limit === one.limit && other.derived.stat !== one.derived.stat && other.outcome === one.outcome;
    if (one.derived.stat === 'greatest' && one.limit.stat === null && twin(judged[index - 1])) return [];
    const next = judged[index + 1];
    if (one.limit.stat !== null || one.derived.stat !== 'least' || next === undefined || !twin(next))
      return [one];
    const nearer = next.room !== null && one.room !== null && next.room.lt(one.room) ? next : one;
    return [{ ...nearer, derived: { ...nearer.derived, stat: null } }];
  });
  const tones = { met: paint.good, missed: paint.bad, open: paint.unsure };
  return rows.flatMap((one) => {
    const mark = one.weight === 'reject' ? '' : ` (${one.weight})`;
    const room = roomText(one);
    const rest = `${padEnd(limitText(one), 22)}${room === '' ? '' : ` ${room.startsWith('-') ? 'beyond by' : 'room'} ${room.replace('-', '')}`}`;
    const [first = '', ...others] = beside(
      `${padEnd(one.outcome, 7)}${nameOf(one.derived)}${mark}`,
      37,
      rest.trimEnd(),
    );
    const why = one.reason === null ? [] : wrap(harmless(reasonWords(one.reason)), ' '.repeat(9));
    return [first.replace(one.outcome, tones[one.outcome](one.outcome)), ...others, ...why];
  });
}

function readLine({ problem, place }: Finding): string[] {
  if (problem.code !== 'to-be-read') return [];
  return wrap(harmless(`${problem.reading}${place === null ? '' : ` (line ${place.line})`}`), '  ', '    ');
}

/** Why the verdict is what it is, and what it speaks of, in sentences. */
function grounds({ ground, judged }: Assessed): string[] {
  const named = (outcome: Judged['outcome'], weights: readonly string[]): string => {
    const names = judged
      .filter((one) => one.outcome === outcome && weights.includes(one.weight))
      .map(({ derived }) => nameOf(derived));
    const shownNames = names.slice(0, 4).join('; ');
    return names.length > 4 ? `${shownNames}; and ${names.length - 4} more` : shownNames;
  };
  const why = {
    'condition-missed': `A condition was not kept, which voids the trial: ${named('missed', ['condition'])}.`,
    'reject-missed': `Missed: ${named('missed', ['reject'])}.`,
    open: `Cannot be decided from these readings: ${named('open', ['reject', 'condition'])}.`,
    'no-reject-limit': 'No limit was agreed that could condemn the lot, so nothing was decided.',
    'all-met': `Kept: ${count(judged.filter(({ outcome }) => outcome === 'met').length, 'limit')} of ${judged.length}.`,
  }[ground];
  return [...wrap(why), 'This speaks of the sample tried, in this machine and this room.'];
}

function verdictLine({ verdict }: Assessed, paint: Paint): string {
  const tone = { pass: paint.good, fail: paint.bad, inconclusive: paint.unsure }[verdict];
  return paint.strong(tone(`VERDICT: ${verdict.toUpperCase()}`));
}
