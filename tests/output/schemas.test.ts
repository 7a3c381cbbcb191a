import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { outputSchema } from '../../src/output/schema/schemas.ts';
import { OUTPUT_NAMES, type OutputName } from '../../src/output/schema/names.ts';
import { CODES } from '../../src/problems/codes.ts';
import { FIGURES } from '../../src/figures/list.ts';
import { type Files, ROOT, run } from '../run.ts';
import { undescribed } from './undescribed.ts';

/*
 * Every JSON output of every command over all examples, held against its schema by an independent validator. The schemas
 * take no key that they do not know, so that an output cannot grow one without a word of what it means.
 */

const printed = (of: string) => run(['schema', '--of', of], {}, '', { outputSchema: () => outputSchema });

const ajv = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true });
const validators = new Map<OutputName, ValidateFunction>(
  OUTPUT_NAMES.map((name) => [name, ajv.compile(JSON.parse(printed(name).out) as object)]),
);

function keeps(of: OutputName, data: unknown): void {
  const validate = validators.get(of);
  validate?.(data);
  expect(validate?.errors ?? []).toEqual([]);
}

/** What a run printed, held against the schema: an object, an array of them, or one a line. */
function holds(of: OutputName, argv: readonly string[], files: Files = {}): unknown[] {
  const { out, err } = run(argv, files);
  expect(out, `${argv.join(' ')}: ${err}`).not.toBe('');
  const all = argv.includes('jsonl')
    ? out
        .trimEnd()
        .split('\n')
        .map((line) => JSON.parse(line) as unknown)
    : [JSON.parse(out) as unknown].flat();
  for (const one of all) {
    keeps(of, one);
    expect(Object.keys(one as object).slice(0, 2)).toEqual(['format', 'tool']);
  }
  return all;
}

const trials = readdirSync(join(ROOT, 'examples'), { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.yaml') && !/^(limits|mixes)/.test(file))
  .map((file) => join('examples', file))
  .toSorted();

const example = (file: string): string => readFileSync(join(ROOT, 'examples', file), 'utf8');

test.each(OUTPUT_NAMES)('%s: a JSON Schema in which every property has a description', (name) => {
  const { out, code } = printed(name);
  expect(code).toBe(0);
  const schema = JSON.parse(out) as Record<string, unknown>;
  expect(schema['$schema']).toBe('https://json-schema.org/draft/2020-12/schema');
  expect(undescribed(schema)).toEqual([]);
});

test('whatever can be null says what null means', () => {
  const silent: string[] = [];
  const walk = (node: unknown, path: string): void => {
    if (node === null || typeof node !== 'object') return;
    const { properties = {}, ...rest } = node as { properties?: Record<string, Record<string, unknown>> };
    for (const [key, property] of Object.entries(properties)) {
      const ways = (property['anyOf'] ?? []) as { type?: string }[];
      const nullable = ways.some(({ type }) => type === 'null');
      if (nullable && !(property['description'] as string).includes('Null: ')) silent.push(`${path}/${key}`);
      walk(property, `${path}/${key}`);
    }
    for (const [key, value] of Object.entries(rest)) walk(value, `${path}/${key}`);
  };
  for (const name of OUTPUT_NAMES) walk(JSON.parse(printed(name).out), name);
  expect(silent).toEqual([]);
});

test('an unknown output: wrong usage; the trial file as before', () => {
  expect(printed('nothing').code).toBe(4);
  expect(printed('trial').out).toBe(run(['schema']).out);
});

describe('a validator notices', () => {
  const good = holds('verdict', ['verdict', 'examples/harbour-street.yaml', '--format', 'json'])[0] as object;
  test.each([
    ['a key nobody knows', { ...good, more: 1 }],
    ['a key that is missing', Object.fromEntries(Object.entries(good).filter(([key]) => key !== 'caveats'))],
    ['a number that is no text', { ...good, figures: [{ figure: 'pages', value: 1 }] }],
    ['another format', { ...good, format: 3 }],
    ['an unknown verdict', { ...good, verdict: 'passed' }],
  ])('%s', (_, data) => {
    expect(validators.get('verdict')?.(data)).toBe(false);
  });
});

describe('of one trial', () => {
  test.each(trials)('%s', (file) => {
    for (const format of ['json', 'jsonl']) {
      holds('verdict', ['verdict', file, '--format', format]);
      holds('compare', ['compare', file, '--limits', 'office', '--format', format]);
    }
    holds('verdict', ['verdict', file, '--strict', '--limits-only', 'laboratory', '--format', 'json']);
    if (run(['plan', file]).code === 0) holds('plan', ['plan', file, '--format', 'json']);
  });

  test.each(FIGURES.map(({ name }) => name))('explain %s in every trial', (figure) => {
    holds('explain', ['explain', figure, '--format', 'json']);
    for (const file of ['four-colour-pass', 'not-exhausted', 'under-way', 'warm-room'])
      holds('explain', ['explain', figure, `examples/${file}.yaml`, '--format', 'json']);
  });

  test('explain a key, and every code', () => {
    holds('explain', ['explain', 'cartridges.exhausted_at', '--format', 'json']);
    for (const code of Object.keys(CODES)) holds('explain', ['explain', code, '--format', 'json']);
  });

  test('marks', () => {
    holds('marks', ['marks', 'examples/four-colour-pass.yaml', '--format', 'json']);
    holds('marks', ['marks', '--distance', '10', '--part', 'drum=30', '--format', 'json']);
  });

  test('what is no trial, and limits that are none', () => {
    const files: Files = {
      'bad.yaml': 'trial: x\nmetre: 3\n',
      'house.yaml': 'waste: {max: 3}\n',
      'own.yaml': 'trial: x\nmeter: {start: 1, end: 20}\ncoverage: 5 %\nlimits: house.yaml\n',
    };
    holds('verdict', ['verdict', 'bad.yaml', 'gone.yaml', 'own.yaml', '--format', 'json'], files);
    holds('compare', ['compare', 'bad.yaml', 'own.yaml', '--limits', 'office', '--format', 'json'], files);
    holds('verdict', ['verdict', 'own.yaml', '--limits', 'house.yaml', '--format', 'jsonl'], files);
    holds('recheck', ['recheck', 'bad.yaml', 'gone.yaml', '--format', 'json'], files);
  });
});

describe('of many', () => {
  test('a folder, and one table over all', () => {
    expect(holds('verdict', ['verdict', 'examples', '--format', 'json']).length).toBeGreaterThan(20);
    holds('summary', ['verdict', 'examples', '--summary', '--format', 'json']);
    holds('summary', ['verdict', 'examples', '--summary', '--only', 'fail', '--format', 'json']);
  });

  test.each([
    [[]],
    [['--claim', '10500', '--tail', 'two-sided']],
    [['--by', 'lot', '--few', '--claim', '9000']],
    [['--by', 'month']],
    [['--trend', 'yield', '--of', 'black']],
    [['examples/not-exhausted.yaml', '--trend', 'yield']],
    [['--against', 'examples/not-exhausted.yaml']],
    [['--against', 'examples/four-colour-pass.yaml', '--margin', '200']],
  ])('pool %s', (options) => {
    holds('pool', ['pool', 'examples/pool', ...options, '--format', 'json']);
  });

  test('pool of nothing, of groups a line, of cartridges a line', () => {
    const files: Files = { 'u.yaml': 'trial: under way\nmeter: {start: 10000}\ncoverage: 5 %\n' };
    holds('pool', ['pool', 'u.yaml', '--by', 'supplier', '--format', 'json'], files);
    const every = trials.filter((file) => !file.includes('forecast'));
    holds('pool-line', ['pool', ...every, '--format', 'jsonl']);
    holds('pool-line', ['pool', ...every, '--by', 'supplier', '--format', 'jsonl']);
    holds('cartridge', ['pool', ...every, '--cartridges', '--format', 'jsonl']);
  });

  test('precision and lot', () => {
    holds('precision', ['precision', 'examples/pool', '--format', 'json']);
    const terms = ['--size', '400', '--limiting-quality', '10', '--format', 'json'];
    holds('lot', ['lot', 'examples/pool', ...terms]);
    holds('lot', ['lot', 'examples/pool', '--size', '400', '--format', 'json']);
    for (const rule of ['single', 'sequential'])
      holds('lot', ['lot', 'examples/pool', ...terms, '--acceptable-quality', '1', '--rule', rule]);
  });

  test('forecast, with every mix and without', () => {
    const of = readdirSync(join(ROOT, 'examples/forecast'), { withFileTypes: true });
    expect(of.length).toBeGreaterThan(0);
    holds('coverage', ['coverage', 'examples/documents/letter.png', '--format', 'json']);
    holds('forecast', ['forecast', 'examples/forecast', '--format', 'json']);
    for (const mix of readdirSync(join(ROOT, 'examples/mixes')).filter((file) => file.endsWith('.yaml')))
      holds('forecast', [
        'forecast',
        'examples/forecast',
        '--mix',
        `examples/mixes/${mix}`,
        '--format',
        'json',
      ]);
  });
});

describe('of sealed trials', () => {
  const sealed = (name: string): Files => {
    const files: Files = { 'a/t.yaml': example(name) };
    return { ...files, ...run(['seal', 'a/t.yaml', '--limits', 'office'], files).written };
  };

  test.each(['harbour-street.yaml', 'not-exhausted.yaml', 'warm-room.yaml'])(
    '%s: same, and changed',
    (name) => {
      const files = sealed(name);
      const states = (own: Files): unknown[] =>
        holds('recheck', ['recheck', 'a/t.yaml', '--format', 'json'], own).map(
          (one) => (one as { state: unknown }).state,
        );
      expect(states(files)).toEqual(['same']);
      const other = String(files['a/t.yaml']).replace(/end: (\d+)/, (_, end) => `end: ${Number(end) - 10}`);
      expect(states({ ...files, 'a/t.yaml': other })).not.toEqual(['same']);
      const text = String(files['a/t.yaml.seal.json']);
      expect(states({ ...files, 'a/t.yaml.seal.json': text.replace('tallytare', 'tallytarE') })).toEqual([
        'seal damaged',
      ]);
      expect(states({ 'a/t.yaml': String(files['a/t.yaml']) })).toEqual(['seal missing']);
      holds('recheck', ['recheck', 'a/t.yaml', '--current-limits', '--format', 'jsonl'], files);
    },
  );
});
