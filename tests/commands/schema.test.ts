import { Ajv2020 } from 'ajv/dist/2020.js';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { ROOT, run } from '../run.ts';
import { undescribed } from '../output/undescribed.ts';

const printed = run(['schema']);
const schema = JSON.parse(printed.out) as Record<string, unknown>;
const validate = new Ajv2020({ allErrors: true, strict: true, allowUnionTypes: true }).compile(schema);

/** A trial as an editor's YAML reader sees it: numbers are numbers. */
const seen = (yaml: string): unknown => parse(yaml);

const examples = readdirSync(join(ROOT, 'examples')).filter((file) => file.endsWith('.yaml'));
const example = (file: string): string => readFileSync(join(ROOT, 'examples', file), 'utf8');

test('is printed with exit code 0', () => {
  expect(printed.code).toBe(0);
  expect(schema['$schema']).toBe('https://json-schema.org/draft/2020-12/schema');
});

test.each(examples)('an independent validator takes %s', (file) => {
  const valid = validate(seen(example(file)));
  expect(validate.errors ?? []).toEqual([]);
  expect(valid).toBe(true);
});

test.each(examples)('%s begins with the line that binds it to the schema', (file) => {
  expect(example(file).split('\n')[0]).toBe('# yaml-language-server: $schema=../dist/trial.schema.json');
});

test('it takes a number for the name of a slot, as the reader does', () => {
  expect(validate({ trial: 'x', meter: { start: 1, end: 2 }, cartridges: [{ slot: 1 }] })).toBe(true);
});

describe('an independent validator refuses what the reader refuses', () => {
  const base = { trial: 'x', meter: { start: 1, end: 2 } };
  test.each([
    ['no meter', { trial: 'x' }],
    ['an unknown key', { ...base, metre: 3 }],
    ['an unknown unit', { ...base, waste_container: { tare: '3 stone' } }],
    ['a coverage above 100 %', { ...base, coverage: 120 }],
    ['an unknown kind of event', { ...base, events: [{ kind: 'party' }] }],
    ['an unknown figure in limits', { ...base, limits: { wastage: { max: 3 } } }],
    ['a price without currency', { ...base, cartridges: [{ price: '12.50' }] }],
  ])('%s', (_, data) => {
    expect(validate(data)).toBe(false);
  });
});

/** Every key of the format is described: editors show it while the file is being written. */
test('every property has a description', () => {
  expect(undescribed(schema)).toEqual([]);
});
