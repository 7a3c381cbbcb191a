import { work as workAt } from '../many/threads.ts';
import { processIo } from '../world/io.ts';
import { main } from './main.ts';
import { startWith } from '../world/process.ts';
import { recheckStep, type RecheckShown } from '../many/recheck-step.ts';

export const start = (): boolean => startWith(main);
export { main, processIo };

/** What a further thread of it does: it re-checks; judging alone has a bundle of its own. */
export const work = (): void => workAt((plan, io) => recheckStep(plan as RecheckShown, io));
