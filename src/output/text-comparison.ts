import type { Derived, Figure } from '../figures/figure.ts';
import type { Assessed } from '../judge/assess.ts';
import { harmless } from './harmless.ts';
import type { Paint } from './paint.ts';
import { cellOf, unitOf, withValue } from './text-figures.ts';
import { table } from './text-table.ts';

/** Figures shown for both runs, and the figure that is their ratio. */
export const COMPARED_FIGURES: readonly (readonly [figure: string, ratio: string | null])[] = [
  ['pages', null],
  ['waste_per_thousand', 'waste_ratio'],
  ['toner_per_page', 'usage_ratio'],
  ['yield_at_reference', 'yield_ratio'],
  ['cost_per_thousand', null],
];

/** Candidate and reference side by side; nothing where there was no reference run. */
export function comparisonLines({ derived, reference }: Assessed, paint: Paint): string[] {
  if (reference.length === 0) return [];
  const find = (all: readonly Derived[], name: string, of: string | null): string => {
    const found = all.find((one) => one.figure.name === name && one.of === of && one.stat === null);
    return found === undefined ? '' : (withValue(found).map((one) => cellOf(one))[0] ?? '');
  };
  const lines = COMPARED_FIGURES.flatMap(([name, ratio]) => {
    const own = derived.filter((one) => one.figure.name === name && one.stat === null);
    return own.flatMap(({ figure, of, unit }) => {
      const theirs = find(reference, name, of);
      if (theirs === '') return [];
      const quotient = ratio === null ? '' : find(derived, ratio, of);
      return [{ name: label(figure, of, unit), cells: [find(derived, name, of), theirs, quotient] }];
    });
  });
  return lines.length === 0 ? [] : table(['candidate', 'reference', 'ratio'], lines, paint);
}

const label = ({ title, short }: Figure, of: string | null, unit: string): string =>
  harmless(
    [`${short ?? title}${of === null ? '' : ` of ${of}`}`, title === 'pages' ? '' : unitOf(unit)]
      .filter(Boolean)
      .join(', '),
  );
