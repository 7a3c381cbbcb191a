import { SEVERITY } from '../trial/catalogue.ts';
import { SEVERITIES } from '../trial/schema/severities.ts';
import { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { PrintsFigure } from './figure.ts';

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
  derive: (seen) => {
    const worst = Math.max(
      0,
      ...seen.flatMap(({ severity }) => (severity ? SEVERITIES.indexOf(severity) : [])),
    );
    const unread = seen.find(({ severity }) => severity === null);
    if (unread === undefined) return Measured.exact(worst);
    if (worst === 0) throw new NotDerived({ code: 'reading-missing', path: [...unread.path, 'severity'] });
    // What is still to be judged may be worse.
    return Measured.exact(worst).as('at_least');
  },
};
