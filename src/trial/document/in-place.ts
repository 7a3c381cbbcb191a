import type { Data } from '../../text/source.ts';
import type { Path } from '../../uncertainty/path.ts';

/** What stands in a place of the data; null where nothing does. */
export const at = (data: Data, path: Path): Data =>
  path.reduce<Data>(
    (node, step) =>
      node !== null && typeof node === 'object' ? ((node as Record<string, Data>)[step] ?? null) : null,
    data,
  );

/** The data with another value in one place; what is beside it is shared. */
export function replaced(data: Data, [step, ...rest]: Path, value: Data): Data {
  if (step === undefined) return value;
  if (Array.isArray(data))
    return data.map((one, index) => (index === step ? replaced(one, rest, value) : one));
  const from = data as Record<string, Data>;
  const copy = Object.assign(Object.create(null) as Record<string, Data>, from);
  copy[step] = replaced(from[step] ?? null, rest, value);
  return copy;
}
