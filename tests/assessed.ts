import {
  assess,
  type Assessed,
  CATALOGUE,
  find,
  FIGURES,
  layersOf,
  readSource,
  readTrial,
} from '../src/library/library.ts';

/** A trial given as text, judged by the limits that stand in it. */
export function assessed(text: string, file = 'trial.yaml'): Assessed {
  const source = readSource(file, text);
  const { trial, problems } = readTrial(source, CATALOGUE);
  const found = problems.map((problem) => find(problem, source));
  const result = trial === null ? null : assess(trial, source, layersOf(trial), FIGURES, found);
  if (result === null || result.verdict === 'invalid')
    throw new Error(`${text}${JSON.stringify(result?.findings ?? found)}`);
  return result;
}
