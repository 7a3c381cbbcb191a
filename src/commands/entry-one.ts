import { text } from '../output/text.ts';
import { exitOf, guarded } from '../world/exit.ts';
import { type Io, processIo } from '../world/io.ts';
import { judgeFile } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import { startWith } from '../world/process.ts';
import { paintFor } from '../world/terminal.ts';
import { mayBeSeveral } from '../files/trial-files.ts';

/**
 * `verdict FILE`, the line that most runs are, without what reads options and prints other formats: loading
 * is most of what it costs.
 *
 * @returns null where it is another line, to be taken by the program with the whole command
 */
export function main([command, name, ...more]: readonly string[], io: Io): number | null {
  if (command !== 'verdict' || name === undefined || more.length > 0) return null;
  if (name.startsWith('-') && name !== '-') return null;
  return guarded(io, () => {
    if (mayBeSeveral({ paths: [name] }, io)) return null;
    const result = judgeFile(name, [], new LimitsFiles(io), io);
    io.out(text(result, paintFor(io)));
    return exitOf(new Set([result.verdict]));
  });
}
export { processIo };
export const start = (): boolean => startWith(main);
