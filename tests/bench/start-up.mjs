// Wall time and peak memory of one verdict, against a bare Node start. Runs are paired, so that whatever
// else the machine does falls on both alike; the ratio printed is the median over the pairs.
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const pairs = Number(process.argv[2] ?? 40);
const tool = join(root, 'bin', 'tallytare.js');
const subjects = [
  ['verdict, smallest trial', [tool, 'verdict', join(root, 'examples', 'harbour-street.yaml')]],
  ['verdict, four colours', [tool, 'verdict', join(root, 'examples', 'four-colour-pass.yaml')]],
];

const median = (values) => {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
};

function wall(args) {
  const begin = process.hrtime.bigint();
  const { status, stderr } = spawnSync(process.execPath, args, { stdio: ['ignore', 'ignore', 'pipe'] });
  const end = process.hrtime.bigint();
  if (status === null || status > 2) throw new Error(`${args.join(' ')}: ${stderr}`);
  return Number(end - begin) / 1e6;
}

/** Peak resident set in MiB, told by the process itself as it ends. */
function peak(args) {
  const hook = join(root, 'tests', 'bench', 'report-peak.cjs');
  const { stderr } = spawnSync(process.execPath, ['--require', hook, ...args], {
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  return Number(String(stderr).trim().split(/\s+/).at(-1));
}

const bare = ['-e', '0'];
wall(bare);
console.log(`${pairs} paired runs on Node ${process.version}; ratios are medians over the pairs`);
for (const [name, args] of subjects) {
  wall(args);
  const times = Array.from({ length: pairs }, (_, index) => {
    // Every other pair runs the other way round.
    if (index % 2) return [wall(bare), wall(args)];
    const own = wall(args);
    return [wall(bare), own];
  });
  const memory = Array.from({ length: 5 }, () => [peak(bare), peak(args)]);
  const ratio = (measured) => median(measured.map(([base, own]) => own / base)).toFixed(3);
  const typical = (measured, index) => median(measured.map((pair) => pair[index])).toFixed(1);
  console.log(`${name}`);
  console.log(
    `  time    ${ratio(times)} × a bare Node start  (${typical(times, 1)} ms to ${typical(times, 0)} ms)`,
  );
  console.log(
    `  memory  ${ratio(memory)} × a bare Node start  (${typical(memory, 1)} MiB to ${typical(memory, 0)} MiB)`,
  );
}
