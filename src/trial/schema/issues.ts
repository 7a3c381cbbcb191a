import type { Path } from '../../uncertainty/path.ts';
import { belonging, knownKeys, lengthOf } from './at.ts';
import { lineFor } from './line-for.ts';
import { nearest } from '../nearest.ts';
import type { Fault, Problem, Shape } from '../../problems/problem.ts';
import type { Data } from '../../text/source.ts';
import { commonKeys, meantKey } from './common-words.ts';
import { FAULT } from './leaf.ts';
import type * as z from './zod.ts';

/** What zod found, as problems of ours, each with the path of what is wrong. */

type Issue = z.Issue;

const SHAPES: Readonly<Record<string, Shape>> = {
  string: 'value',
  object: 'map',
  record: 'map',
  array: 'list',
  tuple: 'list',
};

const at = (data: Data, path: Path): Data | undefined =>
  path.reduce<Data | undefined>(
    (node, step) =>
      node !== null && typeof node === 'object' ? (node as Record<string | number, Data>)[step] : undefined,
    data,
  );

const shapeOf = (data: Data | undefined): Shape | 'nothing' =>
  data == null ? 'nothing' : typeof data === 'string' ? 'value' : Array.isArray(data) ? 'list' : 'map';

/** The problems behind zod's issues with `data`, read with `schema`. */
export function problemsOf(issues: readonly Issue[], schema: z.Schema, data: Data): Problem[] {
  return issues.flatMap((issue) => convert(issue, [], schema, data));
}

/** More keys than anyone would mend one by one. */
const MOST_KEYS = 250;

function convert(issue: Issue, above: Path, schema: z.Schema, data: Data): Problem[] {
  const path = [...above, ...(issue.path as Path)];
  const problem = (fault: Fault): Problem[] => [{ ...fault, path }];
  switch (issue.code) {
    case 'custom':
      return problem(issue.params?.[FAULT] as Fault);
    case 'unrecognized_keys': {
      const known = [...knownKeys(schema, path)];
      return issue.keys.slice(0, MOST_KEYS).map((key) => {
        const written = at(data, [...path, key]);
        const elsewhere = belonging(schema, [key, ...commonKeys(key)], written);
        const near = meantKey(key, known, elsewhere.length > 0);
        return {
          code: 'unknown-key',
          key,
          known,
          nearest: near,
          belongs: near === null ? elsewhere : [],
          empty: written === null,
          path: [...path, key],
          atKey: true,
        };
      });
    }
    case 'invalid_type': {
      const step = path.at(-1);
      if (typeof step === 'number' && at(data, path) === undefined)
        return tooShort(schema, path.slice(0, -1), step, data);
      return wrongShape([SHAPES[issue.expected] ?? 'value'], path, schema, data);
    }
    case 'invalid_value': {
      const known = issue.values.map(String);
      const written = at(data, path);
      if (typeof written !== 'string') return wrongShape(['value'], path, schema, data);
      return problem({ code: 'unknown-word', written, known, nearest: nearest(written, known) });
    }
    case 'invalid_key':
      return issue.issues
        .flatMap((inner) => convert({ ...inner, path: [] }, path, schema, data))
        .map((found) => ({ ...found, atKey: true }));
    case 'too_small':
    case 'too_big': {
      const list = at(data, path);
      const expected = Number(issue.code === 'too_small' ? issue.minimum : issue.maximum);
      return problem({ code: 'wrong-length', expected, got: Array.isArray(list) ? list.length : 0 });
    }
    case 'invalid_union':
      return likelier(issue.errors, path, schema, data);
    default:
      return wrongShape(['value'], path, schema, data);
  }
}

/** A list of fixed length that ends too soon is told once, at the list, and not for every value it lacks. */
function tooShort(schema: z.Schema, list: Path, missing: number, data: Data): Problem[] {
  const found = at(data, list);
  const got = Array.isArray(found) ? found.length : 0;
  return got === missing ? [{ code: 'wrong-length', expected: lengthOf(schema, list), got, path: list }] : [];
}

function wrongShape(expected: readonly Shape[], path: Path, schema: z.Schema, data: Data): Problem[] {
  const found = at(data, path);
  const key = path.at(-1);
  if (found === undefined && typeof key === 'string') return [{ code: 'missing-key', key, path }];
  const write = found == null ? null : lineFor(schema, path, found);
  return [{ code: 'wrong-shape', expected, got: shapeOf(found), write, path }];
}

/**
 * Of the ways a value could be read, the problems of the one that was meant: the one whose shape fits
 * and whose keys are most often known.
 */
function likelier(
  options: readonly (readonly Issue[])[],
  path: Path,
  schema: z.Schema,
  data: Data,
): Problem[] {
  const misfit = (issues: readonly Issue[]): Issue | undefined =>
    issues.find((issue) => issue.path.length === 0 && ['invalid_type', 'invalid_value'].includes(issue.code));
  const fitting = options.filter((issues) => {
    const issue = misfit(issues);
    return issue === undefined || (issue.code === 'invalid_value' && typeof at(data, path) === 'string');
  });
  if (fitting.length === 0) {
    const expected = options.flatMap((issues) => {
      const issue = misfit(issues);
      return issue?.code === 'invalid_type' ? [SHAPES[issue.expected] ?? 'value'] : ['value' as const];
    });
    return wrongShape([...new Set(expected)], path, schema, data);
  }
  // A list with one entry, written without its dash.
  const written = at(data, path);
  const keys = shapeOf(written) === 'map' ? Object.keys(written as object) : [];
  const strange = (issues: readonly Issue[]): boolean =>
    issues.some(
      (issue) =>
        issue.code === 'unrecognized_keys' && issue.path.length === 0 && issue.keys.length === keys.length,
    );
  const inEntries = knownKeys(schema, [...path, 0]);
  if (fitting.every(strange) && keys.some((key) => inEntries.has(key)))
    return wrongShape(['list'], path, schema, data);
  const missing = (issue: Issue): boolean =>
    issue.code === 'invalid_type' && at(data, [...path, ...(issue.path as Path)]) === undefined;
  const wrongKeys = (issues: readonly Issue[]): number =>
    issues.reduce((sum, issue) => {
      if (issue.code === 'unrecognized_keys') return sum + issue.keys.length;
      return issue.code === 'invalid_key' || missing(issue) ? sum + 1 : sum;
    }, 0);
  const [best] = fitting.toSorted((a, b) => wrongKeys(a) - wrongKeys(b));
  return (best ?? []).flatMap((issue) => convert(issue, path, schema, data));
}
