import { readFileSync } from 'node:fs';
import { createRequire, wrap } from 'node:module';
import { join } from 'node:path';
import { Script } from 'node:vm';

/** What the bundle exports. */
interface Program {
  start(): Promise<void>;
  main(argv: readonly string[], io: unknown): Promise<number>;
}

export const BUNDLE = join(__dirname, 'tallytare.cjs');
export const CACHE = join(__dirname, 'tallytare.cache');

/**
 * Loads the bundle with the code V8 compiled when the package was built. V8 refuses a cache that another
 * version or another processor made; then the bundle is compiled as usual, only slower.
 */
export function load(): { readonly program: Program; readonly script: Script } {
  let cachedData: Buffer | undefined;
  try {
    cachedData = readFileSync(CACHE);
  } catch {
    // Never built, or taken away: compiled as usual.
  }
  const script = new Script(wrap(readFileSync(BUNDLE, 'utf8')), { filename: BUNDLE, cachedData });
  const module = { exports: {} as Program };
  const run = script.runInThisContext() as (...scope: unknown[]) => void;
  run(module.exports, createRequire(BUNDLE), module, BUNDLE, __dirname);
  return { program: module.exports, script };
}
