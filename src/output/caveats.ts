import type { Assessed, Result } from '../judge/assess.ts';
import { type Caveat, caveatsOf } from '../checks/caveats.ts';
import { expandedOf } from '../checks/near-limits.ts';
import { isDerived } from '../figures/figure.ts';
import type { Code } from '../problems/problem.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { cut, WIDTH } from './columns.ts';
import { harmless } from './harmless.ts';
import { shownBeside } from './numbers.ts';
import { nameOf, unitOf } from './text-figures.ts';
import { count } from './ground-words.ts';
import { checkedWords } from './words.ts';

/** What is wrong with a doubted reading, in a few words. */
const DOUBTED: Readonly<Partial<Record<Code, string>>> = {
  'mass-implausible': 'no cartridge or container weighs that',
  'fraction-for-percent': 'it looks like a fraction, not a percentage',
  'interim-above-final': 'a weight on the way is above it',
  'interim-falls': 'the weight before is above it',
  'cartridge-gains': 'the cartridge was lighter before',
  'weighed-twice-apart': 'two weights at one meter reading differ',
  'over-capacity': 'more waste than the container holds',
  'waste-exceeds-toner': 'more waste than toner used',
  'used-beyond-fill': 'more toner used than filled in',
  'used-before-beyond-fill': 'no toner is left for the pages before',
  'usage-implausible': 'too little toner for these pages',
  'no-waste': 'no waste after so many pages',
  'fixing-gains': 'the density rose in the rub or tape test',
  'rolled-over-far': 'start and end look exchanged',
  'exhausted-early': 'exhausted with most of its toner left',
  'pages-after-cartridge': 'pages went on with no cartridge in the slot',
  'slot-empty': 'pages went on with no cartridge in the slot',
  'pages-after-last-batch': 'too many pages behind the last checkpoint',
  'first-batch-long': 'the first batch is too long',
  'pages-over-target': 'too many pages for what was planned',
  'weighings-apart': 'far from its other weighings',
  'waste-rate-apart': 'the waste there does not fit the other batches',
  'sheets-differ': 'sheets counted and sheets derived differ',
  'reading-not-of-run': 'it was not read during the run',
};

const readings = (names: readonly string[]): string =>
  names.length > 3 ? `${names.slice(0, 2).join(', ')} and ${names.length - 2} more` : names.join(', ');

/** A caveat in a sentence, the most important thing first. */
export function caveatWords(caveat: Caveat): string {
  switch (caveat.kind) {
    case 'doubt':
      return `In doubt: ${readings(caveat.readings)}; ${DOUBTED[caveat.code] ?? caveat.code}.`;
    case 'checked':
      return `Was in doubt. ${checkedWords(caveat.checked)}`;
    case 'failure':
      return `${caveat.failed} of ${count(caveat.of, 'cartridge')} failed.`;
    case 'finding': {
      const { of, critical, major, worst } = caveat;
      const [n, word] = critical > 0 ? [critical, 'critical'] : [major, 'major'];
      const what =
        of === 'prints' ? `${count(n, 'print')} judged ${word} by eye` : count(n, `${word} finding`);
      return `${what}${worst === '' ? '' : `: ${worst}`}.`;
    }
    case 'near': {
      const [first] = caveat.limits;
      if (caveat.limits.length > 1 || first === undefined) {
        const more = caveat.limits.length - 1;
        return `${first === undefined ? '' : nameOf(first.derived)} and ${count(more, 'more limit')} closer than ± U.`;
      }
      const { derived, margin } = first;
      if (!isDerived(derived.result) || margin === null) return '';
      if (derived.bounds) return `${nameOf(derived)}: so few events cannot tell whether the limit is kept.`;
      const U = expandedOf(first, derived.result);
      const said = (value: Decimal): string => `${shownBeside(value, U)} ${unitOf(derived.unit)}`.trimEnd();
      const where = margin.isZero() ? 'at its limit' : `${said(margin.abs())} from the limit`;
      return `${nameOf(derived)}: ${where}, ± U is ${said(U)}.`;
    }
    case 'stated':
      return `${count(caveat.figures.length, 'stated figure')} ${caveat.figures.length === 1 ? 'differs' : 'differ'} from the readings.`;
    case 'silence':
      switch (caveat.code) {
        case 'unspoken-finding':
          return caveat.of === 'prints'
            ? `${count(caveat.findings, 'print')} judged critical by eye; no limit speaks of prints.`
            : `${count(caveat.findings, 'critical finding')}; no limit speaks of findings.`;
        case 'unspoken-failure':
          return `${caveat.failed} of ${count(caveat.of, 'cartridge')} failed; no limit speaks of failures.`;
        case 'short-of-target':
          return `The run ended after ${caveat.pages} of ${caveat.target} pages planned.`;
      }
  }
}

/** The caveats of a result as other programs read them; none of a file that is no trial. */
export const caveatData = (result: Result): { readonly code: string; readonly message: string }[] =>
  result.verdict === 'invalid'
    ? []
    : caveatsOf(result).map((caveat) => ({ code: caveat.code, message: caveatWords(caveat) }));

/** So many lines stand before the verdict. */
const MOST = 3;

/** The caveats as lines right before the verdict: the worst three, and how many more there are. */
export function caveatLines(result: Assessed): string[] {
  const all = caveatsOf(result).map((caveat) => harmless(caveatWords(caveat)));
  const more = all.length - MOST;
  return all.slice(0, MOST).map((said, index) => {
    const tail = more > 0 && index === MOST - 1 ? ` (and ${more} more)` : '';
    return `  ! ${cut(said, WIDTH - 4 - tail.length)}${tail}`;
  });
}
