import { nearest } from '../nearest.ts';

/** What people write for a key, and the keys it can mean, in the order they are looked for. */
const COMMON = new Map<string, readonly string[]>([
  ['rh', ['humidity']],
  ['temp', ['temperature']],
  ['duplex', ['duplex_share']],
  ['empty', ['tare', 'end_mass']],
  ['full', ['final', 'start_mass']],
  ['before', ['tare', 'start', 'start_mass']],
  ['start', ['tare', 'start_mass']],
  ['after', ['final', 'end', 'end_mass']],
  ['end', ['final', 'end_mass']],
  ['fitted', ['installed_at']],
  ['fitted_at', ['installed_at']],
  ['fitted at', ['installed_at']],
]);

/** The keys that a common word can mean, wherever they stand. */
export const commonKeys = (written: string): readonly string[] =>
  COMMON.get(written.trim().toLowerCase()) ?? [];

/**
 * The key of this map that an unknown one was meant for: by a common word for it, else by its letters; else null. One
 * that is known `elsewhere` is guessed by no more than one letter: a mass would be entered as a meter reading.
 */
export function meantKey(written: string, known: readonly string[], elsewhere = false): string | null {
  return (
    commonKeys(written).find((key) => known.includes(key)) ??
    nearest(written, known, elsewhere ? 1 : Infinity)
  );
}
