// Wall time and peak memory of one verdict, against a bare Node start and against only parsing its YAML. Runs
// are paired, so that whatever else the machine does falls on all alike; a ratio is the median over the pairs.
import { join } from 'node:path';
import { median, peak, root, tool, wall } from './measure.mjs';

const SUBJECTS = [
  ['smallest trial', join(root, 'examples', 'harbour-street.yaml')],
  ['four colours', join(root, 'examples', 'four-colour-pass.yaml')],
];

export function startUp(pairs) {
  const parser = join(root, 'tests', 'bench', 'parse-only.cjs');
  console.log(`${pairs} paired runs on Node ${process.version}; ratios are medians over the pairs`);
  return SUBJECTS.map(([name, file]) => {
    const runs = [
      ['-e', '0'],
      [parser, file],
      [tool, 'verdict', file],
    ];
    for (const one of runs) wall(one);
    const times = Array.from({ length: pairs }, (_, index) => {
      // Every other round runs the other way round.
      const order = index % 2 ? [2, 1, 0] : [0, 1, 2];
      const round = [];
      for (const one of order) round[one] = wall(runs[one]);
      return round;
    });
    const memory = Array.from({ length: 5 }, () => runs.map((run) => peak(run)));
    const ratio = (measured, to) => Number(median(measured.map((round) => round[2] / round[to])).toFixed(3));
    const typical = (measured) =>
      [2, 0, 1].map((one) => Number(median(measured.map((round) => round[one])).toFixed(1)));
    const [own, start, parsed] = typical(times);
    const [ownPeak, startPeak] = typical(memory);
    const found = {
      subject: name,
      time_to_bare_start: ratio(times, 0),
      time_to_parsing: ratio(times, 1),
      memory_to_bare_start: ratio(memory, 0),
    };
    console.log(`verdict, ${name}`);
    console.log(`  time    ${found.time_to_bare_start} × a bare Node start      (${own} ms to ${start} ms)`);
    console.log(`          ${found.time_to_parsing} × only parsing its YAML  (${own} ms to ${parsed} ms)`);
    console.log(
      `  memory  ${found.memory_to_bare_start} × a bare Node start      (${ownPeak} MiB to ${startPeak} MiB)`,
    );
    return found;
  });
}
