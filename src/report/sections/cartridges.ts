import type { Assessed } from '../../judge/assess.ts';
import { cartridgeFigures, withValue } from '../../output/text-figures.ts';
import { unlistedCartridge } from '../../figures/changes.ts';
import type { Figure } from '../../figures/figure.ts';
import { type Block, type Head, paragraph, type Section, table } from '../content.ts';
import { lanes } from '../pictures/lanes.ts';
import { typeset } from '../typeset.ts';
import { named, valueOfFigure, valueText } from '../values.ts';

/** Yields cartridge by cartridge, at least where it was not exhausted. */
export function cartridges(result: Assessed): Section {
  const { trial, derived } = result;
  const title = 'Yields of the cartridges';
  const { cartridges: fitted } = trial.run;
  if (
    !fitted.some(({ listed }) => listed) &&
    fitted.some(({ slot }) => unlistedCartridge(trial.run, slot) !== null)
  ) {
    return {
      title,
      blocks: [
        paragraph('A cartridge was changed and "cartridges" does not list them, so no yield follows.'),
      ],
    };
  }
  const rows = trial.run.cartridges.map((cartridge) => {
    const of = (figure: string): string => {
      const found = valueOfFigure(derived, figure, cartridge.name);
      return found === null ? 'not derived' : valueText(found);
    };
    const index = cartridge.path.at(-1) as number;
    const data = cartridge.listed ? trial.data.cartridges?.[index] : undefined;
    const rated = data?.rated_yield;
    return [
      cartridge.name ?? 'cartridge',
      data?.serial ?? '',
      cartridge.failed
        ? 'failed'
        : cartridge.exhausted
          ? `exhausted${data?.exhausted_by ? ` (${data.exhausted_by})` : ''}`
          : 'not exhausted',
      of('yield'),
      of('yield_at_reference'),
      rated ? typeset(rated.value.toFixed()) : '',
    ];
  });
  const atLeast = derived.some(
    ({ figure, result: value }) => figure.name === 'yield' && 'bound' in value && value.bound === 'at_least',
  );
  return {
    title,
    blocks: [
      ...table(
        'Yield of every cartridge, pages',
        [
          { text: 'cartridge' },
          { text: 'serial' },
          { text: 'end' },
          { text: 'yield', numeric: true },
          { text: 'at reference', numeric: true },
          { text: 'rated', numeric: true },
        ],
        rows,
      ),
      ...(atLeast
        ? [
            paragraph(
              'At least: the cartridge was not run until exhausted, or was not new. It printed so many pages; what it yields is not known, only that it is no less.',
            ),
          ]
        : []),
      ...lanes(result),
      ...partBlocks(result),
    ],
  };
}

/** Everything else derived for each cartridge; the cartridges are columns while they fit beside each other. */
function partBlocks({ derived }: Assessed): Block[] {
  const shown = cartridgeFigures(derived).filter(({ figure }) => !SHOWN_ABOVE.has(figure.name));
  const values = shown.flatMap(withValue);
  const parts = [...new Set(shown.flatMap(({ of }) => of ?? []))];
  const figures = [...new Set(values.map(({ figure }) => figure))];
  const label = (figure: Figure): string =>
    named(figure.short ?? figure.title, values.find((one) => one.figure === figure)?.unit ?? '');
  const cell = (figure: Figure, part: string): string => {
    const found = valueOfFigure(derived, figure.name, part);
    return found === null ? '' : valueText(found);
  };
  const numeric = (text: string): Head => ({ text, numeric: true });
  const caption = 'Figures of the cartridges';
  return parts.length > MOST_COLUMNS
    ? table(
        caption,
        [{ text: 'cartridge' }, ...figures.map((figure) => numeric(label(figure)))],
        figures.length === 0 ? [] : parts.map((part) => [part, ...figures.map((one) => cell(one, part))]),
      )
    : table(
        caption,
        [{ text: 'figure' }, ...parts.map(numeric)],
        figures.map((figure) => [label(figure), ...parts.map((part) => cell(figure, part))]),
      );
}

const SHOWN_ABOVE: ReadonlySet<string> = new Set(['yield', 'yield_at_reference']);
const MOST_COLUMNS = 5;
