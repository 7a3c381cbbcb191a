// Wall time of judging and re-checking many different trials, against a script that only reads them and parses
// their YAML on one thread; and peak memory over many more against that over few.
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { median, peak, root, tool, wall } from './measure.mjs';

const NAMES = [
  'harbour-street',
  'rolled-over',
  'waste-fail',
  'not-exhausted',
  'warm-room',
  'four-colour-pass',
];

/** So many trials in a new folder, each with a title and a weight of its own, beside the limits they name. */
function archive(count) {
  const folder = mkdtempSync(join(tmpdir(), 'tallytare-bench-'));
  mkdirSync(join(folder, 'limits'));
  cpSync(join(root, 'examples', 'limits'), join(folder, 'limits'), { recursive: true });
  const texts = NAMES.map((name) => readFileSync(join(root, 'examples', `${name}.yaml`), 'utf8'));
  for (let index = 0; index < count; index++) {
    const text = texts[index % texts.length]
      .replace(/((?:title|trial): )(?=[\p{L}])/u, `$1No ${index}, `)
      .replace(/final: (\d+) g/, (_, mass) => `final: ${Number(mass) + (index % 7)} g`)
      .replace(/photo: [^,}\n]+,?/g, '');
    writeFileSync(join(folder, `t${String(index).padStart(6, '0')}.yaml`), text);
  }
  return folder;
}

export function manyFiles(rounds, few = 500, many = 2000, most = 20_000) {
  const folders = [few, many, most].map(archive);
  try {
    const [small, folder, large] = folders;
    spawnSync(process.execPath, [tool, 'seal', folder]);
    const oneCore = spawnSync('taskset', ['-c', '0', 'true']).status === 0 ? ['taskset', '-c', '0'] : null;
    const parsing = [join(root, 'tests', 'bench', 'parse-all.cjs'), folder];
    const forms = [['-q'], ['--format', 'jsonl'], ['--format', 'csv'], ['--format', 'text']];
    const commands = [...forms.map((form) => ['verdict', ...form]), ['recheck', '-q']];
    const runs = commands.flatMap((words) => {
      const command = words.join(' ');
      const args = [tool, ...words, folder];
      return [
        ...(oneCore ? [{ command, cores: 'one core', run: () => wall(args, oneCore) }] : []),
        { command, cores: 'all cores', run: () => wall(args) },
      ];
    });
    const times = Array.from({ length: rounds }, () => [wall(parsing), ...runs.map(({ run }) => run())]);
    console.log(
      `${many} different trials, ${rounds} rounds, against only reading and parsing them on one thread`,
    );
    const found = runs.map(({ command, cores }, index) => {
      const ratio = Number(median(times.map((round) => round[index + 1] / round[0])).toFixed(2));
      console.log(
        `  ${command}, ${cores}: ${ratio} ×  (${Math.round(median(times.map((round) => round[index + 1])))} ms)`,
      );
      return { command, cores, time_to_parsing: ratio };
    });
    const [fewPeak, mostPeak] = [small, large].map((one) => peak([tool, 'verdict', '-q', one]));
    const memory = Number((mostPeak / fewPeak).toFixed(2));
    console.log(
      `  peak memory over ${most} files: ${memory} × that over ${few}  (${mostPeak} MiB to ${fewPeak} MiB)`,
    );
    return { files: many, ratios: found, memory_most_to_few: memory };
  } finally {
    for (const folder of folders) rmSync(folder, { recursive: true });
  }
}
