import { work as workAt } from '../many/threads.ts';
import { type Io, processIo } from '../world/io.ts';
import { startWith } from '../world/process.ts';
import { runProgram } from './program.ts';
import { verdictCommand } from './verdict.ts';
import { type VerdictPlan, verdictStep } from '../many/verdict-step.ts';

/** The program with its most used command alone: less to load. The executable takes it where that command is asked for. */
export const main = (argv: readonly string[], io: Io): number => runProgram([verdictCommand], argv, io);
export { processIo };
export const start = (): boolean => startWith(main);

/** What a further thread of it does. */
export const work = (): void => workAt((plan, io) => verdictStep(plan as VerdictPlan, io));
