import { key, must, oneOf, section, text, time, title } from './leaf.ts';
import * as z from './zod.ts';

/** The schema of a letterhead: who sends a report, to whom, and under which number. */
export const letterheadSchema = () =>
  section({
    name: must('Who sends the report.', title),
    address: key('Where, line by line.', () => lines()),
    logo: key('PNG, JPEG or SVG, from the folder of the letterhead.', text),
    number: key('Number of the report.', text),
    revision: key('Revision of the report.', text),
    issued: key('Day of issue.', time),
    customer: key('Who it is for, line by line.', () => lines()),
    place: key('Where the trial was run.', text),
    received: key('When what was tried was received.', time),
    authorised_by: key('Who authorised the report.', text),
  });

/** One line of text, or a list of them. */
const lines = () => oneOf(text, () => z.array(text()));

/** What a letterhead parses to. */
export type LetterheadData = z.output<ReturnType<typeof letterheadSchema>>;
