import type { Assessed } from '../judge/assess.ts';
import { groundWords } from '../output/ground-words.ts';
import { valueOfFigure, withUnit } from './values.ts';

/** One trial of several, as far as the report on them all tells of it. */
export interface TrialInShort {
  readonly title: string;
  readonly file: string;
  readonly day: string;
  readonly verdict: Assessed['verdict'];
  readonly why: string;
  readonly pages: string;
  readonly waste: string;
  readonly leastYield: string;
}

/** A trial in short, so that the trial itself can be let go. */
export function trialInShort(result: Assessed): TrialInShort {
  const { trial, derived, verdict, file } = result;
  const of = (figure: string, stat: 'least' | null = null): string => {
    const found = valueOfFigure(derived, figure, null, stat);
    return found === null ? 'not derived' : withUnit(found);
  };
  const head = typeof trial.data.trial === 'string' ? null : trial.data.trial;
  return {
    title: trial.title,
    file,
    day: head?.started?.text ?? '',
    verdict,
    why: groundWords(result),
    pages: of('pages'),
    waste: of('waste_per_thousand'),
    leastYield: of('yield_at_reference', 'least'),
  };
}
