import { SEVERITY } from '../trial/catalogue.ts';
import type { PrintsFigure } from './figure.ts';
import { worstOf } from './worst-of.ts';

export const worstPrint: PrintsFigure = {
  name: 'worst_print',
  title: 'worst print by eye',
  unit: SEVERITY,
  per: 'prints',
  formula: {
    words: 'The worst severity seen on the prints judged by eye, in all and by attribute and slot.',
    symbols: 'greatest of none < minor < major < critical',
  },
  source: 'the prints as judged; common practice, no source',
  derive: worstOf,
};
