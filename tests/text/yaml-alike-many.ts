import { Random } from '../fuzz/random.ts';
import { differenceOf, oddText } from './yaml-alike.ts';
import { isPlain } from '../../src/text/yaml-plain.ts';
import { readYaml } from '../../src/text/yaml-text.ts';

/** `npm run yaml-alike [-- TEXTS [SEED]]`: how many odd texts both readers of YAML read alike. */
const [texts = 1_000_000, seed = 1] = process.argv.slice(2).map(Number);
let [plain, taken, shown] = [0, 0, 0];
for (let number = 0; number < texts; number++) {
  const text = oddText(new Random(seed, number));
  if (isPlain(text)) {
    plain += 1;
    if (readYaml(text, () => 1).problems.length === 0) taken += 1;
  }
  const difference = differenceOf(text);
  if (difference === null) continue;
  process.exitCode = 1;
  if (shown++ < 20) process.stdout.write(`${number}: ${JSON.stringify(text)}\n  ${difference}\n`);
}
process.stdout.write(
  `${texts} texts, ${plain} of them plain, ${taken} of these taken; ${shown} read differently\n`,
);
