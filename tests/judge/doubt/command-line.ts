import { falseAlarms, slipsThatTurn, type Turned } from './rates.ts';
import { PLACES, SLIPS } from './slips.ts';

/**
 * `npm run doubts [-- --trials 5000] [-- --seed 1] [-- --show 3]`: how often trials whose readings agree are put
 * in doubt, and how often a slip that turns a verdict is caught.
 */
const option = (name: string, other: number): number => {
  const at = process.argv.indexOf(`--${name}`);
  return at === -1 ? other : Number(process.argv[at + 1]);
};
const [trials, seed, show] = [option('trials', 5000), option('seed', 1), option('show', 0)];
const say = (line: string): void => void process.stdout.write(`${line}\n`);
const percent = (some: number, all: number): string => `${((100 * some) / Math.max(1, all)).toFixed(2)} %`;

const alarms = falseAlarms(trials, seed);
say(`in doubt though the readings agree: ${alarms.length} of ${trials} (${percent(alarms.length, trials)})`);
const codes = alarms.flatMap((alarm) => alarm.codes);
for (const code of new Set(codes)) say(`  ${code}: ${codes.filter((one) => one === code).length}`);
for (const { text, codes: said } of alarms.slice(0, show)) say(`\n# ${said.join(' ')}\n${text}`);

const turned = slipsThatTurn(trials, seed);
const caught = (some: readonly Turned[]): string => {
  const seen = some.filter((one) => one.caught).length;
  return `${seen} of ${some.length} (${percent(seen, some.length)})`;
};
say(`caught slips that turn the verdict: ${caught(turned)}`);
for (const place of PLACES) {
  for (const kind of SLIPS) {
    const own = turned.filter((one) => one.place === place && one.kind === kind);
    if (own.length > 0) say(`  ${place}, ${kind}: ${caught(own)}`);
  }
}
for (const { place, kind, text } of turned.filter((one) => !one.caught).slice(0, show))
  say(`\n# not caught: ${place}, ${kind}\n${text}`);
