import * as z from 'zod';
import { STATES } from '../../archive/compare.ts';
import {
  bound,
  decimal,
  effect,
  head,
  list,
  outcome,
  severityOr,
  text,
  textOr,
  u,
  verdict,
  which,
} from './parts.ts';

const sealedFigure = z.strictObject({
  value: text('The value: a decimal as text, or a severity.'),
  unit: text('Its unit.'),
  u: u('it cannot be told.'),
  bound,
});

const whichOr = {
  figure: z.nullable(which.figure).describe('The figure. Null: none.'),
  of: which.of,
  stat: which.stat,
};

const sealedLimit = z.strictObject({
  ...which,
  min: severityOr('The least agreed.', 'no such edge.'),
  max: severityOr('The most agreed.', 'no such edge.'),
  unit: text('Unit of min and max.'),
  effect,
  from: text('"trial", or the file or preset it comes from.'),
});

const movedFigure = z.strictObject({
  ...which,
  sealed: sealedFigure.describe('As it was sealed.'),
  now: sealedFigure.describe('As it comes out now.'),
});

/** What stands in `sealed` and `now` depends on the code. */
const then = z.nullable(z.union([z.string(), sealedFigure, sealedLimit]));

/** `recheck --format json` and `jsonl`: one trial. */
export const recheckSchema = z
  .strictObject({
    ...head(1),
    file: text('The trial.'),
    state: z
      .enum(STATES)
      .describe(
        'What became of the sealed result, the first that holds; the manual’s page on the archive says what each means.',
      ),
    sealed: z
      .nullable(
        z.strictObject({ tool: text('The program that sealed it.'), verdict: text('The verdict sealed.') }),
      )
      .describe('What was sealed. Null: there is no seal to rely on.'),
    verdict: textOr('The verdict as it comes out now.', 'it was not judged.'),
    remarks: list(
      z.strictObject({
        kind: z.enum(['change', 'note']).describe('change: the state rests on it; note: worth knowing.'),
        code: text(
          'What is remarked: a code of the table in the manual’s page on the archive, or of a finding.',
        ),
        message: text('In words.'),
        key: z.optional(
          z
            .nullable(z.string())
            .describe('Of reading-moved and of findings: where it stands in the file. Null: nowhere.'),
        ),
        ...{ figure: z.optional(whichOr.figure), of: z.optional(whichOr.of), stat: z.optional(whichOr.stat) },
        input: z.optional(
          z
            .enum(['trial', 'table', 'limits', 'preset', 'photo', 'document', 'usage'])
            .describe('Which kind of file.'),
        ),
        file: z.optional(text('The file.')),
        to: z.optional(text('Of archive-moved: where it stands now.')),
        sealed: z.optional(
          then.describe(
            'What was sealed: SHA-256, text, verdict or outcome; of figures the figure, of limits the limit. Null: nothing.',
          ),
        ),
        now: z.optional(then.describe('The same as it is now. Null: there is none.')),
        difference: z.optional(
          z
            .nullable(decimal('Now less sealed.'))
            .describe('Of figure-moved: now less sealed, in its unit. Null: they cannot be subtracted.'),
        ),
        printed: z.optional(z.boolean().describe('Of figure-moved: what people see differs too.')),
        since: z.optional(text('Of figures-other-method: the version that works them out in another way.')),
        figures: z.optional(
          z
            .union([z.array(z.strictObject(which)), z.array(movedFigure)])
            .describe('Of figures-new and figures-other-method: the figures.'),
        ),
      }),
      'What changed, and what is worth a note.',
    ),
  })
  .describe(
    'One sealed trial judged anew. An object for one path, an array of several, with --format jsonl one a line.',
  );
export type RecheckData = z.infer<typeof recheckSchema>;

const held = z.nullable(
  z.strictObject({
    value: severityOr('Value of the figure.', 'it could not be derived.'),
    min: severityOr('The least asked.', 'no such edge.'),
    max: severityOr('The most asked.', 'no such edge.'),
    effect,
    outcome,
    margin: z.nullable(decimal('Margin.')).describe('Margin, positive on the good side. Null: none.'),
  }),
);

/** `compare --format json` and `jsonl`: one trial. */
export const compareSchema = z
  .strictObject({
    ...head(1),
    file: text('The trial.'),
    trial: textOr('Its title.', 'the file is no trial.'),
    before: verdict.describe('Verdict by the limits held against.'),
    after: verdict.describe('Verdict by the limits in question.'),
    turns: z.boolean().describe('Whether the verdict is another.'),
    limits: list(
      z.strictObject({
        figure: z.nullable(which.figure).describe('The figure. Null: none.'),
        of: which.of,
        stat: which.stat,
        unit: textOr('Unit of value, edges and margin.', 'none.'),
        before: held.describe('How it stood by the limits held against. Null: no such limit.'),
        after: held.describe('How it stands by the limits in question. Null: no such limit.'),
      }),
      'Every limit that differs.',
    ),
    errors: list(z.string(), 'What is wrong with a file that is no trial, with file and line.'),
  })
  .describe(
    'One trial judged under two sets of limits. An object for one path, an array of several, with --format jsonl one a line.',
  );
export type CompareData = z.infer<typeof compareSchema>;
