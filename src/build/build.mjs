// The build: one bundle of plain ASCII, wrapped as a function of what it needs from the executable, then
// the step that keeps its compiled code.
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

await build({
  absWorkingDir: root,
  entryPoints: ['src/commands/entry.ts'],
  outfile: 'dist/tallytare.cjs',
  bundle: true,
  minify: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  charset: 'ascii',
  logLevel: 'warning',
  // The command-line library asks for this module at start-up, for subcommands that are programs of their
  // own. There are none here, and loading it costs a tenth of the start.
  alias: {
    'node:child_process': './src/build/no-child-process.cjs',
    'fast-string-width': './src/build/lazy-width.cjs',
  },
  banner: { js: '(function (require, __dirname) { const module = { exports: {} };' },
  footer: { js: 'return module.exports; })' },
});
// The bundle is read byte by byte; what the bundler cannot escape, a character in a regular expression, would be read as another.
const bundle = readFileSync(join(root, 'dist', 'tallytare.cjs'), 'latin1');
const foreign = /[\u0080-\u00ff]/.exec(bundle);
if (foreign) {
  const around = bundle.slice(Math.max(0, foreign.index - 40), foreign.index + 20);
  throw new Error(`The bundle is not plain ASCII: write \\u escapes here: ${around}`);
}
await import('./write-cache.cjs');
