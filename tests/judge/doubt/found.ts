import {
  assess,
  type Assessed,
  CATALOGUE,
  find,
  FIGURES,
  layersOf,
  readSource,
  readTrial,
} from '../../../src/library/library.ts';
import { dotted } from '../../../src/uncertainty/path.ts';

/** A trial given as text, judged by the limits that stand in it. */
export function assessed(text: string): Assessed {
  const source = readSource('trial.yaml', text);
  const { trial, problems } = readTrial(source, CATALOGUE);
  const found = problems.map((problem) => find(problem, source));
  const result = trial === null ? null : assess(trial, source, layersOf(trial), FIGURES, found);
  if (result === null || result.verdict === 'invalid')
    throw new Error(`${text}${JSON.stringify(result?.findings ?? found)}`);
  return result;
}

/** A doubt with all that is said of it: its code and arguments, where it stands, the readings of which one is wrong. */
export type Found = Readonly<Record<string, unknown>>;

/** What the readings of a trial given as text contradict each other in. */
export const found = (text: string): Found[] =>
  assessed(text).doubts.map(({ problem, readings, open }) => {
    expectSame(readings.map(dotted), open.map(dotted));
    return { ...problem, path: dotted(problem.path), readings: readings.map(dotted) };
  });

function expectSame(readings: readonly string[], open: readonly string[]): void {
  if (readings.join(' ') !== open.join(' ')) throw new Error('some of these readings were looked at again');
}
