import { join } from 'node:path';
import { processIo } from './io.ts';
import { main } from './main.ts';

/** Runs the program in this process. The exit code is set, never forced: output still on its way gets out. */
export async function start(): Promise<void> {
  process.exitCode = await main(process.argv.slice(2), processIo(join(__dirname, '..')));
}

export { main };
