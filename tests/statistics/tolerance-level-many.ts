import { Random } from '../fuzz/random.ts';
import { calledOdd, LAYOUTS, tooHigh } from './tolerance-level.ts';

/** `npm run tolerance [-- SETS]`: how often a tolerance bound over machines is too high, at a level of one in ten. */
const [sets = 5000] = process.argv.slice(2).map(Number);
for (const [sizes, correlation] of LAYOUTS) {
  const wrong = tooHigh(sets, sizes, correlation, new Random(3));
  process.stdout.write(
    `${sizes.join(' + ')} cartridges, correlation ${String(correlation)}: ${(100 * wrong).toFixed(1)} %\n`,
  );
}
const random = new Random(4);
for (const n of [15, 30, 60]) {
  const odd = calledOdd(sets, n, () => random.normal());
  process.stdout.write(`${String(n)} normal yields called not normal: ${(100 * odd).toFixed(1)} %\n`);
}
