import { batchOf } from '../plan/checkpoints.ts';
import type { Plan } from '../plan/plan.ts';
import { padStart, width, WIDTH, wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import { tidy } from './numbers.ts';
import { reasonWords } from './reason-words.ts';

/** The checkpoints of a plan in lines for people. */

export const checkpointHead = ({ trial }: Plan): string =>
  `CHECKPOINTS, every ${tidy(batchOf(trial))} pages: read the meter, weigh the waste container`;

const GAP = 4;

/** The checkpoints in columns beside each other, read downwards. */
export function checkpointLines({ checkpoints }: Plan): string[] {
  if ('reason' in checkpoints) return wrap(harmless(`– ${reasonWords(checkpoints.reason)}`), '  ');
  const heads = ['batch', 'day', 'pages', 'stop at'];
  const rows = checkpoints.value.map(({ batch, day, pages, end }) => [
    `${batch}`,
    day === null ? '' : `${day}`,
    tidy(pages),
    end === null ? '' : end.toFixed(),
  ]);
  const shownColumns = heads.map((_, index) => rows.some((row) => row[index] !== ''));
  const keep = (row: readonly string[]): string[] => row.filter((_, index) => shownColumns[index]);
  const cells = [heads, ...rows].map(keep);
  const widths = (cells[0] ?? []).map((_, index) => Math.max(...cells.map((row) => width(row[index] ?? ''))));
  const row = (one: readonly string[]): string =>
    widths.map((columns, index) => padStart(one[index] ?? '', columns)).join('  ');
  const [head = [], ...body] = cells;
  const block = width(row(head)) + GAP;
  const beside = Math.max(1, Math.min(Math.floor((WIDTH - 2 + GAP) / block), Math.ceil(body.length / 6)));
  const depth = Math.ceil(body.length / beside);
  const line = (columns: readonly string[]): string => `  ${columns.join(' '.repeat(GAP))}`.trimEnd();
  return [
    line(Array.from({ length: Math.ceil(body.length / depth) }, () => row(head))),
    ...Array.from({ length: depth }, (_, index) =>
      line(body.filter((_one, place) => place % depth === index).map(row)),
    ),
  ];
}
