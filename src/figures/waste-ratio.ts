import type { RunFigure } from './figure.ts';
import { referenceOf } from './reference-run.ts';
import { wastePerThousandOf } from './waste-per-thousand.ts';

export const wasteRatio: RunFigure = {
  name: 'waste_ratio',
  title: 'waste ratio',
  unit: '1',
  per: 'trial',
  formula: {
    words: 'Waste per thousand pages of the candidate over that of the reference.',
    symbols: 'waste_per_thousand / waste_per_thousand of the reference',
    worked: ['waste_per_thousand / their_waste_per_thousand'],
  },
  source: 'comparison in the same machine; common practice, no source',
  derive: (run) =>
    wastePerThousandOf(run).over(wastePerThousandOf(referenceOf(run)), 'waste of the reference'),
};
