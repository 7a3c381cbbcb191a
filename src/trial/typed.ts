import type { Data } from '../text/source.ts';
import type { Path } from '../uncertainty/path.ts';
import type { Problem } from '../problems/problem.ts';

/** Typographic quotes around a whole text: they were meant as quotation marks, and are no part of it. */
const QUOTED =
  /^[\u201c\u201d\u201e\u201f\u00ab\u2018\u2019\u201a]([^\u201c-\u201f\u00ab\u00bb\u2018\u201a]*)[\u201c\u201d\u201f\u00bb\u2018\u2019]$/s;

/** A text without the typographic quotes around it. */
export const unquoted = (text: string): string => QUOTED.exec(text.trim())?.[1]?.trim() ?? text;

/** What a kind of form has in common: its letters, not its digits. */
const kindOf = (typed: string): string => typed.replace(/\d+/g, '0');

/**
 * Values that were typed in another form than the one to use, though what they mean is plain: one note for each kind
 * of form, at the first that has it. `read` is what became of `written`.
 */
export function typedOtherwise(read: unknown, written: Data): Problem[] {
  const notes = new Map<string, Problem>();
  const say = (typed: string, write: string, path: Path): void => {
    const kind = kindOf(typed);
    if (!notes.has(kind)) notes.set(kind, { code: 'typed-otherwise', written: typed, write, path });
  };
  const walk = (value: unknown, data: Data, path: Path): void => {
    if (typeof data === 'string') {
      if (typeof value === 'string') {
        if (QUOTED.test(data.trim())) say(data.trim(), value, path);
      } else if (value !== null && typeof value === 'object') {
        const { write, typed, text } = value as { write?: string; typed?: string; text?: string };
        if (write !== undefined) say(data.trim(), write, path);
        else if (typed !== undefined && text !== undefined) say(typed, text, path);
      }
    } else if (data !== null && value !== null && typeof value === 'object') {
      if (Array.isArray(data))
        for (const [index, one] of data.entries()) walk((value as unknown[])[index], one, [...path, index]);
      else
        for (const [key, one] of Object.entries(data))
          walk((value as Record<string, unknown>)[key], one, [...path, key]);
    }
  };
  walk(read, written, []);
  return [...notes.values()];
}
