import { findingsOf } from '../checks/findings.ts';
import type { Result } from '../judge/assess.ts';
import { severityOf } from '../problems/codes.ts';
import { caveatData } from './caveats.ts';
import { findingLine } from './findings.ts';
import type { Case, CaseKind } from './junit.ts';
import { PLAIN } from './paint.ts';
import { groundWords } from './ground-words.ts';
import { limitLines } from './text-limits.ts';
import { messageOf } from './words.ts';

/** A verdict as build servers count: what cannot be decided is neither passed nor failed. */
export const CASE_OF: Readonly<Record<Result['verdict'], CaseKind>> = {
  pass: 'passed',
  fail: 'failed',
  inconclusive: 'skipped',
  invalid: 'error',
};

/** A trial as a testcase. */
export function verdictCase(result: Result): Case {
  const base = {
    name: result.file,
    group: 'verdict',
    kind: CASE_OF[result.verdict],
    type: result.verdict,
    output: [
      ...caveatData(result).map(({ message }) => message),
      ...findingsOf(result)
        .filter(({ problem }) => severityOf(problem) === 'warning')
        .map(findingLine),
    ],
  };
  if (result.verdict !== 'invalid') {
    return { ...base, message: groundWords(result), lines: limitLines(result, PLAIN) };
  }
  const errors = result.findings.filter(({ problem }) => severityOf(problem) === 'error');
  const [first] = errors;
  return {
    ...base,
    message: first === undefined ? '' : messageOf(first.problem),
    lines: errors.map(findingLine),
  };
}
