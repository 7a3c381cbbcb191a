import { Random } from '../fuzz/random.ts';
import { intervalRates, SETTINGS } from './intervals-level.ts';

/** `npm run forecasts [-- SETS]`: how often what comes next keeps to the interval of 95 % it was forecast in. */
const [sets = 20_000] = process.argv.slice(2).map(Number);
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
for (const setting of SETTINGS) {
  const { kept, forecast, floors } = intervalRates(sets, new Random(9), setting);
  const said = Object.entries(setting).map(([name, value]) => `${name} ${String(value)}`);
  const shares = [...kept].map(([name, share]) => `${name} ${percent(share)}`);
  process.stdout.write(
    `${said.join(', ')}: ${shares.join(', ')}; an interval in ${percent(forecast)}, a floor in ${percent(floors)}\n`,
  );
}
