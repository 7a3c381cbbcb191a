import { join } from 'node:path';
import { processIo } from './io.ts';
import { main } from './main.ts';

/**
 * Runs the program in this process. The exit code is set, never forced: output still on its way gets out.
 * No stack is ever shown, so none is gathered: a figure that cannot be derived costs less.
 */
export function start(): void {
  Error.stackTraceLimit = 0;
  process.exitCode = main(process.argv.slice(2), processIo(join(__dirname, '..')));
}

export { main };
