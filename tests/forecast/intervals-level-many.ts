import { Random } from '../fuzz/random.ts';
import { intervalRates, SETTINGS } from './intervals-level.ts';

/** `npm run forecasts [-- SETS]`: how often the next cartridge keeps to the interval of 95 % it was forecast in. */
const [sets = 20_000] = process.argv.slice(2).map(Number);
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
for (const setting of SETTINGS) {
  const rates = intervalRates(sets, new Random(9), setting);
  const said = Object.entries(setting).map(([name, value]) => `${name} ${String(value)}`);
  process.stdout.write(
    `${said.join(', ')}: toner a page ${percent(rates.usage)}, yield ${percent(rates.yield)}; an interval in ${percent(rates.forecast)}, a floor in ${percent(rates.floors)}\n`,
  );
}
