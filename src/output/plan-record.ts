import type { Plan } from '../plan/plan.ts';
import { valueOf } from '../plan/planned.ts';
import { ATTRIBUTES } from '../trial/schema/prints.ts';
import { SEVERITIES } from '../trial/schema/severities.ts';
import type { Trial } from '../trial/trial.ts';
import { CAUTIONS } from './cautions.ts';
import { AFTER, BEFORE, STAGES_AFTER, STAGES_BEFORE, type Task, tasksIn } from './checklist.ts';
import { cut, padEnd, padStart, width, WIDTH, wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import { betweenLines } from './plan-between.ts';
import { tidy } from './numbers.ts';
import { agreedLines } from './text-limits.ts';
import { printOf } from './text-prints.ts';

/**
 * A sheet to fill in by hand where no computer stands at the machine: every reading a line with space to
 * write, in the order of the run, named as the trial file names it.
 */
export function planRecord(plan: Plan): string {
  const { trial } = plan;
  const { machine, lot } = trial.data;
  const between = betweenLines(plan);
  const lines = [
    ...wrap(harmless(trial.title)),
    ...wrap(
      harmless(
        [machine?.label, machine?.serial && `serial ${machine.serial}`, lot?.id && `lot ${lot.id}`]
          .filter(Boolean)
          .join(', '),
      ),
    ),
    '',
    ...blanks(['operator', 'date']),
    ...(plan.limits.length === 0 ? [] : [...head('LIMITS'), ...agreedLines(plan.limits)]),
    ...head('CARE'),
    ...CAUTIONS.flatMap((caution) => wrap(caution, '  - ')),
    ...head('BEFORE THE RUN'),
    ...ticks(tasksIn(BEFORE, STAGES_BEFORE, trial)),
    ...(between.length === 0 ? [] : [...head('WHAT COMES IN BETWEEN'), ...between]),
    ...head('READINGS AT THE START'),
    ...cartridges(plan, 'start_mass'),
    ...containers(plan, 'tare'),
    ...blanks(['meter.start', 'at (time)']),
    ...blanks(['temperature', 'humidity']),
    ...prints(trial, 'first'),
    ...head('THE RUN'),
    ...batches(plan),
    ...head('EVENTS: jam, misfeed, stop, error, shake, service, changes'),
    ...Array.from({ length: EVENT_LINES }, () => blanks(['meter', 'kind', 'slot', 'note'])).flat(),
    ...head('READINGS AT THE END'),
    ...blanks(['meter.end', 'at (time)']),
    ...blanks(['temperature', 'humidity']),
    ...containers(plan, 'final'),
    ...cartridges(plan, 'end_mass'),
    ...blanks(['sheets_used', 'pages not of the trial']),
    ...prints(trial, 'last'),
    ...blanks(['background', 'registration']),
    ...blanks(['fixing, before', 'fixing, after']),
    ...head('PRINTS BY EYE, held against the reference print'),
    ...wrap(`${SEVERITIES.join(', ')}; two people each on a sheet of their own`, '  '),
    ...byEye(trial),
    ...head('AFTER THE RUN'),
    ...ticks(tasksIn(AFTER, STAGES_AFTER, trial)),
    '',
    ...blanks(['signature', 'date']),
  ];
  return `${lines.filter((line, index) => line !== '' || lines[index - 1] !== '').join('\n')}\n`;
}

const EVENT_LINES = 5;

const head = (name: string): string[] => ['', name];

/** As little as anyone can write on. */
const SHORTEST_RULE = 4;

/**
 * Names beside each other, each with a rule to write on; the rules share what the names leave of the line. Names
 * that leave too little go on with the next line.
 */
function blanks(names: readonly string[]): string[] {
  const labels = names.map((name) => cut(harmless(name), WIDTH - 2 - 1 - SHORTEST_RULE));
  const taken = 2 + labels.reduce((sum, label) => sum + width(label) + 1, 0) + 2 * (labels.length - 1);
  const rule = Math.floor((WIDTH - taken) / labels.length);
  if (rule < SHORTEST_RULE) return [...blanks(names.slice(0, -1)), ...blanks(names.slice(-1))];
  return [`  ${labels.map((label) => `${label} ${'_'.repeat(rule)}`).join('  ')}`];
}

/** What a reading on the sheet stands for. */
const READ: ReadonlySet<string> = new Set(['meter', 'container', 'paper']);

const ticks = (tasks: readonly Task[]): string[] =>
  tasks
    .filter(({ stage, part }) => stage !== null || !READ.has(part))
    .flatMap(({ stage, part, what }) => {
      const [first = '', ...more] = wrap(harmless(`${part}: ${what}`), '  [ ] ');
      const space = WIDTH - width(first) - 2;
      const rule = stage === null || space < 10 ? '' : `  ${'_'.repeat(space)}`;
      return [`${first}${rule}`, ...more];
    });

/** A line for every cartridge that may be fitted: those listed, and those the plan expects beside them. */
function cartridges({ trial, slots }: Plan, reading: 'start_mass' | 'end_mass'): string[] {
  const { run, data } = trial;
  const listed = run.cartridges.map(({ name, slot, path }) => ({
    of: name ?? 'cartridge',
    slot,
    serial: data.cartridges?.[path.at(-1) as number]?.serial ?? null,
  }));
  const further = slots.flatMap(({ slot, cartridges: needed }) => {
    const there = listed.filter((one) => one.slot === slot).length;
    const more = Math.min(MOST_FURTHER, Math.max(0, (valueOf(needed) ?? 0) - there));
    return Array.from({ length: more }, (_, index) => ({
      of: `${slot ?? 'cartridge'}#${there + index + 1}`,
      slot,
      serial: null,
    }));
  });
  return [...listed, ...further].flatMap(({ of, serial }) =>
    blanks(
      reading === 'start_mass'
        ? [`${of} ${reading}`, serial === null ? 'serial' : `serial ${serial}`, 'installed_at']
        : [`${of} ${reading}`, 'exhausted_at', 'removed_at'],
    ),
  );
}

/** Beyond these a sheet of paper has no space. */
const MOST_FURTHER = 8;

function containers({ trial, containers: planned }: Plan, reading: 'tare' | 'final'): string[] {
  const count = Math.max(1, trial.run.containers.length, Math.min(MOST_FURTHER, valueOf(planned) ?? 1));
  return Array.from({ length: count }, (_, index) => (count > 1 ? ` ${index + 1}` : '')).flatMap((name) =>
    blanks([`waste container${name} ${reading}`, reading === 'tare' ? 'scale' : 'at meter']),
  );
}

const prints = ({ run }: Trial, print: 'first' | 'last'): string[] =>
  run.prints.patches.flatMap(({ name }) => blanks([`${cut(name, 16)}, ${print}: density`, 'lab', 'gloss']));

/** A line for each attribute to be judged: those the file plans, else all. */
function byEye({ run }: Trial): string[] {
  const planned = run.prints.byEye ?? [];
  const names =
    planned.length === 0
      ? ATTRIBUTES
      : [
          ...new Set(
            planned.map((one) => [one.attribute, one.slot, printOf(one)].filter(Boolean).join(', ')),
          ),
        ];
  const pairs = Array.from({ length: Math.ceil(names.length / 2) }, (_, nth) =>
    names.slice(2 * nth, 2 * nth + 2),
  );
  return [...pairs.flatMap((pair) => blanks(pair)), ...blanks(['notes']), ...blanks(['judged by'])];
}

/** A row for every checkpoint: what is planned, and space for what is read there. */
function batches(plan: Plan): string[] {
  const checkpoints = valueOf(plan.checkpoints) ?? [];
  const stops = checkpoints.map(({ end, pages }) => (end === null ? `+${tidy(pages)}` : end.toFixed()));
  const [batch, stop] = [Math.max(5, `${checkpoints.length}`.length), Math.max(7, ...stops.map(width))];
  const columns = ['started', 'finished', 'meter', 'container', '°C', '%'];
  const widths = [11, 11, 9, 9, 5];
  const used = 2 + batch + 2 + stop + widths.reduce((sum, one) => sum + one + 2, 0) + 2;
  const all = [...widths, Math.min(8, Math.max(4, WIDTH - used))];
  const row = (first: string, second: string, cells: readonly string[]): string =>
    `  ${padStart(first, batch)}  ${padStart(second, stop)}  ${cells.map((cell, index) => padEnd(cell, all[index] ?? 0)).join('  ')}`.trimEnd();
  const rules = all.map((columnsWide) => '_'.repeat(columnsWide));
  const planned = checkpoints.map(({ batch: nth }, index) => row(`${nth}`, stops[index] ?? '', rules));
  const open = checkpoints.length > 0 ? [] : Array.from({ length: 8 }, () => row('', '', rules));
  return [row('batch', 'stop at', columns), ...planned, ...open];
}
