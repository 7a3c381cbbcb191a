import { join } from 'node:path';
import { type Io, processIo } from './io.ts';

/**
 * Runs the program in this process. The exit code is set, never forced: output still on its way gets out.
 * No stack is ever shown, so none is gathered.
 */
export function startWith(main: (argv: readonly string[], io: Io) => number): void {
  Error.stackTraceLimit = 0;
  process.exitCode = main(process.argv.slice(2), processIo(join(__dirname, '..')));
}
