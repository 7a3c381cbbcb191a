import { Random } from '../fuzz/random.ts';
import { claimRates, SETTINGS } from './claims-level.ts';

/** `npm run claims [-- SETS]`: how often a true claim is supported, and refused, at a level of one in ten. */
const [sets = 20_000] = process.argv.slice(2).map(Number);
for (const setting of SETTINGS) {
  const { supported, refused } = claimRates(sets, new Random(9), setting);
  const said = Object.entries(setting).map(([name, value]) => `${name} ${String(value)}`);
  process.stdout.write(
    `${said.join(', ')}: supported ${(100 * supported).toFixed(1)} %, refused ${(100 * refused).toFixed(1)} %\n`,
  );
}
