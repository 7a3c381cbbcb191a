import {
  amount,
  filled,
  key,
  length,
  must,
  name,
  plainNumber,
  quantity,
  section,
  slotName,
  text,
  neededName,
  word,
} from './leaf.ts';
import { SEVERITIES } from './severities.ts';
import * as z from './zod.ts';

/** What is judged on a print by eye, in the order it is looked at. */
export const ATTRIBUTES = [
  'density',
  'contrast',
  'background',
  'fixing',
  'registration',
  'repetition',
  'uniformity',
  'streaks',
  'voids',
  'ghosting',
  'colour',
] as const;
export type Attribute = (typeof ATTRIBUTES)[number];

/** What a print is held against. */
const HELD_AGAINST = ['reference', 'first'] as const;
export type HeldAgainst = (typeof HELD_AGAINST)[number];
const PRINTS_OF_RUN = ['first', 'last'] as const;
export type PrintOfRun = (typeof PRINTS_OF_RUN)[number];

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
          slot: key('Slot whose colour it is seen in.', slotName),
          note: key('What it looks like.', text),
        }),
      ),
    ),
    by_eye: key('What was judged by eye; [] when every print was as it should be.', () => byEyeSchema()),
  });

const byEyeSchema = () =>
  z.array(
    section({
      attribute: filled('What was looked at.', word(ATTRIBUTES)),
      slot: key('Slot it was looked at in.', slotName),
      stage: key('The print looked at: the first or the last of the run.', word(PRINTS_OF_RUN)),
      batch: key(
        'The batch whose print was looked at, counted from 1.',
        quantity({ unit: '1', whole: true, least: 1 }),
      ),
      severity: must('How much worse the print is; none is as good as what it is held against.', () =>
        word(SEVERITIES)(),
      ),
      by: key('Who looked; two people each have an entry of their own.', name),
      against: key('What it was held against; the reference print unless said.', word(HELD_AGAINST)),
      note: key('What it looks like.', text),
      photo: key('File name of a photo of the print, from the folder of the trial file.', text),
    }),
  );
