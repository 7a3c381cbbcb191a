import type { Data } from '../text/source.ts';
import type { Path } from '../uncertainty/path.ts';

/** A value as plain text; several weighings of one thing are a list. */
export type Value = string | readonly string[];

/** What one note changes in a trial file: a value under a key, or a new entry of a list. */
export type Change =
  | { readonly kind: 'set'; readonly path: Path; readonly value: Value }
  | { readonly kind: 'add'; readonly path: Path; readonly entry: Entry };

/** Keys and values of a new entry, in the order they are written; null leaves a key empty. */
export type Entry = readonly (readonly [key: string, value: Value | null])[];

/** What stands at a path; undefined where nothing does. */
export const dataAt = (data: Data | undefined, path: Path): Data | undefined =>
  path.reduce<Data | undefined>(
    (node, step) =>
      node !== null && typeof node === 'object' && Object.hasOwn(node, step)
        ? (node as Record<string | number, Data>)[step]
        : undefined,
    data,
  );

/** The data with a change made in it; what is on the way to it and missing is made. */
export function changed(data: Data, change: Change): Data {
  return made(data, change.path, (old) => {
    if (change.kind === 'set') return plain(change.value);
    return [
      ...(Array.isArray(old) ? old : []),
      Object.fromEntries(change.entry.map(([key, value]) => [key, plain(value)])),
    ];
  });
}

const plain = (value: Value | null): Data =>
  value === null || typeof value === 'string' ? value : [...value];

function made(data: Data | undefined, path: Path, last: (old: Data | undefined) => Data): Data {
  const [step, ...rest] = path;
  if (step === undefined) return last(data);
  if (Array.isArray(data)) return data.map((one, index) => (index === step ? made(one, rest, last) : one));
  const map = data !== null && typeof data === 'object' ? data : {};
  return { ...map, [step]: made(dataAt(map, [step]), rest, last) };
}

/** Whether two pieces of data say the same, in whatever order their keys stand. */
export function sameData(a: Data | undefined, b: Data | undefined): boolean {
  if (a === b) return true;
  if (a == null || b == null || typeof a !== 'object' || typeof b !== 'object') return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const [keys, others] = [Object.keys(a), Object.keys(b)];
  return (
    keys.length === others.length &&
    keys.every((key) => Object.hasOwn(b, key) && sameData(dataAt(a, [key]), dataAt(b, [key])))
  );
}
