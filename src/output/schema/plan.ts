import * as z from 'zod';
import { count, countOr, decimalOr, head, list } from './parts.ts';

const NOT = 'what it takes to plan it is not given.';

/** `plan --format json`. */
export const planSchema = z
  .strictObject({
    ...head(1),
    sheets: z.nullable(z.number().min(0)).describe(`Sheets of paper, as derived. Null: ${NOT}`),
    reams: countOr('Reams of 500 sheets, rounded up, with what is spare.', NOT),
    paper_mass: decimalOr('Mass of the sheets in kg.', NOT),
    hours: decimalOr('Hours of printing.', NOT),
    days: countOr('Working days.', NOT),
    containers: countOr('Waste containers.', NOT),
    cartridges: z
      .record(z.string(), z.nullable(z.int().min(0)).describe(`How many. Null: ${NOT}`))
      .describe('Cartridges by slot; "" is a slot without a name.'),
    checkpoints: list(
      z.strictObject({
        batch: count('Number of the batch.'),
        end: z.nullable(z.number()).describe('Meter reading to stop at. Null: the start is not read yet.'),
      }),
      'Where to stop on the way; empty where there is nothing to plan from.',
    ),
    replicates: countOr(
      'Cartridges it takes for the half-width or the claim wanted.',
      'none is wanted, or no number would do.',
    ),
    layouts: list(
      z.strictObject({
        machines: count('Machines.'),
        each: count('Cartridges in each.'),
        cartridges: count('Cartridges in all.'),
      }),
      'Cartridges over machines that would support the claim; empty where none is made or none would do.',
    ),
  })
  .describe('What a trial asks for before it is run.');
export type PlanData = z.infer<typeof planSchema>;
