import type { Data } from '../../text/source.ts';
import { lastKey, type Path } from '../../uncertainty/path.ts';
import { definitionOf, schemasAt, shapeOf, ways } from './at.ts';
import { flow } from './flow.ts';
import * as z from './zod.ts';

/** Values of which one fits wherever a single one may stand. */
const SAMPLES = [
  '5 %',
  '948 g',
  '22.5 °C',
  '30 mm',
  '80 g/m²',
  '12 mg',
  '2.40 EUR',
  '2026-03-09',
  '12000',
  '1',
  'K-20',
];

/** Words for nothing, where a list may be empty. */
const NONE = /^(?:none|no|nothing|nil|-+|0)$/i;

/** Candidates that are held against the schema: each costs a parse of it. */
const MOST_TRIED = 60;

/** A longer line is no help. */
const LONGEST = 90;

/** The line to write in place of one of another shape: with what stands there where that can be kept. */
export function lineFor(schema: z.Schema, path: Path, found: Data): string | null {
  const known = schemasAt(schema, path);
  const fits = (data: Data): boolean => known.some((one) => z.safeParse(one, data).success);
  const candidates = known.flatMap((one) => candidatesOf(one, found, 0));
  const key = typeof path.at(-1) === 'string' ? lastKey(path) : null;
  for (const data of candidates.slice(0, MOST_TRIED)) {
    const text = path.length === 0 ? flow(data).slice(1, -1) : flow(data);
    const line = key === null ? text : `${flow(key)}: ${text}`;
    if (line.length <= LONGEST && fits(data)) return line;
  }
  return null;
}

/** What could stand there, the likeliest first. */
function candidatesOf(schema: z.Schema, found: Data, depth: number): Data[] {
  const def = definitionOf(schema);
  switch (def['type']) {
    case 'array': {
      const inside = ways(def['element']);
      if (typeof found === 'string' && NONE.test(found.trim())) return [[]];
      const kept = found !== null && !Array.isArray(found) ? [[found] as Data] : [];
      return [...kept, ...inside.flatMap((one) => candidatesOf(one, found, depth)).map((one): Data => [one])];
    }
    case 'object': {
      const keys = Object.entries(shapeOf(def));
      const alone = Array.isArray(found) && found.length === 1 ? [found[0] ?? null] : [];
      const each = keys.flatMap(([name, inner]) =>
        depth > 1
          ? []
          : ways(inner).flatMap((one) =>
              candidatesOf(one, found, depth + 1).map((data): Data => ({ [name]: data })),
            ),
      );
      return [...alone, ...inOrder(each, found)];
    }
    case 'record':
      return ways(def['valueType']).flatMap((one) =>
        candidatesOf(one, found, depth + 1).map((data): Data => ({ black: data })),
      );
    case 'enum':
      return Object.keys(def['entries'] as object);
    case 'tuple':
      return [(def['items'] as readonly unknown[]).map(() => '0')];
    default: {
      const inside = found === null || typeof found === 'string' ? [found] : Object.values(found);
      const kept = inside.filter((one) => typeof one === 'string' && one.trim() !== '');
      return [...kept, ...SAMPLES];
    }
  }
}

/** Those first that keep what was written. */
function inOrder(candidates: readonly Data[], found: Data): Data[] {
  if (typeof found !== 'string') return [...candidates];
  const keeps = (data: Data): boolean =>
    data === found || (data !== null && typeof data === 'object' && Object.values(data).some(keeps));
  return [...candidates.filter(keeps), ...candidates.filter((data) => !keeps(data))];
}
