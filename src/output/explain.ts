import type { Assessed } from '../judge/assess.ts';
import { BETTER, budgetOf, improvedBy } from '../figures/budget.ts';
import { type Derived, type Figure, isDerived } from '../figures/figure.ts';
import { workedFormula } from '../figures/worked.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { asDecimal } from '../uncertainty/decimal.ts';
import { dotted } from '../uncertainty/path.ts';
import { cut, padEnd, wrap } from './columns.ts';
import { harmless, harmlessJson } from './harmless.ts';
import { inputName } from './input-name.ts';
import { BOUND_WORDS, fullDigits, severityWord, shown } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';
import { nameOf, unitOf } from './text-figures.ts';
import { table } from './text-table.ts';
import { reasonWords } from './reason-words.ts';

/** What it means that a limit is missed. */
const EFFECT_WORDS = {
  fails: 'fails what was tried',
  voids: 'voids the trial',
  advises: 'only advises',
} as const;

/** What a figure means; and, for one trial, how it came out and what its uncertainty is made of. */

const PER: Readonly<Record<Figure['per'], string>> = {
  trial: 'one for the trial',
  cartridge: 'one for each cartridge',
  patch: 'one for each control patch',
  readings: 'least, greatest and mean of the readings',
  findings: 'in all, and for each stage and part',
  prints: 'in all, and for each attribute and slot',
};

function meaning(figure: Figure, paint: Paint): string[] {
  const { name, title, unit, per, formula, source } = figure;
  const line = (word: string, said: string): string[] => wrap(said, `  ${padEnd(word, 10)}`);
  return [
    `${paint.strong(name)}  ${title}`,
    '',
    ...line('means', formula.words),
    ...line('formula', formula.symbols),
    ...line('unit', unit === '1' ? 'none, a pure number' : unit),
    ...line('derived', PER[per]),
    ...line('source', source),
    ...line(
      'limits',
      `a missed limit on it ${EFFECT_WORDS[figure.effect ?? 'fails']}, unless the limit says otherwise`,
    ),
  ];
}

/** What a figure means, for people. */
export const explained = (figure: Figure, paint: Paint = PLAIN): string =>
  `${meaning(figure, paint).join('\n')}\n`;

/** What a figure means and how it came out in a trial, for people. */
export function explainedFor(figure: Figure, result: Assessed, paint: Paint = PLAIN): string {
  const own = result.derived.filter((one) => one.figure === figure);
  const lines = own.flatMap((one) => ['', ...outcome(one, result, paint)]);
  const none = own.length === 0 ? ['', '  This trial has no part to derive it for.'] : [];
  return `${[...meaning(figure, paint), '', harmless(result.file), ...none, ...lines].join('\n')}\n`;
}

/** Columns a name may take, so that what is said of it still fits beside it. */
const LONGEST_NAME = 60;

function outcome(derived: Derived, result: Assessed, paint: Paint): string[] {
  const name = paint.strong(cut(nameOf(derived), LONGEST_NAME));
  const { result: value, unit } = derived;
  if (!isDerived(value)) return wrap(`not derived: ${harmless(reasonWords(value))}`, `  ${name}: `, '    ');
  const { value: number, U } = shown(value.value, value.u.times(2));
  const said =
    severityWord(value.value, unit) ??
    `${BOUND_WORDS[value.bound]}${number}${U === '' ? '' : ` ± ${U}`} ${unitOf(unit)}`;
  return [
    `  ${name}`,
    ...wrap(`= ${work(derived, result)}`, '    '),
    ...wrap(`= ${said.trimEnd()}`, '    '),
    ...budget(derived, paint),
  ];
}

const work = (derived: Derived, { derived: all, reference, trial, agreed }: Assessed): string =>
  harmless(
    workedFormula(derived, all, reference, trial.run, { referenceCoverage: agreed.referenceCoverage }),
  );

/** Shares of the variance this close to the largest are as good as it. */
const ALIKE = 0.99;

/** The uncertainty budget, and what a better reading would gain. */
function budget({ result, unit }: Derived, paint: Paint): string[] {
  if (!isDerived(result)) return [];
  const shares = budgetOf(result);
  const [first] = shares;
  if (first === undefined) return ['    None of its inputs has an uncertainty: counts, or taken as exact.'];
  const rows = shares.map(({ input, contribution, share }) => ({
    name: `  ${harmless(inputName(input))}`,
    cells: [
      `${fullDigits(input.value)}${unitOf(input.unit) === '' ? '' : ` ${unitOf(input.unit)}`}`,
      two(input.u),
      two(asDecimal(contribution)),
      `${(share * 100).toFixed(share < 0.0995 ? 1 : 0)} %`,
    ],
  }));
  const better = two(asDecimal(improvedBy(result, first) * 2));
  const alike = shares.filter(({ share }) => share > first.share * ALIKE);
  const names = alike.map(({ input }) => inputName(input)).join(', ');
  const which =
    alike.length > 1
      ? `Each of these would help as much: ${names}. One of them known`
      : `This would help most: ${names}. Known`;
  const pays = `${which} ${BETTER} times better, it would bring U from ${two(result.u.times(2))} to ${better}${unitOf(unit) === '' ? '' : ` ${unitOf(unit)}`}.`;
  return ['', ...table(['value', 'u', '|c| u', 'of u²'], rows, paint), ...wrap(harmless(pays), '    ')];
}

const two = (value: Decimal): string => value.toSignificantDigits(2).toFixed();

/** The same for other programs. */
export function explainJson(figure: Figure, result: Assessed | null): string {
  const { name, title, unit, per, formula, source } = figure;
  const values = (result?.derived ?? [])
    .filter((one) => one.figure === figure)
    .map((one) => ({
      of: one.of,
      stat: one.stat,
      unit: one.unit,
      ...(isDerived(one.result)
        ? {
            value: severityWord(one.result.value, one.unit) ?? fullDigits(one.result.value),
            u: fullDigits(one.result.u),
            bound: one.result.bound,
            worked: result && work(one, result),
            budget: budgetOf(one.result).map(({ input, contribution, share }) => ({
              input: dotted(input.path),
              scatter_of: input.readings ?? null,
              value: fullDigits(input.value),
              unit: input.unit,
              u: fullDigits(input.u),
              contribution: fullDigits(asDecimal(contribution)),
              share: fullDigits(asDecimal(share)),
            })),
            reason: null,
          }
        : { value: null, u: null, bound: null, worked: null, budget: [], reason: reasonWords(one.result) }),
    }));
  const { words, symbols } = formula;
  return `${harmlessJson({ figure: name, title, unit, per, words, formula: symbols, source, file: result?.file ?? null, values }, 2)}\n`;
}
