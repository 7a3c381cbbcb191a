import { DAY_ORDERS } from '../days.ts';
import { filled, key, oneOf, section, title, word } from './leaf.ts';
import * as z from './zod.ts';

/** A table that stands in a file of its own, in place of a list. */
export const tableSchema = () =>
  section({
    file: filled('File of the table, CSV or TSV with a heading, from the folder of the trial file.', title),
    columns: key(
      'Headings of the columns, by the key they are read as; a day and a clock apart as a list.',
      () =>
        z.record(
          title(),
          oneOf(title, () => z.array(title())),
        ),
    ),
    day_order: key('Order in which the table writes a day, where its rows do not tell.', word(DAY_ORDERS)),
    decimal_mark: key(
      'Sign before the decimals of the table, where its rows do not tell.',
      word(['comma', 'point']),
    ),
  });

export type TableData = z.output<ReturnType<typeof tableSchema>>;

/** A list, or a table in its place: rows of a table are put in before a trial is read, so that a list is what there is. */
export const listOrTable = <S extends z.Schema>(list: () => S): S =>
  oneOf(list, () => tableSchema()) as unknown as S;
