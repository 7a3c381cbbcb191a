// The build: bundles of plain ASCII, each wrapped as a function of what it needs from the executable, then
// the step that keeps their compiled code.
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build as bundle } from 'esbuild';
import { licencesOf } from './licences.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

/** What each bundle is made of. */
const metafiles = [];

async function build(options) {
  const { metafile } = await bundle({ ...options, metafile: true });
  metafiles.push(metafile);
}

const common = {
  absWorkingDir: root,
  bundle: true,
  minify: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  charset: 'ascii',
  logLevel: 'warning',
};

// Every command but the report.
await build({
  ...common,
  entryPoints: { tallytare: 'src/commands/entry.ts' },
  outdir: 'dist',
  outExtension: { '.js': '.cjs' },
  alias: {
    yaml: './src/build/lazy-yaml.cjs',
    papaparse: './src/build/lazy-tables.cjs',
    fflate: './src/build/lazy-raster.cjs',
    pngjs: './src/build/lazy-raster.cjs',
    tiff: './src/build/lazy-raster.cjs',
  },
  banner: { js: '(function (require, __dirname) { const module = { exports: {} };' },
  footer: { js: 'return module.exports; })' },
});
// The careful reader of YAML, which few runs ask for; lazy-yaml.cjs stands before it and opens it then.
await build({
  ...common,
  entryPoints: { yaml: 'yaml' },
  outdir: 'dist',
  outExtension: { '.js': '.cjs' },
});
// The reader of tables, for trials that name one; lazy-tables.cjs opens it.
await build({
  ...common,
  entryPoints: { tables: 'papaparse' },
  outdir: 'dist',
  outExtension: { '.js': '.cjs' },
});
// What unpacks pictures, for documents whose coverage is counted; lazy-raster.cjs opens it.
await build({
  ...common,
  entryPoints: { raster: 'src/build/raster-libraries.mjs' },
  outdir: 'dist',
  outExtension: { '.js': '.cjs' },
});
// The report with its plotting library, which is larger than all else: a bundle of its own, whole in itself,
// that is opened only for a report.
await build({
  ...common,
  entryPoints: ['src/commands/report.ts'],
  outfile: 'dist/report.cjs',
  alias: { canvas: './src/build/no-canvas.cjs' },
});

// For those who build on it: the pure functions as a module, and their types.
await build({
  ...common,
  entryPoints: ['src/library/library.ts'],
  outfile: 'dist/library.mjs',
  format: 'esm',
  minify: false,
  banner: {
    js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);",
  },
});
execFileSync(
  process.execPath,
  [join(root, 'node_modules', 'typescript', 'bin', 'tsc'), ...['--project', 'src/library/tsconfig.json']],
  { cwd: root, stdio: 'inherit' },
);

// The licences ask that their text goes with what is bundled.
writeFileSync(join(root, 'dist', 'licences.txt'), licencesOf(metafiles));

// A bundle is read byte by byte; what the bundler cannot escape, a sign in a regular expression, would be
// read as another.
{
  const text = readFileSync(join(root, 'dist', 'tallytare.cjs'), 'latin1');
  const foreign = /[\u0080-\u00ff]/.exec(text);
  if (foreign) {
    const around = text.slice(Math.max(0, foreign.index - 40), foreign.index + 20);
    throw new Error(`The bundle is not plain ASCII: write \\u escapes here: ${around}`);
  }
}
await import('./write-cache.cjs');
