import type { Problem } from '../problems/problem.ts';
import { projectionsAgree, residualKnown } from './balance.ts';
import { stopsSpread, wasteSpread } from './batches.ts';
import {
  cartridgesListed,
  containersListed,
  failuresSeen,
  notRunToEnd,
  serialsOnce,
  slotsFilled,
} from './changes.ts';
import type { Check, Checkable } from './check.ts';
import { referenceLongEnough, sameCoverage } from './comparison.ts';
import { checkWeightHolds, instrumentsCalibrated, partsOutlastRun, withinRatedSpeed } from './machine.ts';
import { deliveredBeside, findingsKnown } from './inspected.ts';
import { otherCoverageKnown, otherWasteKnown } from './other-pages.ts';
import { usageExplained } from './plausible.ts';
import { marksExplained } from './repeats.ts';
import { farFromReference, usageKnown, withinTried } from './scaling.ts';
import { runUnderWay, shortOfTarget, wasteSoFar } from './progress.ts';
import { limitsStillInReach } from './reach.ts';
import { statedAgree } from './stated.ts';

const CHECKS: readonly Check[] = [
  statedAgree,
  projectionsAgree,
  residualKnown,
  farFromReference,
  usageKnown,
  withinTried,
  sameCoverage,
  referenceLongEnough,
  containersListed,
  cartridgesListed,
  slotsFilled,
  serialsOnce,
  findingsKnown,
  deliveredBeside,
  failuresSeen,
  notRunToEnd,
  otherCoverageKnown,
  otherWasteKnown,
  stopsSpread,
  wasteSpread,
  partsOutlastRun,
  instrumentsCalibrated,
  checkWeightHolds,
  withinRatedSpeed,
  usageExplained,
  marksExplained,
  runUnderWay,
  wasteSoFar,
  limitsStillInReach,
  shortOfTarget,
];

/** Everything a good supervisor would say about a trial before anyone relies on it. */
export const checkFacts = (facts: Checkable): Problem[] => CHECKS.flatMap((check) => check(facts));
