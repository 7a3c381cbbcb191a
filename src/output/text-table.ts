import { cut, padEnd, padStart, width, WIDTH, wrap } from './columns.ts';
import type { Paint } from './paint.ts';

/** A row of a table: its name, and a cell for each column. */
export interface TableRow {
  readonly name: string;
  readonly cells: readonly string[];
}

const GAP = 2;
const INDENT = 2;
/** Heads are names from a file and may be long. */
const WIDEST = 20;

/**
 * A table with a name before each row and columns aligned to the right. Columns that do not fit beside
 * each other go into further blocks below, each with its heads and names again.
 */
export function table(heads: readonly string[], rows: readonly TableRow[], paint: Paint): string[] {
  const longest = Math.max(0, ...rows.map(({ name }) => width(name)));
  const name = Math.min(longest, 40);
  const widths = heads.map(
    (head, index) =>
      GAP + Math.max(width(cut(head, WIDEST)), ...rows.map((row) => width(row.cells[index] ?? ''))),
  );
  const lines: string[] = [];
  for (const [from, to] of blocks(widths, WIDTH - INDENT - name)) {
    const line = (first: string, all: readonly string[]): string => {
      const cells = all.slice(from, to).map((one, index) => {
        const column = widths[from + index] ?? 0;
        return padStart(cut(one, column - GAP), column);
      });
      return `${' '.repeat(INDENT)}${padEnd(cut(first, name), name)}${cells.join('')}`.trimEnd();
    };
    if (from > 0) lines.push('');
    lines.push(paint.faint(line('', heads)), ...rows.map((row) => line(row.name, row.cells)));
  }
  return lines;
}

/** The columns that fit beside each other, as ranges from the first on. */
function blocks(widths: readonly number[], space: number): [from: number, to: number][] {
  const ranges: [number, number][] = [];
  let used = 0;
  for (const [index, one] of widths.entries()) {
    const last = ranges.at(-1);
    if (last === undefined || used + one > space) {
      ranges.push([index, index + 1]);
      used = one;
    } else {
      last[1] = index + 1;
      used += one;
    }
  }
  return ranges;
}

/** A name and what belongs beside it; on lines of their own where they do not fit on one. */
export function beside(name: string, columns: number, rest: string): string[] {
  if (width(name) <= columns && columns + 3 + width(rest) <= WIDTH) {
    return [`  ${padEnd(name, columns)} ${rest}`.trimEnd()];
  }
  return [...wrap(name, '  ', '    '), ...wrap(rest.trim(), ' '.repeat(9))];
}
