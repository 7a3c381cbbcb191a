// The build: bundles of plain ASCII, each wrapped as a function of what it needs from the executable, then
// the step that keeps their compiled code.
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

/** Every command; the one asked for most, alone; and that for one trial, without an option. */
const BUNDLES = {
  tallytare: 'src/commands/entry.ts',
  verdict: 'src/commands/entry-verdict.ts',
  one: 'src/commands/entry-one.ts',
};

/**
 * js-yaml is one file that makes its tags, schemas and expressions for writing as it loads, which takes as long
 * as reading a small trial with it. Of its parts, which it marks, only those that read events are bundled.
 */
const yamlEventsAlone = {
  name: 'yaml-events-alone',
  setup: ({ onLoad }) =>
    onLoad({ filter: /[\\/]js-yaml\.mjs$/ }, ({ path }) => {
      const parts = readFileSync(path, 'utf8').split(/^(?=\/\/#region )/m);
      const isRead = (part) =>
        /^\/\/#region src\/(parser\/(events|parser|parser_scalar)|common\/(exception|snippet))\.ts/.test(
          part,
        );
      const read = parts.filter(isRead).join('');
      const leftOut = parts.filter((part) => !isRead(part)).join('');
      for (const [, name] of leftOut.matchAll(/^(?:var|function|class) ([\w$]+)/gm)) {
        if (new RegExp(`(?<![\\w$.])${name.replaceAll('$', '\\$')}(?![\\w$])`).test(read))
          throw new Error(`js-yaml reads events with "${name}" too: bundle its part`);
      }
      return { contents: `${read}\nexport { ${YAML_NAMES.join(', ')} };` };
    }),
};
/** What the program takes of it. */
const YAML_NAMES = [
  'COLLECTION_STYLE',
  'EVENT_ID',
  'getScalarValue',
  'parseEvents',
  'SCALAR_STYLE',
  'YAMLException',
];

const common = {
  absWorkingDir: root,
  bundle: true,
  minify: true,
  platform: 'node',
  target: 'node20',
  format: 'cjs',
  charset: 'ascii',
  logLevel: 'warning',
  plugins: [yamlEventsAlone],
};

await build({
  ...common,
  entryPoints: BUNDLES,
  outdir: 'dist',
  outExtension: { '.js': '.cjs' },
  alias: {
    // The command-line library asks for this module at start-up, for subcommands that are programs of their
    // own. There are none here, and loading it costs a tenth of the start.
    'node:child_process': './src/build/no-child-process.cjs',
    'fast-string-width': './src/build/lazy-width.cjs',
    'fastest-levenshtein': './src/build/lazy-levenshtein.cjs',
    'picomatch/posix': './src/build/lazy-patterns.cjs',
    yaml: './src/build/lazy-yaml.cjs',
  },
  banner: { js: '(function (require, __dirname) { const module = { exports: {} };' },
  footer: { js: 'return module.exports; })' },
});
// What few runs ask for; the files of src/build that stand before it open it then.
await build({
  ...common,
  entryPoints: { yaml: 'yaml', patterns: 'picomatch/posix' },
  outdir: 'dist',
  outExtension: { '.js': '.cjs' },
});
// The report with its plotting library, which is larger than all else: a bundle of its own, whole in itself,
// that is opened only for a report.
await build({ ...common, entryPoints: ['src/commands/report.ts'], outfile: 'dist/report.cjs' });

// A bundle is read byte by byte; what the bundler cannot escape, a sign in a regular expression, would be
// read as another.
for (const name of Object.keys(BUNDLES)) {
  const bundle = readFileSync(join(root, 'dist', `${name}.cjs`), 'latin1');
  const foreign = /[\u0080-\u00ff]/.exec(bundle);
  if (foreign) {
    const around = bundle.slice(Math.max(0, foreign.index - 40), foreign.index + 20);
    throw new Error(`The bundle is not plain ASCII: write \\u escapes here: ${around}`);
  }
}
await import('./write-cache.cjs');
