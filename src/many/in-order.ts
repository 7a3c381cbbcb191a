import type { TrialFile } from '../files/trial-files.ts';

/** What a step makes of a file; null of one that is no trial. */
export type Step<Made> = (found: TrialFile) => Made | null;

/** Another thread that takes the same step. */
export interface Thread<Made> {
  /** Gives it files; it may be given more before it is done. */
  give(files: readonly TrialFile[]): void;
  /**
   * What it made of the files given first, where it is done with them, and null where it is not. Where
   * nothing more is to be expected of it, `step` is taken for them here.
   */
  take(files: readonly TrialFile[], step: Step<Made>): readonly (Made | null)[] | null;
  /** Nothing more is wanted of it. */
  dismiss(): void;
}

/** Other threads, and a way to wait for one of them. */
export interface Threads<Made> {
  readonly all: readonly Thread<Made>[];
  /** Returns once one of them may be done with something. */
  wait(): void;
}

/** Fewer files than this are not worth calling others: they cost as much to get ready. */
export const MANY = 200;

/** Files given at once: enough that giving costs nothing, few enough that all end together. */
const PORTION = 20;

/** Portions a thread has before it: one under work, one to go on with. */
const AHEAD = 2;

/**
 * What a step makes of each file, in the order of the files, with nothing kept of those before. Where there
 * are many, others take a part of them; `call` gets them ready.
 */
export function* inOrder<Made>(
  files: Iterable<TrialFile>,
  step: Step<Made>,
  call: () => Threads<Made>,
): Generator<Made> {
  const source = files[Symbol.iterator]();
  const first = portionOf(source, MANY);
  const threads = first.length < MANY ? null : call();
  if (threads === null || threads.all.length === 0) {
    for (const file of first) yield* kept([step(file)]);
    for (let next = source.next(); !next.done; next = source.next()) yield* kept([step(next.value)]);
    return;
  }
  try {
    yield* shared(portions(first, source), step, threads);
  } finally {
    for (const thread of threads.all) thread.dismiss();
  }
}

/** A portion of the files: with a thread, or made already. */
type Portion<Made> =
  | { readonly thread: Thread<Made>; readonly files: readonly TrialFile[] }
  | { readonly made: readonly (Made | null)[] };

/** Standard input is read by the one thread that has it. */
const fromInput = ({ file }: TrialFile): boolean => file === '-';

function* shared<Made>(
  source: Iterator<readonly TrialFile[]>,
  step: Step<Made>,
  threads: Threads<Made>,
): Generator<Made> {
  const { all } = threads;
  const queue: Portion<Made>[] = [];
  const before = new Map(all.map((thread) => [thread, 0]));
  for (;;) {
    const head = queue[0];
    const made = head === undefined ? null : 'made' in head ? head.made : head.thread.take(head.files, step);
    if (head !== undefined && made !== null) {
      if ('thread' in head) before.set(head.thread, (before.get(head.thread) ?? 1) - 1);
      queue.shift();
      yield* kept(made);
      continue;
    }
    const free = all.find((thread) => (before.get(thread) ?? 0) < AHEAD);
    const next = free === undefined ? null : source.next();
    if (free !== undefined && next?.done === false) {
      const files = next.value;
      if (files.some(fromInput)) queue.push({ made: files.map(step) });
      else {
        free.give(files);
        before.set(free, (before.get(free) ?? 0) + 1);
        queue.push({ thread: free, files });
      }
    } else if (queue.length === 0) return;
    else threads.wait();
  }
}

function* kept<Made>(made: readonly (Made | null)[]): Generator<Made> {
  for (const one of made) if (one !== null) yield one;
}

/** The next files, as many as there are up to a number. */
function portionOf(source: Iterator<TrialFile>, most: number): TrialFile[] {
  const portion: TrialFile[] = [];
  while (portion.length < most) {
    const next = source.next();
    if (next.done) break;
    portion.push(next.value);
  }
  return portion;
}

function* portions(first: readonly TrialFile[], source: Iterator<TrialFile>): Generator<TrialFile[]> {
  for (let from = 0; from < first.length; from += PORTION) yield first.slice(from, from + PORTION);
  for (let next = portionOf(source, PORTION); next.length > 0; next = portionOf(source, PORTION)) yield next;
}
