import widthOfAny from 'fast-string-width';

/** Laying text out in columns of a terminal, where some characters are two columns wide and some none. */

export const WIDTH = 80;

/** Columns a text takes. */
export const width = (text: string): number => (ONE_COLUMN_EACH.test(text) ? text.length : widthOfAny(text));

/** ASCII, Latin-1 and a few signs: what nearly every text is made of, and quickly told. */
const ONE_COLUMN_EACH =
  /^[ -~\u00a0-\u00ac\u00ae-\u00ff\u2013\u2014\u2018\u2019\u201c\u201d\u2026\u2212\u00d7\u2264\u2265\u0394]*$/;

export const padEnd = (text: string, columns: number): string =>
  text + ' '.repeat(Math.max(0, columns - width(text)));

export const padStart = (text: string, columns: number): string =>
  ' '.repeat(Math.max(0, columns - width(text))) + text;

/**
 * Text broken into lines of at most `WIDTH` columns: the first begins with `first`, the others with as
 * many spaces. A no-break space is printed as a space, but no line ends at it; a word longer than a line
 * is broken where the line ends.
 */
export function wrap(text: string, first = '', hanging = ' '.repeat(width(first))): string[] {
  const lines: string[] = [];
  let line = first;
  let empty = true;
  for (const word of text.split(' ').filter((part) => part !== '')) {
    for (const piece of pieces(word, WIDTH - width(hanging))) {
      const joined = empty ? line + piece : `${line} ${piece}`;
      if (width(joined) <= WIDTH || empty) line = joined;
      else {
        lines.push(line);
        line = hanging + piece;
      }
      empty = false;
    }
  }
  lines.push(line);
  return lines.map((one) => one.replaceAll('\u00a0', ' '));
}

function pieces(word: string, columns: number): string[] {
  if (width(word) <= columns) return [word];
  const parts: string[] = [];
  let part = '';
  for (const char of word) {
    if (width(part + char) > columns) {
      parts.push(part);
      part = '';
    }
    part += char;
  }
  return [...parts, part];
}

/** Text cut to a number of columns, the cut marked. */
export function cut(text: string, columns: number): string {
  if (width(text) <= columns) return text;
  let kept = '';
  for (const char of text) {
    if (width(kept + char) > columns - 1) break;
    kept += char;
  }
  return `${kept}…`;
}
