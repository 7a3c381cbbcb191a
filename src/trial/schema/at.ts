import type { Data } from '../../text/source.ts';
import type { Path } from '../../uncertainty/path.ts';
import { flow } from './flow.ts';
import type * as z from './zod.ts';

/** What a schema says of the places of a file. */

export type Definition = Readonly<Record<string, unknown>>;

export const definitionOf = (schema: z.Schema): Definition => schema._zod.def as unknown as Definition;

/** The ways a schema can be read, what is only around them taken off. */
export function ways(schema: unknown): z.Schema[] {
  const one = schema as z.Schema | undefined;
  if (one === undefined) return [];
  const def = definitionOf(one);
  switch (def['type']) {
    case 'optional':
    case 'nullable':
      return ways(def['innerType']);
    case 'lazy':
      return ways((one as unknown as { _zod: { innerType: unknown } })._zod.innerType);
    case 'union':
      return (def['options'] as readonly unknown[]).flatMap(ways);
    default:
      return [one];
  }
}

/** What may stand at `path`: a schema for each way it can be read. */
export function schemasAt(schema: unknown, path: Path): z.Schema[] {
  const [step, ...rest] = path;
  if (step === undefined) return ways(schema);
  return ways(schema).flatMap((one) => {
    const def = definitionOf(one);
    switch (def['type']) {
      case 'array':
        return schemasAt(def['element'], rest);
      case 'record':
        return schemasAt(def['valueType'], rest);
      case 'object': {
        const shape = shapeOf(def);
        return Object.hasOwn(shape, step) ? schemasAt(shape[step], rest) : [];
      }
      default:
        return [];
    }
  });
}

export const shapeOf = (def: Definition): Readonly<Record<string, z.Schema>> =>
  def['shape'] as Readonly<Record<string, z.Schema>>;

/** The keys a map at `path` may have. */
export function knownKeys(schema: z.Schema, path: Path): Set<string> {
  const maps = schemasAt(schema, path).map(definitionOf);
  return new Set(maps.flatMap((def) => (def['type'] === 'object' ? Object.keys(shapeOf(def)) : [])));
}

/** How many values a list of fixed length at `path` has. */
export function lengthOf(schema: z.Schema, path: Path): number {
  const list = schemasAt(schema, path)
    .map(definitionOf)
    .find((def) => def['type'] === 'tuple');
  return (list?.['items'] as readonly unknown[] | undefined)?.length ?? 0;
}

/** A key in a section of the file where it is known, as a line that has it there. */
export interface Belongs {
  /** The section, as people name it: `cartridges.gauge`. */
  readonly under: string;
  readonly line: string;
}

/** Sections that hold keys of others, or those of figures. */
const PASSED_OVER: ReadonlySet<string> = new Set(['reference', 'limits', 'stated', 'checked']);

/** More sections than these are no help. */
const MOST_SECTIONS = 3;

/** The sections in which the first of some keys is known that is known at all, unless there are many. */
export function belonging(
  schema: z.Schema,
  keys: readonly string[],
  value: Data | undefined,
): readonly Belongs[] {
  for (const key of keys) {
    const found: Belongs[] = [];
    const walk = (node: unknown, path: readonly string[], wrap: (inside: Data) => Data): void => {
      for (const one of ways(node)) {
        const def = definitionOf(one);
        if (def['type'] === 'array') walk(def['element'], path, (inside) => wrap([inside]));
        if (def['type'] !== 'object') continue;
        for (const [name, inner] of Object.entries(shapeOf(def))) {
          const under = path.join('.');
          if (name === key && path.length > 0 && !found.some((met) => met.under === under))
            found.push({
              under,
              line: flow(wrap({ [key]: typeof value === 'string' ? value : null })).slice(1, -1),
            });
          if (path.length < 2 && !PASSED_OVER.has(name))
            walk(inner, [...path, name], (inside) => wrap({ [name]: inside }));
        }
      }
    };
    walk(schema, [], (inside) => inside);
    if (found.length > 0) return found.length > MOST_SECTIONS ? [] : found;
  }
  return [];
}
