import { SEVERITY } from '../trial/catalogue.ts';
import type { FindingsFigure } from './figure.ts';
import { worstOf } from './worst-of.ts';

export const worstFinding: FindingsFigure = {
  name: 'worst_finding',
  title: 'worst finding',
  unit: SEVERITY,
  per: 'findings',
  formula: {
    words: 'The worst severity found in the inspection, in all and by stage and part.',
    symbols: 'greatest of none < minor < major < critical',
  },
  source: 'the inspection as recorded; common practice, no source',
  derive: worstOf,
};
