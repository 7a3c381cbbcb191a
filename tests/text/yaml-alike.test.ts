import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { isPlain } from '../../src/text/yaml-plain.ts';
import { readYaml } from '../../src/text/yaml-text.ts';
import { Random } from '../fuzz/random.ts';
import { judge, ROOT } from '../run.ts';
import { differenceOf, oddText } from './yaml-alike.ts';

/*
 * One text, one meaning: what the quick reader of YAML takes is what the careful one reads. YAML 1.2.2 is the
 * measure of the careful one; the cases here are written anew after its productions.
 */

test('a short round of odd texts; `npm run yaml-alike` reads a million', () => {
  for (let number = 0; number < 20_000; number++) {
    const text = oddText(new Random(77, number));
    expect(differenceOf(text), JSON.stringify(text)).toBeNull();
  }
});

test('every example and preset is plain enough for the quick reader', () => {
  const folders = ['examples', 'examples/pool', 'examples/limits', 'shared/limits'];
  const texts = folders.flatMap((folder) =>
    readdirSync(join(ROOT, folder))
      .filter((name) => name.endsWith('.yaml'))
      .map((name) => [name, readFileSync(join(ROOT, folder, name), 'utf8')] as const),
  );
  expect(texts.length).toBeGreaterThan(15);
  expect(texts.filter(([, text]) => !isPlain(text)).map(([name]) => name)).toEqual([]);
});

const trial = (rest: string): string => `trial: Elm Yard\nmeter: {start: 0, end: 10000}\n${rest}`;

test.each([
  ['a second key behind a closed brace on its line (8.2.2)', 'events:\n  - {at: 2000, kind: jam}limits:\n'],
  ['a second key behind a closed bracket', 'events: [{at: 2000, kind: jam}] limits: {pages: {min: 1}}\n'],
  ['an indented document mark (9.1.2)', 'coverage: 5 %\n  ---\nduplex_share: 10 %\n'],
  [
    'a comment ended by a lone carriage return (5.4 takes it for a line end)',
    'coverage: 5 % # here\rlimits: {pages: {max: 1}}\n',
  ],
])('%s: read as YAML reads it, or refused with its place', (_, rest) => {
  expect(differenceOf(trial(rest))).toBeNull();
  const { verdict, notes } = judge(trial(rest));
  if (verdict === 'invalid') expect(notes[0]?.line).toBeGreaterThan(2);
  else expect(verdict).toBe('fail');
});

test('an anchor before a key, and an escaped line break in a quoted number', () => {
  const anchor = trial(
    'waste_container: {tare: 600, final: 900}\nlimits: &x waste_per_thousand: {max: 25 g}\n',
  );
  expect(differenceOf(anchor)).toBeNull();
  expect(judge(anchor).verdict).toBe('invalid');
  // YAML 1.2.2, 7.3.1: an escaped line break joins the lines, without the blanks that begin the second.
  const escaped = 'a: "2\\\n  6 g"\n';
  expect(readYaml(escaped, () => 1).data).toEqual({ a: '26 g' });
});
