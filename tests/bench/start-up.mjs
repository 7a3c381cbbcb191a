// Wall time and peak memory of one verdict, against a bare Node start and against only parsing its YAML. Runs are paired, so that whatever
// else the machine does falls on both alike; the ratio printed is the median over the pairs.
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const pairs = Number(process.argv[2] ?? 40);
const tool = join(root, 'bin', 'tallytare.js');
const parser = join(root, 'tests', 'bench', 'parse-only.cjs');
const subjects = [
  ['smallest trial', join(root, 'examples', 'harbour-street.yaml')],
  ['four colours', join(root, 'examples', 'four-colour-pass.yaml')],
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
for (const [name, file] of subjects) {
  const args = [tool, 'verdict', file];
  const parsing = [parser, file];
  const runs = [bare, parsing, args];
  for (const one of runs) wall(one);
  const times = Array.from({ length: pairs }, (_, index) => {
    // Every other round runs the other way round.
    const order = index % 2 ? [2, 1, 0] : [0, 1, 2];
    const round = [];
    for (const one of order) round[one] = wall(runs[one]);
    return round;
  });
  const memory = Array.from({ length: 5 }, () => runs.map(peak));
  const ratio = (measured, to) => median(measured.map((round) => round[2] / round[to])).toFixed(3);
  const typical = (measured) =>
    [2, 0, 1].map((one) => median(measured.map((round) => round[one])).toFixed(1));
  const [own, start, parsed] = typical(times);
  const [ownPeak, startPeak] = typical(memory);
  console.log(`verdict, ${name}`);
  console.log(`  time    ${ratio(times, 0)} × a bare Node start      (${own} ms to ${start} ms)`);
  console.log(`          ${ratio(times, 1)} × only parsing its YAML  (${own} ms to ${parsed} ms)`);
  console.log(`  memory  ${ratio(memory, 0)} × a bare Node start      (${ownPeak} MiB to ${startPeak} MiB)`);
}
