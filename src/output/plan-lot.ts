import type { ByVariables, CharacteristicRow, LotPlan, StepRow, Takes } from '../plan/lot.ts';
import type { Plan } from '../plan/plan.ts';
import { type Planned, valueOf } from '../plan/planned.ts';
import type { Draw } from '../lot/draw.ts';
import { acceptedOf } from '../lot/characteristic.ts';
import type { PlannedClass } from '../lot/judged-inspection.ts';
import type { SingleRule } from '../lot/rule.ts';
import { type Quality, shareOf, type Terms } from '../lot/terms.ts';
import type { VariablesPlan } from '../statistics/variables-plan.ts';
import { asDecimal, type Decimal } from '../uncertainty/decimal.ts';
import { padEnd, wrap } from './columns.ts';
import type { Cell } from './csv.ts';
import { harmless } from './harmless.ts';
import { acceptWords, inspectWords, qualityWords, ruleWords } from './lot-words.ts';
import { exactly, fullDigits, percent, tidy } from './numbers.ts';
import { PLAIN } from './paint.ts';
import { reasonWords } from './reason-words.ts';
import { sideBySide } from './side-by-side.ts';
import { table } from './text-table.ts';

/** How a lot is to be tried: as lines of the plan, and as rows of its table. */

const NAME = 20;
const line = (name: string, said: string): string[] => wrap(harmless(said), `  ${padEnd(name, NAME)}`);

export function lotLines({ trial, lot }: Plan): string[] {
  if (lot === null) return [];
  const { inspection } = lot;
  const { supplier, size, id } = trial.data.lot ?? {};
  const head = (cartridges: string): string[] =>
    line(
      'lot',
      `${id ?? 'without a number'}${supplier ? ` from ${supplier}` : ''}, ${cartridges} cartridges`,
    );
  const drawn = (of: number): string[] =>
    lot.drawn && 'value' in lot.drawn ? drawLines(lot.drawn.value, lot, of) : [];
  if ('reason' in lot.terms) {
    // Who agreed on findings alone has a plan all the same.
    if (inspection === null || !('value' in inspection) || size == null)
      return line('plan', `– ${reasonWords(lot.terms.reason)}`);
    return [
      ...head(size.value.toFixed()),
      ...line('trials', `– ${reasonWords(lot.terms.reason)}`),
      ...inspectionLines(inspection, size.value.toNumber()),
      ...drawn(size.value.toNumber()),
    ];
  }
  const { limiting, acceptable, size: cartridges } = lot.terms.value;
  return [
    ...head(`${cartridges}`),
    ...line('limiting quality', qualityWords(limiting, cartridges, 'consumer’s')),
    ...(acceptable ? line('acceptable quality', qualityWords(acceptable, cartridges, 'producer’s')) : []),
    ...line(
      'single rule',
      'value' in lot.single ? ruleWords(lot.single.value) : `– ${reasonWords(lot.single.reason)}`,
    ),
    ...line(
      'sequential rule',
      'value' in lot.sequential ? ruleWords(lot.sequential.value) : `– ${reasonWords(lot.sequential.reason)}`,
    ),
    ...takesLines(lot),
    ...characteristicLines(lot, lot.terms.value),
    ...stepLines(lot, lot.terms.value),
    ...(lot.variables === null ? [] : variablesLines(lot.variables)),
    ...(inspection === null ? [] : inspectionLines(inspection, cartridges)),
    ...drawn(cartridges),
  ];
}

/** What is looked at on delivery, and with how many of each class the lot is accepted. */
function inspectionLines(inspection: Planned<readonly PlannedClass[]>, size: number): string[] {
  if ('reason' in inspection) return ['', ...line('on delivery', `– ${reasonWords(inspection.reason)}`)];
  const [first] = inspection.value;
  if (first === undefined) return [];
  return [
    '',
    ...line('on delivery', inspectWords(first.rule.plan.sample)),
    ...inspection.value.flatMap(({ of, terms, rule }) => [
      ...line(`  ${of}`, acceptWords(rule.plan.accept)),
      ...[terms.limiting, terms.acceptable].flatMap((quality, index) =>
        quality === null
          ? []
          : line('', acceptedWords(quality, rule, size, index === 0 ? 'consumer’s' : 'producer’s')),
      ),
    ]),
  ];
}

/** A quality of a class as it was agreed, and how often a lot of it is accepted. */
function acceptedWords(quality: Quality, rule: SingleRule, size: number, whose: string): string {
  const accepted = percent(acceptedOf(rule, size, quality.failing)).toFixed(1);
  return `${qualityWords(quality, size, whose, 'with one')}: accepted in ${accepted} % of cases`;
}

const TAKES: Readonly<Record<Takes['what'], string>> = {
  'single-most': 'single rule, at most',
  single: 'single rule, on average',
  sequential: 'sequential rule, on average',
  variables: 'by variables',
  'variables-known': 'by variables, deviation known',
};

const one = (value: number): string => asDecimal(value).toFixed(1);

function takesLines({ takes, terms }: LotPlan): string[] {
  if (takes.length === 0) return [];
  const acceptable = valueOf(terms)?.acceptable ?? null;
  const good = acceptable === null ? 'of which none fail' : 'of the acceptable quality';
  const rows = takes.map(({ what, trials, reams, hours }) => ({
    name: TAKES[what],
    cells: [
      Number.isInteger(trials) ? `${trials}` : one(trials),
      `${valueOf(reams) ?? '–'}`,
      valueOf(hours)?.toFixed(1) ?? '–',
    ],
  }));
  return [
    '',
    ...wrap(`Trials of one cartridge each, on average for a lot ${good}:`, '  '),
    ...table(['trials', 'reams', 'printing h'], rows, PLAIN),
  ];
}

function characteristicLines({ characteristic }: LotPlan, { size }: Terms): string[] {
  if (characteristic.length === 0) return [];
  const shares = (row: CharacteristicRow): string[] =>
    [row.single, row.sequential].flatMap((course) =>
      course === null ? [] : [`${percent(course.accepted).toFixed(1)} %`, one(course.tried)],
    );
  const wald = characteristic.some(({ sequential }) => sequential !== null);
  const rows = characteristic.map((row) => ({
    name: `${row.failing} of ${size}, ${shareOf(row.failing, size).toFixed(1)} %`,
    cells: shares(row),
  }));
  const heads = ['single', 'trials', ...(wald ? ['sequential', 'trials'] : [])];
  return [
    '',
    ...wrap('How often a lot of so many failing is accepted, and after how many trials on average:', '  '),
    ...table(heads, rows, PLAIN),
  ];
}

function stepLines({ steps }: LotPlan, { size }: Terms): string[] {
  if (steps.length === 0) return [];
  const beyond =
    steps.length < size
      ? ' Beyond the table: accept at s × tried − h1, rounded down; reject at s × tried + h2, rounded up.'
      : '';
  const cell = (number: number | null): string => (number === null ? '–' : `${number}`);
  const rows = steps.map(({ tried, accept, reject }: StepRow) => [
    '[ ]',
    `${tried}`,
    cell(accept),
    cell(reject),
  ]);
  return [
    '',
    ...wrap(
      `The sequential rule, to tick off: after so many tried, accept with so many failing or fewer, reject with so many or more, else try the next one.${beyond}`,
      '  ',
    ),
    ...sideBySide(['', 'tried', 'accept', 'reject'], rows),
  ];
}

function variablesLines({ figure, min, unknown, known, mostU, u }: ByVariables): string[] {
  const plan = ({ sample, factor }: VariablesPlan, deviation: string): string =>
    `try ${sample}; accept where mean − ${factor.toFixed(3)} × ${deviation} is ${exactly(min)} pages or more`;
  return [
    '',
    ...wrap(
      `By variables, where the yields scatter normally and all are run until exhausted: for at least ${exactly(min)} pages (${figure.title}), by the mean and the standard deviation that "pool" prints.`,
      '  ',
    ),
    ...line(
      'deviation found',
      'value' in unknown ? plan(unknown.value, 'deviation') : `– ${reasonWords(unknown.reason)}`,
    ),
    ...line(
      'deviation known',
      'value' in known
        ? plan(known.value, `${exactly(known.value.sd)} pages`)
        : `– ${reasonWords(known.reason)}`,
    ),
    ...line('uncertainty', uncertaintyWords(mostU, u)),
  ];
}

/** The condition that the readings scatter little beside the cartridges. */
function uncertaintyWords(mostU: Decimal | null, u: Decimal | null): string {
  const condition = 'u of a yield no more than a tenth of the deviation between cartridges';
  if (mostU === null) return `${condition} (target.expected_sd is not given)`;
  const most = `${condition}: ${tidy(mostU)} pages`;
  if (u === null) return `${most}; target.expected_yield is not given, so that of the coverage is not known`;
  const coverage = `that of the coverage is ${tidy(u.toSignificantDigits(2))}`;
  return u.lte(mostU)
    ? `${most}; ${coverage}`
    : `${most}; ${coverage}, which is too much: know the coverage better, or count instead`;
}

function drawLines(
  { seed, numbers }: Draw,
  { single, sequential, inspection }: LotPlan,
  size: number,
): string[] {
  const tried = valueOf(single)?.plan.sample ?? 0;
  const most = 'value' in sequential ? 2 * tried : tried;
  const inspected = (inspection && valueOf(inspection)?.[0]?.rule.plan.sample) ?? 0;
  const list = (of: readonly number[]): string => of.join(', ');
  const rising = (of: readonly number[]): string => list(of.toSorted((a, b) => a - b));
  const lines = (name: string, of: readonly number[], said = list): string[] =>
    of.length > 0 ? line(name, said(of)) : [];
  return [
    '',
    ...wrap(
      harmless(
        `Drawn from 1 to ${size} by the seed "${seed}", in the order they are tried: number the cartridges as they lie, first to last, before you look at them.`,
      ),
      '  ',
    ),
    ...lines('inspect', numbers.slice(0, inspected), rising),
    ...lines('try', numbers.slice(0, tried)),
    ...lines('in order of number', numbers.slice(0, tried), rising),
    ...lines('if it goes on', numbers.slice(tried, most)),
  ];
}

type Row = [string, Cell, Cell, string];

/** What the lot adds to the plan's table. */
export function lotRows({ lot }: Plan): Row[] {
  if (lot === null) return [];
  const [terms, single, sequential] = [valueOf(lot.terms), valueOf(lot.single), valueOf(lot.sequential)];
  const digits = (value: number): string => fullDigits(asDecimal(value).toSignificantDigits(12));
  const { variables } = lot;
  const [unknown, known] = [variables && valueOf(variables.unknown), variables && valueOf(variables.known)];
  return [
    ['lot_limiting_failing', null, terms?.limiting.failing ?? null, '1'],
    ['lot_acceptable_failing', null, terms?.acceptable?.failing ?? null, '1'],
    ['lot_single', 'sample', single?.plan.sample ?? null, '1'],
    ['lot_single', 'accept', single?.plan.accept ?? null, '1'],
    ...Object.entries(sequential?.lines ?? {}).map(([name, value]: [string, number]): Row => [
      'lot_sequential',
      name,
      digits(value),
      '1',
    ]),
    ...lot.takes.flatMap(({ what, trials, reams, hours }): Row[] => [
      ['lot_trials', what, digits(trials), '1'],
      ['lot_reams', what, valueOf(reams), 'ream'],
      ['lot_hours', what, valueOf(hours) && fullDigits(valueOf(hours) ?? asDecimal(0)), 'h'],
    ]),
    ...lot.characteristic.flatMap(({ failing, single: course, sequential: wald }): Row[] => [
      ['lot_accepted_single', `${failing} failing`, digits(100 * course.accepted), '%'],
      ['lot_accepted_sequential', `${failing} failing`, wald && digits(100 * wald.accepted), '%'],
    ]),
    ...lot.steps.flatMap(({ tried, accept, reject }): Row[] => [
      ['lot_accept', `${tried} tried`, accept, '1'],
      ['lot_reject', `${tried} tried`, reject, '1'],
    ]),
    ['lot_by_variables', 'sample', unknown?.sample ?? null, '1'],
    ['lot_by_variables', 'factor', unknown ? digits(unknown.factor) : null, '1'],
    ['lot_by_variables_known', 'sample', known?.sample ?? null, '1'],
    ['lot_by_variables_known', 'factor', known ? digits(known.factor) : null, '1'],
    ...((lot.inspection && valueOf(lot.inspection)) ?? []).flatMap(({ of, rule: { plan } }): Row[] => [
      ['lot_inspection_sample', of, plan.sample, '1'],
      ['lot_inspection_accept', of, plan.accept, '1'],
    ]),
    ...(lot.drawn && 'value' in lot.drawn ? drawRows(lot.drawn.value) : []),
  ];
}

const drawRows = ({ seed, numbers }: Draw): Row[] => [
  ['draw_seed', null, seed, ''],
  ...numbers.map((number, index): Row => ['draw', index + 1, number, '']),
];
