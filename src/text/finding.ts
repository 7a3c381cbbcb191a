import type { Problem } from '../problems/problem.ts';
import type { Place, Source } from './source.ts';

/** A problem with the file and line it was found in. */
export interface Finding {
  readonly problem: Problem;
  readonly file: string;
  /** Null where it is not of any one place. */
  readonly place: (Place & { readonly text: string; readonly heading?: string | null }) | null;
}

/** A problem of a source with its place in it. */
export function find(problem: Problem, source: Source): Finding {
  const nowhere = problem.path.length === 0 && problem.offset === undefined && !WHOLE_FILE.has(problem.code);
  if (nowhere) return { problem, file: source.file, place: null };
  const { line, column, table } = source.place(problem);
  if (table === undefined)
    return { problem, file: source.file, place: { line, column, text: source.line(line) } };
  const { file, text, heading } = table;
  return { problem, file, place: { line, column, text, heading } };
}

/** Problems of a whole file are shown at its first line. */
const WHOLE_FILE: ReadonlySet<Problem['code']> = new Set([
  'empty-file',
  'other-kind',
  'wrong-shape',
  'missing-key',
  'nested-too-deep',
  'too-long',
  'too-many-entries',
]);

/** In file order; what has no place of its own comes last. */
export function byPlace(a: Finding, b: Finding): number {
  const line = (finding: Finding): number => finding.place?.line ?? Infinity;
  const column = (finding: Finding): number => finding.place?.column ?? Infinity;
  if (line(a) === line(b)) return column(a) === column(b) ? 0 : column(a) - column(b);
  return line(a) - line(b);
}
