import { expandedOf } from '../checks/near-limits.ts';
import { isDerived } from '../figures/figure.ts';
import type { Assessed } from '../judge/assess.ts';
import type { Judged } from '../judge/judge.ts';
import type { Decision, Limit } from '../judge/limits.ts';
import type { Effect } from '../trial/catalogue.ts';
import { SEVERITY } from '../trial/catalogue.ts';
import { type Decimal, ZERO } from '../uncertainty/decimal.ts';
import { padEnd, padStart, width, WIDTH, wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import { exactly, severityWord, shownBeside } from './numbers.ts';
import type { Paint } from './paint.ts';
import { nameOf, unitOf } from './text-figures.ts';
import { beside } from './text-table.ts';
import { limitWords } from './words/said.ts';
import { reasonWords } from './reason-words.ts';

/** The limits of a verdict in lines for people. */

/** Whose limits they are, and by which rule they decide. */
export function agreedHow({ agreed }: Assessed): string {
  const { rule, factor } = agreed.decision;
  const names = [
    ...new Set(agreed.limits.map(({ origin }) => (origin.kind === 'inline' ? 'this trial' : origin.name))),
  ];
  const how = rule === 'guarded' ? `guarded rule, ${factor.toFixed()} u` : 'simple rule';
  return names.length === 0 ? '' : harmless(` of ${names.join(', ')}; ${how}`);
}

/** A limit as people say it: at most 25 g. */
export const limitText = ({ limit, derived }: Judged): string => edgesOf(limit, derived.unit);

/** The edges of a limit as people say them, money in its own currency: at least 9000 pages. */
export function edgesOf(limit: Limit, figureUnit: string): string {
  const severity = severityWord(limit.max ?? limit.min ?? ZERO, figureUnit);
  const unit = severity === null ? (limit.currency ?? figureUnit) : SEVERITY;
  const number = (edge: Decimal | null): string | null =>
    edge && (severityWord(edge, figureUnit) ?? exactly(edge));
  return limitWords(number(limit.min), number(limit.max), unit);
}

const EFFECT: Readonly<Record<Effect, string>> = {
  fails: '',
  voids: '; else the trial proves nothing',
  advises: '; advice only',
};

/** The limits that were agreed, before anything is read: one line each. */
export const agreedLines = (limits: readonly Limit[]): string[] =>
  limits.flatMap((limit) => {
    const { figure, of, stat, effect } = limit;
    const named = [figure.title, of, stat].filter((one) => one !== null).join(', ');
    return wrap(harmless(`${named}: ${edgesOf(limit, figure.unit)}${EFFECT[effect]}`), '  ', '    ');
  });

/** The margin to a limit as people say it; empty where the figure has no value. */
export function marginText(judged: Judged): string {
  const { margin, derived } = judged;
  if (margin === null || !isDerived(derived.result)) return '';
  const unit = derived.unit === SEVERITY ? (margin.abs().eq(1) ? 'step' : 'steps') : unitOf(derived.unit);
  return `${shownBeside(margin, expandedOf(judged, derived.result))} ${unit}`.trimEnd();
}

/** Both uncertainties of a figure whose scatter over repeated trials is known; else nothing. */
function repeatedWords({ derived: { result, unit }, repeated }: Judged, { rule }: Decision): string[] {
  if (repeated === null || !isDerived(result)) return [];
  const [whole, own] = [repeated.expanded(2), result.u.times(2)];
  const said = (U: Decimal): string => `${shownBeside(U, U)} ${unitOf(unit)}`.trimEnd();
  const readings = own.isZero() ? 'the readings are taken as exact' : `± ${said(own)} of the readings`;
  return [`± ${said(whole)} if repeated${rule === 'guarded' ? ', which decides' : ''}; ${readings}.`];
}

/**
 * The least and greatest reading under one limit share a line where they come out alike, and the
 * smaller margin stands for both.
 */
export function paired(judged: readonly Judged[]): Judged[] {
  return judged.flatMap((one, index): Judged[] => {
    const twin = (other: Judged | undefined): boolean =>
      other?.limit === one.limit && other.derived.stat !== one.derived.stat && other.outcome === one.outcome;
    if (one.limit.stat !== null) return [one];
    if (one.derived.stat === 'greatest' && twin(judged[index - 1])) return [];
    const next = judged[index + 1];
    if (one.derived.stat !== 'least' || next === undefined || !twin(next)) return [one];
    const nearer = next.margin !== null && one.margin !== null && next.margin.lt(one.margin) ? next : one;
    return [{ ...nearer, derived: { ...nearer.derived, stat: null } }];
  });
}

/** The judged limits, one line each: outcome, figure, limit, and the margin left to it. */
export function limitLines({ judged, agreed }: Assessed, paint: Paint): string[] {
  if (judged.length === 0) return [];
  const rows = paired(judged).map((one) => ({
    one,
    name: `${nameOf(one.derived)}${one.effect === 'fails' ? '' : ` (${one.effect})`}`,
    limit: limitText(one),
    margin: marginText(one),
  }));
  const widest = (key: 'name' | 'limit' | 'margin', most: number): number =>
    Math.min(most, Math.max(0, ...rows.map((row) => width(row[key]))));
  const [limit, margin] = [widest('limit', 22), Math.max(6, widest('margin', 14))];
  // Indented by two, with seven for the outcome and two before each further column.
  const name = widest('name', Math.min(35, WIDTH - 2 - 7 - 2 - limit - 2 - margin));
  const tones = { met: paint.good, missed: paint.bad, open: paint.unsure };
  const head = `  ${' '.repeat(7 + name)}  ${padEnd('limit', limit)}  ${padStart('margin', margin)}`;
  const lines = rows.flatMap((row) => {
    const { outcome, reason } = row.one;
    const rest = `${padEnd(row.limit, limit)}  ${padStart(row.margin, margin)}`.trimEnd();
    const [first = '', ...others] = beside(`${padEnd(outcome, 7)}${row.name}`, 7 + name, ` ${rest}`);
    const why = [
      ...(reason === null ? [] : wrap(harmless(reasonWords(reason)), ' '.repeat(9))),
      ...repeatedWords(row.one, agreed.decision).flatMap((words) => wrap(words, ' '.repeat(9))),
    ];
    return [first.replace(outcome, tones[outcome](outcome)), ...others, ...why];
  });
  return [paint.faint(head), ...lines];
}
