import { otherPagesIn } from '../../figures/pages.ts';
import type { Assessed } from '../../judge/assess.ts';
import { tidy } from '../../output/numbers.ts';
import { runFigures, withValue } from '../../output/text-figures.ts';
import { paragraph, type Section, table } from '../content.ts';
import { subject } from '../figure-words.ts';
import { typeset } from '../typeset.ts';
import { valueText, wordUnit } from '../values.ts';

/** What follows from the readings, with its uncertainty. */
export const results = ({ derived, trial: { run } }: Assessed): Section => ({
  title: 'Results of the run',
  blocks: [
    ...table(
      'What follows from the readings',
      [{ text: 'figure' }, { text: 'value', numeric: true }, { text: 'unit' }],
      runFigures(derived)
        .flatMap(withValue)
        .map((one) => [subject(one), valueText(one), wordUnit(one)]),
    ),
    ...(otherPagesIn(run).isZero()
      ? []
      : [
          paragraph(
            typeset(
              `Pages are those of the trial: ${tidy(otherPagesIn(run))} pages that the meter counted are not of it, and not in them.`,
            ),
          ),
        ]),
  ],
});
