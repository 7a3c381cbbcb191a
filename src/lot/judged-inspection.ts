import { mostFailing } from '../statistics/hypergeometric.ts';
import type { Step } from '../statistics/sampling-plan.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import type { OneLot } from './gathered-lot.ts';
import type { Inspected } from './inspected.ts';
import { type Next, nextOf } from './next.ts';
import { commonRules, type SingleRule } from './rule.ts';
import {
  type AgreedOfFindings,
  CLASSES,
  type FindingClass,
  probability,
  type Terms,
  termsOf,
} from './terms.ts';

/** A class of findings that something was agreed of, and how it is decided on. */
export interface PlannedClass {
  readonly of: FindingClass;
  /** Classes whose cartridges count here: its own, and worse ones of which nothing was agreed. */
  readonly counts: readonly FindingClass[];
  readonly terms: Terms;
  /** All classes are decided on by one sample. */
  readonly rule: SingleRule;
}

/**
 * The classes that something was agreed of, the worst first. A class nothing was agreed of counts with the next less bad
 * one that was spoken of: nothing worse than what is limited goes uncounted.
 *
 * @throws NotDerived where what was agreed are no terms
 */
export function plannedClasses(size: number, agreed: AgreedOfFindings): readonly PlannedClass[] {
  const spoken = CLASSES.filter((one) => agreed[one].limitingQuality !== null);
  const terms = spoken.map((of) => termsOf(size, agreed[of], of));
  return commonRules(terms).flatMap((rule, index): PlannedClass[] => {
    const [worse, of, own] = [spoken[index - 1], spoken[index], terms[index]];
    if (of === undefined || own === undefined) return [];
    const from = worse === undefined ? 0 : CLASSES.indexOf(worse) + 1;
    return [{ of, counts: CLASSES.slice(from, CLASSES.indexOf(of) + 1), terms: own, rule }];
  });
}

/** What was found on delivery of one class, held against what was agreed of it. */
export interface JudgedClass extends PlannedClass {
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
  /** Something critical was found, and of it nothing was agreed by itself: the lot is not accepted. */
  readonly criticalKeepsOpen: boolean;
  /** Null where nothing was agreed, and nothing critical found. */
  readonly decision: Step | null;
}

/**
 * The cartridges looked at on delivery, each counted once, in its worst class.
 *
 * @param size at least as many as were inspected; @param wanted confidence of the largest shares, in percent; null for
 * 100 % less the consumer's risk
 * @throws NotDerived where what was agreed are no terms
 */
export function judgeInspection(lot: OneLot, size: number, wanted: Decimal | null): JudgedInspection | null {
  const { inspected, agreedOfFindings } = lot;
  const of = (one: FindingClass): number => inspected.filter(({ severity }) => severity === one).length;
  const found = { critical: of('critical'), major: of('major'), minor: of('minor') };
  const classes = plannedClasses(size, agreedOfFindings).map(
    ({ of: one, counts, terms, rule }): JudgedClass => {
      const count = counts.reduce((sum, each) => sum + found[each], 0);
      const decision: Step = inspected.length === 0 ? 'go-on' : rule.step(inspected.length, count);
      const confidence = wanted ?? new Decimal(100).minus(terms.limiting.risk);
      return {
        of: one,
        counts,
        terms,
        rule,
        found: count,
        decision,
        next: decision === 'go-on' ? nextOf(rule, size, inspected.length, count) : null,
        mostFailing: mostFailing(size, inspected.length, count, probability(confidence)),
        confidence,
      };
    },
  );
  if (inspected.length === 0 && classes.length === 0) return null;
  const counted = new Set(classes.flatMap(({ counts }) => counts));
  const unspoken = CLASSES.filter((one) => !counted.has(one) && found[one] > 0);
  const criticalKeepsOpen = found.critical > 0 && agreedOfFindings.critical.limitingQuality === null;
  const open: readonly Step[] = criticalKeepsOpen ? ['go-on'] : [];
  return {
    inspected,
    found,
    classes,
    unspoken,
    criticalKeepsOpen,
    decision: together([...classes.map((one) => one.decision), ...open]),
  };
}

/** What several decisions come to: one that rejects, rejects; else all must accept. Null of none. */
export function together(decisions: readonly Step[]): Step | null {
  if (decisions.length === 0) return null;
  if (decisions.includes('reject')) return 'reject';
  return decisions.includes('go-on') ? 'go-on' : 'accept';
}
