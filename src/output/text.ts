import { type Derived, isDerived } from '../figures/figure.ts';
import type { Assessed, Finding, Result } from '../limits/assess.ts';
import type { Judged } from '../limits/judge.ts';
import { severityOf } from '../trial/codes.ts';
import type { Measured } from '../uncertainty/measured.ts';
import { padEnd, padStart, width, WIDTH, wrap } from './columns.ts';
import { findingLines } from './findings.ts';
import { harmless } from './harmless.ts';
import { exactly, shown, shownBeside, tidy } from './numbers.ts';
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
    ...section('THE ROOM', roomLines(result.derived, paint)),
    ...legend(result),
    ...section(`LIMITS${agreedHow(result)}`, limitLines(result, paint)),
    ...section('STILL TO BE READ', toRead.flatMap(readLine)),
    ...section(warnings.length > 1 ? 'WARNINGS' : 'WARNING', told(warnings, paint)),
    ...section(notes.length > 1 ? 'NOTES' : 'NOTE', told(notes, paint)),
    '',
    ...grounds(result),
    verdictLine(result, paint),
  ];
}

/** Findings one after the other, those with an excerpt set apart. */
const told = (findings: readonly Finding[], paint: Paint): string[] =>
  findings.flatMap((finding, index) => [...(index > 0 ? [''] : []), ...findingLines(finding, paint)]);

/** What ± means, where any was printed. */
function legend({ derived }: Assessed): string[] {
  const measured = derived.flatMap(withValue).some(({ result }) => !result.u.isZero());
  return measured ? ['', '  ± is U = 2u, twice the standard uncertainty; what has none is exact.'] : [];
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

/** Common practice, no source. */
const SHEETS_IN_A_REAM = 500;

const BOUND = { exact: '', at_least: 'at least', at_most: 'at most' } as const;

type WithValue = Derived & { readonly result: Measured };

const withValue = (one: Derived): WithValue[] =>
  isDerived(one.result) ? [{ ...one, result: one.result }] : [];

function rowOf(derived: WithValue): Row {
  const { value, u, bound } = derived.result;
  const { value: printed, U } = shown(value, u.times(2));
  const [whole = '', fraction] = printed.split('.');
  const { unit, name } = derived.figure;
  const reams =
    name === 'sheets' ? ` (${tidy(value.div(SHEETS_IN_A_REAM))} reams of ${SHEETS_IN_A_REAM})` : '';
  return {
    name: nameOf(derived) + reams,
    bound: BOUND[bound],
    whole,
    part: fraction === undefined ? '' : `.${fraction}`,
    U: U === '' ? '' : `± ${U}`,
    unit,
  };
}

/** Figures of the run and its cartridges, one line each, their decimal points one below the other. */
function figureLines(derived: readonly Derived[]): string[] {
  const figures = derived.filter(
    ({ figure, stat }) => figure.per !== 'readings' && !(stat === 'least' && onlyOne(derived, figure)),
  );
  const rows = figures.flatMap(withValue).map(rowOf);
  const widest = (key: keyof Row): number => Math.max(0, ...rows.map((row) => width(row[key])));
  const [bound, whole, part, U] = [widest('bound'), widest('whole'), widest('part'), widest('U')];
  const name = Math.min(widest('name'), 36);
  const lines = rows.flatMap((row) => {
    const value = `${padStart(row.whole, whole)}${padEnd(row.part, part)}`;
    return beside(
      row.name,
      name,
      `${padEnd(row.bound, bound)} ${value} ${padEnd(row.U, U)} ${row.unit}`.trimEnd(),
    );
  });
  return [...lines, ...refusals(figures)];
}

/** With one cartridge the least over the cartridges says nothing new. */
const onlyOne = (derived: readonly Derived[], figure: Derived['figure']): boolean =>
  derived.filter((one) => one.figure === figure && one.stat === null).length === 1;

/** Figures that a formula refused, though its readings are there. */
function refusals(derived: readonly Derived[]): string[] {
  return derived.flatMap((one) => {
    if (isDerived(one.result) || one.stat === 'greatest' || one.stat === 'mean') return [];
    if (one.result.code === 'reading-missing' || one.result.code === 'no-readings') return [];
    return wrap(
      harmless(`${nameOf({ ...one, stat: null })}: not derived; ${reasonWords(one.result)}.`),
      '  ',
      '    ',
    );
  });
}

/** Figures of the room: a line each, with the least, mean and greatest beside each other. */
function roomLines(derived: readonly Derived[], paint: Paint): string[] {
  const figures = derived.filter(({ figure }) => figure.per === 'readings');
  const values = figures.flatMap(withValue);
  const names = [...new Set(values.map(({ figure }) => figure))];
  if (names.length === 0) return refusals(figures);
  const cell = (figure: Derived['figure'], stat: string): string => {
    const found = values.find((one) => one.figure === figure && one.stat === stat);
    if (found === undefined) return '';
    const { value, U } = shown(found.result.value, found.result.u.times(2));
    return U === '' ? value : `${value} ± ${U}`;
  };
  const row = (name: string, cells: readonly string[]): string =>
    `  ${padEnd(name, 25)}${cells.map((one) => padStart(one, 17)).join('')}`;
  return [
    paint.faint(row('', ['least', 'mean', 'greatest'])),
    ...names.map((figure) =>
      row(
        `${figure.title}, ${figure.unit}`,
        ['least', 'mean', 'greatest'].map((stat) => cell(figure, stat)),
      ),
    ),
    ...refusals(figures),
  ];
}

/** A name and what belongs beside it; on lines of their own where they do not fit on one. */
function beside(name: string, columns: number, rest: string): string[] {
  if (width(name) <= columns && columns + 3 + width(rest) <= WIDTH) {
    return [`  ${padEnd(name, columns)} ${rest}`.trimEnd()];
  }
  return [...wrap(name, '  ', '    '), ...wrap(rest.trim(), ' '.repeat(9))];
}

function agreedHow({ agreed }: Assessed): string {
  const { rule, factor } = agreed.decision;
  const names = [
    ...new Set(agreed.limits.map(({ origin }) => (origin.kind === 'inline' ? 'this trial' : origin.name))),
  ];
  const how = rule === 'guarded' ? `guarded rule, ${factor.toFixed()} u` : 'simple rule';
  return names.length === 0 ? '' : harmless(` of ${names.join(', ')}; ${how}`);
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
 * The least and greatest reading under one limit share a line where they come out alike, and the
 * smaller room stands for both.
 */
function paired(judged: readonly Judged[]): Judged[] {
  return judged.flatMap((one, index): Judged[] => {
    const twin = (other: Judged | undefined): boolean =>
      other?.limit === one.limit && other.derived.stat !== one.derived.stat && other.outcome === one.outcome;
    if (one.limit.stat !== null) return [one];
    if (one.derived.stat === 'greatest' && twin(judged[index - 1])) return [];
    const next = judged[index + 1];
    if (one.derived.stat !== 'least' || next === undefined || !twin(next)) return [one];
    const nearer = next.room !== null && one.room !== null && next.room.lt(one.room) ? next : one;
    return [{ ...nearer, derived: { ...nearer.derived, stat: null } }];
  });
}

/** The judged limits, one line each: outcome, figure, limit, and the room left to it. */
function limitLines({ judged }: Assessed, paint: Paint): string[] {
  if (judged.length === 0) return [];
  const rows = paired(judged).map((one) => ({
    one,
    name: `${nameOf(one.derived)}${one.weight === 'reject' ? '' : ` (${one.weight})`}`,
    limit: limitText(one),
    room: roomText(one),
  }));
  const widest = (key: 'name' | 'limit' | 'room', most: number): number =>
    Math.min(most, Math.max(0, ...rows.map((row) => width(row[key]))));
  const [name, limit, room] = [widest('name', 35), widest('limit', 22), Math.max(4, widest('room', 14))];
  const tones = { met: paint.good, missed: paint.bad, open: paint.unsure };
  const head = `  ${' '.repeat(7 + name)}  ${padEnd('limit', limit)}  ${padStart('room', room)}`;
  const lines = rows.flatMap((row) => {
    const { outcome, reason } = row.one;
    const rest = `${padEnd(row.limit, limit)}  ${padStart(row.room, room)}`.trimEnd();
    const [first = '', ...others] = beside(`${padEnd(outcome, 7)}${row.name}`, 7 + name, ` ${rest}`);
    const why = reason === null ? [] : wrap(harmless(reasonWords(reason)), ' '.repeat(9));
    return [first.replace(outcome, tones[outcome](outcome)), ...others, ...why];
  });
  return [paint.faint(head), ...lines];
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
