import { wordless, figureWords, SLIPS, type Words } from './said.ts';

/** Figures as a draft report states them. */
export const STATED_WORDS = {
  'stated-differs': ({ figure, of, stat, stated, derived, unit, slip }) => ({
    say: `The report states ${figureWords(figure, of, stat)} as ${stated}; the readings give ${derived}${wordless(unit)}.`,
    mend: slip === null ? 'Check the sum, or the readings it was made from.' : `${SLIPS[slip]}.`,
  }),
  'stated-in-other-currency': ({ figure, stated, prices }) => ({
    say: `The report states ${figure} as ${stated}, the prices are in ${prices}; they cannot be compared.`,
    mend: `State it in ${prices}.`,
  }),
  'stated-as-exact': ({ figure, of, stat, stated, bound }) => ({
    say: `The report states ${figureWords(figure, of, stat)} as ${stated}, but the readings give it only as a bound.`,
    mend:
      bound === 'at_least'
        ? 'A cartridge that was not exhausted printed so many pages; it does not yield so many. Let the report say "at least".'
        : 'The cartridge was not exhausted, so this is the most it can be. Let the report say "at most".',
  }),
  'stated-unknown-part': ({ figure, of }) => ({
    say: `The report states ${figure}${of === '' ? '' : ` of ${of}`}, which this trial does not have.`,
    mend: 'Say which part or reading is meant with "of" and "stat".',
  }),
} satisfies Partial<Words>;
