import { type Io, processIo } from './io.ts';
import { startWith } from './process.ts';
import { guarded, runProgram } from './program.ts';
import { PLAINLY, verdict, verdictCommand } from './verdict.ts';
import { type VerdictPlan, verdictStep } from './verdict-step.ts';
import { work as workAt } from './hands.ts';

/**
 * The program with its most used command alone: less to load. The executable takes it where that command is
 * asked for. A line of names, which is all that most ask with, needs no reading of options.
 */
export function main(argv: readonly string[], io: Io): number {
  const [command, ...names] = argv;
  const plainly = command === 'verdict' && names.length > 0 && names.every((name) => !name.startsWith('-'));
  if (plainly) return guarded(io, () => verdict(names, PLAINLY, io));
  return runProgram([verdictCommand], argv, io);
}
export { processIo };
export const start = (): void => startWith(main);

/** What a further thread of it does. */
export const work = (): void => workAt((plan, io) => verdictStep(plan as VerdictPlan, io));
