import { findingsOf } from '../checks/findings.ts';
import { basename, dirname, isAbsolute, join } from 'node:path';
import {
  caseOfState,
  recheckCase,
  recheckJsonLine,
  recheckLine,
  recheckObject,
  recheckText,
} from '../output/recheck.ts';
import {
  compareSeals,
  isNote,
  movedLimits,
  type Rechecked,
  type Remark,
  type State,
} from '../archive/compare.ts';
import type { Input } from '../archive/input.ts';
import { sealText } from '../archive/seal-text.ts';
import { LIMITS_NAME, readSeal } from '../archive/read-seal.ts';
import { movedReadings, readingsIn } from '../archive/readings.ts';
import { layerOfSeal } from '../archive/sealed-limits.ts';
import { type Seal, sealOf } from '../archive/seal.ts';
import { CATALOGUE } from '../figures/list.ts';
import type { Assessed } from '../judge/assess.ts';
import { severityOf } from '../problems/codes.ts';
import type { Problem } from '../problems/problem.ts';
import type { LimitLayer } from '../judge/limits.ts';
import { type CaseKind, junitCase } from '../output/junit.ts';
import { sealedFigure } from '../output/archive-words.ts';
import { decode } from '../world/decode.ts';
import { missingPart } from '../world/exit.ts';
import { type Io, systemWords } from '../world/io.ts';
import {
  inputsOf,
  judgeBy,
  type Judgement,
  judgeFound,
  judgeWithInputs,
  type Over,
} from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import type { Used } from '../files/open.ts';
import { photoInputs } from '../files/photos.ts';
import { sealFor } from '../files/seal-for.ts';
import { sealNameOf } from '../files/seal-name.ts';
import { paintFor } from '../world/terminal.ts';
import { toolName } from '../world/tool.ts';
import type { TrialFile } from '../files/trial-files.ts';

/** What is printed of each re-checked trial. */
export type RecheckShown = 'text' | 'quiet' | 'json' | 'jsonl' | 'junit';

/** How trials are re-checked and shown: plain data, the same for all of a run. */
export interface RecheckPlan {
  readonly shown: RecheckShown;
  /** Judge by the limits as the files give them now, not by those in the seal. */
  readonly currentLimits: boolean;
}

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

/** What a run needs of something re-checked, and whether this program failed on it. */
export function recheckRecord(
  shown: RecheckShown,
  io: Io,
): (one: Rechecked, fault: boolean) => RecheckRecord {
  const printed: Readonly<Record<RecheckShown, (one: Rechecked) => string>> = {
    text: (one) => recheckText(one, paintFor(io)),
    quiet: recheckLine,
    json: (one) => recheckObject(one, toolName()),
    jsonl: (one) => recheckJsonLine(one, toolName()),
    junit: (one) => junitCase(recheckCase(one)),
  };
  return (one, fault) => {
    const { file, state } = one;
    return { file, state, fault, case: caseOfState(state), out: printed[shown](one) };
  };
}

/** The step that is taken for each file. It keeps nothing of the files before but their limits. */
export function recheckStep({ shown, currentLimits }: RecheckPlan, io: Io): RecheckStep {
  const limitsFiles = new LimitsFiles(io);
  const record = recheckRecord(shown, io);
  return (found) => {
    try {
      const one = recheckFound(found, currentLimits, limitsFiles, io);
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

function recheckFound(
  found: TrialFile,
  currentLimits: boolean,
  limitsFiles: LimitsFiles,
  io: Io,
): Rechecked | null {
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
  return against(read.seal, file, currentLimits, limitsFiles, io);
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

/**
 * A trial judged anew and held against its seal. Where a limits file is not what it was, the limits in the seal are
 * those it is judged by, unless those of today are asked for.
 */
function against(
  seal: Seal,
  file: string,
  currentLimits: boolean,
  limitsFiles: LimitsFiles,
  io: Io,
): Rechecked {
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
  const changedTrial = changedInputs(seal, inputsOf(used, io), ['trial', 'table', 'document', 'usage']);
  if (changedTrial.length > 0) {
    const moved =
      result.verdict === 'invalid'
        ? firstError(judged)
        : movedReadings(seal.readings, readingsIn(result.source.data)).map((reading): Remark => ({
            code: 'reading-moved',
            reading,
          }));
    return came('trial changed', [...changedTrial, ...moved, ...verdictMoved]);
  }

  const limits = used.filter(({ kind }) => kind === 'limits' || kind === 'preset');
  const changedLimits = changedInputs(seal, inputsOf(limits, io), ['limits', 'preset']);
  if (changedLimits.length > 0 && !currentLimits) {
    const sealedLayer = layerOfSeal(seal, CATALOGUE);
    if (sealedLayer !== null) return bySealed(seal, file, sealedLayer, judged, over, changedLimits, io);
  }
  const unopened = limits.find(({ why }) => why !== null);
  if (unopened?.why != null) {
    const problem: Problem = { code: 'limits-unreadable', file: unopened.file, why: unopened.why, path: [] };
    return came('unreadable', [{ code: 'problem', problem }]);
  }
  if (result.verdict === 'invalid') {
    if (changedLimits.length > 0) return came('limits changed', [...changedLimits, ...verdictMoved]);
    return came('result changed', [...verdictMoved, ...firstError(judged)]);
  }
  const now = sealFor(result, judged, over.used.length, io);
  const photos = changedPhotos(seal, result, io);
  if (photos.length > 0) return came('trial changed', photos);
  const moved = compareSeals(seal, now, sealedFigure);
  // Another comment in a limits file is no other limit.
  if (changedLimits.length > 0 && moved.some(({ code }) => code === 'agreed-moved'))
    return came('limits changed', [
      ...changedLimits,
      ...movedLimits(seal.limits, now.limits),
      ...verdictMoved,
    ]);
  const remarks = [...moved, ...changedLimits.map(asNote)];
  return came(remarks.every(isNote) ? 'same' : 'result changed', remarks);
}

/** A trial judged by the limits in its seal, with a note on every limits file that is not what it was. */
function bySealed(
  seal: Seal,
  file: string,
  layer: LimitLayer,
  today: Judgement,
  over: Over,
  changedLimits: readonly Remark[],
  io: Io,
): Rechecked {
  // A seal holds no usage file; one that is another now has been told before.
  const nonImageUsage = today.result.verdict === 'invalid' ? null : today.result.agreed.nonImageUsage;
  const result = judgeBy(file, { ...layer, nonImageUsage }, io);
  const came = (state: State, remarks: readonly Remark[]): Rechecked => ({
    file,
    state,
    sealed: { tool: seal.tool, verdict: seal.verdict },
    verdict: result.verdict,
    remarks,
  });
  const verdictMoved: Remark = { code: 'verdict-moved', sealed: seal.verdict, now: result.verdict };
  if (result.verdict === 'invalid')
    return came('result changed', [verdictMoved, ...firstError({ ...today, result })]);
  const photos = changedPhotos(seal, result, io);
  if (photos.length > 0) return came('trial changed', photos);
  const now = sealOf(result, {
    tool: toolName(),
    file: basename(file),
    inputs: seal.inputs,
    over: seal.over,
    nameOf: ({ name }) => name,
  });
  const moved = compareSeals(seal, now, sealedFigure);
  const remarks = [...moved, ...changedLimits.map(asNote), ...byToday(seal, today, over, io)];
  return came(remarks.every(isNote) ? 'same' : 'result changed', remarks);
}

/** What the limits of today would change, as far as they can be read. */
function byToday(seal: Seal, today: Judgement, over: Over, io: Io): Remark[] {
  const { result, used } = today;
  const missing = over.used.length < seal.over.length || used.some(({ bytes }) => bytes === null);
  if (result.verdict === 'invalid' || missing) return [];
  const now = sealFor(result, today, over.used.length, io);
  const moved = movedLimits(seal.limits, now.limits);
  return now.verdict === seal.verdict
    ? moved
    : [...moved, { code: 'verdict-by-current-limits', sealed: seal.verdict, now: now.verdict }];
}

/** Photos that are not what was sealed. */
function changedPhotos(seal: Seal, result: Assessed, io: Io): Remark[] {
  if (!seal.inputs.some(({ kind }) => kind === 'photo')) return [];
  return changedInputs(seal, photoInputs(result.trial, result.file, io).inputs, ['photo']);
}

/** The limits laid over a trial when it was sealed, as far as they are still there. */
function overOf(over: readonly string[], folder: string, limitsFiles: LimitsFiles): Over {
  const fromHere = (used: Used): Used =>
    used.kind === 'preset' ? used : { ...used, file: join(folder, used.file) };
  // A seal of before may name a file in full: of the folder it was sealed in, which need not be this one.
  const here = over.filter((name) => !isAbsolute(name));
  return {
    layers: here.flatMap((name): LimitLayer[] => {
      const { layer } = limitsFiles.named(name, folder);
      return layer === null ? [] : [layer];
    }),
    used: here.map((name) => fromHere(limitsFiles.used(name, folder))),
    further: here.flatMap((name) => limitsFiles.further(name, folder)).map(fromHere),
  };
}

/** Sealed inputs of some kinds whose bytes are others now, or are no longer there. */
const changedInputs = (seal: Seal, now: readonly Input[], kinds: readonly Input['kind'][]): Remark[] =>
  seal.inputs
    .filter(({ kind }) => kinds.includes(kind))
    .flatMap((input): Remark[] => {
      const digest = now.find((one) => isSame(input, one))?.sha256 ?? null;
      return digest === input.sha256 ? [] : [{ code: 'input-changed', input, now: digest }];
    });

const asNote = (remark: Remark): Remark =>
  remark.code === 'input-changed' ? { ...remark, code: 'limits-file-differs' } : remark;

/** Of a trial it does not matter what it was called. */
const isSame = ({ kind, file }: Input, now: Input): boolean =>
  kind === now.kind && (kind === 'trial' || file === now.file);

function firstError({ result }: Judgement): Remark[] {
  const first = findingsOf(result).find(({ problem }) => severityOf(problem) === 'error');
  return first === undefined ? [] : [{ code: 'problem', problem: first.problem }];
}
