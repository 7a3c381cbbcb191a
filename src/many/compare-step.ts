import { type Compared, compared } from '../judge/two-policies.ts';
import type { Result } from '../judge/assess.ts';
import { findingsOf } from '../checks/findings.ts';
import {
  compareJsonLine,
  compareObject,
  compareRows,
  type CompareSeen,
  compareSeen,
  compareText,
} from '../output/compare.ts';
import { findingLine } from '../output/findings.ts';
import { judgeTroubled, judging, limitsNamed } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import type { TrialFile } from '../files/trial-files.ts';
import { missingPart } from '../world/exit.ts';
import { type Io, systemWords } from '../world/io.ts';
import { paintFor } from '../world/terminal.ts';
import { toolName } from '../world/tool.ts';

export type CompareShown = 'text' | 'json' | 'jsonl' | 'csv';

/** How trials are compared and shown: plain data, the same for all of a run. */
export interface ComparePlan {
  /** The limits in question, laid over the trials' own. */
  readonly limits: readonly string[];
  /** Those they are held against, laid over the trials' own. */
  readonly against: readonly string[];
  /** Both stand alone, but for `against` where it is empty: then the trials' own are meant. */
  readonly alone: boolean;
  readonly shown: CompareShown;
}

/** What a run needs of one trial: plain data. */
export interface CompareRecord {
  readonly seen: CompareSeen;
  /** This program failed on it. */
  readonly fault: boolean;
  /** For standard output. */
  readonly out: string;
  /** What is wrong with a file that is no trial. */
  readonly err: string;
}

export type CompareStep = (found: TrialFile) => CompareRecord | null;

/**
 * The step that is taken for each file.
 *
 * @returns where limits of the plan cannot be read, what is to be printed of their file; the exit code where there are
 * none of that name, which has been said
 */
export function compareStep(plan: ComparePlan, io: Io): CompareStep | CompareRecord | number {
  const limitsFiles = new LimitsFiles(io);
  const then = limitsNamed(plan.against, limitsFiles, io, plan.alone && plan.against.length > 0);
  if (typeof then === 'number') return then;
  const now = limitsNamed(plan.limits, limitsFiles, io, plan.alone);
  if (typeof now === 'number') return now;
  const printed: Readonly<Record<CompareShown, (one: Compared) => string>> = {
    text: (one) => compareText(one, paintFor(io)),
    json: (one) => compareObject(one, toolName()),
    jsonl: (one) => compareJsonLine(one, toolName()),
    csv: compareRows,
  };
  const record = (before: Result, after: Result, fault: boolean): CompareRecord => {
    const one = compared(before, after);
    const said = [...new Set([...errorLines(before), ...errorLines(after)])].join('');
    return { seen: compareSeen(one), fault, out: printed[plan.shown](one), err: said };
  };
  if (!('layers' in then)) return record(then, then, false);
  if (!('layers' in now)) return record(now, now, false);
  return (found) => {
    try {
      const troubled = judgeTroubled(found);
      if (troubled !== null) return record(troubled, troubled, false);
      const judge = judging(found.file, limitsFiles, io);
      const before = judge(then);
      if (found.met && before.isLimits) return null;
      return record(before.result, judge(now).result, false);
    } catch (error) {
      if (missingPart(error, io.root) !== null) throw error;
      const problem = { code: 'internal-fault', why: systemWords(error), path: [] } as const;
      const { file } = found;
      const invalid: Result = { file, verdict: 'invalid', findings: [{ problem, file, place: null }] };
      return record(invalid, invalid, true);
    }
  };
}

const errorLines = (result: Result): string[] =>
  result.verdict === 'invalid' ? findingsOf(result).map((finding) => `${findingLine(finding)}\n`) : [];
