import type { Finding } from '../text/finding.ts';
import { severityOf } from '../problems/codes.ts';
import { cut, padStart, width, WIDTH, wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import type { Paint } from './paint.ts';
import { messageOf, wordsOf } from './words.ts';

/**
 * A finding as people read it: file, line and column, the line itself with a mark under the place, what
 * is wrong, and how to mend it.
 */
export function findingLines({ problem, file, place }: Finding, paint: Paint): string[] {
  if (place === null) return wrap(harmless(messageOf(problem)), '  ');
  const { say, mend } = wordsOf(problem);
  return [
    ...wrap(`${harmless(file)}:${place.line}:${place.column}`, '  ').map((line) => paint.strong(line)),
    ...excerpt(place),
    ...wrap(harmless(inColumn(place) + say), '    '),
    ...(mend === '' ? [] : wrap(harmless(mend), '    ')),
  ];
}

/** In a table, what stands above the place. */
export const inColumn = ({ heading }: NonNullable<Finding['place']>): string =>
  heading == null ? '' : `Column "${heading}": `;

/** More characters than a line of a terminal shows, whatever they are. */
const NEAR = 400;

/** The line a finding is in, cut to the terminal around the place, and a caret below it. */
function excerpt({ line, column, text }: { line: number; column: number; text: string }): string[] {
  if (text.trim() === '') return [];
  const gutter = `  ${padStart(String(line), 5)} | `;
  const space = WIDTH - width(gutter);
  const ahead = harmless(text.slice(Math.max(0, column - 1 - NEAR), column - 1));
  const before = width(ahead) > space - 20 ? `…${endOf(ahead, space - 31)}` : ahead;
  const shown = cut(before + harmless(text.slice(column - 1, column + space)), space);
  return [gutter + shown, `${' '.repeat(width(gutter) - 2)}| ${' '.repeat(width(before))}^`];
}

/** The last characters of a text that fit in so many columns. */
function endOf(text: string, columns: number): string {
  let kept = '';
  let taken = 0;
  for (const char of Array.from(text).reverse()) {
    taken += width(char);
    if (taken > columns) break;
    kept = char + kept;
  }
  return kept;
}

/** A finding in one line, as programs that jump to places read it. */
export function findingLine({ problem, file, place }: Finding): string {
  const at = place === null ? '' : `:${place.line}:${place.column}`;
  const column = place === null ? '' : inColumn(place);
  return harmless(`${file}${at}: ${severityOf(problem)}: ${column}${messageOf(problem)}`);
}

/** Findings one after the other, those with an excerpt set apart. */
export const foundLines = (findings: readonly Finding[], paint: Paint): string[] =>
  findings.flatMap((finding, index) => [...(index > 0 ? [''] : []), ...findingLines(finding, paint)]);
