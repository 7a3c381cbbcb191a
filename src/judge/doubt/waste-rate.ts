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

/** How far a stretch is from others, in standard deviations of the difference; of no others no number. */
function distance(one: Stretch, others: Sums): number {
  const rate = rateOver(others);
  const scatter = Math.max(SCATTER * Math.abs(rate), others.count > 2 ? scatterOf(others) : 0);
  const ofOthers = others.variances / others.count ** 2;
  const u = Math.sqrt(scatter ** 2 * (1 + 1 / others.count) + one.u ** 2 + ofOthers);
  return (one.rate - rate) / u;
}

const without = (stretches: readonly Stretch[], ...left: readonly Stretch[]): Stretch[] =>
  stretches.filter((stretch) => !left.includes(stretch));

/**
 * One weight on the way, read wrong, makes the stretch before it and the one after it wrong in opposite ways: each is far
 * from the others, and both together are not. The pair that is furthest; null where there is none.
 */
function wrongOnTheWay(stretches: readonly Stretch[]): readonly [Stretch, Stretch] | null {
  let found: { pair: readonly [Stretch, Stretch]; far: number } | null = null;
  const all = sumsOf(stretches);
  for (const [index, second] of stretches.slice(1).entries()) {
    const first = stretches[index];
    if (first?.after !== second.before) continue;
    const others = sumsWithout(all, first, second);
    const far = Math.min(Math.abs(distance(first, others)), Math.abs(distance(second, others)));
    const opposite = Math.abs(distance(joined(first, second), others)) < far / 2;
    if (opposite && far > apart(others.count) && (found === null || far > found.far))
      found = { pair: [first, second], far };
  }
  return found === null ? null : found.pair;
}

function contradiction(run: Run, stretch: Stretch, others: readonly Stretch[]): Contradiction {
  const { before, after } = stretch;
  // The mass that begins it ends no other of them: the empty container, or what it weighed after pages of another kind.
  const [first, last] = [others.every((other) => other.after !== before), after.mass];
  const meter = run.meter.end.measured?.value.eq(after.at) && oddlySized(stretch, others);
  const clicks = run.meter.clicksPerPage.toNumber();
  const shown = (rate: number): string => String(Number((rate * clicks).toPrecision(3)));
  return {
    fault: {
      code: 'waste-rate-apart',
      from: before.at.toFixed(),
      to: after.at.toFixed(),
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

/** No other of them shares one of its weighings: it is at an end of the run, or beside pages of another kind. */
const isAtEnd = (one: Stretch, all: readonly Stretch[]): boolean =>
  !all.some(({ after }) => after === one.before) || !all.some(({ before }) => before === one.after);

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
      if (wrong !== null) {
        const [one, next] = wrong;
        found.push(contradiction(run, one, without(stretches, one, next)));
        stretches = stretches.flatMap((s) => (s === next ? [] : s === one ? [joined(one, next)] : [s]));
      }
      // A stretch between two others that stands alone is no slip of one weight, which would show in two of them.
      const atEnds = stretches.filter((one) => isAtEnd(one, stretches));
      const [worst] = atEnds
        .map((stretch) => ({ stretch, others: without(stretches, stretch) }))
        .map((one) => ({ ...one, far: Math.abs(distance(one.stretch, sumsOf(one.others))) }))
        .toSorted((one, other) => other.far - one.far);
      if (worst !== undefined && worst.far > apart(worst.others.length))
        found.push(contradiction(run, worst.stretch, worst.others));
      return found;
    }),
  );
