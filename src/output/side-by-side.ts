import { padStart, width, WIDTH } from './columns.ts';

const GAP = 4;
/** Rows of which a second block beside the first is not worth it. */
const SHORT = 6;

/** A long table of few columns as blocks beside each other, read downwards, each with its heads. */
export function sideBySide(heads: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const widths = heads.map((head, index) =>
    Math.max(width(head), ...rows.map((row) => width(row[index] ?? ''))),
  );
  const row = (one: readonly string[]): string =>
    widths.map((columns, index) => padStart(one[index] ?? '', columns)).join('  ');
  const block = width(row(heads)) + GAP;
  const beside = Math.max(1, Math.min(Math.floor((WIDTH - 2 + GAP) / block), Math.ceil(rows.length / SHORT)));
  const depth = Math.ceil(rows.length / beside);
  const line = (columns: readonly string[]): string => `  ${columns.join(' '.repeat(GAP))}`.trimEnd();
  return [
    line(Array.from({ length: Math.ceil(rows.length / depth) }, () => row(heads))),
    ...Array.from({ length: depth }, (_, index) =>
      line(rows.filter((_one, place) => place % depth === index).map(row)),
    ),
  ];
}
