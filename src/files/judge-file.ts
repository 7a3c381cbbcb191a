import { dirname } from 'node:path';
import type { Input } from '../archive/input.ts';
import { assess, type Assessed, type Invalid, type Result } from '../judge/assess.ts';
import { readMix } from '../forecast/read-mix.ts';
import { find } from '../text/finding.ts';
import { CATALOGUE, FIGURES } from '../figures/list.ts';
import type { LimitLayer } from '../judge/limits.ts';
import { findingLine } from '../output/findings.ts';
import { harmless } from '../output/harmless.ts';
import { readLimitSet } from '../trial/read.ts';
import type { Source } from '../text/source.ts';
import type { Trial } from '../trial/trial.ts';
import { readUsage } from '../trial/usage/read-usage.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { LimitsFiles } from './limits-files.ts';
import type { Used } from './open.ts';
import { nameFrom } from './name-from.ts';
import { openTrial } from './open-trial.ts';
import { Refused } from '../world/refused.ts';
import type { TrialFile } from './trial-files.ts';

/** A judged trial with the files its verdict rests on. */
export interface Judgement {
  readonly result: Result;
  /** The trial first, then the tables and the limits it names, then those laid over it. */
  readonly used: readonly Used[];
  /** It is a set of limits, a mix of pages or a usage file, as they stand in a folder beside the trials. */
  readonly isLimits: boolean;
}

/** Limits laid over a trial's own, with the files they come from. */
export interface Over {
  readonly layers: readonly LimitLayer[];
  readonly used: readonly Used[];
  /** Usage files that they name. */
  readonly further?: readonly Used[];
  /** They stand alone: what the trial itself is held against is left out. */
  readonly alone?: boolean;
}

/** A trial file read once, derived and judged, with everything its verdict rests on. */
export const judgeWithInputs = (file: string, over: Over, limitsFiles: LimitsFiles, io: Io): Judgement =>
  judging(file, limitsFiles, io)(over);

/** A trial file read once, to be judged under one set of limits after the other. */
export function judging(file: string, limitsFiles: LimitsFiles, io: Io): (over: Over) => Judgement {
  const { trial, problems, source, used: own } = openTrial(file, io);
  const read = problems.map((problem) => find(problem, source));
  if (trial === null) {
    const result = { file, verdict: 'invalid', findings: read } as const;
    const isLimits = own[0]?.bytes != null && standsBeside(source);
    return () => ({ result, used: own, isLimits });
  }
  return (over) => {
    const { layers, findings, used } = over.alone ? NO_LIMITS : limitsFiles.ofTrial(trial, source);
    const result = assess(trial, source, [...layers, ...over.layers], FIGURES, [...read, ...findings]);
    return {
      result,
      used: [
        ...own,
        ...used,
        ...[...(over.further ?? []), ...over.used].map((one) => seenFrom(file, one, io)),
      ],
      isLimits: false,
    };
  };
}

const NO_LIMITS = { layers: [], findings: [], used: [] };

/** A file of the command line as a trial would name it: from the trial's folder. */
function seenFrom(trial: string, used: Used, io: Io): Used {
  if (used.kind !== 'limits' && used.kind !== 'usage') return used;
  return { ...used, file: nameFrom(trial === '-' ? '.' : dirname(trial), used.file, io) };
}

/** A trial judged by one set of limits alone, whatever it names itself. */
export function judgeBy(file: string, layer: LimitLayer, io: Io): Result {
  const { trial, problems, source } = openTrial(file, io);
  const read = problems.map((problem) => find(problem, source));
  return trial === null
    ? { file, verdict: 'invalid', findings: read }
    : assess(trial, source, [layer], FIGURES, read);
}

/** What there is to say where there was nothing to read; null where there is. */
export function judgeTroubled({ file, trouble }: TrialFile): Invalid | null {
  if (trouble === null) return null;
  return { file, verdict: 'invalid', findings: [{ problem: { ...trouble, path: [] }, file, place: null }] };
}

/** What was found, judged; null where it is a set of limits, or a mix, that stands in a folder beside its trials. */
export function judgeFound(
  { file, met, trouble }: TrialFile,
  over: Over,
  limitsFiles: LimitsFiles,
  io: Io,
): Judgement | null {
  const troubled = judgeTroubled({ file, met, trouble });
  if (troubled !== null) return { result: troubled, used: [], isLimits: false };
  const judged = judgeWithInputs(file, over, limitsFiles, io);
  return met && judged.isLimits ? null : judged;
}

/** A set of limits, a mix of pages or a usage file: no trial, and nothing wrong with it. */
function standsBeside(source: Source): boolean {
  const { data } = source;
  if (data === null || typeof data !== 'object' || 'trial' in data || 'meter' in data) return false;
  if ('kinds' in data) return readMix(source).mix !== null;
  if ('usage' in data) return readUsage(source).usage !== null;
  return readLimitSet(source, CATALOGUE).limits !== null;
}

/** A trial file read, derived and judged; `over` are limits laid over its own. */
export const judgeFile = (
  file: string,
  over: readonly LimitLayer[],
  limitsFiles: LimitsFiles,
  io: Io,
): Result => judgeWithInputs(file, { layers: over, used: [] }, limitsFiles, io).result;

/** The digests of the files a verdict rests on, each once; what could not be opened is left out. */
export function inputsOf(used: readonly Used[], io: Io): Input[] {
  const inputs = new Map<string, Input>();
  for (const { kind, file, bytes } of used) {
    if (bytes === null) continue;
    const key = JSON.stringify([kind, file]);
    if (!inputs.has(key)) inputs.set(key, { kind, file, sha256: io.digest(bytes) });
  }
  return [...inputs.values()];
}

/**
 * The limits that `--limits` names. Where one of them is no set of limits, that file as what could not be read; the
 * exit code of wrong usage where there is no such preset, which has been said.
 */
export function limitsNamed(
  names: readonly string[],
  limitsFiles: LimitsFiles,
  io: Io,
  alone = false,
): Over | Invalid | number {
  const layers: LimitLayer[] = [];
  for (const name of names) {
    const named = limitsFiles.named(name, '.');
    if (named.unknown) {
      const presets = limitsFiles.presets().join(', ');
      io.err(
        `tallytare: there is no preset "${harmless(name)}"; the presets are ${presets}, and a file ends in .yaml or .yml\n`,
      );
      return EXIT.usage;
    }
    if (named.layer === null || named.findings.length > 0)
      return { file: named.findings[0]?.file ?? name, verdict: 'invalid', findings: named.findings };
    layers.push(named.layer);
  }
  return {
    layers,
    used: names.map((name) => limitsFiles.used(name, '.')),
    further: names.flatMap((name) => limitsFiles.further(name, '.')),
    alone,
  };
}

/** The same, or the exit code when one of them cannot be used; that has been said. */
export function limitsOver(names: readonly string[], limitsFiles: LimitsFiles, io: Io): Over | number {
  const over = limitsNamed(names, limitsFiles, io);
  if (typeof over === 'number' || 'layers' in over) return over;
  io.err(over.findings.map((finding) => `${findingLine(finding)}\n`).join(''));
  return EXIT.unreadable;
}

/** The layers that `--limits` names, or the exit code when one of them cannot be used. */
export function layersOver(
  names: readonly string[],
  limitsFiles: LimitsFiles,
  io: Io,
): readonly LimitLayer[] | number {
  const over = limitsOver(names, limitsFiles, io);
  return typeof over === 'number' ? over : over.layers;
}

/** A trial for commands that need it judged. @throws Refused where it, or its limits, cannot be used; once said */
export function judgedTrial(file: string, limits: readonly string[], io: Io): Assessed {
  const limitsFiles = new LimitsFiles(io);
  const over = layersOver(limits, limitsFiles, io);
  if (typeof over === 'number') throw new Refused(over);
  const result = judgeFile(file, over, limitsFiles, io);
  if (result.verdict !== 'invalid') return result;
  io.err(result.findings.map((finding) => `${findingLine(finding)}\n`).join(''));
  throw new Refused(EXIT.unreadable);
}

/** A trial for commands that need no more than its readings. @throws Refused where it cannot be read; once said */
export function trialIn(file: string, io: Io): { readonly trial: Trial; readonly source: Source } {
  const { trial, problems, source } = openTrial(file, io);
  if (trial !== null) return { trial, source };
  io.err(problems.map((problem) => `${findingLine(find(problem, source))}\n`).join(''));
  throw new Refused(EXIT.unreadable);
}
