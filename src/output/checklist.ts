import type { InspectionFinding, Trial } from '../trial/trial.ts';

/** Something to look at or to do, and where its finding belongs in the trial file. */
export interface Task {
  /** Stage of the inspection; null of what is no finding. */
  readonly stage: InspectionFinding['stage'];
  readonly part: string;
  readonly what: string;
}

/** A task whose finding belongs in the trial file. */
export type Look = Task & { readonly stage: NonNullable<Task['stage']> };

/** What is looked at before and after the run, in the order of the work. */
export const looks = (): readonly Look[] =>
  [...BEFORE, ...AFTER].filter((task): task is Look => task.stage !== null);

/**
 * What is looked at in one trial: as its file lists it, where it does; with what is done beside it. `stages` are those
 * of the tasks, null of what has none.
 */
export function tasksIn(
  tasks: readonly Task[],
  stages: readonly InspectionFinding['stage'][],
  { run: { inspection } }: Trial,
): readonly Task[] {
  const listed = (inspection ?? []).filter(({ stage, part }) => part !== null && stages.includes(stage));
  if (!listed.some(({ severity }) => severity === null)) return tasks;
  const isListed = ({ stage, part }: Task): boolean =>
    listed.some((one) => one.stage === stage && one.part === part);
  const known = tasks.filter((task) => task.stage === null || isListed(task));
  const further = listed.filter(
    ({ stage, part }) => !known.some((one) => one.stage === stage && one.part === part),
  );
  return [
    ...known,
    ...further.map(({ stage, part, slot, note }) => ({
      stage,
      part: [part, slot].filter((one) => one !== null).join(', '),
      what: note ?? 'look at it',
    })),
  ];
}

/** Before the run, in the order of the work; common practice, no source. */
export const BEFORE: readonly Task[] = [
  { stage: 'delivery', part: 'packaging', what: 'closed, dry, no toner in the bag' },
  { stage: 'delivery', part: 'label', what: 'lot and serial number as on the delivery note' },
  { stage: 'before', part: 'machine', what: 'cleaned; no message, no noise, no mark on a blank page' },
  { stage: null, part: 'control page', what: 'printed with the reference toner and kept' },
  { stage: null, part: 'cartridge', what: 'weighed, then fitted' },
  { stage: 'before', part: 'chip', what: 'the machine takes the cartridge, no message' },
  { stage: 'before', part: 'fit', what: 'goes in and locks without force' },
  { stage: null, part: 'container', what: 'waste container weighed empty, closed' },
  { stage: null, part: 'control page', what: 'printed with the toner under test and kept' },
  { stage: null, part: 'meter', what: 'read' },
];

/** After it. */
export const AFTER: readonly Task[] = [
  { stage: null, part: 'meter', what: 'read' },
  { stage: null, part: 'control page', what: 'printed and kept; measured, and judged by eye' },
  { stage: null, part: 'container', what: 'waste container closed and weighed' },
  { stage: null, part: 'cartridge', what: 'weighed; where one was exhausted, the meter reading noted' },
  { stage: null, part: 'paper', what: 'sheets used counted' },
  { stage: 'after', part: 'developer', what: 'loose toner, leaks, worn seals' },
  { stage: 'after', part: 'drum', what: 'scratches, film, deposits' },
  { stage: 'after', part: 'charging unit', what: 'toner on it, deposits; it keeps a charge' },
  { stage: 'after', part: 'belt', what: 'scratches, toner on it, how it is cleaned' },
  { stage: 'after', part: 'waste channel', what: 'clear, no toner beside it' },
  { stage: 'after', part: 'rollers', what: 'deposits, wear' },
  { stage: 'after', part: 'fuser', what: 'toner on it, marks; only when it is cold' },
  { stage: 'after', part: 'inside', what: 'loose toner: how much, and where' },
];

/** Stages of what is looked at before the run, and after or during it. */
export const STAGES_BEFORE = ['delivery', 'before'] as const;
export const STAGES_AFTER = ['during', 'after', null] as const;
