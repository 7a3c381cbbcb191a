import type { Assessed } from '../../judge/assess.ts';
import { runFigures, withValue } from '../../output/text-figures.ts';
import { type Section, table } from '../content.ts';
import { subject } from '../figure-words.ts';
import { valueText, wordUnit } from '../values.ts';

/** What follows from the readings, with its uncertainty. */
export const results = ({ derived }: Assessed): Section => ({
  title: 'Results of the run',
  blocks: table(
    'What follows from the readings',
    [{ text: 'figure' }, { text: 'value', numeric: true }, { text: 'unit' }],
    runFigures(derived)
      .flatMap(withValue)
      .map((one) => [subject(one), valueText(one), wordUnit(one)]),
  ),
});
