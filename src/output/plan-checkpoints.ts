import { batchOf } from '../plan/checkpoints.ts';
import type { Plan } from '../plan/plan.ts';
import { wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import { tidy } from './numbers.ts';
import { reasonWords } from './reason-words.ts';
import { sideBySide } from './side-by-side.ts';

/** The checkpoints of a plan in lines for people. */

export const checkpointHead = ({ trial }: Plan): string =>
  `CHECKPOINTS, every ${tidy(batchOf(trial))} pages: read the meter, weigh the waste container`;

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
  return sideBySide(keep(heads), rows.map(keep));
}
