import type { Path } from '../uncertainty/path.ts';

/** What a value that holds for every slot is known by; no slot has such a name. */
const OF_EVERY_SLOT = ['resolution', 'value', 'document'];

/** Whether a value is given slot by slot, and not one for all of them, nor as the name of a file. */
export const isBySlot = (data: object | string | null | undefined): boolean =>
  typeof data === 'object' && data !== null && !OF_EVERY_SLOT.some((key) => Object.hasOwn(data, key));

/** The values of a map by slot, or the one for all of them, each with its place; none where there is none. */
export const valuesIn = <T extends object>(
  data: T | Readonly<Record<string, T | null>> | string | null | undefined,
  at: Path,
): (readonly [value: T, at: Path])[] => {
  if (data == null || typeof data === 'string') return [];
  if (!isBySlot(data)) return [[data as T, at]];
  return Object.entries(data).flatMap(([slot, value]) =>
    value === null ? [] : [[value as T, [...at, slot]] as const],
  );
};
