import type { Assessed } from '../../judge/assess.ts';
import { COMPARED_FIGURES } from '../../output/text-comparison.ts';
import { type Section, paragraph, table } from '../content.ts';
import { comparedPictures } from '../pictures/compared.ts';
import { typeset } from '../typeset.ts';
import { named, valueOfFigure, valueText } from '../values.ts';

/** Candidate and reference in the same machine, side by side. */
export function comparison(result: Assessed): Section {
  const { derived, reference, trial } = result;
  const title = 'Candidate beside reference';
  if (trial.reference === null) return { title, blocks: [] };
  const rows = COMPARED_FIGURES.flatMap(([name, ratio]) =>
    derived
      .filter((one) => one.figure.name === name && one.stat === null)
      .flatMap(({ figure, of, unit }) => {
        const [own, theirs] = [valueOfFigure(derived, name, of), valueOfFigure(reference, name, of)];
        if (own === null || theirs === null) return [];
        const quotient = ratio === null ? null : valueOfFigure(derived, ratio, of);
        const what = `${figure.short ?? figure.title}${of === null ? '' : ` of ${of}`}`;
        return [
          [
            figure.name === 'pages' ? what : named(what, unit),
            valueText(own),
            valueText(theirs),
            quotient === null ? '' : valueText(quotient),
          ],
        ];
      }),
  );
  const { start, end } = trial.data.reference?.meter ?? {};
  return {
    title,
    blocks: [
      paragraph(
        typeset(
          `The reference consumable was run in the same machine from meter ${start?.text ?? 'not read yet'} to ${end?.text ?? 'not read yet'}.`,
        ),
      ),
      ...table(
        'Candidate and reference',
        [{ text: 'figure' }, ...['candidate', 'reference', 'ratio'].map((text) => ({ text, numeric: true }))],
        rows,
      ),
      ...comparedPictures(result),
    ],
  };
}
