import { expandedOf } from '../checks/near-limits.ts';
import { type Derived, isDerived } from '../figures/figure.ts';
import type { Judged } from '../judge/judge.ts';
import { count } from '../output/ground-words.ts';
import { BOUND_WORDS, exactly, severityWord, shown, shownBeside } from '../output/numbers.ts';
import { unitOf } from '../output/text-figures.ts';
import { SEVERITY } from '../trial/catalogue.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { typeset } from './typeset.ts';

/** Figures and limits in sentences for people who do not read tables. */

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Units that are words take a plural. */
const PLURAL: Readonly<Record<string, string>> = { page: 'pages', sheet: 'sheets' };

/** A number with its unit: 9000 pages, 1 page, 25 g, minor. */
export function amount(number: string, unit: string): string {
  if (unit === SEVERITY) return number;
  const word = number === '1' ? unitOf(unit) : (PLURAL[unit] ?? unitOf(unit));
  return typeset(`${number} ${word}`.trimEnd());
}

/** The value of a judged figure without its uncertainty, to the place that this leaves; null where it has none. */
function plainValue(judged: Judged): string | null {
  const { result, unit } = judged.derived;
  if (!isDerived(result)) return null;
  const word = severityWord(result.value, unit);
  if (word !== null) return word;
  const bound = BOUND_WORDS[result.bound];
  return `${bound}${amount(shown(result.value, expandedOf(judged, result)).value, unit)}`;
}

/** A limit in words: at most 25 g; at least 9000 pages; 18 to 26 °C. */
export function agreedText({ limit, derived }: Pick<Judged, 'limit' | 'derived'>): string {
  const unit = limit.currency ?? derived.unit;
  const edge = (at: Decimal): string => severityWord(at, derived.unit) ?? exactly(at);
  const { min, max } = limit;
  if (min !== null && max !== null) return typeset(`${edge(min)} to ${amount(edge(max), unit)}`);
  if (min !== null) return `at least ${amount(edge(min), unit)}`;
  return max === null ? '' : `at most ${amount(edge(max), unit)}`;
}

/** How far a value is inside its limit, or beyond it; empty where there is none, or only a bound that decides nothing. */
export function distanceText(judged: Judged): string {
  const {
    margin,
    outcome,
    derived: { result, unit },
  } = judged;
  if (margin === null || !isDerived(result)) return '';
  if (outcome === 'open' && result.bound !== 'exact') return '';
  const by =
    unit === SEVERITY
      ? count(margin.abs().toNumber(), 'step')
      : amount(shownBeside(margin.abs(), expandedOf(judged, result)), unit);
  if (margin.isZero()) return 'at the limit';
  return margin.isNegative() ? `${by} beyond` : `${by} inside`;
}

/** Which of the readings a figure is of. */
const STAT = { least: 'lowest', greatest: 'highest', mean: 'mean' } as const;

const TITLES: Readonly<Record<string, string>> = {
  yield_at_reference: 'yield at reference coverage',
  projected_yield_at_reference: 'projected yield at reference coverage',
};

/** What a figure is called in a sentence: yield at reference coverage of black. */
export function subject({ figure, of, stat }: Pick<Derived, 'figure' | 'of' | 'stat'>): string {
  const title = TITLES[figure.name] ?? figure.title;
  const which = stat === null ? '' : `${figure.per === 'readings' ? STAT[stat] : stat} `;
  return `${which}${title}${of === null ? '' : ` of ${of}`}`;
}

/** Figures that a person says in another order than their title. */
const SAID: Readonly<Record<string, (value: string) => string>> = {
  waste_per_thousand: (value) => `waste is ${value} per thousand pages`,
  jams_per_thousand: (value) => `jams are ${value} per thousand pages`,
  stops_per_thousand: (value) => `stops are ${value} per thousand pages`,
  pages: (value) => `the run has ${value}`,
  sheets: (value) => `the run took ${value}`,
  failed_cartridges: (value) => `${value === '1' ? '1 cartridge' : `${value} cartridges`} failed`,
};

/** A judged figure in a clause: waste is 30.583 g per thousand pages. */
export function clause(judged: Judged): string {
  const { derived } = judged;
  const value = plainValue(judged);
  if (value === null) return `${subject(derived)} has no value`;
  const said = SAID[derived.figure.name];
  return said === undefined ? `${subject(derived)} is ${value}` : said(value);
}

/** A figure beside its limit, as a sentence. */
export const againstAgreed = (judged: Judged): string =>
  `${capital(clause(judged))}; ${agreedText(judged)} was agreed.`;
