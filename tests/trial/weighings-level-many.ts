import { Random } from '../fuzz/random.ts';
import { heldTrue, SETTINGS } from './weighings-level.ts';

/** `npm run weighings [-- SETS]`: how often the mean of repeated weighings ± 2u holds the true mass; the least of all. */
const [sets = 20_000] = process.argv.slice(2).map(Number);
let least = 1;
for (const setting of SETTINGS) {
  const held = heldTrue(sets, new Random(11), setting);
  least = Math.min(least, held);
  const { n, sd, error } = setting;
  process.stdout.write(
    `${n} weighings, standard deviation ${sd} g, error ${error} g: ${(100 * held).toFixed(1)} %\n`,
  );
}
process.stdout.write(`least: ${(100 * least).toFixed(1)} %\n`);
