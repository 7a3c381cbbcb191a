// What the benchmarks share: a run with its wall time, its peak memory, and the middle of several.
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
export const tool = join(root, 'bin', 'tallytare.js');

// Certificates that a machine adds are read at every start, and are no part of what is measured.
const env = { ...process.env };
delete env.NODE_EXTRA_CA_CERTS;

export const median = (values) => {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
};

/** Wall time in ms of a run of Node; `before` stands in front of it, such as what keeps it to one core. */
export function wall(args, before = []) {
  const [command, ...rest] = [...before, process.execPath, ...args];
  const begin = process.hrtime.bigint();
  const { status, stderr } = spawnSync(command, rest, { env, stdio: ['ignore', 'ignore', 'pipe'] });
  const end = process.hrtime.bigint();
  if (status === null || status > 2) throw new Error(`${args.join(' ')}: ${stderr}`);
  return Number(end - begin) / 1e6;
}

/** Peak resident set in MiB, told by the process itself as it ends. */
export function peak(args) {
  const hook = join(root, 'tests', 'bench', 'report-peak.cjs');
  const { stderr } = spawnSync(process.execPath, ['--require', hook, ...args], {
    env,
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  return Number(String(stderr).trim().split(/\s+/).at(-1));
}
