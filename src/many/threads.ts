import type { MessagePort, Worker } from 'node:worker_threads';
import type { Hand, Hands, Step } from './in-order.ts';
import { type Io, processIo } from '../world/io.ts';
import type { TrialFile } from '../files/trial-files.ts';

/** Other threads of this process that take steps: worker threads, spoken to without an event loop. */

/** What a thread is to do, as plain data. */
interface Orders {
  readonly root: string;
  readonly bundle: string;
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
 * cannot be asked of this one. `bundle` is the one that holds the step.
 */
export function callHands<Made>(bundle: string, plan: unknown, io: Io): Hands<Made> {
  // Loaded only here: one file is no reason to get threads ready.
  const threads = process.getBuiltinModule('node:worker_threads');
  const bell = new Int32Array(new SharedArrayBuffer(4));
  const all = Array.from({ length: io.threads() }, (): Hand<Made> => {
    const { port1: here, port2: port } = new threads.MessageChannel();
    const orders: Orders = { root: io.root, bundle, plan, colour: io.colour, bell, port };
    const worker = new threads.Worker(PROGRAM, {
      eval: true,
      workerData: orders,
      transferList: [port],
      resourceLimits: SMALL,
    });
    // The program ends when the main thread is done.
    worker.unref();
    here.unref();
    return handOver(worker, here, threads.receiveMessageOnPort);
  });
  let heard = 0;
  let told = false;
  return {
    all,
    wait: () => {
      Atomics.wait(bell, 0, heard, LONGEST_WAIT);
      heard = Atomics.load(bell, 0);
      if (told || heard === 0) return;
      // Not before a thread has made something: with other flags, the engine refuses the bundle's compiled code.
      const { setFlagsFromString } = process.getBuiltinModule('node:v8');
      for (const flag of FOR_MANY) setFlagsFromString(flag);
      told = true;
    },
  };
}

/** Space for what is young and soon thrown away, in MB. With more, threads grow with the number of files and get no faster. */
const SMALL = { maxYoungGenerationSizeMb: 12 };

/** What the engine is told where there are many files; measured on thousands with Node 20. */
const FOR_MANY = [
  // Nothing is kept of a file but what the output needs: what is thrown away is looked for early, not when
  // memory has grown fourfold.
  '--heap-growing-percent=40',
  // A quarter of the work was making fast code of what is fast enough, in every thread anew: later, and with
  // less of it copied into its callers.
  '--max-inlined-bytecode-size-cumulative=200',
  // Later engines know no such flag, and would say so on standard error.
  ...(process.versions.v8.startsWith('11.3.') ? ['--interrupt-budget=400000'] : []),
];

/** The program of a thread: the bundle's own work. */
const PROGRAM = `const { workerData } = require('node:worker_threads');
require(require('node:path').join(workerData.root, 'bin', 'tallytare.js')).load(workerData.bundle).program.work();`;

/** ms after which a thread is looked at again, whatever it says. */
const LONGEST_WAIT = 200;

/** ms of silence after which a thread is taken to be lost: far more than any portion takes. */
const SILENCE = 60_000;

function handOver<Made>(
  worker: Worker,
  here: MessagePort,
  receive: (port: MessagePort) => { message: unknown } | undefined,
): Hand<Made> {
  let lost = false;
  let heard = performance.now();
  return {
    give: (files) => {
      if (!lost) here.postMessage(files);
    },
    take: (files, step) => {
      const message = lost ? undefined : (receive(here)?.message as Posted<Made> | undefined);
      if (message !== undefined) heard = performance.now();
      lost ||= (message !== undefined && 'error' in message) || performance.now() - heard > SILENCE;
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
