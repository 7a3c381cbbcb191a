import * as z from 'zod';
import { bound, count, decimal, head, list, severityOr, text, textOr, u, which } from './parts.ts';

/** `explain --format json`, of a figure. */
const figureAccount = z
  .strictObject({
    ...head(1),
    figure: which.figure,
    title: text('What people call it.'),
    unit: text('Its unit.'),
    per: text('What it is worked out for: trial, cartridge, patch, readings and so on.'),
    words: text('What it means.'),
    formula: text('Formula in symbols.'),
    source: text('Where the formula comes from.'),
    file: textOr('The trial it is explained in.', 'none is given.'),
    values: list(
      z.strictObject({
        of: which.of,
        stat: which.stat,
        unit: text('Unit of value, u and contributions.'),
        value: severityOr('The value.', 'it could not be derived.'),
        u: u('it could not be derived.'),
        bound: z.nullable(bound).describe('exact, at_least or at_most. Null: it could not be derived.'),
        worked: textOr('The formula with the readings in it.', 'it could not be derived, or there is none.'),
        budget: list(
          z.strictObject({
            input: text('The reading.'),
            scatter_of: z
              .nullable(z.int().min(0))
              .describe('How many readings its scatter is of. Null: it is a single reading.'),
            value: decimal('Its value.'),
            unit: text('Its unit.'),
            u: decimal('Its standard uncertainty in its own unit.'),
            contribution: decimal('What it adds to u, in the unit of the figure.'),
            share: decimal('Its share of the variance, between 0 and 1.'),
          }),
          'Where the uncertainty comes from, the greatest first; nothing where the value is exact.',
        ),
        reason: textOr('Why it could not be derived, in words.', 'it was.'),
      }),
      'How it came out in the trial; nothing where none is given.',
    ),
  })
  .describe('A figure.');
export type FigureAccount = z.infer<typeof figureAccount>;

const keyAccount = z
  .strictObject({
    ...head(1),
    key: text('The key, as people name it: cartridges.exhausted_at.'),
    description: text('What it holds.'),
    takes: text('What can stand there.'),
    example: text('A line that could stand in a file.'),
  })
  .describe('A key of the trial file.');
export type KeyData = z.infer<typeof keyAccount>;

const codeAccount = z
  .strictObject({
    ...head(1),
    code: text('The code.'),
    severity: text('error, warning or note.'),
    meaning: text('What it means.'),
  })
  .describe('A code of a finding.');
export type CodeData = z.infer<typeof codeAccount>;

export const explainSchema = z
  .union([figureAccount, keyAccount, codeAccount])
  .describe('What a figure, a key or a code means.');

/** `marks --format json`. */
export const marksSchema = z
  .strictObject({
    ...head(1),
    tolerance: decimal('How far a distance may be from that of a part, in percent.'),
    marks: list(
      z.strictObject({
        distance: decimal('Distance the mark repeats at, in mm.'),
        slot: textOr('The slot it is seen in.', 'not given.'),
        note: textOr('What was noted of it.', 'nothing.'),
        parts: list(
          z.strictObject({
            part: text('The rotating part.'),
            turns: count('Turns of it between two marks.'),
            expected: decimal('Distance these turns make, in mm.'),
            apart: decimal('Distance read less expected, in mm.'),
          }),
          'Parts it can come from, the fewest turns first; empty where there is none, or where no rotating part is given.',
        ),
      }),
      'Each distance.',
    ),
  })
  .describe('Rotating parts that repeating marks can come from.');
export type MarksData = z.infer<typeof marksSchema>;
