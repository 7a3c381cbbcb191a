import { Random } from '../../fuzz/random.ts';
import { judged } from './outcome.ts';
import { randomReadings, type Readings, trialText, wasteRate } from './random-trial.ts';
import { PLACES, SLIPS, type SlipKind, type SlipPlace, withSlip } from './slips.ts';

/**
 * How often readings that agree are put in doubt, and how often one slip that turns a verdict is caught. Both
 * rates are of seeded random trials; `npm run doubts` prints them.
 */

/** A false alarm: a trial whose readings agree, and what was said of it. */
export interface Alarm {
  readonly text: string;
  readonly codes: readonly string[];
}

/** Consistent trials of which something was put in doubt. */
export function falseAlarms(trials: number, seed: number): readonly Alarm[] {
  return Array.from({ length: trials }, (_, number) => {
    const readings = randomReadings(new Random(seed, number));
    const text = trialText(readings, 2 * Math.max(1, wasteRate(readings)));
    const { doubts, verdict } = judged(text);
    return { text, codes: verdict === 'invalid' ? ['invalid'] : doubts };
  }).filter(({ codes }) => codes.length > 0);
}

/** A slip that turned the verdict, and whether that was caught. */
export interface Turned {
  readonly place: SlipPlace;
  readonly kind: SlipKind;
  readonly caught: boolean;
  readonly text: string;
}

/**
 * Trials with five checkpoints and weights, and one slip that moves the waste rate across its limit. The limit
 * lies up to half the rate above or below it; slips that turn nothing are passed over.
 */
export function slipsThatTurn(slips: number, seed: number): readonly Turned[] {
  const found: Turned[] = [];
  for (let number = 0; found.length < slips; number++) {
    const random = new Random(seed, number);
    const readings = randomReadings(random, 5);
    const [place, kind] = [random.pick(PLACES), random.pick(SLIPS)];
    const wrong = withSlip(readings, place, kind, random);
    const right = wasteRate(readings);
    const max = right * (1 + (random.next() - 0.5));
    if (!turns(readings, wrong, max)) continue;
    const text = trialText(wrong, max);
    const { verdict, waste } = judged(text);
    found.push({ place, kind, caught: verdict === 'invalid' || waste === 'open', text });
  }
  return found;
}

const turns = (right: Readings, wrong: Readings, max: number): boolean =>
  wasteRate(right) <= max !== wasteRate(wrong) <= max;
