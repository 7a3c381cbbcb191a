import { type ComparePlan, compareStep } from '../many/compare-step.ts';
import { recheckStep, type RecheckPlan } from '../many/recheck-step.ts';
import { type PoolPlan, poolStep } from '../many/pool-step.ts';
import { work as workAt } from '../many/threads.ts';
import { type VerdictPlan, verdictStep } from '../many/verdict-step.ts';
import { EXIT } from '../world/exit.ts';
import { type Io, processIo } from '../world/io.ts';
import { startWith } from '../world/process.ts';
import { main } from './main.ts';

export const start = (): void => startWith(main);
export { main, processIo };

/** What a further thread is to do: judge, pool, compare, or re-check. */
export type ThreadPlan =
  | { readonly pool: PoolPlan }
  | { readonly verdict: VerdictPlan }
  | { readonly recheck: RecheckPlan }
  | { readonly compare: ComparePlan };

/** What a further thread of it does. */
export const work = (): void =>
  workAt<unknown>((given, io) => {
    const step = stepOf(given as ThreadPlan, io);
    return typeof step === 'object' ? EXIT.unreadable : step;
  });

function stepOf(plan: ThreadPlan, io: Io) {
  if ('compare' in plan) return compareStep(plan.compare, io);
  if ('verdict' in plan) return verdictStep(plan.verdict, io);
  if ('pool' in plan) return poolStep(plan.pool, io);
  return recheckStep(plan.recheck, io);
}
