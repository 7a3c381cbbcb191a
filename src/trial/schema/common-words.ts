import { nearest } from '../nearest.ts';

/** What people write for a key, and the keys it can mean, in the order they are looked for. */
const COMMON = new Map<string, readonly string[]>([
  ['rh', ['humidity']],
  ['temp', ['temperature']],
  ['empty', ['tare', 'end_mass']],
  ['full', ['final', 'start_mass']],
  ['before', ['tare', 'start', 'start_mass']],
  ['start', ['tare', 'start_mass']],
  ['after', ['final', 'end', 'end_mass']],
  ['end', ['final', 'end_mass']],
]);

/** Keys of other sections: guessed by their letters, a mass would be entered as a meter reading. */
const OF_ELSEWHERE = new Set(['tare', 'final', 'temperature', 'humidity']);

/** The key of this map that an unknown one was meant for: by a common word for it, else by its letters; else null. */
export function meantKey(written: string, known: readonly string[]): string | null {
  if (OF_ELSEWHERE.has(written)) return null;
  const meant = COMMON.get(written.trim().toLowerCase()) ?? [];
  return meant.find((key) => known.includes(key)) ?? nearest(written, known);
}
