import type { Assessed, Invalid } from '../judge/assess.ts';
import { type Judgement, judgeFound, type Over } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import type { TrialFile } from '../files/trial-files.ts';
import { findingLine } from '../output/findings.ts';
import { harmless } from '../output/harmless.ts';
import { type Gathered, mixtureIn } from '../pool/gathered.ts';
import { severityOf } from '../problems/codes.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { Refused } from '../world/refused.ts';

/** What is done with each file that was judged, beside taking it in. */
interface Each {
  readonly valid?: (result: Assessed, judged: Judgement) => void;
  readonly invalid: (result: Invalid) => void;
}

/**
 * Takes the trials among `files` in, one after the other; files that hold limits are passed over.
 * `digests` has the trials taken in before, by the digest of their bytes.
 * @throws Refused where one trial is given twice: its cartridges would count twice
 */
export function gather(
  files: readonly TrialFile[],
  judge: (file: TrialFile) => Judgement | null,
  into: { take(result: Assessed): void },
  digests: Map<string, string>,
  each: Each,
  io: Io,
): void {
  for (const [index, file] of files.entries()) {
    io.progress(index + 1, files.length);
    const judged = judge(file);
    if (judged === null) continue;
    const { result } = judged;
    if (result.verdict === 'invalid') {
      each.invalid(result);
      continue;
    }
    const bytes = judged.used.find(({ kind }) => kind === 'trial')?.bytes;
    if (bytes) refuseTwin(result.file, io.digest(bytes), digests, io);
    into.take(result);
    each.valid?.(result, judged);
  }
  io.progress(null, files.length);
}

/** The first fault of a file that is no trial, in a line: what its tables were read as is a note, and may stand before it. */
export function faultLine(findings: Invalid['findings']): string {
  const fault = findings.find(({ problem }) => severityOf(problem) === 'error');
  return fault === undefined ? '' : `${findingLine(fault)}\n`;
}

/**
 * Takes the trials among `files` in and says, a line each, which could not be read as one, and why. How many those were.
 * @throws Refused where one trial is given twice
 */
export function gatherReadable(
  files: readonly TrialFile[],
  over: Over,
  into: { take(result: Assessed): void },
  io: Io,
  { limitsFiles = new LimitsFiles(io) } = {},
): number {
  let unreadable = 0;
  const invalid = ({ findings }: Invalid): void => {
    io.err(faultLine(findings));
    unreadable += 1;
  };
  gather(files, (file) => judgeFound(file, over, limitsFiles, io), into, new Map(), { invalid }, io);
  return unreadable;
}

/**
 * What is compared are the bytes that were judged, by their digest.
 * @throws Refused where the same bytes were given before
 */
export function refuseTwin(file: string, digest: string, digests: Map<string, string>, io: Io): void {
  const first = digests.get(digest);
  digests.set(digest, file);
  if (first === undefined) return;
  io.err(`tallytare: ${harmless(first)} and ${harmless(file)} are the same bytes; give each trial once\n`);
  throw new Refused(EXIT.unreadable);
}

/** @throws Refused where what was gathered does not pool */
export function refuseMixture(gathered: readonly Gathered[], io: Io): void {
  const mixture = mixtureIn(gathered);
  if (mixture === null) return;
  if (mixture.kind === 'coverages') {
    const [first, second] = mixture.of;
    io.err(
      `tallytare: ${harmless(first[1])} refers its yields to ${first[0]} % coverage, ${harmless(second[1])} to ${second[0]} %; give both one reference_coverage, with --limits perhaps\n`,
    );
  } else {
    const [a, b] = mixture.cartridges;
    io.err(
      `tallytare: cartridge ${harmless(a.serial ?? '')}${a.slot === null ? '' : ` (${harmless(a.slot)})`} is in ${harmless(a.file)} and in ${harmless(b.file)}; one cartridge yields once\n`,
    );
  }
  throw new Refused(EXIT.unreadable);
}
