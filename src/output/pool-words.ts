import { type Claim, FEWEST_CARTRIDGES, FEWEST_MACHINES, type Group, type InCommon } from '../pool/group.ts';
import type { OddName } from '../pool/names.ts';
import type { Fitted, Overlap } from '../pool/overlap.ts';
import type { Pooled } from '../pool/pooled.ts';
import type { Bound } from '../uncertainty/measured.ts';
import { falseAlarms } from '../statistics/control-chart.ts';

/** What the cartridges of a group have in common, in words: `lot K-20`, `month 2026-03`, `supplier not named`. */
export const inCommonWords = ({ by, key }: InCommon): string =>
  key === null ? `${by} not ${by === 'month' ? 'known' : 'named'}` : `${by} ${key}`;

/** A group by its slot and what its cartridges have in common; empty where there is neither. */
export const groupName = ({ slot, inCommon }: Pick<Group, 'slot' | 'inCommon'>): string =>
  [slot, inCommon && inCommonWords(inCommon)].filter((part) => part !== null).join(', ');

/** A bound that holds what all trials share, and one that does not: said in the same words in every output. */
export const WITH_COVERAGE = 'with the coverage’s uncertainty';
const ALONE = 'of the cartridges alone';

/** Said of a bound that holds the scatter alone where there is one with the coverage's uncertainty too. */
export const aloneWords = ({ commonU }: Pick<Group, 'commonU'>): string =>
  commonU === null || commonU.isZero() ? '' : `; ${ALONE}`;

/** Both bounds, where there are two: `with the coverage’s uncertainty 9904 pages; of the cartridges alone 10144 pages`. */
export const bothWords = (group: Pick<Group, 'commonU'>, bound: string, alone: string): string =>
  aloneWords(group) === '' ? bound : `${WITH_COVERAGE} ${bound}; ${ALONE} ${alone}`;

/** What the bounds hold; the same in every output. */
export const BOUNDS_COVER =
  'The bounds cover the scatter of the cartridges; where the coverage has a tolerance, those with the coverage’s uncertainty cover that too. How the yield standards word the bound, and which tail they mean, is not known here (ISO/IEC 19752 and 19798: text not consulted): confidence and tail are settings.';

/** Degrees of freedom, which may be one. */
export const freedomWords = (freedom: number): string =>
  `${freedom} ${freedom === 1 ? 'degree' : 'degrees'} of freedom`;

/**
 * A claim that the numbers support or refuse, of too few cartridges or machines, with failures, or of trials that prove
 * nothing; null where it is none.
 */
export function forTheseWords(
  { forThese }: Pick<Claim, 'forThese'>,
  { n, machines, failed, voided }: Pick<Group, 'n' | 'machines' | 'failed' | 'voided'>,
): string | null {
  if (forThese === null) return null;
  const tried = `${n} ${n === 1 ? 'cartridge' : 'cartridges'} in ${machines === 0 ? 'machines not named' : machines === 1 ? 'one machine' : `${machines} machines`}`;
  const fail = failed === 0 ? '' : `, and ${failed} failed`;
  if (voided > 0)
    return `For these ${tried} it is ${forThese === 'supported' ? 'supported' : 'not supported'}${fail}; but ${voided === 1 ? 'one is of a trial that proves' : `${voided} are of trials that prove`} nothing. --few says that they are enough.`;
  return `For these ${tried} it is ${forThese === 'supported' ? 'supported' : 'not supported'}${fail}; that is too little to claim it of others. --few says that it is enough.`;
}

/** A claim that the cartridges alone would support, and the coverage keeps open; null where it is none. */
export function coverageDecides(group: Group): string | null {
  const { claim, atLeast, lowerBound, clusteredLowerBound, commonU } = group;
  if (atLeast > 0 && claim?.moreMachines === true) return null;
  if (claim === null || lowerBound === null || !commonU || commonU.isZero()) return null;
  const alone = clusteredLowerBound?.lt(lowerBound) ? clusteredLowerBound : lowerBound;
  if (claim.supported !== null || claim.forThese !== null || alone.lt(claim.pages)) return null;
  return `The cartridges alone support ${alone.toFixed(0)} pages; the coverage is uncertain by ± ${commonU.times(2).toFixed(0)}. A coverage known better would decide it.`;
}

/** Why a claim is not decided, and what would decide it; of a supported one what it leaves out; else null. */
export function claimReason(group: Group): string | null {
  const { claim, mean, atLeast, failed, doubted } = group;
  if (claim === null || claim.supported === false) return null;
  if (claim.supported === true)
    return failed === 0 ? null : `It is one of cartridges that do not fail: ${failed} did.`;
  const these = forTheseWords(claim, group) ?? (doubted > 0 ? null : coverageDecides(group));
  if (these !== null) return these;
  if (doubted > 0)
    return `${doubted === 1 ? 'A yield rests' : `${doubted} yields rest`} on readings in doubt; look at them first (LEFT OUT below).`;
  if (claim.more === null) {
    if (!mean?.lte(claim.pages)) return 'More exhausted cartridges are needed.';
    return atLeast > 0
      ? 'The mean does not reach it, but cartridges that were not exhausted count in it at the pages they printed: run them until exhausted, or leave out those fitted only to end a run.'
      : 'The mean does not reach it: more cartridges like these would not support it.';
  }
  return claim.more > 0
    ? `Should mean and deviation stay, ${claim.more} more ${claim.more === 1 ? 'cartridge' : 'cartridges'} run until exhausted would support it${claim.moreMachines ? ', were it not for the bound over the machines’ means: more machines are needed as well' : ''}.`
    : 'The machines’ means scatter too much: more machines are needed.';
}

/** What the yield standards ask for and these trials do not have; null where they have it. */
function fewWords({ n, machines }: Group): string | null {
  const short = [
    ...(n < FEWEST_CARTRIDGES ? ['nine cartridges'] : []),
    ...(machines < FEWEST_MACHINES ? ['three machines'] : []),
  ];
  if (short.length === 0) return null;
  return `Fewer than the ${short.join(' and ')} that the yield standards are said to ask for (ISO/IEC 19752: second-hand, text not consulted).`;
}

/** Why a pool of some named machines has no bound over their means; null where it has one, or none is named. */
function unnamedWords({ machines, unnamed }: Group): string | null {
  if (machines === 0 || unnamed === 0) return null;
  return `${unnamed} of the cartridges ${unnamed === 1 ? 'is of a trial that does' : 'are of trials that do'} not name the machine, so there is no bound over the machines’ means, which may be the lower one. Name the machine.`;
}

/** Why a pool with cartridges that were not exhausted has no bound over the machines' means, and what a claim keeps to instead. */
function unfinishedWords({ atLeast, withCommon: { clustered } }: Group): string | null {
  if (atLeast === 0 || clustered === null) return null;
  return `There is no bound over the machines’ means: ${atLeast === 1 ? 'a cartridge that was' : `${atLeast} cartridges that were`} not exhausted cannot count in it. Of the exhausted ones alone it would be ${clustered.toFixed(0)} pages, and a claim has to keep to that too.`;
}

/** Cartridges of trials that a missed limit voids; null where there are none. */
function voidedWords({ voided }: Group): string | null {
  if (voided === 0) return null;
  return `${voided} of the cartridges ${voided === 1 ? 'is of a trial that proves' : 'are of trials that prove'} nothing: a limit that voids ${voided === 1 ? 'it' : 'them'} was missed ("tallytare verdict" says which). ${voided === 1 ? 'It counts' : 'They count'} here all the same; try others in ${voided === 1 ? 'its' : 'their'} place, or leave ${voided === 1 ? 'it' : 'them'} out.`;
}

/** Cartridges that were in one slot of one machine at once, if the meters are right; null where there are none. */
export function overlapWords(overlap: Overlap<Fitted> | null): string | null {
  if (overlap === null) return null;
  const { first, second, more } = overlap;
  const at = ({ file, span }: Fitted): string => `${file} (meter ${span?.join(' to ') ?? ''})`;
  const slot = first.slot === null ? 'the slot' : `slot ${first.slot}`;
  const also = more === 0 ? '' : more === 1 ? ', and one more,' : `, and ${more} more,`;
  return `By their meter readings ${at(first)} and ${at(second)}${also} were in ${slot} of machine ${first.machine ?? ''} at once, which cannot be. Check that none is a copy of another trial, and the machines’ serial numbers.`;
}

function outlierWords({ furthest }: Group): string | null {
  if (!furthest?.outlier) return null;
  const { cartridge, G, critical } = furthest;
  return `${cartridge.serial ?? cartridge.file} yielded ${cartridge.pages.toFixed(0)} pages, further from the mean than chance explains (Grubbs ${G.toFixed(2)}, critical ${critical.toFixed(2)}). It stays in; find out why.`;
}

function machinesDifferWords({ lowerBound, clusteredLowerBound, mean }: Group): string | null {
  if (!lowerBound || !clusteredLowerBound || !mean) return null;
  if (!lowerBound.minus(clusteredLowerBound).gt(mean.times('0.01'))) return null;
  return 'The machines differ: the bound over their means is the lower one, and the one to rest a claim on.';
}

function notNormalWords({ normality, n }: Group): string | null {
  if (normality === null || normality.normal) return null;
  return `The ${n} yields are not normally distributed (Anderson and Darling ${normality.statistic.toFixed(2)}, critical ${normality.critical} at 5 %): the bounds, which take them so, may be off. Look for two kinds of cartridge or machine among them.`;
}

/** What is said of values in a trend that are only bounds; nothing where none is. */
export function boundedWords(points: readonly { readonly bound: Bound }[]): string[] {
  const bounded = points.filter(({ bound }) => bound !== 'exact').length;
  if (bounded === 0) return [];
  const one = bounded === 1;
  return [
    `${one ? 'One value is' : `${bounded} values are`} only a bound, of cartridges that were not exhausted: ${one ? 'it counts' : 'they count'} neither in the centre nor in the limits.`,
  ];
}

/** How often a chart of so many points that did not change signals all the same. */
export function falseAlarmWords(points: number): string {
  const share = falseAlarms(points) * 100;
  return `Of ${points} trials in which nothing changed, at least one signals in ${share < 1 ? 'fewer than 1' : share.toFixed(0)} of 100 such series (simulated): one signal alone is a reason to look, not a proof.`;
}

/** What is to be known of a group before its numbers are relied on; the same in every output. */
export const groupRemarks = (group: Group): string[] =>
  [
    fewWords(group),
    overlapWords(group.overlap),
    voidedWords(group),
    unnamedWords(group),
    unfinishedWords(group),
    outlierWords(group),
    machinesDifferWords(group),
    notNormalWords(group),
  ].filter((one) => one !== null);

function oddNameWords(odd: OddName): string {
  switch (odd.kind) {
    case 'labels':
      return `The machine with serial ${odd.serial} has two labels (${odd.labels.join(', ')}); it counts as one machine. Check the serial numbers.`;
    case 'serials':
      return `The machine ${odd.label} has two serial numbers (${odd.serials.map((one) => one ?? 'none').join(', ')}), and counts as so many machines. Check them; the bound over machines hangs on it.`;
    case 'slots':
      return `A cartridge with serial ${odd.serial} is in two slots (${odd.slots.join(', ')}). Check the serial numbers.`;
  }
}

/** What is to be known of a whole pooling; the same in every output. */
export function poolRemarks({ claims, oddNames }: Pooled): string[] {
  const listed = claims.map((claim) => claim.toFixed()).join(', ');
  return [
    ...(claims.length > 1
      ? [`The trials plan for different claims (${listed}); none was judged. Give one with --claim.`]
      : []),
    ...oddNames.map(oddNameWords),
  ];
}
