import { countOf } from '../figures/event-rate.ts';
import { isDerived } from '../figures/figure.ts';
import type { Assessed } from '../judge/assess.ts';
import { doubted } from '../judge/doubt/all.ts';
import { nextCount } from '../statistics/poisson-next.ts';
import type { Run } from '../trial/trial.ts';
import { type Estimate, LEVEL } from './estimate.ts';

/** Stops of the machine in runs that say what happened, and the pages of these. */
export interface StopsTried {
  readonly stops: number;
  readonly pages: number;
  readonly runs: number;
}

const NONE: StopsTried = { stops: 0, pages: 0, runs: 0 };

/** Stops over several trials, of the candidate and of the reference. */
export class TriedStops {
  candidate = NONE;
  reference = NONE;

  take(result: Assessed): void {
    const { trial, derived, reference } = result;
    this.candidate = withRun(this.candidate, trial.run, derived, result);
    if (trial.reference) this.reference = withRun(this.reference, trial.reference, reference, result);
  }
}

/** A run counts where its events were written down, if only that there were none. */
function withRun(so: StopsTried, run: Run, derived: Assessed['derived'], { doubts }: Assessed): StopsTried {
  const pages = derived.find(({ figure }) => figure.name === 'pages')?.result;
  if (run.events === null || pages === undefined || !isDerived(pages) || doubted(pages, doubts) !== null)
    return so;
  return {
    stops: so.stops + countOf(run, 'stop'),
    pages: so.pages + pages.value.toNumber(),
    runs: so.runs + 1,
  };
}

/** Stops in so many pages, whatever is on them; null where no run says what happened. */
export function stopsIn({ stops, pages }: StopsTried, next: number): Estimate | null {
  if (!(pages > 0)) return null;
  const { mean, sd, lower, upper } = nextCount(stops, pages, next, LEVEL);
  return { value: mean, u: sd, U: 2 * sd, freedom: Infinity, interval: { lower, upper }, whole: true };
}
