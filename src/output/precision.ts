import type { FigurePrecision, NoRepeat, RepeatedTrials } from '../pool/precision.ts';
import type { Component } from '../statistics/nested.ts';
import { asDecimal } from '../uncertainty/decimal.ts';
import { wrap } from './columns.ts';
import { type Cell, csv } from './csv.ts';
import { harmless, harmlessJson } from './harmless.ts';
import { count } from './ground-words.ts';
import { digitsOrNull as digits } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';
import type { PrecisionData } from './schema/pool.ts';
import { unitOf } from './text-figures.ts';
import { table } from './text-table.ts';

/** The scatter of figures over repeated trials: for people, for other programs, and as limits that hold it. */

/** The format in JSON; raised when a consumer would have to change. */
const FORMAT = 1;

const brief = (value: number | null): string =>
  value === null ? '' : asDecimal(value).toSignificantDigits(3).toFixed();

const nameOf = ({ title, of, unit }: FigurePrecision): string => {
  const word = unitOf(unit);
  return harmless(`${title}${of === null ? '' : `, ${of}`}${word === '' ? '' : `, ${word}`}`);
};

/** Why trials do not repeat each other. */
export function noRepeatWords({ by, of: [[one, first], [other, second]] }: NoRepeat): string {
  return by === 'lot'
    ? `${first} is of lot ${one} and ${second} of lot ${other}; the scatter of lots is not that of trials: give trials of one lot`
    : `${first} was printed at ${one} % coverage and ${second} at ${other} %; they do not repeat each other: give trials at one coverage`;
}

/** What is to be known before the numbers are used. */
export function precisionRemarks({
  lot,
  trials,
  machines,
  unnamed,
  papers,
  figures,
}: RepeatedTrials): string[] {
  const loose = figures.some(({ scatter }) => (scatter.whole?.freedom ?? 0) < 8);
  return [
    ...(lot === null
      ? ['No trial names its lot (lot.id). Trials of several lots scatter as lots do, not as the trial does.']
      : []),
    ...(unnamed > 0
      ? [`${count(unnamed, 'trial')} of ${trials} without a machine: machines are not told apart.`]
      : machines < 2
        ? ['One machine: how machines differ is not in these numbers.']
        : []),
    ...(papers > 1
      ? ['Paper or two-sided share are not the same in all trials: what that does is in these numbers.']
      : []),
    ...(loose
      ? ['Fewer than 8 degrees of freedom: the standard deviation itself is known to a quarter at best.']
      : []),
  ];
}

/** In lines for people. */
export function precisionText(all: RepeatedTrials, paint: Paint = PLAIN): string {
  const { lot, trials, machines, operators, figures, tooFew } = all;
  const rows = figures.map((one) => {
    const { within, inner, outer, whole } = one.scatter;
    return {
      name: nameOf(one),
      cells: [
        String(one.values),
        brief(one.mean),
        brief(within.sd),
        ...(operators > 1 ? [brief(inner.sd)] : []),
        brief(outer.sd),
        brief(whole?.sd ?? null),
        brief(whole?.freedom ?? null),
      ],
    };
  });
  const heads = [
    'n',
    'mean',
    'repeated',
    ...(operators > 1 ? ['operators'] : []),
    'machines',
    'all',
    'freedom',
  ];
  const lines = [
    ...wrap(
      harmless(
        `PRECISION${lot === null ? '' : ` of lot ${lot}`}: ${count(trials, 'trial')}, ${machines === 0 ? 'machines not named' : count(machines, 'machine')}, ${operators === 0 ? 'operators not named' : count(operators, 'operator')}`,
      ),
    ).map(paint.strong),
    '',
    ...(rows.length === 0
      ? ['  No figure repeats: two trials of one lot in one machine are needed.']
      : table(heads, rows, paint)),
    '',
    ...wrap(
      'Standard deviations: repeated in one machine (by one operator), between machines, and of all together with its degrees of freedom.',
      '  ',
    ),
    ...(tooFew.length === 0
      ? []
      : wrap(harmless(`Too few, or without any scatter: ${tooFew.join('; ')}.`), '  ')),
    ...precisionRemarks(all).flatMap((one) => ['', ...wrap(harmless(one), '  ')]),
    '',
    ...wrap(
      'Repeated trials of one lot show how a trial scatters. --write FILE keeps it; named among the limits of a trial, it decides.',
      '  ',
    ),
  ];
  return `${lines.join('\n')}\n`;
}

const component = ({ sd, freedom }: Component) => ({ sd: digits(sd), degrees_of_freedom: freedom });

/** As JSON: standard deviations as decimal strings in the unit of the figure, or null. */
export const precisionJson = (all: RepeatedTrials, tool: string): string =>
  `${harmlessJson(precisionData(all, tool), 2)}\n`;

const precisionData = (all: RepeatedTrials, tool: string): PrecisionData => ({
  format: FORMAT,
  tool,
  lot: all.lot,
  trials: all.trials,
  machines: all.machines,
  operators: all.operators,
  figures: all.figures.map(({ figure, of, unit, values, trials, mean, scatter }) => ({
    figure,
    of,
    unit,
    values,
    trials,
    mean: digits(mean),
    repeatability: component(scatter.within),
    between_operators: component(scatter.inner),
    between_machines: component(scatter.outer),
    all: {
      sd: digits(scatter.whole?.sd ?? null),
      degrees_of_freedom: digits(scatter.whole?.freedom ?? null),
    },
  })),
  too_few: [...all.tooFew],
  remarks: precisionRemarks(all),
});

export const precisionCsv = ({ lot, figures }: RepeatedTrials): string =>
  csv(
    [
      ...['lot', 'figure', 'of', 'unit', 'values', 'trials', 'mean', 'repeatability_sd'],
      ...['between_operators_sd', 'between_machines_sd', 'all_sd', 'degrees_of_freedom'],
    ],
    figures.map(({ figure, of, unit, values, trials, mean, scatter }): Cell[] => [
      ...[lot, figure, of, unit, values, trials, digits(mean), digits(scatter.within.sd)],
      ...[digits(scatter.inner.sd), digits(scatter.outer.sd)],
      ...[digits(scatter.whole?.sd ?? null), digits(scatter.whole?.freedom ?? null)],
    ]),
  );

/** As a limits file that holds it. */
export function precisionYaml(all: RepeatedTrials, tool: string): string {
  const entry = ({ of, unit, scatter: { whole } }: FigurePrecision): string =>
    `{${of === null ? '' : `of: ${JSON.stringify(of)}, `}sd: ${JSON.stringify(
      `${asDecimal(whole?.sd ?? 0)
        .toSignificantDigits(4)
        .toFixed()}${unitOf(unit) === '' ? '' : ` ${unit}`}`,
    )}, degrees_of_freedom: ${asDecimal(whole?.freedom ?? 1)
      .toSignificantDigits(3)
      .toFixed()}}`;
  const names = [...new Set(all.figures.map(({ figure }) => figure))];
  const lines = names.flatMap((name) => {
    const own = all.figures.filter(({ figure }) => figure === name);
    const [only] = own;
    if (own.length === 1 && only) return [`    ${name}: ${entry(only)}`];
    return [`    ${name}:`, ...own.map((one) => `      - ${entry(one)}`)];
  });
  const of = all.lot === null ? '' : ` of lot ${all.lot.replace(/\s+/g, ' ')}`;
  return [
    harmless(
      `# How figures scatter over repeated trials: ${count(all.trials, 'trial')}${of} in ${count(all.machines, 'machine')}.`,
    ),
    `# Written by ${tool} precision. Name this file among the limits of a trial.`,
    'decision:',
    '  precision:',
    ...lines,
    '',
  ].join('\n');
}
