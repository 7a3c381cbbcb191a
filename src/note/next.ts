import { type Checkpoint, checkpointsOf } from '../plan/checkpoints.ts';
import { planned, valueOf } from '../plan/planned.ts';
import { progressOf } from '../plan/progress.ts';
import type { Data } from '../text/source.ts';
import type { Trial } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { dotted, type Path } from '../uncertainty/path.ts';
import { kindAt } from './as-written.ts';
import { dataAt } from './change.ts';
import type { Given } from './what-to-note.ts';

/** One reading to be taken, and the option of `note` that takes it; null where it takes the reading by its name. */
export interface Ask {
  /** Where it will stand. */
  readonly path: Path;
  /** The unit of a bare number; null where it is no number. */
  readonly unit: string | null;
  readonly option: 'meter' | 'container' | 'tare' | 'final' | 'temperature' | 'humidity' | null;
  /** Whether it is of the batch that ends, and waits for the meter reading there. */
  readonly ofBatch: boolean;
}

/** What comes next in the order of the work. */
export interface Next {
  /** Before the run, at the end of a batch, at the end of the run, after it; or all is there. */
  readonly when: 'before' | 'batch' | 'end' | 'after' | 'done';
  /** The batch of the trial that ends, counted from 1 as in its plan. */
  readonly batch: number | null;
  /** The meter reading to stop at, as the counter shows it; null where nothing says. */
  readonly meter: Decimal | null;
  readonly asks: readonly Ask[];
}

const ask = (path: Path, option: Ask['option'] = null, ofBatch = false): Ask => ({
  path,
  unit: kindAt(path)?.unit ?? null,
  option,
  ofBatch,
});

/** Whether a list is read from a table, which others fill in. */
const inTable = (data: Data, list: string): boolean => dataAt(data, [list, 'file']) !== undefined;

/** The readings that come next, in the order they are taken. */
export function nextOf(trial: Trial, data: Data): Next {
  const { run } = trial;
  const air = inTable(data, 'ambient') ? [] : airAsked(data);
  if (run.meter.start.measured === null) {
    const tare = run.containers[0]?.tare;
    const asks = [
      ...unjudged(data, ['delivery', 'before']),
      ...pending(trial, (path) => path.at(-1) === 'start_mass' || readAt(path, 'start')),
      ...(tare?.measured === null ? [ask(tare.path, 'tare')] : []),
      ...pending(trial, isOfFirstPrint),
      ...seenPrints(data, ({ stage }) => stage === 'first'),
      ask(run.meter.start.path, 'meter'),
      ...(run.ambient.some(({ temperature }) => temperature?.measured) ? [] : air),
    ];
    return { when: 'before', batch: null, meter: null, asks };
  }
  if (run.meter.end.measured === null) {
    const checkpoint = checkpointAhead(trial);
    const container = run.containers.at(-1);
    const batches = run.batches.filter(({ end }) => end.measured !== null).length;
    if (checkpoint?.last) {
      const weighed = container === undefined ? [] : [ask(container.final.path, 'final')];
      const asks = [ask(run.meter.end.path, 'meter'), ...weighed, ...air];
      return { when: 'end', batch: null, meter: checkpoint.next?.end ?? null, asks };
    }
    const weighed =
      container === undefined ? [] : [ask(['batches', batches, 'container_mass'], 'container', true)];
    const batch = inTable(data, 'batches') ? [] : [ask(['batches', batches, 'end'], 'meter'), ...weighed];
    const prints = [
      ...seenPrints(data, (print) => Number(print.batch) <= batches),
      ...seenPrints(data, (print) => Number(print.batch) === batches + 1, true),
    ];
    const asks = [...batch, ...air, ...prints, ...unjudged(data, ['during'])];
    const own = run.batches.filter(({ end, other }) => end.measured !== null && !other).length;
    return {
      when: 'batch',
      batch: checkpoint?.next?.batch ?? own + 1,
      meter: checkpoint?.next?.end ?? null,
      asks,
    };
  }
  const asks = [
    ...pending(trial, (path) => path.at(-1) === 'final'),
    ...pending(trial, (path) => path.at(-1) === 'end_mass' || readAt(path, 'end')),
    ...pending(trial, (path) => !AFTER.includes(path.at(-1) ?? '') && !readAt(path, 'end')),
    ...seenPrints(data, () => true),
    ...unjudged(data, ['during', 'after', null]),
  ];
  return { when: asks.length === 0 ? 'done' : 'after', batch: null, meter: null, asks };
}

const AFTER: readonly (string | number)[] = ['final', 'end_mass'];

/** A reading of the air, in the first entry that says nothing yet or a new one. */
function airAsked(data: Data): Ask[] {
  const found = dataAt(data, ['ambient']);
  const readings = Array.isArray(found) ? found : [];
  const empty = readings.findIndex((one) =>
    ['at', 'temperature', 'humidity'].every((key) => dataAt(one, [key]) == null),
  );
  const entry = empty === -1 ? readings.length : empty;
  return [
    ask(['ambient', entry, 'temperature'], 'temperature'),
    ask(['ambient', entry, 'humidity'], 'humidity'),
  ];
}

/** Whether a path is of a gauge, or of the scale with its check weight. */
const readAt = (path: Path, key: string): boolean =>
  (path.includes('gauge') || path.includes('check')) && path.at(-1) === key;

/** Whether a path is of a patch on the reference print or on the first of the run. */
const isOfFirstPrint = ([section, list, , print]: Path): boolean =>
  section === 'prints' && list === 'patches' && (print === 'reference' || print === 'first');

/** Readings whose key is there and empty; one of three of a colour is not asked for by itself. */
const pending = (trial: Trial, wanted: (path: Path) => boolean): Ask[] =>
  trial.pending.flatMap((path) =>
    typeof path.at(-1) === 'string' && !isJudged(path) && wanted(path) ? [ask(path)] : [],
  );

/** Whether a path is of what is judged by eye in the run itself, which has its own place in the order. */
const isJudged = ([section, list]: Path): boolean =>
  section === 'inspection' || (section === 'prints' && list === 'by_eye');

/** Prints that are to be judged by eye, and have not been. */
function seenPrints(
  data: Data,
  wanted: (print: { readonly stage: unknown; readonly batch: unknown }) => boolean,
  ofBatch = false,
): Ask[] {
  const list = dataAt(data, ['prints', 'by_eye']);
  if (!Array.isArray(list)) return [];
  return list.flatMap((one, index): Ask[] => {
    const print = { stage: dataAt(one, ['stage']), batch: dataAt(one, ['batch']) };
    const open = dataAt(one, ['severity']) == null && wanted(print);
    return open ? [ask(['prints', 'by_eye', index, 'severity'], null, ofBatch)] : [];
  });
}

/** Parts that are to be looked at, and have not been. */
function unjudged(data: Data, stages: readonly (string | null)[]): Ask[] {
  const list = dataAt(data, ['inspection']);
  if (!Array.isArray(list)) return [];
  return list.flatMap((one, index): Ask[] => {
    const [stage, severity] = [dataAt(one, ['stage']) ?? null, dataAt(one, ['severity'])];
    const open = severity == null && (stage === null || typeof stage === 'string') && stages.includes(stage);
    return open ? [ask(['inspection', index, 'severity'])] : [];
  });
}

/** The checkpoint a run is on its way to, and whether the run ends there; null where nothing is planned. */
function checkpointAhead(trial: Trial): { readonly next: Checkpoint | null; readonly last: boolean } | null {
  const target = trial.data.target?.pages?.value;
  if (target === undefined) return null;
  const checkpoints = valueOf(planned(() => checkpointsOf(trial, target)));
  if (checkpoints === null) return null;
  const done = progressOf(trial)?.pages.value;
  const next = checkpoints.find(({ pages }) => done === undefined || pages.gt(done)) ?? null;
  return { next, last: next === null || next === checkpoints.at(-1) };
}

/**
 * What an answer notes. A batch is known by its meter reading, which has been noted before its container is asked for;
 * readings of one batch are of one time.
 */
export function answered(
  { when }: Next,
  { path, option }: Ask,
  answer: string,
  so: { readonly meter: string | null; readonly at: string | null },
): Given {
  const time = so.at === null ? {} : { at: so.at };
  switch (option) {
    case null:
      return { reading: [`${dotted(path)}=${answer}`] };
    case 'temperature':
    case 'humidity':
      return { [option]: answer, ...time };
    case 'container':
      return { container: [answer], ...(so.meter === null ? {} : { meter: so.meter }) };
    case 'tare':
    case 'final':
      return { [when === 'end' ? 'end' : 'start']: true, [option]: [answer] };
    default:
      if (when === 'batch') return { [option]: answer, ...time };
      return { [when === 'end' ? 'end' : 'start']: true, [option]: answer };
  }
}
