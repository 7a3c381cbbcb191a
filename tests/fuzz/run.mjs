// Bundles the fuzzer, as Node does not read TypeScript, and runs it; packages stay where they are.
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const outfile = join(root, 'node_modules', '.cache', 'fuzz', 'command-line.mjs');
await build({
  entryPoints: [join(root, 'tests', 'fuzz', 'command-line.ts')],
  outfile,
  bundle: true,
  packages: 'external',
  // Named without its ending in the sources, which Node takes of bundles only.
  alias: { 'picomatch/posix': 'picomatch/posix.js' },
  platform: 'node',
  target: 'node20',
  format: 'esm',
  logLevel: 'warning',
  // Where the project is, for tests/run.ts: the bundle lies somewhere else.
  define: { 'import.meta.url': JSON.stringify(pathToFileURL(join(root, 'tests', 'run.ts')).href) },
});
await import(pathToFileURL(outfile).href);
