import type { Assessed } from '../../judge/assess.ts';
import { asideWords } from '../../output/ambient-aside.ts';
import { type Block, heading, paragraph, table } from '../content.ts';
import { roomPictures } from '../pictures/ambient.ts';
import { named, valueOfFigure, valueText } from '../values.ts';

const STATS = ['least', 'mean', 'greatest'] as const;

/** The air over the run: in numbers, and drawn. */
export function roomBlocks(result: Assessed): Block[] {
  const figures = [
    ...new Set(result.derived.map(({ figure }) => figure).filter(({ per }) => per === 'readings')),
  ];
  const rows = figures.flatMap(({ name, title, unit }) => {
    const cells = STATS.map((stat) => {
      const found = valueOfFigure(result.derived, name, null, stat);
      return found === null ? '' : valueText(found);
    });
    return cells.some((cell) => cell !== '') ? [[named(title, unit), ...cells]] : [];
  });
  if (rows.length === 0) return [];
  const aside = asideWords(result.trial.run);
  return [
    heading('Ambient'),
    ...table(
      'The air during the run',
      [{ text: 'figure' }, ...STATS.map((text) => ({ text, numeric: true }))],
      rows,
    ),
    ...(aside === null ? [] : [paragraph(aside)]),
    ...roomPictures(result),
  ];
}
