import { dirname, isAbsolute, join } from 'node:path';
import { CATALOGUE } from '../figures/list.ts';
import { find, type Finding } from '../text/finding.ts';
import { isFileName, layerOf, type LimitLayer, partsOf } from '../judge/limits.ts';
import { nearest } from '../trial/nearest.ts';
import { readLimitSet } from '../trial/read.ts';
import type { Source } from '../text/source.ts';
import type { Trial } from '../trial/trial.ts';
import type { LimitSetData } from '../trial/schema/limits.ts';
import type { Usage } from '../trial/usage/usage.ts';
import { otherModel, usageRead } from '../trial/usage/with-usage.ts';
import type { Problem } from '../problems/problem.ts';
import type { Path } from '../uncertainty/path.ts';
import { nameFrom } from './name-from.ts';
import { open, type Used } from './open.ts';
import { usageFrom } from './usage.ts';
import { type Io, sharedFolder } from '../world/io.ts';

/** Limits from a file or preset: a layer, or what is wrong with it. */
export interface NamedLimits {
  readonly layer: LimitLayer | null;
  readonly findings: readonly Finding[];
  /** There is no preset of this name. */
  readonly unknown: boolean;
  /** The usage file that they name, by its path. */
  readonly further: readonly Used[];
  readonly bytes: Uint8Array | null;
}

/** More sets of limits than a house has; a large archive may hold one for each of its folders. */
const MOST_KEPT = 200;

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
    if (this.known.size >= MOST_KEPT) this.known.clear();
    this.known.set(path, read);
    return read;
  }

  private read(path: string, shownAs: string, file: boolean): NamedLimits {
    const { source, bytes } = open(this.io, path, shownAs);
    const { limits, problems } = readLimitSet(source, CATALOGUE);
    if (limits === null) {
      const findings = problems.map((problem) => find(problem, source));
      return { layer: null, findings, unknown: false, bytes, further: [] };
    }
    const origin = { kind: file ? ('file' as const) : ('preset' as const), name: shownAs };
    const { layer, problems: faults } = layerOf(limits, origin, [], CATALOGUE);
    const further: Used[] = [];
    const usage = usageNamed(
      limits,
      dirname(path),
      join(dirname(path), limits.non_image_usage ?? ''),
      further,
      this.io,
    );
    return {
      layer: { ...layer, nonImageUsage: usage.usage },
      findings: [...faults, ...usage.problems].map((problem) => find(problem, source)),
      unknown: false,
      bytes,
      further,
    };
  }

  /** Limits by name as a file that a verdict rests on. */
  used(name: string, folder: string): Used {
    const { bytes, findings } = this.named(name, folder);
    const unopened = findings.find(({ problem }) => problem.code === 'file-unreadable')?.problem;
    const why = unopened?.code === 'file-unreadable' ? unopened.why : null;
    return { kind: isFileName(name) ? 'limits' : 'preset', file: name, bytes, why };
  }

  /** The usage file that limits name, as a file that a verdict rests on. */
  further(name: string, folder: string): Used[] {
    return this.named(name, folder).further.map((one) => ({
      ...one,
      file: isAbsolute(name) ? one.file : nameFrom(folder, one.file, this.io),
    }));
  }

  /** The layers a trial names under `limits`, in order, and everything wrong with them. */
  ofTrial(trial: Trial, source: Source): { layers: LimitLayer[]; findings: Finding[]; used: Used[] } {
    const layers: LimitLayer[] = [];
    const used: Used[] = [];
    const findings: Finding[] = [];
    const folder = source.file === '-' ? '.' : dirname(source.file);
    let said: { readonly name: string; readonly usage: Usage; readonly path: Path } | null = null as {
      name: string;
      usage: Usage;
      path: Path;
    } | null;
    for (const part of partsOf(trial.limits)) {
      if ('set' in part) {
        const { layer, problems } = layerOf(part.set, { kind: 'inline' }, part.path, CATALOGUE);
        const usage = usageNamed(part.set, folder, part.set.non_image_usage ?? '', used, this.io);
        layers.push({ ...layer, nonImageUsage: usage.usage });
        const all = [
          ...problems,
          ...usage.problems.map((one) => ({ ...one, path: [...part.path, ...one.path] })),
        ];
        findings.push(...all.map((problem) => find(problem, source)));
        if (usage.usage) said = { name: part.set.non_image_usage ?? '', usage: usage.usage, path: part.path };
        continue;
      }
      const named = this.named(part.name, folder);
      used.push(this.used(part.name, folder), ...this.further(part.name, folder));
      if (named.layer) layers.push(named.layer);
      if (named.layer?.nonImageUsage)
        said = {
          name: this.further(part.name, folder)[0]?.file ?? part.name,
          usage: named.layer.nonImageUsage,
          path: part.path,
        };
      findings.push(
        ...(named.unknown
          ? [this.unknownPreset(part.name, part.path, source)]
          : named.findings.map((finding) => seenFrom(finding, part.path, source))),
      );
    }
    if (said !== null && trial.data.non_image_usage == null) {
      const { name, usage, path } = said;
      const model = trial.data.machine?.model;
      const told = [
        usageRead(name, usage, usage.slots),
        ...(model == null ? [] : otherModel(name, usage, model)),
      ];
      findings.push(...told.map((fault) => find({ ...fault, path }, source)));
    }
    return { layers, findings, used };
  }

  private unknownPreset(preset: string, path: Path, source: Source): Finding {
    const known = this.presets();
    return find({ code: 'unknown-preset', preset, known, nearest: nearest(preset, known), path }, source);
  }
}

const UNKNOWN: NamedLimits = { layer: null, findings: [], unknown: true, bytes: null, further: [] };

/** The usage file that limits name, from their folder. */
function usageNamed(
  { non_image_usage: name }: LimitSetData,
  folder: string,
  shownAs: string,
  used: Used[],
  io: Io,
): { readonly usage: Usage | null; readonly problems: readonly Problem[] } {
  if (name == null) return { usage: null, problems: [] };
  const opened = usageFrom(name, folder, shownAs, used, io);
  return 'code' in opened
    ? { usage: null, problems: [{ ...opened, path: ['non_image_usage'] }] }
    : { usage: opened, problems: [] };
}

/** A limits file that cannot be opened is shown where the trial names it; what is wrong inside, where it is. */
function seenFrom(finding: Finding, path: Path, source: Source): Finding {
  const { problem, file } = finding;
  if (problem.code !== 'file-unreadable') return finding;
  return find({ code: 'limits-unreadable', file, why: problem.why, path }, source);
}
