import { findingsOf } from '../checks/findings.ts';
import type { Result } from '../judge/assess.ts';
import { strictly } from '../checks/caveats.ts';
import { findingLine } from '../output/findings.ts';
import { harmless } from '../output/harmless.ts';
import { jsonLine, jsonObject } from '../output/json.ts';
import { junitCase } from '../output/junit.ts';
import { verdictCase } from '../output/junit-verdict.ts';
import { type LimitSeen, limitsSeen } from '../output/summary.ts';
import { text } from '../output/text.ts';
import { type Column, columnOf, csvRow } from '../output/verdict-csv.ts';
import { missingPart } from '../world/exit.ts';
import { type Io, systemWords } from '../world/io.ts';
import { judgeFound, limitsNamed } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import { paintFor } from '../world/terminal.ts';
import { toolName } from '../world/tool.ts';
import type { TrialFile } from '../files/trial-files.ts';

/** What is printed of each trial. */
export type Shown = 'text' | 'quiet' | 'summary' | 'json' | 'jsonl' | 'csv' | 'junit';

/** How trials are judged and shown: plain data, the same for all of a run. */
export interface VerdictPlan {
  readonly limits: readonly string[];
  /** The limits stand alone, without those of the trials. */
  readonly alone: boolean;
  readonly shown: Shown;
  /** Whatever must be known before relying on a verdict keeps a trial from passing. */
  readonly strict: boolean;
  /** Names of columns, of which each is one. */
  readonly columns: readonly string[];
}

/** What a run needs of one trial: plain data. */
export interface VerdictRecord {
  readonly file: string;
  readonly verdict: Result['verdict'];
  /** This program failed on it. */
  readonly fault: boolean;
  /** For standard output. */
  readonly out: string;
  /** For standard error, where standard output does not say what is wrong. */
  readonly err: string;
  /** What is wrong with a file that is no trial, for where it is not printed itself. */
  readonly errors: string;
  /** For the table over all trials; empty where none is asked for. */
  readonly limits: readonly LimitSeen[];
  /** Heads of the columns whose part this trial has. */
  readonly parts: readonly string[];
}

/** One trial file judged; null where it is none, but a set of limits met in a folder. */
export type VerdictStep = (found: TrialFile) => VerdictRecord | null;

/**
 * The step that is taken for each file. It keeps nothing of the files before but their limits, so that
 * any number of them may be taken one after the other, or beside each other.
 *
 * @returns where the limits of the plan cannot be read, what is to be printed of their file; the exit code where there
 * are none of that name, which has been said
 */
export function verdictStep(plan: VerdictPlan, io: Io): VerdictStep | VerdictRecord | number {
  const limitsFiles = new LimitsFiles(io);
  const over = limitsNamed(plan.limits, limitsFiles, io, plan.alone);
  if (typeof over === 'number') return over;
  const columns = plan.columns.flatMap((name): Column[] => {
    const column = columnOf(name);
    return column === null ? [] : [column];
  });
  const printed: Readonly<Record<Shown, (result: Result) => string>> = {
    text: (result) => text(result, paintFor(io)),
    quiet: quietLine,
    summary: quietLine,
    json: (result) => jsonObject(result, toolName()),
    jsonl: (result) => jsonLine(result, toolName()),
    csv: (result) => csvRow(columns, result),
    junit: (result) => junitCase(verdictCase(result)),
  };
  const saysErrors = ['text', 'json', 'jsonl', 'junit'].includes(plan.shown);
  const record = (result: Result, fault: boolean): VerdictRecord => ({
    file: result.file,
    verdict: result.verdict,
    fault,
    out: printed[plan.shown](result),
    err: result.verdict === 'invalid' && !saysErrors ? errorLines(result) : '',
    errors: result.verdict === 'invalid' ? errorLines(result) : '',
    limits: plan.shown === 'summary' ? limitsSeen(result) : [],
    parts: columns.flatMap(({ head, hasPart }) => (hasPart?.(result) ? head : [])),
  });
  if (!('layers' in over)) return record(over, false);
  return (found) => {
    try {
      const judged = judgeFound(found, over, limitsFiles, io);
      if (judged === null) return null;
      const { result } = judged;
      return record(plan.strict && result.verdict !== 'invalid' ? strictly(result) : result, false);
    } catch (error) {
      if (missingPart(error, io.root) !== null) throw error;
      // A fault of this program in one file is that file's, and keeps no other from being judged.
      return record(faultOf(found.file, error), true);
    }
  };
}

/** What is reported of a file that this program failed on. */
function faultOf(file: string, error: unknown): Result {
  const problem = { code: 'internal-fault', why: systemWords(error), path: [] } as const;
  return { file, verdict: 'invalid', findings: [{ problem, file, place: null }] };
}

const quietLine = ({ verdict, file }: Result): string => `${verdict}\t${harmless(file)}\n`;

const errorLines = (result: Result): string =>
  findingsOf(result)
    .map((finding) => `${findingLine(finding)}\n`)
    .join('');
