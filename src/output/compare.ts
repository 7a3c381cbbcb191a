import { findingsOf } from '../checks/findings.ts';
import { isDerived } from '../figures/figure.ts';
import type { Result } from '../judge/assess.ts';
import type { Judged } from '../judge/judge.ts';
import type { Compared, Turned } from '../judge/two-policies.ts';
import { severityOf } from '../problems/codes.ts';
import { padEnd, padStart, wrap } from './columns.ts';
import { type Cell, csvLine } from './csv.ts';
import { findingLine } from './findings.ts';
import type { CompareData } from './schema/archive.ts';
import { byText } from '../trial/by-text.ts';
import { harmless, harmlessJson } from './harmless.ts';
import { fullDigits, severityWord } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';
import { nameOf } from './text-figures.ts';
import { limitText, marginText } from './text-limits.ts';

/** What other limits change: of each trial, and over all. */

/** The format of a comparison in JSON; raised when a consumer would have to change. */
const FORMAT = 1;

const ARROW = 'to';

/** Of a trial whose verdict turns: from what to what, and the limits that do it. Of any other nothing. */
export function compareText({ file, before, after, turns, limits }: Compared, paint: Paint = PLAIN): string {
  if (!turns) return '';
  const head = wrap(harmless(`${before.verdict} ${ARROW} ${after.verdict}`), '').join('');
  const lines = wrap(harmless(file), `${padEnd(head, TURN_COLUMNS)}  `);
  const byOutcome = limits.filter((one) => one.before?.outcome !== one.after?.outcome);
  const told = (byOutcome.length > 0 ? byOutcome : limits).flatMap((one) =>
    wrap(turnedWords(one), '    ', '      '),
  );
  const [first = '', ...more] = lines;
  return [first.replace(head, paint.strong(head)), ...more, ...told].map((line) => `${line}\n`).join('');
}

/** The longest is "inconclusive to inconclusive", which does not turn. */
const TURN_COLUMNS = 'inconclusive to invalid'.length;

/** One limit in words: the figure, then what each set asks and what comes of it. */
function turnedWords({ before, after }: Turned): string {
  const one = after ?? before;
  if (one === null) return '';
  return harmless(`${nameOf(one.derived)}: ${side(before)}; now ${side(after)}`);
}

function side(judged: Judged | null): string {
  if (judged === null) return 'no limit';
  const effect = judged.effect === 'fails' ? '' : ` (${judged.effect})`;
  const margin = judged.outcome === 'open' ? '' : marginText(judged);
  return `${limitText(judged)}${effect}, ${judged.outcome}${margin === '' ? '' : ` by ${margin.replace(/^-/, '')}`}`;
}

const limitData = ({ limit, derived, outcome, margin, effect }: Judged) => {
  const { result } = derived;
  const number = (value: Judged['margin']): string | null =>
    value && (severityWord(value, derived.unit) ?? fullDigits(value));
  return {
    value: isDerived(result) ? number(result.value) : null,
    min: number(limit.min),
    max: number(limit.max),
    effect,
    outcome,
    margin: margin && fullDigits(margin),
  };
};

function turnedData({ before, after }: Turned): CompareData['limits'][number] {
  const one = after ?? before;
  const derived = one?.derived;
  return {
    figure: derived?.figure.name ?? null,
    of: derived?.of ?? null,
    stat: derived?.stat ?? null,
    unit: one?.limit.currency ?? derived?.unit ?? null,
    before: before && limitData(before),
    after: after && limitData(after),
  };
}

const titleOf = (result: Result): string | null => (result.verdict === 'invalid' ? null : result.trial.title);

const errorsOf = (result: Result): string[] =>
  result.verdict === 'invalid'
    ? findingsOf(result)
        .filter(({ problem }) => severityOf(problem) === 'error')
        .map(findingLine)
    : [];

const compareData = ({ file, before, after, turns, limits }: Compared, tool: string): CompareData => ({
  format: FORMAT,
  tool,
  file,
  trial: titleOf(after) ?? titleOf(before),
  before: before.verdict,
  after: after.verdict,
  turns,
  limits: limits.map(turnedData),
  errors: [...new Set([...errorsOf(before), ...errorsOf(after)])],
});

/** One trial as a JSON object on several lines, without a line break behind it. */
export const compareObject = (one: Compared, tool: string): string => harmlessJson(compareData(one, tool), 2);

/** One trial in one line of JSON. */
export const compareJsonLine = (one: Compared, tool: string): string =>
  `${harmlessJson(compareData(one, tool))}\n`;

const SIDE = ['value', 'min', 'max', 'effect', 'outcome', 'margin'] as const;

/** The heads of the table. */
export const compareHeads = (): string =>
  csvLine([
    ...['file', 'trial', 'before', 'after', 'turns', 'figure', 'of', 'stat', 'unit'],
    ...SIDE.map((name) => `${name}_before`),
    ...SIDE.map((name) => `${name}_after`),
  ]);

/** A row for each limit that differs; one row where none does. */
export function compareRows(one: Compared): string {
  const { file, trial, before, after, turns, limits } = compareData(one, '');
  const first: Cell[] = [file, trial, before, after, turns];
  const cells = (data: (typeof limits)[number]['before']): Cell[] => SIDE.map((name) => data?.[name] ?? null);
  const rows = limits.map(({ figure, of, stat, unit, before: was, after: is }) =>
    csvLine([...first, figure, of, stat, unit, ...cells(was), ...cells(is)]),
  );
  return rows.length > 0
    ? rows.join('')
    : csvLine([...first, null, null, null, null, ...cells(null), ...cells(null)]);
}

/** What one trial adds to the table over all: plain text. */
export interface CompareSeen {
  readonly before: Result['verdict'];
  readonly after: Result['verdict'];
  /** Limits whose outcome is another, in words, each once: figure, what is asked now, and from what to what. */
  readonly limits: readonly string[];
}

export const compareSeen = ({ before, after, limits }: Compared): CompareSeen => ({
  before: before.verdict,
  after: after.verdict,
  limits: [
    ...new Set(
      limits.flatMap(({ before: was, after: is }): string[] => {
        const one = is ?? was;
        if (one === null || was?.outcome === is?.outcome) return [];
        const { figure, stat } = one.derived;
        const asked = is === null ? 'no limit' : limitText(is);
        return [
          `${nameOf({ figure, stat, of: null })}, now ${asked}: ${was?.outcome ?? 'no limit'} ${ARROW} ${is?.outcome ?? 'no limit'}`,
        ];
      }),
    ),
  ],
});

/** Counts over all: how many verdicts turn from what to what, and by which limits. */
export class CompareTable {
  private readonly verdicts = new Map<string, number>();
  private readonly limits = new Map<string, number>();
  private all = 0;
  private turned = 0;

  add({ before, after, limits }: CompareSeen): void {
    this.all += 1;
    if (before !== after) this.turned += 1;
    const pair = before === after ? `${before} as before` : `${before} ${ARROW} ${after}`;
    this.verdicts.set(pair, (this.verdicts.get(pair) ?? 0) + 1);
    for (const limit of limits) this.limits.set(limit, (this.limits.get(limit) ?? 0) + 1);
  }

  text(paint: Paint = PLAIN): string {
    const line = ([name, count]: readonly [string, number]): string[] =>
      wrap(harmless(name), `  ${padStart(String(count), 7)}  `);
    const most = (counts: ReadonlyMap<string, number>): [string, number][] =>
      [...counts].toSorted(([a, m], [b, n]) => n - m || byText(a, b));
    const lines = [paint.strong('VERDICTS'), ...most(this.verdicts).flatMap(line)];
    if (this.limits.size > 0)
      lines.push(
        '',
        paint.strong('TRIALS IN WHICH A LIMIT COMES OUT DIFFERENTLY'),
        ...most(this.limits).flatMap(line),
      );
    lines.push('', `Verdicts that turn: ${this.turned} of ${this.all}.`);
    return `${lines.join('\n')}\n`;
  }
}
