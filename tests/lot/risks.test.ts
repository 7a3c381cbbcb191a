import { expect, test } from 'vitest';
import { Random } from '../fuzz/random.ts';
import { CONSUMER, PRODUCER, SETTINGS, wronglyJudged } from './risks.ts';

/*
 * A short round of `npm run lots`. The risks agreed are 10 and 5 %; over 1000 lots their standard deviations are 0.95
 * and 0.69 %, and three of them are allowed.
 */

test.each(SETTINGS)('both risks are kept: %o', (setting) => {
  const { accepted, rejected } = wronglyJudged(1000, new Random(4, setting.size), setting);
  expect(accepted).toBeLessThan(CONSUMER + 3 * 0.0095);
  expect(rejected).toBeLessThan(PRODUCER + 3 * 0.0069);
  // A rule that never accepted anything would keep the consumer's risk too.
  expect(accepted).toBeGreaterThan(0);
});
