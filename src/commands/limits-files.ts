import { dirname, isAbsolute, join } from 'node:path';
import { CATALOGUE } from '../figures/list.ts';
import { find, type Finding } from '../checks/assess.ts';
import { isFileName, layerOf, type LimitLayer, partsOf } from '../limits/limits.ts';
import { nearest } from '../trial/nearest.ts';
import { readLimitSet } from '../trial/read.ts';
import { decode, readSource, type Source, unreadable } from '../trial/source.ts';
import type { Trial } from '../trial/trial.ts';
import type { Path } from '../uncertainty/path.ts';
import { type Io, sharedFolder, systemWords } from './io.ts';

/** A file as a source, whatever becomes of it. */
export function openSource(io: Io, file: string, shownAs = file): Source {
  let bytes: Uint8Array;
  try {
    bytes = io.read(file);
  } catch (error) {
    return unreadable(shownAs, { code: 'file-unreadable', why: systemWords(error), path: [] });
  }
  const decoded = decode(bytes);
  return 'text' in decoded ? readSource(shownAs, decoded.text) : unreadable(shownAs, decoded.problem);
}

/** Limits from a file or preset: a layer, or what is wrong with it. */
export interface NamedLimits {
  readonly layer: LimitLayer | null;
  readonly findings: readonly Finding[];
  /** There is no preset of this name. */
  readonly unknown: boolean;
}

/** Reads limits by name, each file or preset once. */
export class LimitsFiles {
  private readonly known = new Map<string, NamedLimits>();

  constructor(private readonly io: Io) {}

  presets(): string[] {
    return this.io
      .list(sharedFolder(this.io, 'limits'))
      .filter(isFileName)
      .map((file) => file.replace(/\.ya?ml$/i, ''))
      .toSorted();
  }

  /** Limits by name; a file's name is taken from `folder`. */
  named(name: string, folder: string): NamedLimits {
    const file = isFileName(name);
    const path = file
      ? isAbsolute(name)
        ? name
        : join(folder, name)
      : sharedFolder(this.io, 'limits', `${name}.yaml`);
    const known = this.known.get(path);
    if (known !== undefined) return known;
    const read =
      !file && !this.presets().includes(name)
        ? UNKNOWN
        : this.read(path, file ? path : `preset ${name}`, file);
    this.known.set(path, read);
    return read;
  }

  private read(path: string, shownAs: string, file: boolean): NamedLimits {
    const source = openSource(this.io, path, shownAs);
    const { limits, problems } = readLimitSet(source, CATALOGUE);
    if (limits === null) {
      return { layer: null, findings: problems.map((problem) => find(problem, source)), unknown: false };
    }
    const origin = { kind: file ? ('file' as const) : ('preset' as const), name: shownAs };
    const { layer, problems: faults } = layerOf(limits, origin, [], CATALOGUE);
    return { layer, findings: faults.map((problem) => find(problem, source)), unknown: false };
  }

  /** The layers a trial names under `limits`, in order, and everything wrong with them. */
  ofTrial(trial: Trial, source: Source): { layers: LimitLayer[]; findings: Finding[] } {
    const layers: LimitLayer[] = [];
    const findings: Finding[] = [];
    const folder = source.file === '-' ? '.' : dirname(source.file);
    for (const part of partsOf(trial.limits)) {
      if ('set' in part) {
        const { layer, problems } = layerOf(part.set, { kind: 'inline' }, part.path, CATALOGUE);
        layers.push(layer);
        findings.push(...problems.map((problem) => find(problem, source)));
        continue;
      }
      const named = this.named(part.name, folder);
      if (named.layer) layers.push(named.layer);
      findings.push(
        ...(named.unknown
          ? [this.unknownPreset(part.name, part.path, source)]
          : named.findings.map((finding) => seenFrom(finding, part.path, source))),
      );
    }
    return { layers, findings };
  }

  private unknownPreset(preset: string, path: Path, source: Source): Finding {
    const known = this.presets();
    return find({ code: 'unknown-preset', preset, known, nearest: nearest(preset, known), path }, source);
  }
}

const UNKNOWN: NamedLimits = { layer: null, findings: [], unknown: true };

/** A limits file that cannot be opened is shown where the trial names it; what is wrong inside, where it is. */
function seenFrom(finding: Finding, path: Path, source: Source): Finding {
  const { problem, file } = finding;
  if (problem.code !== 'file-unreadable') return finding;
  return find({ code: 'limits-unreadable', file, why: problem.why, path }, source);
}
