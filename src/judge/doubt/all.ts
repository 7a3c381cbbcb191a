import type { Code, Problem } from '../../problems/problem.ts';
import type { Checked } from '../../problems/problem.ts';
import type { Measured } from '../../uncertainty/measured.ts';
import { dotted, type Path } from '../../uncertainty/path.ts';
import type { Facts } from '../facts.ts';
import { slotNotEmpty } from './cartridge-end.ts';
import type { DoubtRule } from './doubt.ts';
import {
  exhaustedWhenUsed,
  massAgrees,
  massFalls,
  massGrows,
  massPossible,
  usedWithinFill,
  wasteCollected,
  wasteWithinToner,
  withinCapacity,
} from './masses.ts';
import { fixingFalls } from './fixing.ts';
import { firstBatchFits, lastBatchFits, rolledOverOnce, withinTarget } from './meter-end.ts';
import { percentagesMeant } from './percentages.ts';
import { repeatsAgree } from './repeats.ts';
import { sheetsCounted } from './sheets.ts';
import { airOfTheRun } from './times.ts';
import { beforeWithinFill, tonerTaken } from './toner.ts';
import { wasteRate } from './waste-rate.ts';

/** Every look for readings that cannot all be true; the plainest first. */
const RULES: readonly DoubtRule[] = [
  massPossible,
  percentagesMeant,
  repeatsAgree,
  massGrows,
  massFalls,
  massAgrees,
  withinCapacity,
  wasteWithinToner,
  wasteCollected,
  usedWithinFill,
  beforeWithinFill,
  tonerTaken,
  exhaustedWhenUsed,
  slotNotEmpty,
  rolledOverOnce,
  lastBatchFits,
  firstBatchFits,
  withinTarget,
  wasteRate,
  sheetsCounted,
  airOfTheRun,
  fixingFalls,
];

/** Readings that cannot all be true. */
export interface Doubt {
  readonly problem: Problem;
  /** The readings of which one must be wrong. */
  readonly readings: readonly Path[];
  /** Those of them that someone has looked at again; they are doubted no longer. */
  readonly checked: readonly Checked[];
  /** Those that nobody has. */
  readonly open: readonly Path[];
}

/** What the readings of a trial contradict each other in, and what of it was looked at again. */
export function doubtsOf(facts: Facts): readonly Doubt[] {
  return RULES.flatMap((rule) => rule(facts)).map(({ fault, path, readings }): Doubt => {
    const checked = facts.trial.checked.filter((one) => readings.some((reading) => covers(one, reading)));
    const open = readings.filter((reading) => !checked.some((one) => covers(one, reading)));
    const settled = open.length === 0;
    return { problem: { ...fault, path, ...(settled ? { checked } : {}) }, readings, checked, open };
  });
}

/** Whether a doubt of this kind was said at this place: what a check would warn of again. */
export const isSaid = (doubts: readonly Doubt[], code: Code, path: Path): boolean =>
  doubts.some(({ problem }) => problem.code === code && problem.path === path);

/** What was looked at again is the reading itself, or the entry it stands in. */
function covers({ reading }: Checked, doubted: Path): boolean {
  const name = dotted(doubted);
  return name === reading || within(name, reading) || within(reading, name);
}

const within = (name: string, of: string): boolean => name.startsWith(`${of}.`) || name.startsWith(`${of}[`);

/** Why a value is not decided on: it rests on readings in doubt; `doubt` is the code of what contradicts them. */
export interface Doubted {
  readonly code: 'doubted';
  readonly doubt: Code;
  readonly readings: readonly string[];
}

/** Whether a value rests on a reading in doubt, and on which; null where it rests on none. */
export function doubted(value: Measured, doubts: readonly Doubt[]): Doubted | null {
  const doubt = doubts.length === 0 ? null : doubtOn(value.restsOn, doubts);
  return doubt && { code: 'doubted', doubt: doubt.problem.code, readings: doubt.open.map(dotted) };
}

/** The doubt that a value rests on; null where it rests on none. */
function doubtOn(restsOn: readonly Path[], doubts: readonly Doubt[]): Doubt | null {
  return (
    doubts.find((doubt) =>
      doubt.open.some((doubted) => restsOn.some((reading) => touches(reading, doubted))),
    ) ?? null
  );
}

/** One path is the other, or leads to it: they are alike as far as both go. */
const touches = (a: Path, b: Path): boolean => a.slice(0, b.length).every((step, index) => step === b[index]);
