import { basename, dirname, isAbsolute } from 'node:path';
import { type Seal, sealOf } from '../archive/seal.ts';
import type { Assessed } from '../judge/assess.ts';
import type { Io } from '../world/io.ts';
import { toolName } from '../world/tool.ts';
import { inputsOf, type Judgement } from './judge-file.ts';
import { nameFrom } from './name-from.ts';
import { photoInputs } from './photos.ts';

/** The seal of a judged trial; the last `overs` of what it used were laid over its own limits. */
export function sealFor(result: Assessed, { used }: Judgement, overs: number, io: Io): Seal {
  const folder = dirname(result.file);
  const ownInFull = new Set(
    used
      .slice(0, used.length - overs)
      .flatMap(({ kind, file }) => (kind === 'limits' && isAbsolute(file) ? file : [])),
  );
  const inputs = inputsOf(used, io).map((input) =>
    input.kind === 'trial' ? { ...input, file: basename(input.file) } : input,
  );
  return sealOf(result, {
    tool: toolName(),
    file: basename(result.file),
    inputs: [...inputs, ...photoInputs(result.trial, result.file, io).inputs],
    over: used.slice(used.length - overs).map(({ file }) => file),
    // A file that the trial itself names in full keeps that name.
    nameOf: ({ kind, name }) =>
      kind === 'preset' || ownInFull.has(name) ? name : nameFrom(folder, name, io),
  });
}
