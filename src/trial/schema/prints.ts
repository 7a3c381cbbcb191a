import {
  amount,
  filled,
  key,
  length,
  plainNumber,
  quantity,
  section,
  slotName,
  text,
  neededName,
} from './leaf.ts';
import * as z from './zod.ts';

/** One print, as its instruments see it. */
const printSchema = () =>
  section({
    density: key('Reflection density of the patch.', plainNumber),
    lab: key('CIELAB colour of the patch: [L, a, b].', () =>
      z.tuple([plainNumber(), plainNumber(), plainNumber()]),
    ),
    gloss: key('Gloss of the patch, in GU.', quantity({ unit: 'GU', least: 0 })),
  });

/** Prints made with the reference consumable, and the first and last of the run, by patch. */
export const printsSchema = () =>
  section({
    patches: key('Control patches measured on the prints.', () =>
      z.array(
        section({
          patch: filled('Name of the patch on the control page.', neededName),
          slot: key('Slot it shows.', slotName),
          reference: key('The patch printed with the reference consumable.', () => printSchema()),
          first: key('The patch at the start of the run.', () => printSchema()),
          last: key('The patch at the end of the run.', () => printSchema()),
        }),
      ),
    ),
    background: key('Density of the unprinted area above that of the bare paper.', plainNumber),
    fixing: key('Density before and after the rub or tape test.', () =>
      section({
        before: key('Density before the test.', amount),
        after: key('Density after the test.', amount),
      }),
    ),
    registration: key('Largest shift between two colours, in mm.', length),
    marks: key('Marks that repeat down the page.', () =>
      z.array(
        section({
          distance: filled('Distance from one mark to the next, in mm.', length),
          note: key('What it looks like.', text),
        }),
      ),
    ),
  });
