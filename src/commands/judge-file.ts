import { assess, find, type Result } from '../checks/assess.ts';
import { CATALOGUE, FIGURES } from '../figures/list.ts';
import type { LimitLayer } from '../limits/limits.ts';
import { findingLine } from '../output/findings.ts';
import { harmless } from '../output/harmless.ts';
import { readTrial } from '../trial/read.ts';
import { EXIT } from './exit.ts';
import type { Io } from './io.ts';
import { type LimitsFiles, openSource } from './limits-files.ts';

/** A trial file read, derived and judged; `over` are limits laid over its own. */
export function judgeFile(
  file: string,
  over: readonly LimitLayer[],
  limitsFiles: LimitsFiles,
  io: Io,
): Result {
  const source = openSource(io, file);
  const { trial, problems } = readTrial(source, CATALOGUE);
  const read = problems.map((problem) => find(problem, source));
  if (trial === null) return { file, verdict: 'invalid', findings: read };
  const { layers, findings } = limitsFiles.ofTrial(trial, source);
  return assess(trial, source, [...layers, ...over], FIGURES, [...read, ...findings]);
}

/** The layers that `--limits` names, or the exit code when one of them cannot be used; that has been said. */
export function layersOver(
  names: readonly string[],
  limitsFiles: LimitsFiles,
  io: Io,
): LimitLayer[] | number {
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
    if (named.layer === null || named.findings.length > 0) {
      io.err(named.findings.map((finding) => `${findingLine(finding)}\n`).join(''));
      return EXIT.unreadable;
    }
    layers.push(named.layer);
  }
  return layers;
}
