import { writeFileSync } from 'node:fs';
import { ROOT } from '../run.ts';
import { inputOf, readExamples } from './input.ts';
import { relate } from './relations.ts';

// npm run relations [-- COUNT [SEED]]: how often each relation was asked of mutated trials, and what did not hold.
const [count = 20_000, seed = 1] = process.argv.slice(2).map(Number);
const examples = readExamples(ROOT);
const { asked, broken } = relate(seed, count, examples);
for (const [name, times] of asked) console.log(`${name.padEnd(32)} ${times}`);
for (const one of broken.slice(0, 20)) {
  console.log(one);
  const number = Number(/number (\d+)/.exec(one)?.[1]);
  const keep = process.env['KEEP'];
  if (keep !== undefined)
    writeFileSync(`${keep}/${number}.yaml`, inputOf(seed, number, examples).files['a.yaml'] ?? '');
}
console.log(`${broken.length} did not hold`);
if (broken.length > 0) process.exitCode = 1;
