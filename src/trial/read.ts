import { MOST_FAULTS } from '../text/yaml-careful.ts';
import { buildTrial } from './build.ts';
import { noDocuments, type OpenDocument, withDocuments } from './document/with-documents.ts';
import type { Catalogue } from './catalogue.ts';
import { severityOf } from '../problems/codes.ts';
import type { Problem } from '../problems/problem.ts';
import { checkTrial } from './rules/all.ts';
import { schemasAt } from './schema/at.ts';
import { problemsOf } from './schema/issues.ts';
import { limitSetSchema, type LimitSetData } from './schema/limits.ts';
import { type LetterheadData, letterheadSchema } from './schema/letterhead.ts';
import { trialSchema, type TrialData } from './schema/trial.ts';
import * as z from './schema/zod.ts';
import { type Data, readSource, type Source } from '../text/source.ts';
import { withDays } from './clock-times.ts';
import { cutByNotes, slipIn } from './slip.ts';
import { noTables, type OpenTable, withTables } from './table/with-tables.ts';
import type { Trial } from './trial.ts';
import { typedOtherwise } from './typed.ts';
import { noUsage, type OpenUsage, withUsage } from './usage/with-usage.ts';

/** What became of a file: its trial, unless something is wrong with it, and everything there is to say. */
export interface ReadTrial {
  readonly trial: Trial | null;
  readonly problems: readonly Problem[];
  /** The source, which knows where the rows of the trial's tables stand too. */
  readonly source: Source;
}

/** What opens the files that a trial names. */
export interface Named {
  readonly table: OpenTable;
  readonly document: OpenDocument;
  readonly usage: OpenUsage;
}

/** For whoever reads a trial from its text alone. */
const UNOPENED = { document: noDocuments, usage: noUsage };

/** A limits file that holds its map under `limits`, as a trial does. */
const wrappedLimitsSchema: Maker = (catalogue) => z.map({ limits: limitSetSchema(catalogue) });

/** Makes the schema of a kind of file. */
type Maker = (catalogue: Catalogue) => z.Schema;

/** Schemas by what they read: thousands of files of one archive are read with the same two. */
const schemas = new Map<Maker, z.Schema>();

function schemaOf(make: Maker, catalogue: Catalogue): z.Schema {
  const known = schemas.get(make) ?? make(catalogue);
  schemas.set(make, known);
  return known;
}

/**
 * A trial from its source. All problems are found at once: where a value cannot be read, the rules
 * between readings still judge the rest. `table` and `others` open the tables, documents and
 * usage files it names.
 */
export function readTrial(
  own: Source,
  catalogue: Catalogue,
  table: OpenTable = noTables,
  others: Partial<Omit<Named, 'table'>> = {},
): ReadTrial {
  const open = { ...UNOPENED, ...others, table };
  const read = readOnce(own, catalogue, open);
  const broken = read.problems.filter((problem) => BROKEN.has(problem.code));
  // A key that is nearly another one was mistyped, and no line is broken.
  if (!broken.some((problem) => problem.code !== 'unknown-key' || problem.nearest === null)) return read;
  const lines = [...new Set(broken.map((problem) => read.source.place(problem).line))];
  const slip = slipIn(own.text, lines, (text) => {
    const source = readSource(own.file, text);
    return source.problems.length === 0 && readOnce(source, catalogue, open).trial !== null;
  });
  return slip === null ? read : { ...read, problems: [slip] };
}

/** Problems that a broken line can come to. */
const BROKEN: ReadonlySet<Problem['code']> = new Set([
  ...(['not-yaml', 'unknown-key', 'wrong-shape', 'missing-key', 'duplicate-key', 'key-not-text'] as const),
  ...(['several-documents', 'empty-text', 'unknown-word', 'not-a-number'] as const),
]);

function readOnce(own: Source, catalogue: Catalogue, open: Named): ReadTrial {
  const blocked = own.problems.some(({ code }) => !READABLE.has(code));
  if (blocked) return { trial: null, problems: own.problems, source: own };
  const schema = schemaOf(trialSchema, catalogue);
  const tabled = withTables(own, schema, open.table);
  const { source } = tabled;
  const timed = withDays(tabled.data, own.text);
  const documented = withDocuments(timed.data, open.document);
  const used = withUsage(documented.data, open.usage);
  const { data: parsed, problems: shapeProblems } = parse(trialSchema, catalogue, used.data);
  const data = parsed as TrialData | null;
  const rules = data === null ? [] : checkTrial(data);
  const typed = typedOtherwise(data, used.data);
  const found = [
    ...own.problems.map((one) => withTaken(one, schema)),
    ...tabled.problems,
    ...timed.problems,
    ...documented.problems,
    ...used.problems,
    ...shapeProblems,
    ...rules,
    ...typed,
    ...cutByNotes(own.text),
  ];
  const problems = inFileOrder(found, source);
  const broken = data === null || problems.some((problem) => severityOf(problem) === 'error');
  return { trial: broken ? null : buildTrial(data), problems, source };
}

/** A number that a comma splits, with those ways to write it that its key takes. */
function withTaken(problem: Problem, schema: z.Schema): Problem {
  if (problem.code !== 'split-number') return problem;
  const ways = schemasAt(schema, problem.path);
  const write = problem.write.filter((text) => ways.some((way) => z.safeParse(way, text).success));
  return { ...problem, write };
}

/** A set of limits from a file of its own; the map may stand at the top or under `limits`. */
export function readLimitSet(
  source: Source,
  catalogue: Catalogue,
): { readonly limits: LimitSetData | null; readonly problems: readonly Problem[] } {
  const blocked = source.problems.some(({ code }) => !READABLE.has(code));
  if (blocked) return { limits: null, problems: source.problems };
  const top = source.data;
  const wrapped = top !== null && typeof top === 'object' && Object.hasOwn(top, 'limits');
  const { data, problems } = parse(wrapped ? wrappedLimitsSchema : limitSetSchema, catalogue, top);
  const found = inFileOrder([...source.problems, ...problems], source);
  if (data === null || found.length > 0) return { limits: null, problems: found };
  const limits = wrapped ? (data as { limits: LimitSetData }).limits : (data as LimitSetData);
  return { limits, problems: [] };
}

/** Problems of the text that leave the rest of the file readable. */
export const READABLE: ReadonlySet<Problem['code']> = new Set([
  'duplicate-key',
  'split-number',
  'alias',
  'tag',
  'key-not-text',
]);

export function inFileOrder(problems: readonly Problem[], source: Source): Problem[] {
  const more = problems.length - MOST_FAULTS;
  const tail: Problem[] = more > 0 ? [{ code: 'more-problems', count: more, path: [] }] : [];
  return problems
    .slice(0, MOST_FAULTS)
    .map((problem) => ({ problem, place: source.place(problem) }))
    .toSorted((a, b) => a.place.line - b.place.line || a.place.column - b.place.column)
    .map(({ problem }) => problem)
    .concat(tail);
}

/**
 * Data read with a schema, and every problem with it. What cannot be read is left out as if it had not
 * been taken yet, until the rest can: then the rules between readings have something to judge.
 */
/** A letterhead from a file of its own, and what is wrong with it; null where anything is. */
export function readLetterhead(source: Source): {
  readonly letterhead: LetterheadData | null;
  readonly problems: readonly Problem[];
} {
  if (source.problems.length > 0) return { letterhead: null, problems: source.problems };
  const { data, problems } = parse(letterheadSchema, [], source.data);
  const found = inFileOrder(problems, source);
  return { letterhead: found.length > 0 ? null : (data as LetterheadData), problems: found };
}

export function parse(
  make: Maker,
  catalogue: Catalogue,
  source: Data,
): { data: unknown; problems: Problem[] } {
  const schema = schemaOf(make, catalogue);
  const first = z.safeParse(schema, source);
  if (first.success) return { data: first.data, problems: [] };
  const problems = problemsOf(first.error.issues, schema, source);
  const rest = structuredClone(source);
  let faults: readonly Problem[] = problems;
  for (let round = 0; round < 6; round++) {
    for (const fault of faults) leaveOut(rest, fault, round);
    const again = z.safeParse(schema, rest);
    if (again.success) return { data: again.data, problems };
    faults = problemsOf(again.error.issues, schema, rest);
  }
  return { data: null, problems };
}

/** Takes the value at a problem's path out of the data; in later rounds what is around it. */
function leaveOut(data: Data, problem: Problem, round: number): void {
  const path = problem.path.slice(0, Math.max(1, problem.path.length - round));
  let node: Data | undefined = data;
  for (const step of path.slice(0, -1)) {
    if (node === null || node === undefined || typeof node !== 'object') return;
    node = (node as Record<string | number, Data>)[step];
  }
  const last = path.at(-1);
  if (last === undefined || node === null || node === undefined || typeof node !== 'object') return;
  const map = node as Record<string | number, Data>;
  if (problem.code === 'unknown-key' || problem.atKey) Reflect.deleteProperty(map, last);
  else if (last === 'trial' && node === data) map[last] = '-';
  else map[last] = null;
}
