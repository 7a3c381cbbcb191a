import {
  acceptNumber,
  commonPlans,
  rejectNumber,
  type SequentialLines,
  sequentialLines,
  type SinglePlan,
  singlePlan,
  type Step,
} from '../statistics/sampling-plan.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import { probability, type Quality, type Terms } from './terms.ts';

/** By which rule the trials of a lot decide. */
export const LOT_RULES = ['single', 'sequential'] as const;

/** What is to be done with the lot once so many are tried and so many of them failed. */
interface Decides {
  readonly step: (tried: number, failed: number) => Step;
}

/** So many are tried, and no more than so many of them may fail; it stops where the rest can change nothing. */
export interface SingleRule extends Decides {
  readonly kind: 'single';
  readonly plan: SinglePlan;
}

/** Cartridges are tried one after the other until the failing ones are few enough, or too many. */
export interface SequentialRule extends Decides {
  readonly kind: 'sequential';
  readonly lines: SequentialLines;
}

export type LotRule = SingleRule | SequentialRule;

/** One cartridge that passes is never an accepted lot. */
export const FEWEST_TRIED = 2;

/** With how many failing a rule accepts and rejects after so many tried. */
export interface Numbers {
  /** The most that may have failed for the lot to be accepted here; null where no number is few enough. */
  readonly accept: number | null;
  /** The fewest failing with which it is rejected here; null where it is not, should all have failed. */
  readonly reject: number | null;
}

export function numbersAt({ step }: LotRule, tried: number): Numbers {
  let [accept, reject]: [number | null, number | null] = [null, null];
  for (let failed = tried; failed >= 0 && accept === null; failed--) {
    const decision = step(tried, failed);
    if (decision === 'reject') reject = failed;
    if (decision === 'accept') accept = failed;
  }
  return { accept, reject };
}

const risked = ({ failing, risk }: Quality) => ({ failing, risk: probability(risk) });

/** The smallest single sample of a lot on its own, exact. */
export const singleRule = ({ size, limiting, acceptable }: Terms): SingleRule =>
  ruleOf(singlePlan(size, risked(limiting), acceptable && risked(acceptable), FEWEST_TRIED));

/** Rules for several classes of pieces that one sample serves, exact; the terms are of one lot. */
export function commonRules(terms: readonly Terms[]): readonly SingleRule[] {
  const [first] = terms;
  if (first === undefined) return [];
  const classes = terms.map(({ limiting, acceptable }) => ({
    limiting: risked(limiting),
    acceptable: acceptable && risked(acceptable),
  }));
  return commonPlans(first.size, classes, FEWEST_TRIED).map(ruleOf);
}

function ruleOf(plan: SinglePlan): SingleRule {
  const step = (tried: number, failed: number): Step => {
    if (failed > plan.accept) return 'reject';
    if (tried < FEWEST_TRIED) return 'go-on';
    return failed + Math.max(0, plan.sample - tried) <= plan.accept ? 'accept' : 'go-on';
  };
  return { kind: 'single', plan, step };
}

/**
 * Wald's sequential rule for the agreed shares. A lot of few cartridges may be known before a line is reached: it is
 * rejected where the failing ones seen are as many as the limiting quality, and accepted where all that are left could
 * not make them so many.
 *
 * @throws NotDerived where no acceptable quality was agreed, or one of the shares is certain
 */
export function sequentialRule({ size, limiting, acceptable }: Terms): SequentialRule {
  if (acceptable === null)
    throw new NotDerived({ code: 'not-given', path: ['target', 'lot', 'acceptable_quality'] });
  const [good, bad] = [acceptable, limiting].map(({ share, risk }) => ({
    share: probability(share),
    risk: probability(risk),
  }));
  if (good === undefined || bad === undefined || bad.share >= 1)
    throw new NotDerived({
      code: 'outside-formula',
      path: ['target', 'lot', 'limiting_quality'],
      range: 'less than 100 %',
    });
  const lines = sequentialLines(good, bad);
  const step = (tried: number, failed: number): Step => {
    if (failed >= Math.min(rejectNumber(lines, tried), limiting.failing)) return 'reject';
    if (tried < FEWEST_TRIED) return 'go-on';
    const fewEnough = acceptNumber(lines, tried);
    const certain = failed + (size - tried) < limiting.failing;
    return certain || (fewEnough !== null && failed <= fewEnough) ? 'accept' : 'go-on';
  };
  return { kind: 'sequential', lines, step };
}
