import type { Reading, Trial } from '../trial/trial.ts';
import { brief } from '../uncertainty/decimal.ts';
import type { Path } from '../uncertainty/path.ts';
import { typeset } from './typeset.ts';

/** What stands in the file's data at a path. */
const at = (data: unknown, path: Path): unknown =>
  path.reduce<unknown>(
    (inside, step) =>
      typeof inside === 'object' && inside !== null && Object.hasOwn(inside, step)
        ? (inside as Readonly<Record<string | number, unknown>>)[step]
        : undefined,
    data,
  );

/** A reading with the digits it was written with: 22.0 stays 22.0. In another unit, as it was converted. */
export function asWritten({ data }: Trial, { path, measured }: Reading): string {
  if (measured === null) return '';
  const found = at(data, path);
  const text =
    typeof found === 'object' && found !== null && 'text' in found && typeof found.text === 'string'
      ? found.text
      : '';
  const [number = '', places = ''] = /^[+-]?\d+(?:\.(\d+))?/.exec(text) ?? [];
  const same = number !== '' && measured.value.eq(number);
  return typeset(same ? measured.value.toFixed(places.length) : brief(measured.value));
}
