import type { Run } from '../../trial/trial.ts';
import { runsOf } from '../facts.ts';
import { type Contradiction, type DoubtRule, taken } from './doubt.ts';
import {
  joined,
  ofOneKind,
  rateOver,
  scatterOf,
  stretchesOf,
  type Stretch,
  type Weighing,
  type Sums,
  sumsOf,
  sumsWithout,
  weighingsOf,
} from './weighings.ts';

/**
 * The waste of one stretch of a run is held against that of the others. What a batch wastes scatters by a tenth
 * from batch to batch (common practice, no source), or by more where the others of the run do.
 */
const SCATTER = 0.1;

/**
 * So many standard deviations apart is more than scatter and uncertainty explain; one other
 * stretch alone says less. Chosen by simulation: `npm run doubts` prints what they bring.
 */
const apart = (others: number): number => (others === 1 ? 5 : 4);

/** How far a stretch is from others, in standard deviations of the difference. */
function distance(one: Stretch, others: Sums): number {
  const rate = rateOver(others);
  const scatter = Math.max(SCATTER * Math.abs(rate), others.count > 2 ? scatterOf(others) : 0);
  const ofOthers = others.variances / others.count ** 2;
  const u = Math.sqrt(scatter ** 2 * (1 + 1 / others.count) + one.u ** 2 + ofOthers);
  const difference = one.rate - rate;
  return difference === 0 ? 0 : difference / u;
}

const without = (stretches: readonly Stretch[], ...left: readonly Stretch[]): Stretch[] =>
  stretches.filter((stretch) => !left.includes(stretch));

/** One weight on the way, read wrong, makes the stretch before it and the one after it wrong in opposite ways. */
function wrongOnTheWay(stretches: readonly Stretch[]): { readonly nth: number; readonly far: number } | null {
  let found: { nth: number; far: number } | null = null;
  const all = sumsOf(stretches);
  for (const [nth, first] of stretches.slice(0, -1).entries()) {
    const second = stretches[nth + 1];
    if (second === undefined || all.count < 3 || second.before !== first.after) continue;
    const others = sumsWithout(all, first, second);
    const [here, next] = [distance(first, others), distance(second, others)];
    const far = Math.min(Math.abs(here), Math.abs(next));
    const opposite = here * next < 0 && Math.abs(distance(joined(first, second), others)) < far / 2;
    if (opposite && far > apart(others.count) && far > (found?.far ?? 0)) found = { nth, far };
  }
  return found;
}

function contradiction(run: Run, stretch: Stretch, others: readonly Stretch[]): Contradiction {
  const { before, after } = stretch;
  // The mass that begins it ends no other of them: the empty container, or what it weighed after pages of another kind.
  const [first, last] = [others.every((other) => other.after !== before), after.mass];
  const meter =
    after.at !== null && run.meter.end.measured?.value.eq(after.at) && oddlySized(stretch, others);
  const clicks = run.meter.clicksPerPage.toNumber();
  const shown = (rate: number): string => String(Number((rate * clicks).toPrecision(3)));
  return {
    fault: {
      code: 'waste-rate-apart',
      from: before.at?.toFixed() ?? '',
      to: after.at?.toFixed() ?? '',
      rate: shown(stretch.rate),
      others: shown(rateOver(sumsOf(others))),
    },
    path: last.path,
    // Of two stretches that are apart, nothing says which is the wrong one.
    readings: taken(
      first && others.length > 1 ? before.mass : null,
      last,
      others.length === 1 ? others[0]?.after.mass : null,
      meter ? run.meter.end : null,
    ),
  };
}

/** The last stretch is not as long as the others are, which are all alike: its end may have been read wrong. */
function oddlySized({ clicks }: Stretch, others: readonly Stretch[]): boolean {
  const sizes = others.map((other) => other.clicks.toNumber());
  const [least, most] = [Math.min(...sizes), Math.max(...sizes)];
  const alike = sizes.length > 1 && most <= least * 1.05;
  return alike && (clicks.toNumber() < least * 0.95 || clicks.toNumber() > most * 1.05);
}

/** The weighings of a stretch that no other of them shares, at an end of the run or beside pages of another kind. */
const oneSided = (one: Stretch, all: readonly Stretch[]): Weighing[] => [
  ...(all.some(({ after }) => after === one.before) ? [] : [one.before]),
  ...(all.some(({ before }) => before === one.after) ? [] : [one.after]),
];

/** Stretches of a run whose waste rate is far from that of the others doubt the mass that ends them. */
export const wasteRate: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) =>
    weighingsOf(run).flatMap((weighings): Contradiction[] => {
      if (weighings === null) return [];
      const all = stretchesOf(weighings);
      // A mass that falls has been told.
      if (all.some(({ waste }) => waste.value.isNegative())) return [];
      let stretches = ofOneKind(run, all);
      const found: Contradiction[] = [];
      const wrong = wrongOnTheWay(stretches);
      const [one, next] = wrong === null ? [] : [stretches[wrong.nth], stretches[wrong.nth + 1]];
      if (one !== undefined && next !== undefined) {
        found.push(contradiction(run, one, without(stretches, one, next)));
        stretches = stretches.flatMap((s) => (s === next ? [] : s === one ? [joined(one, next)] : [s]));
      }
      if (stretches.length < 2) return found;
      // A stretch between two others that stands alone is no slip of one weight, which would show in two of them.
      const atEnds = stretches.filter((one) => oneSided(one, stretches).length > 0);
      const [worst] = atEnds
        .map((stretch) => ({ stretch, others: without(stretches, stretch) }))
        .map((one) => ({ ...one, far: Math.abs(distance(one.stretch, sumsOf(one.others))) }))
        .toSorted((one, other) => other.far - one.far);
      if (worst !== undefined && worst.far > apart(worst.others.length))
        found.push(contradiction(run, worst.stretch, worst.others));
      return found;
    }),
  );
