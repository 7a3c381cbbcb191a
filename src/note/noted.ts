import { readSource } from '../text/source.ts';
import type { Path } from '../uncertainty/path.ts';
import { type Change, changed, sameData } from './change.ts';
import { edited } from './edit.ts';

/** The text of a trial with changes made in it, or the place where one of them cannot be written. */
export type Noted = { readonly text: string } | { readonly unplaced: Path };

/**
 * Makes changes in the text of a trial, one after the other. What was written is read again, as every command reads
 * it: it says what it said before and what was noted, or nothing is made of it.
 */
export function noted(text: string, changes: readonly Change[]): Noted {
  let now = text;
  let { data } = readSource('', text);
  for (const change of changes) {
    const wanted = changed(data, change);
    const next = edited(now, change);
    if (next === null) return { unplaced: change.path };
    const read = readSource('', next);
    if (read.problems.length > 0 || !sameData(read.data, wanted)) return { unplaced: change.path };
    now = next;
    data = read.data;
  }
  return { text: now };
}
