import { findingsOf } from '../checks/findings.ts';
import type { Assessed, Result } from '../judge/assess.ts';
import { type Derived, isDerived } from '../figures/figure.ts';
import { FIGURES } from '../figures/list.ts';
import type { Judged } from '../judge/judge.ts';
import { lotOfTrial, lotsOf } from '../trial/lot.ts';
import type { TrialData } from '../trial/schema/trial.ts';
import { STATS } from '../trial/catalogue.ts';
import { severityOf } from '../problems/codes.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { caveatData } from './caveats.ts';
import { type Cell, csvLine } from './csv.ts';
import { fullDigits, severityWord } from './numbers.ts';

/** Verdicts as a table: a row for each trial, its columns as chosen. */

/** A column: its head, and what stands in it for a trial. */
export interface Column {
  readonly head: string;
  readonly cell: (result: Result) => Cell;
  /** Of a column that names a part: whether a trial has it. */
  readonly hasPart?: (result: Result) => boolean;
}

const assessed =
  (of: (result: Assessed) => Cell) =>
  (result: Result): Cell =>
    result.verdict === 'invalid' ? null : of(result);

/** The limits of one outcome that count for the verdict, by the names of columns. */
const named = (outcome: Judged['outcome']) =>
  assessed(({ judged }) =>
    judged
      .filter((one) => one.outcome === outcome && one.effect !== 'advises')
      .map(({ derived: { figure, of, stat } }) => [figure.name, of ?? stat].filter(Boolean).join(':'))
      .join(' '),
  );

const counted =
  (severity: ReturnType<typeof severityOf>) =>
  (result: Result): Cell =>
    findingsOf(result).filter(({ problem }) => severityOf(problem) === severity).length;

/** What stands in the map `trial` of a file. */
const headed = (of: (head: Exclude<TrialData['trial'], string>) => string | null | undefined) =>
  assessed(({ trial: { data } }) => (typeof data.trial === 'string' ? null : (of(data.trial) ?? null)));

/** What each cartridge says, in their order. */
const listed = (of: (result: Assessed) => readonly string[]) => assessed((result) => of(result).join('; '));

/** Columns that are no figures. */
const PLAIN_COLUMNS: Readonly<Record<string, Column['cell']>> = {
  file: ({ file }) => file,
  trial: assessed(({ trial }) => trial.title),
  id: headed(({ id }) => id),
  started: headed(({ started }) => started?.text),
  finished: headed(({ finished }) => finished?.text),
  operator: headed(({ operator }) => operator),
  lot: assessed(({ trial }) => lotOfTrial(trial)),
  lots: listed(({ trial }) => lotsOf(trial)),
  supplier: assessed(({ trial }) => trial.data.lot?.supplier ?? null),
  machine: assessed(({ trial }) => trial.data.machine?.label ?? null),
  machine_serial: assessed(({ trial }) => trial.data.machine?.serial ?? null),
  serials: listed(({ trial }) => trial.run.cartridges.flatMap(({ serial }) => serial ?? [])),
  prices: listed(({ trial }) =>
    trial.run.cartridges.flatMap(({ price }) =>
      price === null ? [] : `${fullDigits(price.amount)} ${price.currency}`,
    ),
  ),
  verdict: ({ verdict }) => verdict,
  ground: assessed(({ ground }) => (ground === 'all-met' ? null : ground)),
  missed: named('missed'),
  open: named('open'),
  caveats: assessed((result) =>
    caveatData(result)
      .map(({ message }) => message)
      .join(' '),
  ),
  errors: counted('error'),
  warnings: counted('warning'),
};

/** What there is to say of a figure. */
const FIELDS = ['value', 'u', 'unit', 'bound', 'outcome', 'margin', 'min', 'max'] as const;
type Field = (typeof FIELDS)[number];

const isField = (text: string): text is Field => (FIELDS as readonly string[]).includes(text);

/** The columns of a table nobody chose columns for. */
export const DEFAULT_COLUMNS: readonly string[] = [
  ...['file', 'trial', 'verdict', 'missed', 'open', 'caveats', 'warnings', 'pages', 'waste_per_thousand'],
  ...['yield_at_reference:least', 'yield_at_reference:least.bound'],
  ...['id', 'started', 'finished', 'lot', 'supplier', 'machine', 'machine_serial', 'serials', 'prices'],
  'ground',
];

/** Every name a column can begin with. */
export const COLUMN_NAMES: readonly string[] = [
  ...Object.keys(PLAIN_COLUMNS),
  ...FIGURES.map(({ name }) => name),
];

/** The column of a name: a plain one, or FIGURE[:PART or STAT][.FIELD]; null where there is none. */
export function columnOf(name: string): Column | null {
  const plain = Object.hasOwn(PLAIN_COLUMNS, name) ? PLAIN_COLUMNS[name] : undefined;
  if (plain !== undefined) return { head: name, cell: plain };
  const dot = name.lastIndexOf('.');
  const ending = name.slice(dot + 1);
  const [path, field]: [string, Field] =
    dot !== -1 && isField(ending) ? [name.slice(0, dot), ending] : [name, 'value'];
  const colon = path.indexOf(':');
  const figure = colon === -1 ? path : path.slice(0, colon);
  const part = colon === -1 ? null : path.slice(colon + 1);
  if (!FIGURES.some((one) => one.name === figure)) return null;
  const cell = assessed((result) => fieldOf(result, chosen(result, figure, part), field));
  if (part === null || part === 'total' || (STATS as readonly string[]).includes(part))
    return { head: name, cell };
  const hasPart = (result: Result): boolean =>
    result.verdict !== 'invalid' && chosen(result, figure, part) !== undefined;
  return { head: name, cell, hasPart };
}

/** Of several figures of one name the one that is meant; undefined where that cannot be told. */
function chosen({ derived }: Assessed, name: string, part: string | null): Derived | undefined {
  const all = derived.filter(({ figure }) => figure.name === name);
  const find = (of: string | null, stat: string | null): Derived | undefined =>
    all.find((one) => one.of === of && one.stat === stat);
  if (part === null) {
    const parts = all.filter(({ of }) => of !== null);
    return find(null, null) ?? (parts.length === 1 ? parts[0] : find(null, 'mean'));
  }
  if (part === 'total') return find(null, null);
  return find(part, null) ?? ((STATS as readonly string[]).includes(part) ? find(null, part) : undefined);
}

const WORST = ['missed', 'open', 'met'] as const;

function fieldOf({ judged }: Assessed, one: Derived | undefined, field: Field): Cell {
  if (one === undefined) return null;
  const number = (value: Decimal | null | undefined): Cell =>
    value == null ? null : (severityWord(value, one.unit) ?? fullDigits(value));
  const limit = judged
    .filter(({ derived }) => derived === one)
    .toSorted((a, b) => WORST.indexOf(a.outcome) - WORST.indexOf(b.outcome))
    .at(0);
  const { result } = one;
  const measured = isDerived(result) ? result : null;
  switch (field) {
    case 'value':
      return number(measured?.value);
    case 'u':
      return measured && fullDigits(measured.u);
    case 'unit':
      return one.unit;
    case 'bound':
      return measured?.bound ?? null;
    case 'outcome':
      return limit?.outcome ?? null;
    case 'margin':
      return limit?.margin ? fullDigits(limit.margin) : null;
    case 'min':
      return number(limit?.limit.min);
    case 'max':
      return number(limit?.limit.max);
  }
}

/** The line of heads. */
export const csvHeads = (columns: readonly Column[]): string => csvLine(columns.map(({ head }) => head));

/** The row of a trial. */
export const csvRow = (columns: readonly Column[], result: Result): string =>
  csvLine(columns.map(({ cell }) => cell(result)));
