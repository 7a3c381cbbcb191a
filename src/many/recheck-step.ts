import { findingsOf } from '../checks/findings.ts';
import { dirname, isAbsolute, join } from 'node:path';
import {
  caseOfState,
  recheckCase,
  recheckJsonLine,
  recheckLine,
  recheckObject,
  recheckText,
} from '../output/recheck.ts';
import { compareSeals, isNote, type Rechecked, type Remark, type State } from '../archive/compare.ts';
import type { Input } from '../archive/input.ts';
import { sealText } from '../archive/seal-text.ts';
import { LIMITS_NAME, readSeal } from '../archive/read-seal.ts';
import type { Seal } from '../archive/seal.ts';
import { severityOf } from '../problems/codes.ts';
import type { Problem } from '../problems/problem.ts';
import type { LimitLayer } from '../judge/limits.ts';
import { type CaseKind, junitCase } from '../output/junit.ts';
import { sealedFigure } from '../output/archive-words.ts';
import { decode } from '../world/decode.ts';
import { missingPart } from '../world/exit.ts';
import { type Io, systemWords } from '../world/io.ts';
import { type Judgement, judgeFound, judgeWithInputs, type Over } from '../files/judge-file.ts';
import { LimitsFiles, type Used } from '../files/limits-files.ts';
import { sealFor } from '../files/seal-for.ts';
import { sealNameOf } from '../files/seal-name.ts';
import { paintFor } from '../world/terminal.ts';
import { toolName } from '../world/tool.ts';
import type { TrialFile } from '../files/trial-files.ts';

/** What is printed of each re-checked trial. */
export type RecheckShown = 'text' | 'quiet' | 'json' | 'jsonl' | 'junit';

/** What a run needs of one re-checked trial: plain data. */
export interface RecheckRecord {
  readonly file: string;
  readonly state: State;
  /** This program failed on it. */
  readonly fault: boolean;
  readonly case: CaseKind;
  /** For standard output. */
  readonly out: string;
}

/** One trial re-checked; null where it is none, but a set of limits met in a folder. */
export type RecheckStep = (found: TrialFile) => RecheckRecord | null;

/** The step that is taken for each file. It keeps nothing of the files before but their limits. */
export function recheckStep(shown: RecheckShown, io: Io): RecheckStep {
  const limitsFiles = new LimitsFiles(io);
  const printed: Readonly<Record<RecheckShown, (one: Rechecked) => string>> = {
    text: (one) => recheckText(one, paintFor(io)),
    quiet: recheckLine,
    json: (one) => recheckObject(one, toolName()),
    jsonl: (one) => recheckJsonLine(one, toolName()),
    junit: (one) => junitCase(recheckCase(one)),
  };
  const record = (one: Rechecked, fault: boolean): RecheckRecord => {
    const { file, state } = one;
    return { file, state, fault, case: caseOfState(state), out: printed[shown](one) };
  };
  return (found) => {
    try {
      const one = recheckFound(found, limitsFiles, io);
      return one && record(one, false);
    } catch (error) {
      if (missingPart(error, io.root) !== null) throw error;
      // A fault of this program in one file is that file's, and keeps no other from being re-checked.
      const problem = { code: 'internal-fault', why: systemWords(error), path: [] } as const;
      const remarks = [{ code: 'problem', problem }] as const;
      return record({ file: found.file, state: 'unreadable', sealed: null, verdict: null, remarks }, true);
    }
  };
}

const NONE: Over = { layers: [], used: [] };

function recheckFound(found: TrialFile, limitsFiles: LimitsFiles, io: Io): Rechecked | null {
  const { file } = found;
  const without = (state: State, remarks: readonly Remark[]): Rechecked => ({
    file,
    state,
    sealed: null,
    verdict: null,
    remarks,
  });
  const openedSeal = found.trouble === null ? openSeal(file, io) : 'missing';
  if (openedSeal === 'missing') {
    const judged = judgeFound(found, NONE, limitsFiles, io);
    if (judged === null) return null;
    const { result } = judged;
    return result.verdict === 'invalid'
      ? without('unreadable', firstError(judged))
      : without('seal missing', [{ code: 'seal-missing' }]);
  }
  const same = 'text' in openedSeal ? unchanged(openedSeal.text, file, limitsFiles, io) : null;
  if (same !== null) return same;
  if (io.kind(file) === 'nothing') return without('unreadable', [{ code: 'trial-gone' }]);
  if ('remark' in openedSeal) return without(openedSeal.state, [openedSeal.remark]);
  const read = sealIn(openedSeal.text, io);
  if ('remark' in read) return without(read.state, [read.remark]);
  return against(read.seal, file, limitsFiles, io);
}

interface Unusable {
  readonly state: State;
  readonly remark: Remark;
}

type OpenedSeal = 'missing' | { readonly text: string } | Unusable;

/**
 * A trial whose seal would be written today as it stands, digest and all: nothing of it can have changed.
 * Null where it would not be; then the seal is read for what did.
 */
function unchanged(text: string, file: string, limitsFiles: LimitsFiles, io: Io): Rechecked | null {
  const names = overIn(text);
  if (names === null) return null;
  const over = overOf(names, dirname(file), limitsFiles);
  const judged = judgeWithInputs(file, over, limitsFiles, io);
  const { result } = judged;
  if (result.verdict === 'invalid') return null;
  const now = sealFor(result, judged, over.used.length, io);
  if (sealText(now, (content) => io.digest(content)) !== text) return null;
  const { verdict } = result;
  return { file, state: 'same', sealed: { tool: now.tool, verdict }, verdict, remarks: [] };
}

/** The line of a seal that names the limits laid over its trial. */
const OVER = /^ {2}"over": (\[.*\]),$/m;

/** The names of the limits laid over a sealed trial, of a text that may be anything. */
function overIn(text: string): string[] | null {
  try {
    const over = JSON.parse(OVER.exec(text)?.[1] ?? 'null') as unknown;
    const usable = (name: unknown): boolean => typeof name === 'string' && LIMITS_NAME.test(name);
    return Array.isArray(over) && over.every(usable) ? (over as string[]) : null;
  } catch {
    return null;
  }
}

/** What stands beside a trial as its seal. */
function openSeal(file: string, io: Io): OpenedSeal {
  if (file === '-') return 'missing';
  const name = sealNameOf(file);
  let bytes: Uint8Array;
  try {
    bytes = io.read(name);
  } catch (error) {
    if (io.kind(name) === 'nothing') return 'missing';
    return { state: 'unreadable', remark: { code: 'seal-unreadable', why: systemWords(error) } };
  }
  const decoded = decode(bytes);
  if ('problem' in decoded) {
    const code = decoded.problem.code === 'file-too-large' ? 'seal-too-large' : 'seal-altered';
    return { state: 'seal damaged', remark: { code } };
  }
  return { text: decoded.text };
}

/** The seal that a text holds. */
function sealIn(text: string, io: Io): { readonly seal: Seal } | Unusable {
  const read = readSeal(text, (content) => io.digest(content));
  if ('seal' in read) return read;
  return 'newer' in read
    ? { state: 'unreadable', remark: { code: 'seal-newer', format: read.newer } }
    : { state: 'seal damaged', remark: read.fault };
}

/** A trial judged anew, with the limits its seal was made with, and held against the seal. */
function against(seal: Seal, file: string, limitsFiles: LimitsFiles, io: Io): Rechecked {
  const over = overOf(seal.over, dirname(file), limitsFiles);
  const judged = judgeWithInputs(file, over, limitsFiles, io);
  const { result, used } = judged;
  const came = (state: State, remarks: readonly Remark[]): Rechecked => ({
    file,
    state,
    sealed: { tool: seal.tool, verdict: seal.verdict },
    verdict: result.verdict,
    remarks,
  });
  const verdictMoved: Remark[] =
    result.verdict === seal.verdict
      ? []
      : [{ code: 'verdict-moved', sealed: seal.verdict, now: result.verdict }];

  const [trial] = used;
  if (trial === undefined || trial.bytes === null) return came('unreadable', firstError(judged));
  const changedTrial = changedInputs(seal, [trial], 'trial', io);
  if (changedTrial.length > 0) return came('trial changed', [...changedTrial, ...verdictMoved]);

  const limits = used.slice(1);
  const unopened = limits.find(({ why }) => why !== null);
  if (unopened?.why != null) {
    const problem: Problem = { code: 'limits-unreadable', file: unopened.file, why: unopened.why, path: [] };
    return came('unreadable', [{ code: 'problem', problem }]);
  }
  const changedLimits = changedInputs(seal, limits, 'limits', io);
  if (result.verdict === 'invalid') {
    if (changedLimits.length > 0) return came('limits changed', [...changedLimits, ...verdictMoved]);
    return came('result changed', [...verdictMoved, ...firstError(judged)]);
  }
  const moved = compareSeals(seal, sealFor(result, judged, over.used.length, io), sealedFigure);
  // Another comment in a limits file is no other limit.
  if (changedLimits.length > 0 && moved.some(({ code }) => code === 'agreed-moved'))
    return came('limits changed', [...changedLimits, ...verdictMoved]);
  const remarks = [...moved, ...changedLimits.map(asNote)];
  return came(remarks.every(isNote) ? 'same' : 'result changed', remarks);
}

/** The limits laid over a trial when it was sealed, as far as they are still there. */
function overOf(over: readonly string[], folder: string, limitsFiles: LimitsFiles): Over {
  const fromHere = (used: Used): Used =>
    used.kind === 'limits' && !isAbsolute(used.file) ? { ...used, file: join(folder, used.file) } : used;
  return {
    layers: over.flatMap((name): LimitLayer[] => {
      const { layer } = limitsFiles.named(name, folder);
      return layer === null ? [] : [layer];
    }),
    used: over.map((name) => fromHere(limitsFiles.used(name, folder))),
  };
}

/** Sealed inputs, the trial or its limits, whose bytes are others now. */
function changedInputs(seal: Seal, now: readonly Used[], which: 'trial' | 'limits', io: Io): Remark[] {
  return seal.inputs
    .filter(({ kind }) => (kind === 'trial') === (which === 'trial'))
    .flatMap((input): Remark[] => {
      const same = now.find((used) => isSame(input, used));
      if (same === undefined) return [];
      const digest = same.bytes === null ? null : io.digest(same.bytes);
      return digest === input.sha256 ? [] : [{ code: 'input-changed', input, now: digest }];
    });
}

const asNote = (remark: Remark): Remark =>
  remark.code === 'input-changed' ? { ...remark, code: 'limits-file-differs' } : remark;

/** Of a trial it does not matter what it was called. */
const isSame = ({ kind, file }: Input, used: Used): boolean =>
  kind === used.kind && (kind === 'trial' || file === used.file);

function firstError({ result }: Judgement): Remark[] {
  const first = findingsOf(result).find(({ problem }) => severityOf(problem) === 'error');
  return first === undefined ? [] : [{ code: 'problem', problem: first.problem }];
}
