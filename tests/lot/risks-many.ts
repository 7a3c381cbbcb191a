import { Random } from '../fuzz/random.ts';
import { SETTINGS, wronglyJudged } from './risks.ts';

/** `npm run lots [-- LOTS]`: how often lots are judged wrongly, at risks of 10 % (consumer) and 5 % (producer). */
const [lots = 20_000] = process.argv.slice(2).map(Number);
for (const setting of SETTINGS) {
  const { accepted, rejected, tried } = wronglyJudged(lots, new Random(4), setting);
  const said = Object.entries(setting).map(([name, value]) => `${name} ${String(value)}`);
  process.stdout.write(
    `${said.join(', ')}: bad ones accepted ${(100 * accepted).toFixed(1)} %, good ones rejected ${(100 * rejected).toFixed(1)} %, ${tried.toFixed(1)} tried of a good one\n`,
  );
}
