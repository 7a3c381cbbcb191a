import { spareOf } from '../plan/paper.ts';
import type { Finding } from '../text/finding.ts';
import { severityOf } from '../problems/codes.ts';
import type { Code } from '../problems/problem.ts';
import type { Plan } from '../plan/plan.ts';
import type { Planned } from '../plan/planned.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { CAUTIONS } from './cautions.ts';
import { AFTER, BEFORE, STAGES_AFTER, STAGES_BEFORE, type Task, tasksIn } from './checklist.ts';
import { cut, padEnd, width, wrap } from './columns.ts';
import { foundLines } from './findings.ts';
import { harmless } from './harmless.ts';
import { exactly, tidy } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';
import { betweenLines } from './plan-between.ts';
import { checkpointHead, checkpointLines } from './plan-checkpoints.ts';
import { howManyLines } from './plan-how-many.ts';
import { lotLines } from './plan-lot.ts';
import { limitWords } from './words/said.ts';
import { reasonWords } from './reason-words.ts';

/** The plan of a trial for people: a work sheet of at most 80 columns, in the order the work is done. */
export function planText(
  plan: Plan,
  file: string,
  findings: readonly Finding[],
  paint: Paint = PLAIN,
): string {
  const warnings = findings.filter(
    ({ problem }) => severityOf(problem) === 'warning' && !IN_BETWEEN.has(problem.code),
  );
  const section = (name: string, lines: readonly string[]): string[] =>
    lines.length === 0 ? [] : ['', paint.strong(name), ...lines];
  const lines = [
    ...wrap(harmless(plan.trial.title)).map((line) => paint.strong(line)),
    ...wrap(harmless(file)).map((line) => paint.faint(line)),
    ...machineLine(plan),
    ...section('WHAT IT TAKES', takes(plan)),
    ...section('HOW MANY CARTRIDGES', howManyLines(plan)),
    ...section('THE LOT', lotLines(plan)),
    ...section('WHAT COMES IN BETWEEN', betweenLines(plan)),
    ...section(warnings.length > 1 ? 'WARNINGS' : 'WARNING', foundLines(warnings, paint)),
    ...section(
      'CARE',
      CAUTIONS.flatMap((caution) => wrap(caution, '  - ')),
    ),
    ...section('BEFORE THE RUN', tasks(tasksIn(BEFORE, STAGES_BEFORE, plan.trial))),
    ...section(checkpointHead(plan), checkpointLines(plan)),
    ...section('AMBIENT', ambient(plan)),
    ...section('AFTER THE RUN', tasks(tasksIn(AFTER, STAGES_AFTER, plan.trial))),
  ];
  return `${lines.join('\n')}\n`;
}

/** Warnings of a verdict that the plan has in its own words. */
const IN_BETWEEN: ReadonlySet<Code> = new Set(['part-reaches-life', 'calibration-ended', 'container-fills']);

function machineLine({ trial: { data } }: Plan): string[] {
  const { label, serial } = data.machine ?? {};
  const said = [label && `machine ${label}`, serial && `serial ${serial}`].filter(Boolean).join(', ');
  return said === '' ? [] : wrap(harmless(said));
}

const NAME = 15;
/** A name of more columns than this has lines of its own. */
const WIDEST_NAME = 30;

/** A name and what there is to say to it, or why nothing can be. */
function line<T>(name: string, one: Planned<T>, say: (value: T) => string): string[] {
  const said = harmless('reason' in one ? `– ${reasonWords(one.reason)}` : say(one.value));
  const named = harmless(name);
  if (width(named) <= WIDEST_NAME) return wrap(said, `  ${padEnd(named, NAME)}`);
  return [...wrap(named, '  ', '    '), ...wrap(said, ' '.repeat(2 + NAME))];
}

const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

const three = (value: Decimal): string => tidy(value.toSignificantDigits(3));

function takes(plan: Plan): string[] {
  const { trial } = plan;
  const { target } = trial.data;
  const control = target?.control_pages;
  const { capacity = null } = trial.run.containers[0] ?? {};
  return [
    ...line('pages', plan.pages, (pages) =>
      [tidy(pages), control && `and ${control.text} control pages beside them`].filter(Boolean).join(', '),
    ),
    ...line('sheets', plan.sheets, (sheets) =>
      [
        tidy(sheets),
        'value' in plan.reams &&
          `${count(plan.reams.value, 'ream')} of 500 with ${spareOf(trial).toFixed()} % to spare`,
      ]
        .filter(Boolean)
        .join(', '),
    ),
    ...line('paper mass', plan.paperMass, (mass) => `${tidy(mass)} kg`),
    ...line(
      'printing time',
      plan.hours,
      (hours) => `${three(hours)} h at ${trial.data.machine?.rated_speed?.text ?? ''} pages a minute`,
    ),
    ...line('days', plan.days, (days) =>
      [
        `${days} of ${target?.hours_per_day?.text ?? ''} h`,
        'value' in plan.lastDay &&
          plan.lastDay.value !== null &&
          `until ${plan.lastDay.value} at the earliest`,
      ]
        .filter(Boolean)
        .join(', '),
    ),
    ...plan.slots.flatMap(({ slot, cartridges, pagesEach, toner }) =>
      line(slot ?? 'cartridges', cartridges, (needed) =>
        [
          count(needed, 'cartridge'),
          'value' in pagesEach && `${tidy(pagesEach.value.round())} pages each at this coverage`,
          'value' in toner && `${three(toner.value)} g of toner`,
        ]
          .filter(Boolean)
          .join(', '),
      ),
    ),
    ...line('waste', plan.waste, (waste) => `${three(waste)} g`),
    ...line('containers', plan.containers, (containers) =>
      [`${containers}`, capacity && `of ${capacity.toFixed()} g`].filter(Boolean).join(' '),
    ),
  ];
}

/** Tasks to tick off, by where they belong. */
const tasks = (list: readonly Task[]): string[] =>
  list.flatMap(({ stage, part, what }) =>
    wrap(harmless(what), `  [ ] ${padEnd(stage ?? '', 9)} ${padEnd(cut(harmless(part), WIDEST_NAME), 13)} `),
  );

function ambient({ ambientLimits, days }: Plan): string[] {
  const times = 'value' in days ? `${2 * days.value} readings` : 'readings';
  return [
    ...wrap(
      `Temperature and humidity, each with its time: ${times}, at the start and the end of every day of printing (common practice, no source), and whenever heating, windows or people change it.`,
      '  ',
    ),
    ...ambientLimits.flatMap(({ figure, stat, min, max }) =>
      wrap(
        `${figure.title}${stat === null ? ', every reading' : `, ${stat}`}: ${limitWords(min && exactly(min), max && exactly(max), figure.unit)}`,
        '  ',
        '    ',
      ),
    ),
  ];
}
