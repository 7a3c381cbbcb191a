import { isDerived } from '../../figures/figure.ts';
import type { Assessed } from '../../judge/assess.ts';
import { nameOf, runFigures, withValue } from '../../output/text-figures.ts';
import { limitText, marginText } from '../../output/text-limits.ts';
import { type Block, heading, paragraph, type Section, table } from '../content.ts';
import { limitStrips } from '../pictures/limit-strips.ts';
import { unitWord, valueText, withUnit } from '../values.ts';

/** What follows from the readings, with uncertainty, each figure against its limit. */
export const results = (result: Assessed): Section => ({
  title: 'Results',
  blocks: [...limitBlocks(result), ...figureBlocks(result)],
});

function limitBlocks({ judged, agreed }: Assessed): Block[] {
  if (judged.length === 0) return [paragraph('No limit was agreed.')];
  const rows = judged.map((one) => {
    const { derived, outcome, effect } = one;
    const value = isDerived(derived.result) ? withUnit({ ...derived, result: derived.result }) : 'no value';
    return [nameOf(derived), value, limitText(one), { outcome }, marginText(one), effect];
  });
  return [
    heading('Limits'),
    ...table(
      'Every figure against its limit',
      [
        { text: 'figure' },
        { text: 'value' },
        { text: 'limit' },
        { text: 'outcome' },
        { text: 'margin', numeric: true },
        { text: 'effect' },
      ],
      rows,
    ),
    paragraph(
      '± is U, k = 2 (about 95 %; JCGM 100); what has none is a count, or was taken as exact. Margin is how far a value is from its limit, positive on the good side. A missed limit fails what was tried, voids the trial, or only advises, as its effect says.',
    ),
    ...limitStrips(judged, agreed.decision),
  ];
}

function figureBlocks({ derived }: Assessed): Block[] {
  const rows = runFigures(derived)
    .flatMap(withValue)
    .map((one) => [nameOf(one), valueText(one), unitWord(one.unit)]);
  return [
    ...(rows.length > 0 ? [heading('Figures of the run')] : []),
    ...table(
      'What follows from the readings',
      [{ text: 'figure' }, { text: 'value', numeric: true }, { text: 'unit' }],
      rows,
    ),
  ];
}
