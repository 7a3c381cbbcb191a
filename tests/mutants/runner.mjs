// Runs tests with one planted fault after the other, as its parent asks; a fault that never ends is ended with it.
import { dirname, join, relative } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { createVitest } from 'vitest/node';
import { planting } from './plant.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
/** Below node_modules, so that the packages are found from there. */
const bundles = join(root, 'node_modules', '.cache', 'mutants');

/** The files in the order given: those that find faults soonest first. */
class AsGiven {
  async shard(files) {
    return files;
  }
  async sort(files) {
    return files;
  }
}

/** The tests with what they test in bundles that share it: loading them is the most of what a run costs. */
const bundled = (faults, tests) =>
  build({
    entryPoints: [join(here, 'setup.ts'), ...tests.map((file) => join(root, file))],
    outdir: bundles,
    outbase: root,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    splitting: true,
    packages: 'external',
    alias: { 'picomatch/posix': 'picomatch/posix.js' },
    platform: 'node',
    target: 'node20',
    format: 'esm',
    logLevel: 'warning',
    plugins: [planting(root, faults)],
    // Where the project is, for tests/run.ts.
    define: { 'import.meta.url': JSON.stringify(pathToFileURL(join(root, 'tests', 'run.ts')).href) },
  });

const started = ({ first }) =>
  createVitest(
    'test',
    {
      root,
      config: false,
      dir: bundles,
      include: ['**/*.test.mjs'],
      exclude: [],
      watch: false,
      reporters: [{}],
      pool: 'threads',
      maxWorkers: 1,
      isolate: false,
      bail: first ? 0 : 1,
      testTimeout: 600_000,
      setupFiles: [join(bundles, 'tests', 'mutants', 'setup.mjs')],
      sequence: { sequencer: AsGiven },
      server: { deps: { external: [/chunk-[^/]*\.mjs$/] } },
    },
    { logLevel: 'error' },
  );

const bundleOf = (file) => join(bundles, file.replace(/\.ts$/, '.mjs'));
const sourceOf = (bundle) => relative(bundles, bundle).replace(/\.mjs$/, '.ts');

let vitest = null;

process.on('message', async ({ start, run }) => {
  if (start) {
    if (start.first) await bundled(start.faults, start.tests);
    vitest = await started(start);
    process.send({ ready: true });
    return;
  }
  const { fault, files, reached } = run;
  vitest.provide('fault', fault);
  vitest.provide('reached', reached);
  const order = new Map(files.map((file, index) => [bundleOf(file), index]));
  const found = await vitest.globTestSpecifications();
  const specifications = found
    .filter(({ moduleId }) => order.has(moduleId))
    .toSorted((a, b) => order.get(a.moduleId) - order.get(b.moduleId));
  // What the run before left is not of this one.
  vitest.state.filesMap.clear();
  vitest.state.errorsSet.clear();
  const { testModules, unhandledErrors } = await vitest.runTestSpecifications(specifications);
  const failed = testModules.filter((module) => module.state() === 'failed');
  process.send({
    died: failed.length > 0 || unhandledErrors.length > 0,
    by: failed.map(({ moduleId }) => sourceOf(moduleId)),
    said: failed.flatMap((module) => [
      ...module.errors().map(({ message }) => message),
      ...[...module.children.allTests('failed')].map((test) => test.fullName),
    ]),
    times: testModules.map((module) => [sourceOf(module.moduleId), module.diagnostic().duration]),
  });
});
