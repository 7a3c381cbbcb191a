import { width, wrap, WIDTH } from './columns.ts';
import type { Paint } from './paint.ts';

/** A page of the manual as plain text of at most 80 columns: the same pages are read on the web as Markdown. */

/** Words without the marks of Markdown: code, emphasis, links and pictures as their text. */
const plain = (text: string): string =>
  text
    .replace(/!\[([^\]]*)\]\([^)]*\)/g, '$1')
    .replace(/\[([^\]]*)\]\([^)]*\)/g, '$1')
    .replace(/\*\*([^*]+)\*\*/g, '$1')
    .replace(/(^|[\s(])[_*]([^_*\s][^_*]*)[_*](?=[\s).,;:]|$)/g, '$1$2')
    .replace(/`([^`]+)`/g, '$1')
    .replaceAll('\\|', '|');

/** Cells of a row of a table; a bar within one is written `\\|`. */
const cellsOf = (row: string): string[] =>
  row
    .replace(/^\||\|$/g, '')
    .split(/(?<!\\)\|/)
    .map((cell) => plain(cell.trim()));

/** A row of a table: its first cell, and the others below it. */
function rowLines(heads: readonly string[], cells: readonly string[]): string[] {
  const [first = '', ...others] = cells;
  const named = others.map((cell, index) =>
    cell === '' ? '' : others.length > 2 ? `${heads[index + 1] ?? ''}: ${cell}` : cell,
  );
  return [...wrap(first, '  ', '    '), ...named.filter(Boolean).flatMap((cell) => wrap(cell, '      '))];
}

/** A command to be copied; what is said of it stands behind a `#`. */
const COMMAND = /^(?:\$ )?(?:tallytare|npx?|node|git|sha256sum) /;

/** A command is never broken, however long: it is to be copied. What is said of it goes above it where both do not fit. */
function commandLines(line: string, indent: string): string[] {
  const [, command = line, said] = /^(.*?)\s+(# .*)$/.exec(line) ?? [];
  if (said === undefined || width(indent + line) <= WIDTH) return [indent + line];
  return [...wrap(said, indent, `${indent}# `), indent + command];
}

/** What the program prints, set in as far as all of it still fits: the ends of its lines hold numbers. */
function setIn(block: readonly string[]): string[] {
  const printed = block.filter((line) => !COMMAND.test(line));
  const indent = ' '.repeat(Math.max(0, Math.min(4, WIDTH - Math.max(0, ...printed.map(width)))));
  return block
    .flatMap((line) => {
      if (COMMAND.test(line)) return commandLines(line, indent);
      const before = indent + (/^ */.exec(line)?.[0] ?? '');
      return width(indent + line) <= WIDTH ? [indent + line] : wrap(line.trim(), before, `${before}  `);
    })
    .map((line) => line.trimEnd());
}

/** The page as lines. */
export function manualText(markdown: string, paint: Paint): string {
  const lines: string[] = [];
  let paragraph: string[] = [];
  let heads: readonly string[] | null = null;
  let fenced: string[] | null = null;
  const end = (): void => {
    const [first = ''] = paragraph;
    const text = plain(paragraph.join(' '));
    const item = /^\s*(?:[-*]|\d+\.) /.exec(first)?.[0] ?? '';
    if (paragraph.length > 0)
      lines.push(...wrap(text.slice(item.length), `  ${item}`, ' '.repeat(2 + item.length)));
    paragraph = [];
  };
  for (const line of markdown.split('\n')) {
    if (line.startsWith('```')) {
      end();
      if (fenced !== null) lines.push(...setIn(fenced));
      fenced = fenced === null ? [] : null;
    } else if (fenced !== null) fenced.push(line);
    else if (/^<!--.*-->$/.test(line)) end();
    else if (line.startsWith('#')) {
      end();
      lines.push(paint.strong(plain(line.replace(/^#+ /, '')).toUpperCase()));
    } else if (line.startsWith('|')) {
      end();
      if (/^\|[\s|:-]+\|$/.test(line)) continue;
      if (heads === null) heads = cellsOf(line);
      else lines.push(...rowLines(heads, cellsOf(line)));
    } else if (line.trim() === '') {
      end();
      heads = null;
      if (lines.at(-1) !== '') lines.push('');
    } else {
      if (/^\s*(?:[-*]|\d+\.) /.test(line)) end();
      paragraph.push(line.trim());
    }
  }
  end();
  return `${lines
    .join('\n')
    .replace(/\n{3,}/g, '\n\n')
    .trim()}\n`;
}
