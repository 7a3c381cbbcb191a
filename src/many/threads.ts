import type { MessagePort, Worker } from 'node:worker_threads';
import type { Step, Thread, Threads } from './in-order.ts';
import { type Io, processIo } from '../world/io.ts';
import type { TrialFile } from '../files/trial-files.ts';

/** Other threads of this process that take steps: worker threads, spoken to without an event loop. */

/** What a thread is to do, as plain data. */
interface Orders {
  readonly root: string;
  readonly plan: unknown;
  readonly colour: boolean;
  /** Counts what was posted, so that it can be waited for. */
  readonly bell: Int32Array;
  readonly port: MessagePort;
}

/** What a thread posts: what it made of a portion, or that it cannot go on; then the main thread does, and meets the same. */
type Posted<Made> = { readonly made: readonly (Made | null)[] } | { readonly error: true };

/**
 * A thread for every core, be it one alone: this thread only gives and takes, and theirs stay small, which
 * cannot be asked of this one. Where none can be started, there are none, and this thread does the work.
 */
export function startThreads<Made>(plan: unknown, io: Io): Threads<Made> {
  // Loaded only here: one file is no reason to get threads ready.
  const threads = process.getBuiltinModule('node:worker_threads');
  const bell = new Int32Array(new SharedArrayBuffer(4));
  const start = (): Thread<Made> => {
    const { port1: here, port2: port } = new threads.MessageChannel();
    const orders: Orders = { root: io.root, plan, colour: io.colour, bell, port };
    const worker = new threads.Worker(PROGRAM, {
      eval: true,
      workerData: orders,
      transferList: [port],
      resourceLimits: SMALL,
    });
    // A thread that could not be started is told of when the program is done, and has been done without.
    worker.on('error', () => undefined);
    // The program ends when the main thread is done.
    worker.unref();
    here.unref();
    return handOver(worker, here, threads.receiveMessageOnPort);
  };
  const all: Thread<Made>[] = [];
  try {
    while (all.length < io.threads()) all.push(start());
  } catch {
    // The system gives no more threads: those there are do the work, or this one.
  }
  let heard = 0;
  return {
    all,
    wait: () => {
      Atomics.wait(bell, 0, heard, LONGEST_WAIT);
      heard = Atomics.load(bell, 0);
    },
  };
}

/**
 * Memory of a thread, in MB: little for what is young and soon thrown away, and a bound for the rest that no trial
 * comes near. With the engine's own bounds threads grow with the number of files and get no faster.
 */
const SMALL = { maxYoungGenerationSizeMb: 16, maxOldGenerationSizeMb: 512 };

/** The program of a thread: the bundle's own work. What keeps it from beginning is told at once. */
const PROGRAM = `const { workerData } = require('node:worker_threads');
try {
  require(require('node:path').join(workerData.root, 'bin', 'tallytare.js')).load().program.work();
} catch {
  workerData.port.postMessage({ error: true });
  Atomics.add(workerData.bell, 0, 1);
  Atomics.notify(workerData.bell, 0);
}`;

/** ms after which a thread is looked at again, whatever it says. */
const LONGEST_WAIT = 200;

/** ms of silence after which a thread is taken to be lost: far more than it takes to begin, and than any portion takes. */
const SILENCE_AT_FIRST = 5_000;
const SILENCE = 60_000;

function handOver<Made>(
  worker: Worker,
  here: MessagePort,
  receive: (port: MessagePort) => { message: unknown } | undefined,
): Thread<Made> {
  let lost = false;
  let begun = false;
  let heard = performance.now();
  return {
    give: (files) => {
      if (!lost) here.postMessage(files);
    },
    take: (files, step) => {
      const message = lost ? undefined : (receive(here)?.message as Posted<Made> | undefined);
      if (message !== undefined) [begun, heard] = [true, performance.now()];
      const silent = performance.now() - heard > (begun ? SILENCE : SILENCE_AT_FIRST);
      lost ||= (message !== undefined && 'error' in message) || silent;
      if (lost) return files.map(step);
      return message !== undefined && 'made' in message ? message.made : null;
    },
    dismiss: () => void worker.terminate(),
  };
}

/** What a thread does: takes the step for every portion of files it is given. */
export function work<Made>(stepOf: (plan: unknown, io: Io) => Step<Made> | number): void {
  const threads = process.getBuiltinModule('node:worker_threads');
  const { root, plan, colour, bell, port } = threads.workerData as Orders;
  Error.stackTraceLimit = 0;
  const post = (posted: Posted<Made>): void => {
    port.postMessage(posted);
    Atomics.add(bell, 0, 1);
    Atomics.notify(bell, 0);
  };
  const step = stepOf(plan, { ...processIo(root), colour });
  port.on('message', (files: readonly TrialFile[]) => {
    try {
      post(typeof step === 'number' ? { error: true } : { made: files.map(step) });
    } catch {
      post({ error: true });
    }
  });
}
