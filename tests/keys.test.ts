import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { FIGURES } from '../src/figures/list.ts';
import { documents } from './readme.ts';
import { ROOT, run } from './run.ts';

/** Every key of the format, from the printed schema; figures are keys of `limits` and `stated` only. */
function keysOf(schema: unknown, keys = new Set<string>()): Set<string> {
  if (Array.isArray(schema)) for (const one of schema) keysOf(one, keys);
  else if (schema !== null && typeof schema === 'object') {
    for (const [name, value] of Object.entries(schema)) {
      if (name === 'properties') for (const key of Object.keys(value as object)) keys.add(key);
      keysOf(value, keys);
    }
  }
  return keys;
}

const figures = new Set(FIGURES.map(({ name }) => name));
/** Words of before, which are still read and written no more. */
const OF_BEFORE = ['weight'];

const keys = [...keysOf(JSON.parse(run(['schema']).out))].filter(
  (key) => !figures.has(key) && !OF_BEFORE.includes(key),
);
const read = (...path: string[]): string => readFileSync(join(ROOT, ...path), 'utf8');

const folders = ['examples', join('examples', 'limits'), join('examples', 'forecast')];
const examples = folders
  .flatMap((folder) =>
    readdirSync(join(ROOT, folder))
      .filter((file) => file.endsWith('.yaml'))
      .map((file) => read(folder, file)),
  )
  .join('\n');
const account = [...documents().values()].join('\n');

test('the schema has the keys of the format', () => {
  expect(keys.length).toBeGreaterThan(100);
});

test.each(keys)('the key %s is in an example', (key) => {
  expect(examples).toMatch(new RegExp(`(^|[\\s{,-])${key}:`, 'm'));
});

test.each(keys)('the key %s is in the manual’s account of the file', (key) => {
  expect(account).toMatch(new RegExp(`\`${key}\`|[{,]\\s*${key}[:,}]|^\\s*-?\\s*${key}:`, 'm'));
});

interface Node {
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node;
  readonly anyOf?: readonly Node[];
  readonly $ref?: string;
}
const root = JSON.parse(run(['schema']).out) as Node & { readonly $defs?: Readonly<Record<string, Node>> };

/** Every key by its path, with what the schema says of it; those of limits and stated figures are figures. */
function* paths(node: Node, above: string): Generator<readonly [path: string, key: string, said: string]> {
  const ref = node.$ref === undefined ? undefined : root.$defs?.[node.$ref.replace('#/$defs/', '')];
  for (const inner of [ref, node.items, ...(node.anyOf ?? [])]) if (inner) yield* paths(inner, above);
  for (const [key, value] of Object.entries(node.properties ?? {})) {
    if (figures.has(key) || OF_BEFORE.includes(key)) continue;
    const path = above === '' ? key : `${above}.${key}`;
    yield [path, key, value.description ?? ''];
    if (!['limits', 'stated'].includes(key)) yield* paths(value, path);
  }
}
const described = [...new Map([...paths(root, '')].map((one) => [one[0], one])).values()];

test('every key has a text of its own, which no key of another name has', () => {
  const keysOfText = new Map<string, string>();
  for (const [path, key, said] of described) {
    expect([path, said]).toEqual([path, expect.stringMatching(/^.{5,}$/)]);
    expect([path, keysOfText.get(said) ?? key]).toEqual([path, key]);
    keysOfText.set(said, key);
  }
});

test.each(described)(
  'explain %s says what it is, as the schema does, and shows a line',
  (path, key, said) => {
    const { code, out } = run(['explain', path]);
    expect(code).toBe(0);
    expect(out.replace(/\s+/g, ' ')).toContain(`means ${said} `);
    expect(out).toMatch(new RegExp(`^  example   ${key}:`, 'm'));
  },
);
