import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { CATALOGUE } from '../../src/figures/list.ts';
import type { Problem } from '../../src/problems/problem.ts';
import { type Data, readSource, type Source } from '../../src/text/source.ts';
import { readTrial } from '../../src/trial/read.ts';
import { dotted, type Path } from '../../src/uncertainty/path.ts';
import { ROOT } from '../run.ts';

/*
 * Every value of every example is typed in the ways people type: each must be taken, or refused with a value to
 * write, and that value must be taken.
 */

const examples = readdirSync(join(ROOT, 'examples'))
  .filter((file) => file.endsWith('.yaml'))
  .map((file) => readSource(file, readFileSync(join(ROOT, 'examples', file), 'utf8')));

type Leaf = readonly [path: Path, text: string];

function leavesOf(data: Data, path: Path = []): Leaf[] {
  if (typeof data === 'string') return [[path, data]];
  if (data === null) return [];
  const entries: [string | number, Data][] = Array.isArray(data) ? [...data.entries()] : Object.entries(data);
  return entries.flatMap(([step, one]) => leavesOf(one, [...path, step]));
}

/** The data with another value in one place. */
function put(data: Data, path: Path, value: Data): Data {
  const [step, ...rest] = path;
  if (step === undefined) return value;
  if (Array.isArray(data)) return data.map((one, index) => (index === step ? put(one, rest, value) : one));
  const map = data as Record<string, Data>;
  return { ...map, [step]: put(map[step] ?? null, rest, value) };
}

/** What is wrong with a value by itself; whether it agrees with the others is another matter. */
const SINGLE: ReadonlySet<string> = new Set([
  ...['comma', 'grouped-digits', 'not-a-number', 'unknown-unit', 'unknown-currency', 'not-a-time'],
  ...['unknown-word', 'not-whole', 'too-low', 'too-high', 'not-positive', 'wrong-shape'],
]);

/** The errors at a place once something else stands there. */
function errorsAt(source: Source, path: Path, value: Data): readonly Problem[] {
  const { problems } = readTrial({ ...source, data: put(source.data, path, value) }, CATALOGUE);
  const here = dotted(path);
  return problems.filter(({ code, path: at }) => SINGLE.has(code) && dotted(at).startsWith(here));
}

/** The values that a problem says to write. */
function offered(problem: Problem): readonly string[] {
  switch (problem.code) {
    case 'comma':
    case 'grouped-digits':
    case 'unknown-currency':
      return problem.write;
    case 'not-a-time':
      return problem.readings;
    case 'unknown-word':
      return problem.nearest === null ? [] : [problem.nearest];
    default:
      return [];
  }
}

const DAY = /^(\d{4})-(\d{2})-(\d{2})/;
/** A number of at least four digits, and no day. */
const THOUSANDS = /^(\d{1,3})(\d{3})(?![\d-])/;

type Slip = readonly [name: string, slip: (text: string) => string, code: Problem['code'] | null];

const SLIPS: readonly Slip[] = [
  ['a decimal comma', (text) => text.replace(/^(\d+)\.(\d+)/, '$1,$2'), 'comma'],
  ['a comma at the thousands', (text) => text.replace(THOUSANDS, '$1,$2'), 'comma'],
  ['a blank at the thousands', (text) => text.replace(THOUSANDS, '$1 $2'), 'grouped-digits'],
  ['an apostrophe at the thousands', (text) => text.replace(THOUSANDS, "$1'$2"), 'grouped-digits'],
  ['grams in full', (text) => text.replace(/^([\d.]+) g$/, '$1 grams'), null],
  ['degrees', (text) => text.replace(/^([\d.]+) °C$/, '$1 degrees'), null],
  ['percent', (text) => text.replace(/^([\d.]+) %$/, '$1 percent'), null],
  ['a euro sign', (text) => text.replace(/^([\d.]+) EUR$/, '$1 €'), null],
  ['a decimal comma and a euro sign', (text) => text.replace(/^(\d+)\.(\d+) EUR$/, '$1,$2 €'), 'comma'],
  ['a dollar sign', (text) => text.replace(/^([\d.]+) EUR$/, '$1 $'), 'unknown-currency'],
  ['a blank before the clock', (text) => text.replace(/^([\d-]{10})T(\d{2}:\d{2})$/, '$1 $2'), null],
  ['an hour of one digit', (text) => text.replace(/^([\d-]{10})T0(\d:\d{2})$/, '$1T$2'), null],
  ['a day that ends with its year', (text) => text.replace(DAY, '$3.$2.$1'), 'not-a-time'],
  ['a day that begins with its month', (text) => text.replace(DAY, '$2/$3/$1'), 'not-a-time'],
  ['a word with a letter twice', (text) => text.replace(/^([a-z])([a-z_]{3,})$/, '$1$1$2'), 'unknown-word'],
];

describe.each(SLIPS)('%s', (_, slip, code) => {
  test('is taken, or a value is offered that is', () => {
    let met = 0;
    for (const source of examples)
      for (const [path, text] of leavesOf(source.data)) {
        const typed = slip(text);
        if (typed === text) continue;
        const where = `${source.file} ${dotted(path)}: ${typed}`;
        const errors = errorsAt(source, path, typed);
        // Where any text may stand there is nothing to mend.
        if (errors.length === 0) {
          met += code === null ? 1 : 0;
          continue;
        }
        expect([where, errors.map((one) => one.code)]).toEqual([where, [code]]);
        const values = errors.flatMap(offered);
        expect([where, values.length]).not.toEqual([where, 0]);
        for (const value of values)
          expect([where, value, errorsAt(source, path, value)]).toEqual([where, value, []]);
        met += 1;
      }
    expect(met).toBeGreaterThan(0);
  });
});
