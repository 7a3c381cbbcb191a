import type { Catalogue } from '../catalogue.ts';
import { trialJsonSchema } from './json-schema.ts';

/** What there is to say of a key of the trial file. */
export interface KeyAccount {
  /** As people name it: `cartridges.exhausted_at`. */
  readonly key: string;
  readonly description: string;
  /** What can stand there: numbers and units, words, keys below it. */
  readonly takes: string;
  /** A line that could stand in a file. */
  readonly example: string;
}

interface Schema {
  readonly $ref?: string;
  readonly description?: string;
  readonly type?: string | readonly string[];
  readonly enum?: readonly string[];
  readonly pattern?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly items?: Schema | boolean;
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly additionalProperties?: Schema | boolean;
}

/** The account of a key by its path, lists passed through: `waste_container.final`; null where there is no such key. */
export function accountOf(path: string, catalogue: Catalogue): KeyAccount | null {
  const whole = trialJsonSchema(catalogue) as Schema & { readonly $defs?: Readonly<Record<string, Schema>> };
  const resolved = (schema: Schema): Schema => {
    const name = schema.$ref?.split('/').at(-1);
    const target = name === undefined ? undefined : whole.$defs?.[name];
    return target === undefined ? schema : { ...resolved(target), ...schema };
  };
  /** A schema and all that it can be, the entries of lists included or not. */
  const ways = (schema: Schema, inLists = true): Schema[] => {
    const one = resolved(schema);
    const inside = [
      ...(one.anyOf ?? []),
      ...(one.oneOf ?? []),
      ...(inLists && typeof one.items === 'object' ? [one.items] : []),
    ];
    return [one, ...inside.flatMap((way) => ways(way, inLists))];
  };
  const keysOf = (schema: Schema): Map<string, Schema> =>
    new Map(ways(schema).flatMap(({ properties }) => Object.entries(properties ?? {})));
  let found: Schema = whole;
  for (const step of path.replace(/\[\d*\]/g, '').split('.')) {
    const next = keysOf(found).get(step);
    if (next === undefined) return null;
    found = next;
  }
  const name = path.split('.').at(-1) ?? path;
  const { takes, value } = valuesOf(ways(found), [...keysOf(found).keys()]);
  const list = ways(found).some(({ type }) => type === 'array');
  const alone = ways(found, false).some(({ type }) => type === 'number');
  return {
    key: path,
    description: resolved(found).description ?? '',
    takes: list && alone ? `${takes}; or a list of such` : takes,
    example: `${name}: ${list && !alone ? `[${value}]` : value}`,
  };
}

/** Every key by its path, the reference run's left out, for whoever has mistyped one. */
export function allKeys(catalogue: Catalogue): string[] {
  const names = new Set<string>();
  const walk = (schema: Schema, path: string, depth: number): void => {
    for (const [key, below] of Object.entries(schema.properties ?? {})) {
      if (key === 'reference' || key === 'stated' || key === 'limits') continue;
      const here = path === '' ? key : `${path}.${key}`;
      names.add(here);
      if (depth < 3) walk(below, here, depth + 1);
    }
    for (const inside of [
      ...(schema.anyOf ?? []),
      ...(typeof schema.items === 'object' ? [schema.items] : []),
    ])
      walk(inside, path, depth);
  };
  walk(trialJsonSchema(catalogue), '', 0);
  return [...names];
}

/** What can stand under a key, in words, and a value that could. */
function valuesOf(ways: readonly Schema[], keys: readonly string[]): { takes: string; value: string } {
  const words = ways.flatMap((way) => way.enum ?? []);
  if (words.length > 0) return { takes: `one of ${words.join(', ')}`, value: words[0] ?? '' };
  if (keys.length > 0) {
    const shown = keys.slice(0, 12).join(', ');
    return { takes: `the keys ${shown}${keys.length > 12 ? ', …' : ''}`, value: `{${keys[0] ?? ''}: …}` };
  }
  const bare = ways
    .map(({ description }) => /bare number is in (.+)\.$/.exec(description ?? '')?.[1])
    .find(Boolean);
  if (bare !== undefined) {
    const whole = ways.some(({ type }) => type === 'integer');
    return {
      takes: `a number; a bare one is in ${bare}`,
      value: whole ? '12000' : `${EXAMPLES[bare] ?? '10'} ${bare}`,
    };
  }
  if (ways.some(({ pattern }) => pattern?.includes('[0-9]{4}-[0-9]{2}-[0-9]{2}')))
    return { takes: 'a day or a time, ISO 8601', value: '2026-03-09T14:30' };
  if (ways.some(({ pattern }) => pattern?.includes('[A-Z]{3}')))
    return { takes: 'an amount with its ISO 4217 code', value: '41.50 EUR' };
  if (ways.some(({ type }) => type === 'number' || type === 'integer'))
    return { takes: 'a number', value: '1' };
  return { takes: 'text', value: 'K-20' };
}

const EXAMPLES: Readonly<Record<string, string>> = {
  g: '948',
  '%': '5',
  '°C': '22.5',
  mm: '30',
  mg: '12',
  page: '12000',
};
