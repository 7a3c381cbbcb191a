import * as z from 'zod/mini';
import { buildTrial } from './build.ts';
import type { Catalogue } from './catalogue.ts';
import { type Problem, severityOf } from './problem.ts';
import { checkTrial } from './rules/all.ts';
import { problemsOf } from './schema/issues.ts';
import { limitSetSchema, type LimitSetData } from './schema/limits.ts';
import { trialSchema, type TrialData } from './schema/trial.ts';
import type { Data, Source } from './source.ts';
import type { Trial } from './trial.ts';

/** What became of a file: its trial, unless something is wrong with it, and everything there is to say. */
export interface ReadTrial {
  readonly trial: Trial | null;
  readonly problems: readonly Problem[];
}

/** Generated parsers pay only from some dozens of files on; one file reads faster without. */
z.config({ jitless: true });

let schema: { readonly catalogue: Catalogue; readonly trial: z.ZodMiniType } | null = null;

/** Built at the first trial and kept: it is the same for every file of a run. */
function schemaFor(catalogue: Catalogue): z.ZodMiniType {
  if (schema?.catalogue !== catalogue) schema = { catalogue, trial: trialSchema(catalogue) };
  return schema.trial;
}

/**
 * A trial from its source. All problems are found at once: where a value cannot be read, the rules
 * between readings still judge the rest.
 */
export function readTrial(source: Source, catalogue: Catalogue): ReadTrial {
  const blocked = source.problems.some(({ code }) => !READABLE.has(code));
  if (blocked) return { trial: null, problems: source.problems };
  const { data, problems: shapeProblems } = parse<TrialData>(schemaFor(catalogue), source.data);
  const rules = data === null ? [] : checkTrial(data);
  const problems = inFileOrder([...source.problems, ...shapeProblems, ...rules], source);
  const broken = data === null || problems.some(({ code }) => severityOf(code) === 'error');
  return { trial: broken ? null : buildTrial(data), problems };
}

/** A set of limits from a file of its own; the map may stand at the top or under `limits`. */
export function readLimitSet(
  source: Source,
  catalogue: Catalogue,
): { readonly limits: LimitSetData | null; readonly problems: readonly Problem[] } {
  const blocked = source.problems.some(({ code }) => !READABLE.has(code));
  if (blocked) return { limits: null, problems: source.problems };
  const set = limitSetSchema(catalogue);
  const wrapped = source.data !== null && typeof source.data === 'object' && 'limits' in source.data;
  const whole = wrapped ? z.strictObject({ limits: set }) : set;
  const { data, problems } = parse<{ limits: LimitSetData } | LimitSetData>(whole, source.data);
  const found = inFileOrder([...source.problems, ...problems], source);
  if (data === null || found.length > 0) return { limits: null, problems: found };
  return { limits: (wrapped ? data.limits : data) as LimitSetData, problems: [] };
}

/** Problems of the text that leave the rest of the file readable. */
const READABLE: ReadonlySet<Problem['code']> = new Set([
  'duplicate-key',
  'split-number',
  'alias',
  'tag',
  'key-not-text',
]);

export function inFileOrder(problems: readonly Problem[], source: Source): Problem[] {
  return problems
    .map((problem) => ({ problem, place: source.place(problem) }))
    .toSorted((a, b) => a.place.line - b.place.line || a.place.column - b.place.column)
    .map(({ problem }) => problem);
}

/**
 * Data read with a schema, and every problem with it. What cannot be read is left out as if it had not
 * been taken yet, until the rest can: then the rules between readings have something to judge.
 */
function parse<T>(schema: z.ZodMiniType, source: Data): { data: T | null; problems: Problem[] } {
  const first = schema.safeParse(source);
  if (first.success) return { data: first.data as T, problems: [] };
  const problems = problemsOf(first.error.issues, schema, source);
  const rest = structuredClone(source);
  let faults: readonly Problem[] = problems;
  for (let round = 0; round < 6; round++) {
    for (const fault of faults) leaveOut(rest, fault, round);
    const again = schema.safeParse(rest);
    if (again.success) return { data: again.data as T, problems };
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
  if (problem.code === 'unknown-key' || problem.atKey) delete map[last];
  else if (last === 'trial' && node === data) map[last] = '-';
  else map[last] = null;
}
