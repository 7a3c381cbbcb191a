// Runs tests with one planted fault after the other, as its parent asks; a fault that never ends is ended with it.
import { performance } from 'node:perf_hooks';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { planting } from './plant.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
/** Below node_modules, so that the packages are found from there. */
const bundles = join(root, 'node_modules', '.cache', 'mutants');
const COLLECT = 'tests/mutants/collect.ts';

/** The tests with what they test in bundles that share it. */
const bundled = (faults, tests) =>
  build({
    entryPoints: [COLLECT, ...tests].map((file) => join(root, file)),
    outdir: bundles,
    outbase: root,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    splitting: true,
    packages: 'external',
    alias: { 'picomatch/posix': 'picomatch/posix.js', vitest: join(root, COLLECT) },
    platform: 'node',
    target: 'node20',
    format: 'esm',
    logLevel: 'warning',
    plugins: [planting(root, faults)],
    // Where the project is, for tests/run.ts.
    define: { 'import.meta.url': JSON.stringify(pathToFileURL(join(root, 'tests', 'run.ts')).href) },
  });

let taken = -1;
let reached = new Set();
globalThis.planted = (fault) => {
  reached.add(fault);
  return fault === taken;
};

let tests = [];

const load = async (file) => import(pathToFileURL(join(bundles, file.replace(/\.ts$/, '.mjs'))).href);

/** Loads the tests with a fault taken from the beginning (−1 for none). */
async function start({ faults, files, bundle, fault }) {
  if (bundle) await bundled(faults, files);
  taken = fault;
  const { collecting, collectedTests } = await load(COLLECT);
  const atLoad = [];
  for (const file of files) {
    reached = new Set();
    collecting(file);
    await load(file);
    atLoad.push({ file, reached: [...reached] });
  }
  tests = collectedTests();
  return { tests: tests.map(({ file, name }) => ({ file, name })), atLoad };
}

/** The fault of a test; null where it passes. */
function failure(index) {
  try {
    tests[index].run();
    return null;
  } catch (error) {
    return String(error?.message ?? error).slice(0, 500);
  }
}

/** Tests once, with no fault taken: what it comes to, how long it takes, whether it fails. */
function all(indices) {
  return indices.map((index) => {
    reached = new Set();
    const from = performance.now();
    const failed = failure(index);
    return { reached: [...reached], time: performance.now() - from, failed };
  });
}

/** The first of the tests that fails with a fault taken, and whether it fails without it by now. */
function run({ fault, indices }) {
  taken = fault;
  const failed = indices.find((index) => failure(index) !== null) ?? null;
  taken = -1;
  return { failed, spoilt: failed !== null && failure(failed) !== null };
}

process.on('message', async (message) => {
  try {
    if (message.start) process.send(await start(message.start));
    else process.send(message.run ? run(message.run) : { known: all(message.all) });
  } catch (error) {
    process.send({ broken: String(error?.message ?? error) });
  }
});
