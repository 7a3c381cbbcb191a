import * as z from 'zod';
import {
  bound,
  decimal,
  decimalOr,
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

const place = (what: string) =>
  z
    .nullable(z.int().min(1))
    .describe(
      `${what} in the trial file, from 1. Null: no place there, or another file, which the message names.`,
    );

/** `verdict --format json` and `jsonl`: one trial. */
export const verdictSchema = z
  .strictObject({
    ...head(2),
    file: text('The file, as it was given or met in a folder; "-" is standard input.'),
    trial: textOr('Title of the trial.', 'the file is no trial.'),
    id: textOr('trial.id.', 'not given.'),
    lot: textOr(
      'The lot of the trial (lot.id), else the one lot that all its cartridges are of.',
      'not given, or several.',
    ),
    machine: textOr('Label of the machine, else its serial.', 'not given.'),
    started: textOr('Day or time the trial began, ISO 8601 as written.', 'not given.'),
    finished: textOr('Day or time it ended, ISO 8601 as written.', 'not given.'),
    verdict: verdict.describe('pass, fail, inconclusive; invalid: the file is no trial, and notes say why.'),
    ground: z
      .nullable(z.string())
      .describe(
        'What the verdict rests on: voids-missed, fails-missed, open, no-fails-limit, caveats (with --strict), unspoken-finding, unspoken-failure, short-of-target. Null: all limits are met, or the file is no trial.',
      ),
    caveats: list(
      z.strictObject({ code: text('What kind of caveat.'), message: text('In words.') }),
      'What to know before relying on the verdict, the worst first.',
    ),
    figures: list(
      z.strictObject({
        ...which,
        value: text(
          'The value: a decimal as text, exact where it is exact, else at least 12 significant digits; of findings and prints a severity (none, minor, major, critical).',
        ),
        unit: text('Unit of value and u; "1" of pure numbers; an ISO 4217 code of money.'),
        u: u('it cannot be told.'),
        bound,
      }),
      'Every figure that could be derived.',
    ),
    limits: list(
      z.strictObject({
        ...which,
        min: severityOr('The least agreed.', 'no such edge.'),
        max: severityOr('The most agreed.', 'no such edge.'),
        unit: text('Unit of min, max and margin.'),
        effect,
        outcome,
        margin: decimalOr(
          'How far the figure is from the nearer edge, positive on the good side.',
          'the figure has no value, or is a severity.',
        ),
        reason: textOr(
          'Why the outcome is open, in words; of a doubted figure it begins with the code of the doubt.',
          'the outcome is not open.',
        ),
      }),
      'One entry for each figure held against a limit.',
    ),
    notes: list(
      z.strictObject({
        kind: z
          .enum(['error', 'warning', 'note'])
          .describe('error: the file is no trial; warning: look at it; note: worth knowing.'),
        code: text('Code of the finding; "tallytare explain CODE" says what it means.'),
        figure: textOr('The figure it is about.', 'none.'),
        of: textOr('The part of that figure.', 'none, or the whole trial.'),
        key: textOr('The last key of the place it is at.', 'no key.'),
        slip: textOr(
          'Of a stated figure that differs the likely slip: digits-swapped, digit-dropped and so on.',
          'none is likely, or it is another finding.',
        ),
        message: text('In words.'),
        line: place('Line'),
        column: place('Column'),
      }),
      'Everything found in the file.',
    ),
    supplier: textOr('lot.supplier of the trial.', 'not given.'),
    machine_serial: textOr('Serial of the machine.', 'not given.'),
    cartridges: list(
      z.strictObject({
        of: textOr(
          'The cartridge as figures name it in "of": black, black#2.',
          'the only one, without a slot.',
        ),
        slot: textOr('Its slot.', 'not named.'),
        lot: textOr('Its lot: its own, else that of the trial.', 'neither is named.'),
        supplier: textOr(
          'Who delivered it: the supplier of the trial’s lot, where that is its lot.',
          'not known.',
        ),
        serial: textOr('Its serial.', 'not given.'),
        price: z
          .nullable(decimal('Price.'))
          .describe('Its price in `currency`, a decimal as text. Null: not given.'),
        currency: textOr('ISO 4217 code of the price.', 'no price.'),
      }),
      'The cartridges under test, in the order of the file.',
    ),
  })
  .describe(
    'One trial judged. "verdict" prints an object for one path, an array of them for several, a folder or --files-from, and with --format jsonl one a line.',
  );
export type VerdictData = z.infer<typeof verdictSchema>;

/** `verdict --summary --format json`. */
export const summarySchema = z
  .strictObject({
    ...head(1),
    trials: z.int().min(0).describe('Files judged, those that are no trials among them.'),
    verdicts: z
      .strictObject({
        pass: z.int().min(0).describe('How many pass.'),
        fail: z.int().min(0).describe('How many fail.'),
        inconclusive: z.int().min(0).describe('How many are inconclusive.'),
        invalid: z.int().min(0).describe('How many are no trials.'),
      })
      .describe('How many of each verdict.'),
    limits: list(
      z.strictObject({
        figure: which.figure,
        stat: which.stat,
        min: severityOr('The least agreed.', 'no such edge.'),
        max: severityOr('The most agreed.', 'no such edge.'),
        unit: text('Unit of min, max and least_margin.'),
        effect,
        met: z.int().min(0).describe('How often it is met.'),
        missed: z.int().min(0).describe('How often it is missed.'),
        open: z.int().min(0).describe('How often it cannot be decided.'),
        least_margin: decimalOr(
          'The least margin to it, positive on the good side.',
          'no figure has a margin.',
        ),
        file: textOr('The trial with the least margin.', 'none has a margin.'),
        of: textOr('The part of that trial.', 'the whole trial.'),
      }),
      'Each limit, over all figures it holds for.',
    ),
    listed: z
      .nullable(
        z.array(z.strictObject({ file: text('The file.'), verdict: verdict.describe('Its verdict.') })),
      )
      .describe('The trials chosen with --only. Null: --only is not given.'),
  })
  .describe('One table over all trials.');
export type SummaryData = z.infer<typeof summarySchema>;
