import type { Assessed } from '../../judge/assess.ts';
import type { Derived, Figure } from '../../figures/figure.ts';
import { workedFormula } from '../../figures/worked.ts';
import { nameOf, withValue } from '../../output/text-figures.ts';
import type { Formula, Section } from '../content.ts';
import { withoutKeys } from '../plain-names.ts';
import { typeset } from '../typeset.ts';
import { withUnit } from '../values.ts';

/** The formulas used, with this trial's numbers and where they come from. */
export function formulas(result: Assessed): Section {
  const figures = [...new Set(result.derived.flatMap(withValue).map(({ figure }) => figure))];
  const of = (figure: Figure): Formula => ({
    name: figure.title,
    words: withoutKeys(figure.formula.words),
    symbols: withoutKeys(figure.formula.symbols),
    worked: workedLines(figure, result),
    source: figure.source,
  });
  return {
    title: 'Formulas used, and their sources',
    annex: true,
    blocks: figures.length === 0 ? [] : [{ kind: 'formulas', formulas: figures.map(of) }],
  };
}

/** Of readings and findings every formula says the same, so only figures of the run, cartridges and patches are worked. */
function workedLines(figure: Figure, result: Assessed): string[] {
  if (['readings', 'findings', 'prints'].includes(figure.per)) return [];
  const settings = { referenceCoverage: result.agreed.referenceCoverage };
  const work = (one: Derived): string =>
    workedFormula(one, result.derived, result.reference, result.trial.run, settings);
  const own = result.derived.filter((one) => one.figure === figure && one.stat === null).flatMap(withValue);
  const lines = own
    .slice(0, MOST_WORKED)
    .map((one) => `${nameOf(one)} = ${typeset(withoutKeys(work(one)))} = ${withUnit(one)}`);
  return own.length > MOST_WORKED ? [...lines, `and ${own.length - MOST_WORKED} more alike`] : lines;
}

const MOST_WORKED = 20;
