import { filled, key, neededName, percentage, section, title } from './leaf.ts';
import { coverageSchema } from './run.ts';
import * as z from './zod.ts';

/** The schema of a mix file: what a customer prints. */
export const mixSchema = () =>
  section({
    mix: key('Whose pages they are.', title),
    kinds: filled('The kinds of page.', () =>
      z.array(
        section({
          kind: filled('Name of the kind.', neededName),
          share: filled('How many of all pages are of it, in percent.', percentage),
          coverage: filled(
            'Coverage of such a page, in percent: one value for every slot, one with its tolerance, or a map by slot.',
            coverageSchema,
          ),
        }),
      ),
    ),
  });

/** What a mix file parses to. */
export type MixData = z.output<ReturnType<typeof mixSchema>>;
