import { Random } from '../fuzz/random.ts';
import { heldTrue, SETTINGS } from './colour-level.ts';

/** `npm run colours [-- SETS]`: how often ± 2u of a colour difference holds the true one; the least of all settings. */
const [sets = 2000] = process.argv.slice(2).map(Number);
let least = 1;
for (const setting of SETTINGS) {
  const held = heldTrue(sets, new Random(5), setting);
  least = Math.min(least, held);
  const said = Object.entries(setting).map(([name, value]) => `${name} ${JSON.stringify(value)}`);
  process.stdout.write(`${said.join(', ')}: ${(100 * held).toFixed(1)} %\n`);
}
process.stdout.write(`least: ${(100 * least).toFixed(1)} %\n`);
