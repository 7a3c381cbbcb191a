import { cartridgeLine, cartridgeRow, cartridgesData } from '../output/pool-cartridges.ts';
import { type Followed, type Taken, takenFrom } from '../pool/gathered.ts';
import { judgeFound, limitsOver } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import type { TrialFile } from '../files/trial-files.ts';
import type { Io } from '../world/io.ts';
import { toolName } from '../world/tool.ts';
import { faultLine } from './gather.ts';

/** How trials are pooled: plain data, the same for all of a run. */
export interface PoolPlan {
  readonly limits: readonly string[];
  readonly followed: Followed | null;
  /** How each cartridge is written in a table of them; null where none is asked for. */
  readonly rows: 'csv' | 'jsonl' | null;
}

/** What pooling needs of one file: plain data. */
export interface PoolRecord {
  readonly file: string;
  /** SHA-256 of its bytes; empty where it could not be opened. */
  readonly digest: string;
  /** Null of a file that is no trial. */
  readonly taken: Taken | null;
  /** What is wrong with one. */
  readonly err: string;
  /** Its cartridges as lines of a table. */
  readonly lines: readonly string[];
}

/** One trial taken in; null where it is none, but a set of limits met in a folder. */
export type PoolStep = (found: TrialFile) => PoolRecord | null;

/**
 * The step that is taken for each file.
 *
 * @returns the exit code where the limits of the plan cannot be used; that has been said
 */
export function poolStep({ limits, followed, rows }: PoolPlan, io: Io): PoolStep | number {
  const limitsFiles = new LimitsFiles(io);
  const over = limitsOver(limits, limitsFiles, io);
  if (typeof over === 'number') return over;
  return (found) => {
    const judged = judgeFound(found, over, limitsFiles, io);
    if (judged === null) return null;
    const { result, used } = judged;
    if (result.verdict === 'invalid') {
      return { file: result.file, digest: '', taken: null, err: faultLine(result.findings), lines: [] };
    }
    const bytes = used.find(({ kind }) => kind === 'trial')?.bytes;
    const line =
      rows === 'csv'
        ? cartridgeRow
        : (one: ReturnType<typeof cartridgesData>[number]) => cartridgeLine(one, toolName());
    return {
      file: result.file,
      digest: bytes ? io.digest(bytes) : '',
      taken: takenFrom(result, followed),
      err: '',
      lines: rows === null ? [] : cartridgesData(result).map(line),
    };
  };
}
