import { basename, dirname, isAbsolute, relative, sep } from 'node:path';
import { type Seal, sealOf } from '../archive/seal.ts';
import type { Assessed } from '../judge/assess.ts';
import type { Io } from '../world/io.ts';
import { toolName } from '../world/tool.ts';
import { inputsOf, type Judgement } from './judge-file.ts';

/** The seal of a judged trial; the last `overs` of what it used were laid over its own limits. */
export function sealFor(result: Assessed, { used }: Judgement, overs: number, io: Io): Seal {
  const folder = dirname(result.file);
  return sealOf(result, {
    tool: toolName(),
    file: basename(result.file),
    inputs: inputsOf(used, io).map((input) =>
      input.kind === 'trial' ? { ...input, file: basename(input.file) } : input,
    ),
    over: used.slice(used.length - overs).map(({ file }) => file),
    nameOf: ({ kind, name }) => {
      if (kind === 'preset' || isAbsolute(name)) return name;
      return relative(folder, name).replaceAll(sep, '/');
    },
  });
}
