import { join } from 'node:path';
import { findingLine } from '../output/findings.ts';
import type { Fault } from '../problems/problem.ts';
import { find } from '../text/finding.ts';
import { LARGEST_FILE, readSource } from '../text/source.ts';
import { readUsage } from '../trial/usage/read-usage.ts';
import type { Usage } from '../trial/usage/usage.ts';
import { decode } from '../world/decode.ts';
import type { Io } from '../world/io.ts';
import { openBelow } from './below.ts';
import type { Used } from './open.ts';

/** Opens a usage file by the name a file in `folder` gives it, and adds it to those that were used as `shownAs`. */
export function usageFrom(
  name: string,
  folder: string,
  shownAs: string,
  used: Used[],
  io: Io,
): Usage | Fault {
  const found = openBelow(name, folder, LARGEST_FILE, io);
  const use = (bytes: Uint8Array | null, why: string | null): void => {
    used.push({ kind: 'usage', file: shownAs, bytes, why });
  };
  if (!('bytes' in found)) {
    const why = found.trouble === 'unreadable' ? found.why : 'it has more than 4 MiB';
    use(null, found.trouble === 'outside' ? null : why);
    return found.trouble === 'outside'
      ? { code: 'usage-outside', usage: name }
      : { code: 'usage-unreadable', usage: name, why };
  }
  use(found.bytes, null);
  const decoded = decode(found.bytes);
  if (!('text' in decoded)) return { code: 'usage-unreadable', usage: name, why: 'it is not UTF-8 text' };
  const source = readSource(join(folder, name), decoded.text);
  if (source.problems.some(({ code }) => code === 'empty-file'))
    return { code: 'usage-unreadable', usage: name, why: 'it is empty' };
  const { usage, problems } = readUsage(source);
  if (usage !== null) return usage;
  const [first] = problems.map((problem) => findingLine(find(problem, source)));
  return { code: 'usage-unreadable', usage: name, why: (first ?? 'it holds nothing').replace(/\.$/, '') };
}
