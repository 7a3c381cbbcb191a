import { mostFailing } from '../statistics/hypergeometric.ts';
import type { Step } from '../statistics/sampling-plan.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import type { AgreedOfFindings, OneLot } from './gathered-lot.ts';
import type { Inspected } from './inspected.ts';
import { type Next, nextOf } from './next.ts';
import { commonRules, type SingleRule } from './rule.ts';
import { CLASSES, type FindingClass, probability, type Terms, termsOf } from './terms.ts';

/** What was found on delivery of one class, held against what was agreed of it. */
export interface JudgedClass extends ClassTerms {
  readonly rule: SingleRule;
  /** Cartridges of these classes among those inspected. */
  readonly found: number;
  readonly decision: Step;
  /** Null where it is decided. */
  readonly next: Next | null;
  /** The most such cartridges the whole lot can hold, with this confidence. */
  readonly mostFailing: number;
  /** % */
  readonly confidence: Decimal;
}

/** What the inspection of a delivery says of the lot. */
export interface JudgedInspection {
  readonly inspected: readonly Inspected[];
  readonly found: Readonly<Record<FindingClass, number>>;
  /** Those something was agreed of, the worst first. */
  readonly classes: readonly JudgedClass[];
  /** Classes that were found, and of which nothing was agreed. */
  readonly unspoken: readonly FindingClass[];
  /** Null where nothing was agreed, and nothing critical found. */
  readonly decision: Step | null;
}

/**
 * The cartridges looked at on delivery, each counted once, in its worst class. A class nothing was agreed of counts
 * with the next less bad one that was spoken of: nothing worse than what is limited goes uncounted.
 *
 * @param size at least as many as were inspected; @param wanted confidence of the largest shares, in percent; null for
 * 100 % less the consumer's risk
 * @throws NotDerived where what was agreed are no terms
 */
export function judgeInspection(lot: OneLot, size: number, wanted: Decimal | null): JudgedInspection | null {
  const { inspected, agreedOfFindings } = lot;
  const of = (one: FindingClass): number => inspected.filter(({ severity }) => severity === one).length;
  const found = { critical: of('critical'), major: of('major'), minor: of('minor') };
  const terms = classTerms(size, agreedOfFindings);
  const rules = commonRules(terms.map((one) => one.terms));
  const classes = terms.flatMap(({ of: one, counts, terms: agreed }, index): JudgedClass[] => {
    const rule = rules[index];
    if (rule === undefined) return [];
    const count = counts.reduce((sum, each) => sum + found[each], 0);
    const decision: Step = inspected.length === 0 ? 'go-on' : rule.step(inspected.length, count);
    const confidence = wanted ?? new Decimal(100).minus(agreed.limiting.risk);
    return [
      {
        of: one,
        counts,
        terms: agreed,
        rule,
        found: count,
        decision,
        next: decision === 'go-on' ? nextOf(rule, size, inspected.length, count) : null,
        mostFailing: mostFailing(size, inspected.length, count, probability(confidence)),
        confidence,
      },
    ];
  });
  if (inspected.length === 0 && classes.length === 0) return null;
  const counted = new Set(classes.flatMap(({ counts }) => counts));
  const unspoken = CLASSES.filter((one) => !counted.has(one) && found[one] > 0);
  const decision = together(classes.map((one) => one.decision));
  return {
    inspected,
    found,
    classes,
    unspoken,
    decision: decision ?? (unspoken.includes('critical') ? 'go-on' : null),
  };
}

/** A class of findings that was spoken of. */
export interface ClassTerms {
  readonly of: FindingClass;
  /** Classes whose cartridges count here: its own, and worse ones of which nothing was agreed. */
  readonly counts: readonly FindingClass[];
  readonly terms: Terms;
}

/** The classes that something was agreed of, the worst first. @throws NotDerived where what was agreed are no terms */
export function classTerms(size: number, agreed: AgreedOfFindings): readonly ClassTerms[] {
  const spoken = CLASSES.filter((one) => agreed[one].limitingQuality !== null);
  return spoken.map((of, index) => {
    const worse = spoken[index - 1];
    const from = worse === undefined ? 0 : CLASSES.indexOf(worse) + 1;
    return {
      of,
      counts: CLASSES.slice(from, CLASSES.indexOf(of) + 1),
      terms: termsOf(size, agreed[of], of),
    };
  });
}

/** What several decisions come to: one that rejects, rejects; else all must accept. Null of none. */
export function together(decisions: readonly Step[]): Step | null {
  if (decisions.length === 0) return null;
  if (decisions.includes('reject')) return 'reject';
  return decisions.includes('go-on') ? 'go-on' : 'accept';
}
