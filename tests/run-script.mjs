// Bundles a script of the tests, as Node does not read TypeScript, and runs it; packages stay where they are.
// node tests/run-script.mjs tests/fuzz/command-line.ts --seconds 60
import { basename, dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const [script] = process.argv.splice(2, 1);
const outfile = join(root, 'node_modules', '.cache', 'scripts', `${basename(script, '.ts')}.mjs`);
await build({
  entryPoints: [join(root, script)],
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
