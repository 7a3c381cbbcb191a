import type { RunFigure } from './figure.ts';
import { pagesOf } from './pages.ts';
import { sheetsFor } from './sheets.ts';
import { alikeInDuplex, alikeInPaper, overPagesOfTrial } from './stretches.ts';

export const paperMass: RunFigure = {
  name: 'paper_mass',
  title: 'paper mass',
  unit: 'kg',
  per: 'trial',
  formula: {
    words:
      'Sheets times the area of one times the mass of the paper per area; of batches on paper of their own by batch.',
    symbols: 'sheets × width × height × grammage',
  },
  source:
    'grammage, mass per area: ISO 536 (edition not consulted, from memory); sizes of the A series: ISO 216 (edition not consulted, second-hand)',
  derive: (run) =>
    overPagesOfTrial(
      run,
      pagesOf(run),
      (one, other) => alikeInDuplex(one, other) && alikeInPaper(one, other),
      (pages, under) => {
        const { width, height, grammage } = under.paper;
        const squareMetres = width.times(height).div(1_000_000);
        return sheetsFor(pages, under, run).times(squareMetres).times(grammage.div(1000));
      },
    ),
};
