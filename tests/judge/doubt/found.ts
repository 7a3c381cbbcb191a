import { dotted } from '../../../src/uncertainty/path.ts';
import { assessed } from '../../assessed.ts';

/** A doubt with all that is said of it: its code and arguments, where it stands, the readings of which one is wrong. */
export type Found = Readonly<Record<string, unknown>>;

/** What the readings of a trial given as text contradict each other in. */
export const found = (text: string): Found[] =>
  assessed(text).doubts.map(({ problem, readings }) => ({
    ...problem,
    path: dotted(problem.path),
    readings: readings.map(dotted),
  }));
