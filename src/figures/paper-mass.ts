import type { RunFigure } from './figure.ts';
import { sheetsOf } from './sheets.ts';

export const paperMass: RunFigure = {
  name: 'paper_mass',
  title: 'paper mass',
  unit: 'kg',
  per: 'trial',
  formula: {
    words: 'Sheets times the area of one times the mass of the paper per area.',
    symbols: 'sheets × width × height × grammage',
  },
  source:
    'grammage, mass per area: ISO 536 (edition not consulted, from memory); sizes of the A series: ISO 216 (edition not consulted, second-hand)',
  derive: (run) => {
    const squareMetres = run.paper.width.times(run.paper.height).div(1_000_000);
    return sheetsOf(run).times(squareMetres).times(run.paper.grammage.div(1000));
  },
};
