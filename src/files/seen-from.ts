import { basename, dirname } from 'node:path';
import type { Assessed } from '../judge/assess.ts';
import type { Limit } from '../judge/limits.ts';
import type { Problem } from '../problems/problem.ts';
import type { Io } from '../world/io.ts';
import { nameFrom } from './name-from.ts';

/**
 * A judged trial that names every file from its own folder: what is made of it is the same wherever the program was
 * started.
 */
export function seenFromItsFolder(result: Assessed, io: Io): Assessed {
  const folder = result.file === '-' ? '.' : dirname(result.file);
  const own = basename(result.file);
  const name = (file: string): string => (file === result.file ? own : nameFrom(folder, file, io));
  const limit = (one: Limit): Limit =>
    one.origin.kind === 'file' ? { ...one, origin: { ...one.origin, name: name(one.origin.name) } } : one;
  // A limit is known by identity: what was judged by it keeps to the same one.
  const limits = new Map(result.agreed.limits.map((one) => [one, limit(one)]));
  const names = new Map(
    result.agreed.limits.flatMap(({ origin }) =>
      origin.kind === 'file' ? [[origin.name, name(origin.name)] as const] : [],
    ),
  );
  const told = (problem: Problem): Problem =>
    problem.code === 'limit-not-applied' || problem.code === 'limit-currency-not-applied'
      ? { ...problem, from: names.get(problem.from) ?? problem.from }
      : problem;
  return {
    ...result,
    file: own,
    source: { ...result.source, file: own },
    agreed: { ...result.agreed, limits: [...limits.values()] },
    judged: result.judged.map((one) => ({ ...one, limit: limits.get(one.limit) ?? one.limit })),
    read: result.read.map((one) => ({ ...one, problem: told(one.problem), file: name(one.file) })),
  };
}
