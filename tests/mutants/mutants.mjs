// Plants faults in the sources, one at a time, and says which of them no test notices.
// node tests/mutants/mutants.mjs SEED COUNT           so many by chance, the same for the same seed
// node tests/mutants/mutants.mjs SEED COUNT --only 3,17
// node tests/mutants/mutants.mjs SEED COUNT --tests judge  with the tests of which the path holds this
// node tests/mutants/mutants.mjs SEED COUNT --in src/pool  in files of which the path begins with this
// node tests/mutants/mutants.mjs --written            those of planted.json
import { fork } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { clearTimeout, setTimeout } from 'node:timers';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { allFaults, drawn, harmless, written } from './plant.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
/** Seconds; whatever takes longer than this never ends. */
const PATIENCE = 600;
/**
 * They start the built program, which holds no planted fault, look for nothing in the rooms it is planted in, wait
 * for something, or simulate for minutes.
 */
const ELSEWHERE =
  /^tests\/(?:surroundings|fuzz|photos|many|text|world|bench|report\/|output\/junit|readme-commands|rooms|sources|keys|.*(?:level|rates)\.test)/;

const { values: options, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    only: { type: 'string' },
    in: { type: 'string', default: '' },
    tests: { type: 'string', default: '' },
    written: { type: 'boolean', default: false },
  },
});

const [seed = 1, count = 100] = positionals.map(Number);
const list = options.written ? JSON.parse(readFileSync(join(here, 'planted.json'), 'utf8')) : [];
const gone = list.filter((fault) => written(root, fault) === null);
for (const { file, was } of gone) console.log(`not there once any more, see planted.json: ${file}  ${was}`);
const { isHarmless, gone: outdated } = harmless(root);
for (const { file, line } of outdated) console.log(`not there any more, see harmless: ${file}  ${line}`);
const faults = options.written
  ? list.flatMap((fault) => written(root, fault) ?? [])
  : drawn(
      allFaults(root).filter((fault) => fault.file.startsWith(options.in) && !isHarmless(fault)),
      seed,
      count,
    );
const chosen = options.only?.split(',').map(Number) ?? faults.map((_, number) => number);

const files = readdirSync(join(root, 'tests'), { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.test.ts'))
  .map((name) => `tests/${name}`)
  .filter((name) => !ELSEWHERE.test(name) && new RegExp(options.tests).test(name));

/** A process that runs tests, and can be ended when one does not end by itself. */
function runner() {
  const child = fork(join(here, 'runner.mjs'), [], { stdio: ['ignore', 'ignore', 'inherit', 'ipc'] });
  return {
    /** What it answers; null where it does not in time. */
    ask: (message, patience = PATIENCE) =>
      new Promise((settle) => {
        const done = (answer) => {
          clearTimeout(end);
          child.removeAllListeners();
          settle(answer);
        };
        const end = setTimeout(() => done(null), patience * 1000);
        child.once('message', done);
        child.once('exit', () => done(null));
        child.send(message);
      }),
    end: () => child.kill('SIGKILL'),
  };
}

async function begun(fault, bundle = false) {
  const one = runner();
  return { one, begin: await one.ask({ start: { faults, files, bundle, fault } }, bundle ? PATIENCE : 120) };
}

/** The first test that fails in a process that had the fault from the beginning; null where none does. */
async function inNewProcess(fault, indices) {
  const { one, begin } = await begun(fault);
  // Constants are worked out while the tests are collected, some of which are made of them.
  const usable = begin !== null && begin.broken === undefined && begin.tests.length === tests.length;
  const result = usable ? await one.ask({ run: { fault, indices } }, patienceFor(indices)) : null;
  one.end();
  if (!usable) return begin === null ? 'never ended' : `not loaded: ${begin.broken ?? 'other tests'}`;
  if (result === null) return 'never ended';
  return result.failed === null ? null : nameOf(result.failed);
}

const shown = (text) => text.replace(/\s+/g, ' ');
const describe = ({ file, line, was, now }) => `${file}:${line}  ${shown(was)}  ->  ${shown(now)}`;
const nameOf = (index) => `${tests[index].file}, ${tests[index].name}`;

let { one: worker, begin } = await begun(-1, true);
if (begin === null || begin.broken !== undefined) throw new Error(`not loaded: ${begin?.broken}`);
const { tests, atLoad } = begin;

/** What is known of each test with no fault taken; of those that are as they were, from an earlier run. */
const digest = (text) => createHash('sha256').update(text).digest('hex');
const keptIn = join(
  root,
  'node_modules',
  '.cache',
  'mutants',
  `known-${digest(JSON.stringify(faults))}.json`,
);
const kept = new Map(existsSync(keptIn) ? JSON.parse(readFileSync(keptIn, 'utf8')) : []);
const digests = new Map(files.map((file) => [file, digest(readFileSync(join(root, file)))]));
const keys = tests.map(
  ({ file, name }, index) =>
    `${file} ${digests.get(file)} ${name} ${index - tests.findIndex((one) => one.file === file)}`,
);
const fresh = keys.flatMap((key, index) => (kept.has(key) ? [] : [index]));
const answer = await worker.ask({ all: fresh }, 10 * PATIENCE);
if (answer === null) throw new Error('the tests never ended with no fault taken');
fresh.forEach((index, at) => kept.set(keys[index], answer.known[at]));
const known = keys.map((key) => kept.get(key));
writeFileSync(keptIn, JSON.stringify([...keys].map((key) => [key, kept.get(key)])));
console.log(`${tests.length} tests, ${faults.length} faults`);
// A property that fails by chance with no fault taken proves nothing of one.
for (const [index, { failed }] of known.entries())
  if (failed !== null) console.log(`left out, fails with no fault taken: ${nameOf(index)}: ${failed}`);

/** Those of some tests that pass with no fault taken, the quickest first. */
const sound = (chosenOf) =>
  tests
    .map((_, index) => index)
    .filter((index) => known[index].failed === null && chosenOf(index))
    .toSorted((a, b) => known[a].time - known[b].time);

/** Seconds after which tests that came to an end with no fault taken are held not to end. */
const patienceFor = (indices) =>
  Math.min(PATIENCE, 20 + 0.01 * indices.reduce((sum, index) => sum + known[index].time, 0));

/** The first test that fails with a fault; null where none does. */
async function outcomeOf(fault) {
  const own = sound((index) => known[index].reached.includes(fault));
  if (own.length > 0) {
    const result = await worker.ask({ run: { fault, indices: own } }, patienceFor(own));
    if (result === null || result.spoilt) {
      worker.end();
      ({ one: worker } = await begun(-1));
      // What was kept from the faults before it may be what failed.
      return result === null ? 'never ended' : inNewProcess(fault, own);
    }
    if (result.failed !== null) return nameOf(result.failed);
  }
  // A constant is worked out while the tests are loaded: those of the same file may be made of it, or any of them.
  const loading = atLoad.filter(({ reached }) => reached.includes(fault)).map(({ file }) => file);
  if (loading.length === 0) return null;
  return inNewProcess(
    fault,
    sound((index) => own.length === 0 || loading.includes(tests[index].file)),
  );
}

const lived = [];
for (const fault of chosen) {
  const by = await outcomeOf(fault);
  if (by === null) lived.push(fault);
  const tried = known.filter(({ reached }) => reached.includes(fault)).length;
  console.log(
    `${fault}  ${by === null ? `LIVED (${tried} tests come there)` : 'died'}  ${describe(faults[fault])}${by === null ? '' : `  (${by})`}`,
  );
}
worker.end();
console.log(`\n${lived.length} of ${chosen.length} lived`);
for (const fault of lived) console.log(`  ${fault}  ${describe(faults[fault])}`);
process.exitCode = lived.length > 0 || gone.length > 0 || outdated.length > 0 ? 1 : 0;
