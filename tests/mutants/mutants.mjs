// Plants faults in the sources, one at a time, and says which of them no test notices.
// node tests/mutants/mutants.mjs SEED COUNT           so many by chance, the same for the same seed
// node tests/mutants/mutants.mjs SEED COUNT --only 3,17 --tests tests/pool/group.test.ts
// node tests/mutants/mutants.mjs SEED COUNT --workers 2
// node tests/mutants/mutants.mjs --written            those of planted.json
import { fork } from 'node:child_process';
import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { clearTimeout, setTimeout } from 'node:timers';
import { parseArgs } from 'node:util';
import { allFaults, drawn, written } from './plant.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '..', '..');
/** Seconds; a fault that takes longer than this never ends. */
const PATIENCE = 600;
/**
 * They start the built program, which holds no planted fault, look for nothing in the rooms it is planted in, or
 * simulate for minutes.
 */
const ELSEWHERE =
  /^tests\/(?:surroundings|fuzz|photos|many|text|world|bench|report\/|readme-commands|rooms|sources|keys|plan\/claim-power|.*level|.*rates)/;

const { values: options, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    only: { type: 'string' },
    tests: { type: 'string', multiple: true },
    workers: { type: 'string', default: '1' },
    written: { type: 'boolean', default: false },
  },
});

const [seed = 1, count = 100] = positionals.map(Number);
const list = options.written ? JSON.parse(readFileSync(join(here, 'planted.json'), 'utf8')) : [];
const gone = list.filter((fault) => written(root, fault) === null);
for (const { file, was } of gone) console.log(`not there once any more, see planted.json: ${file}  ${was}`);
const faults = options.written
  ? list.flatMap((fault) => written(root, fault) ?? [])
  : drawn(allFaults(root), seed, count);
const chosen = options.only?.split(',').map(Number) ?? faults.map((_, number) => number);

const tests = (
  options.tests ??
  readdirSync(join(root, 'tests'), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.test.ts'))
    .map((name) => `tests/${name}`)
).filter((name) => !ELSEWHERE.test(name));

/** A process that runs tests, and can be ended when one does not end by itself. */
function runner(first) {
  const child = fork(join(here, 'runner.mjs'), [], { stdio: ['ignore', 'ignore', 'inherit', 'ipc'] });
  const answer = (patience) =>
    new Promise((settle) => {
      const end = setTimeout(() => settle(null), patience * 1000);
      const done = (message) => {
        clearTimeout(end);
        child.removeAllListeners();
        settle(message);
      };
      child.once('message', done);
      child.once('exit', () => done(null));
    });
  const ask = (message, patience) => {
    const answered = answer(patience);
    child.send(message);
    return answered;
  };
  return {
    ready: ask({ start: { faults, tests, first } }, PATIENCE),
    run: (run, patience) => ask({ run }, patience),
    end: () => child.kill('SIGKILL'),
  };
}

/** The file of tests that a bundle was made of. */
const sourceOf = (bundle) =>
  relative(join(root, 'node_modules', '.cache', 'mutants'), bundle).replace(/\.mjs$/, '.ts');

/** Which faults each file of tests comes to, and how long it takes, with no fault taken. */
async function reach() {
  const file = join(tmpdir(), `reached-${process.pid}.jsonl`);
  const first = runner(true);
  await first.ready;
  const result = await first.run({ fault: -1, files: tests, reached: file }, 6 * PATIENCE);
  first.end();
  if (result === null || result.died) {
    throw new Error(`The tests fail with no fault taken: ${result?.said.join('; ') ?? 'they never ended'}`);
  }
  const times = new Map(result.times);
  const came = readFileSync(file, 'utf8')
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line));
  rmSync(file);
  const everywhere = came.flatMap(({ atLoad }) => atLoad);
  return came.map(({ testPath, reached }) => ({
    file: sourceOf(testPath),
    time: times.get(sourceOf(testPath)) ?? 0,
    reached: new Set([...reached, ...everywhere]),
  }));
}

const shown = (text) => text.replace(/\s+/g, ' ');
const describe = ({ file, line, was, now }) => `${file}:${line}  ${shown(was)}  ->  ${shown(now)}`;

const files = await reach();
const lived = [];
const waiting = [...chosen];

/** Takes one fault after the other until none is left. */
async function work() {
  let worker = null;
  for (let number = waiting.shift(); number !== undefined; number = waiting.shift()) {
    const fault = faults[number];
    const coming = files
      .filter(({ reached }) => reached.has(number))
      .toSorted((a, b) => a.time - b.time)
      .map(({ file }) => file);
    let outcome = 'no test comes there';
    if (coming.length > 0) {
      if (worker === null) {
        worker = runner(false);
        await worker.ready;
      }
      const result = await worker.run({ fault: number, files: coming, reached: '' }, PATIENCE);
      if (result === null) {
        worker.end();
        worker = null;
      }
      outcome =
        result === null ? 'died: never ended' : result.died ? `died: ${result.by.join(', ')}` : 'LIVED';
    }
    if (!outcome.startsWith('died')) lived.push(`${number}  ${describe(fault)}  (${outcome})`);
    console.log(`${number}  ${outcome}  ${describe(fault)}`);
  }
  worker?.end();
}

await Promise.all(Array.from({ length: Number(options.workers) }, work));
console.log(`\n${lived.length} of ${chosen.length} lived`);
for (const line of lived) console.log(`  ${line}`);
process.exitCode = lived.length > 0 || gone.length > 0 ? 1 : 0;
process.disconnect?.();
