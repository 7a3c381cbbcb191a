import type { Mixed, Named } from '../lot/gathered-lot.ts';
import type { JudgedClass, JudgedInspection } from '../lot/judged-inspection.ts';
import type { JudgedLot } from '../lot/judged-lot.ts';
import { limitsApart } from '../lot/limits-apart.ts';
import type { Next } from '../lot/next.ts';
import { overlapIn } from '../pool/overlap.ts';
import type { LotRule } from '../lot/rule.ts';
import { CLASSES, type Quality } from '../lot/terms.ts';
import type { Said, Tried } from '../lot/tried.ts';
import { typed } from '../trial/serial.ts';
import { count, groundWords } from './ground-words.ts';
import { exactly } from './numbers.ts';
import { overlapWords } from './pool-words.ts';
import { reasonWords } from './reason-words.ts';
import { edgesOf } from './text-limits.ts';

/** What is said of a lot and of its cartridges; the same in every output. */

export const SAID: Readonly<Record<Said, string>> = {
  passes: 'passes',
  fails: 'fails',
  'says-nothing': 'says nothing',
};

export const DECISION = { accept: 'ACCEPT', reject: 'REJECT', 'go-on': 'GO ON' } as const;

/** A cartridge as people find it: its file, its slot where there are several, its serial number. */
export const cartridgeName = ({ file, name, serial }: Named): string =>
  [file, name, serial && `serial ${serial}`].filter((part) => part !== null).join(', ');

/** Why a cartridge fails or says nothing; null of one that passes. */
export function whyWords({ said, why }: Tried): string | null {
  if (said === 'passes') return null;
  switch (why.kind) {
    case 'failed-in-use':
      return 'It failed in use.';
    case 'still-in-at-end':
      return `It was ${reasonWords({ code: 'still-in-at-end' })}.`;
    case 'limits':
      return groundWords(why);
  }
}

/** Why trials are not those of one lot, and how to mend it. */
export function mixedWords(mixed: Mixed, named: string | null): string {
  switch (mixed.kind) {
    case 'none':
      return named === null
        ? 'there is no trial to judge a lot by'
        : `no cartridge of lot ${named} was tried or inspected`;
    case 'unnamed':
      return `${cartridgeName(mixed.cartridge)}: its lot is not named; write lot.id, or cartridges.lot`;
    case 'lots': {
      const [a, b] = mixed.cartridges;
      return `${cartridgeName(a)} is of lot ${a.lot ?? ''}, ${cartridgeName(b)} of lot ${b.lot ?? ''}; lots are judged one by one: --lot names one`;
    }
    case 'twice': {
      const [a, b] = mixed.tried;
      return `${cartridgeName(a)} and ${cartridgeName(b)} are one cartridge; each is tried once`;
    }
    case 'differ': {
      const [a, b] = mixed.said;
      return `${mixed.key} is ${a.value} in ${a.file}, ${b.value} in ${b.file}; the trials of one lot agree on it`;
    }
  }
}

/** What has to be known of a lot's trials before their numbers are relied on. */
export const lotRemarks = (judged: JudgedLot): string[] =>
  [
    silentWords(judged),
    sampledWords(judged),
    limitsWords(judged),
    overlapWords(overlapIn(judged.tried)),
    togetherWords(judged),
    machineWords(judged),
    slotWords(judged),
    serialWords(judged),
    orderWords(judged),
    moreWords(judged),
    ...inspectionRemarks(judged),
    'All this holds for cartridges drawn at random from the whole lot, none passed over. "tallytare plan --draw" draws them.',
  ].filter((one) => one !== null);

const counts = ({ said }: Tried): boolean => said !== 'says-nothing';

function silentWords({ tried }: JudgedLot): string | null {
  const silent = tried.filter((one) => !counts(one)).length;
  if (silent === 0) return null;
  return `${count(silent, 'cartridge says', 'cartridges say')} nothing and ${silent === 1 ? 'counts' : 'count'} neither as passed nor as failed: find out why, and try ${silent === 1 ? 'it' : 'them'} again. One left out because it went badly spoils the sample.`;
}

function sampledWords({ tried, lot: { sampled } }: JudgedLot): string | null {
  if (sampled === null || sampled <= tried.length) return null;
  return `${sampled} were taken from the lot (lot.sampled), and ${tried.length} are here: what the others showed belongs to the sample too.`;
}

function limitsWords({ tried }: JudgedLot): string | null {
  const found = limitsApart(tried);
  if (found === null) return null;
  const { limit, other, files } = found;
  const [edges, others] = [limit, other].map((one) => one && edgesOf(one, one.figure.unit));
  const effect = other !== null && edges === others ? ' to another effect' : '';
  return `The cartridges were not judged by the same limits: on ${limit.figure.title}, ${edges ?? ''} in ${files[0]}, ${others ?? 'none'}${effect} in ${files[1]}. What passes by one may fail by the other: judge all of them by one set (--limits FILE).`;
}

function togetherWords({ tried }: JudgedLot): string | null {
  const byFile = new Map<string, number>();
  for (const { file } of tried.filter(counts)) byFile.set(file, (byFile.get(file) ?? 0) + 1);
  const several = [...byFile].filter(([, cartridges]) => cartridges > 1);
  const [first] = several;
  if (first === undefined) return null;
  const more =
    several.length > 1 ? ` So do ${count(several.length - 1, 'other trial', 'other trials')}.` : '';
  return `${first[0]} tries ${first[1]} cartridges of the lot in one machine.${more} They are pieces of the sample, but not independent trials of the machine: what it does wrong is in all of them.`;
}

function machineWords({ tried }: JudgedLot): string | null {
  const known = tried.filter(counts);
  const machines = new Set(known.map(({ machine }) => machine));
  const [machine = null] = machines;
  if (known.length < 2 || machines.size > 1) return null;
  return machine === null
    ? 'No trial names its machine: whether they were tried in more than one cannot be told.'
    : `All were tried in one machine, ${machine}: what the lot does in another is not known.`;
}

function slotWords({ tried }: JudgedLot): string | null {
  const slots = [...new Set(tried.filter(counts).map(({ slot }) => slot ?? 'no name'))];
  if (slots.length < 2) return null;
  return `They are of ${slots.length} slots (${slots.join(', ')}) and count as one lot. Where the colours were made apart, give each its own lot number.`;
}

function serialWords({ tried }: JudgedLot): string | null {
  const without = tried.filter(({ serial }) => serial === null).length;
  if (without === 0) return null;
  return `${count(without, 'cartridge has', 'cartridges have')} no serial number: that none was tried twice cannot be told.`;
}

function orderWords({ decided, byDay }: JudgedLot): string | null {
  if (decided?.rule.kind !== 'sequential') return null;
  const order = byDay
    ? 'The cartridges count in the order of their days.'
    : 'The cartridges count in the order given, as not every trial says when it began (trial.started).';
  return `${order} The largest share is that of a sample whose number was fixed beforehand.`;
}

function moreWords({ decided, counted, failed }: JudgedLot): string | null {
  if (decided?.rule.kind !== 'single') return null;
  const { sample, accept } = decided.rule.plan;
  if (counted <= sample) return null;
  const hard = failed > accept ? ' That is harder on the lot than the plan is.' : '';
  return `${counted} were tried, ${sample} were asked for; all of them count.${hard}`;
}

function inspectionRemarks({ inspection, tried }: JudgedLot): string[] {
  if (inspection === null) return [];
  const { inspected, classes, unspoken } = inspection;
  const said: string[] = [];
  if (unspoken.length > 0) {
    const found = unspoken.map((one) => `${inspection.found[one]} ${one}`).join(', ');
    said.push(
      unspoken.includes('critical')
        ? `Found on delivery: ${found}. Nothing was agreed of such findings (target.lot.inspection), and a critical one keeps the lot from being accepted.`
        : `Found on delivery: ${found}. Nothing was agreed of such findings (target.lot.inspection): they decide nothing.`,
    );
  }
  if (classes.length === 0) return said;
  const serials = new Set(inspected.flatMap(({ serial }) => (serial === null ? [] : [typed(serial)])));
  const files = new Set(inspected.map(({ file, name }) => JSON.stringify([file, name])));
  const unseen = tried.filter(
    ({ serial, file, name }) =>
      !files.has(JSON.stringify([file, name])) && (serial === null || !serials.has(typed(serial))),
  ).length;
  if (unseen > 0)
    said.push(
      `${count(unseen, 'cartridge that was tried is', 'cartridges that were tried are')} not among those inspected on delivery: one with nothing to find is written with severity none.`,
    );
  const merged = classes.filter(({ counts }) => counts.length > 1);
  for (const { of, counts } of merged)
    said.push(
      `Nothing was agreed of ${counts.slice(0, -1).join(' and ')} findings: cartridges with one count as ${of}.`,
    );
  said.push(
    'The numbers of the inspection follow from what was agreed (exact, hypergeometric); they are those of no sampling standard, and none is claimed.',
  );
  return said;
}

/** How many were looked at, and what was found. */
export function foundWords({ inspected, found }: JudgedInspection, size: number): string {
  const sound = inspected.filter(({ severity }) => severity === 'none').length;
  const each = CLASSES.map((one) => `${found[one]} ${one}`).join(', ');
  return `${inspected.length} of ${size}: ${sound} with nothing to find, ${each}`;
}

/** With how many of a class a lot is accepted. */
export const acceptWords = (accept: number): string =>
  `accept with ${accept === 0 ? 'none' : `no more than ${accept}`}`;

/** What was found of a class, and what may be. */
export const classWords = ({ found, rule: { plan } }: JudgedClass): string =>
  `${found} found; ${acceptWords(plan.accept)}`;

/** How many are to be looked at, for all classes together. */
export const inspectWords = (sample: number): string =>
  `inspect ${sample}; each counts once, in the class of the worst finding on it`;

/** Why the inspection decides as it does, class by class. */
export const inspectionWhy = ({
  classes,
  inspected,
  found: seen,
  criticalKeepsOpen,
}: JudgedInspection): string[] => [
  ...classes.map((one) => {
    const { of, found, decision, next, rule } = one;
    const { sample, accept } = rule.plan;
    const may = accept === 0 ? 'none may have one' : `no more than ${accept} may have one`;
    const left = sample - inspected.length;
    const early = left > 0 ? `, and the ${left === 1 ? 'one' : left} left to inspect cannot change this` : '';
    if (decision !== 'go-on')
      return `Inspection, ${of}: ${decision === 'accept' ? 'accepted' : 'rejected'}. ${found === 0 ? 'No cartridge has' : count(found, 'cartridge has', 'cartridges have')} such a finding; ${may}${early}.`;
    return `Inspection, ${of}: not decided. ${next === null ? '' : nextInspected(next)}`;
  }),
  ...(criticalKeepsOpen
    ? [
        `Inspection: ${count(seen.critical, 'cartridge has', 'cartridges have')} a critical finding, and of these nothing was agreed (target.lot.inspection.critical): that keeps the lot from being accepted.`,
      ]
    : []),
];

function nextInspected({ passes, failures }: Next): string {
  const accepted = `It is accepted if the next ${passes === 1 ? 'cartridge is' : `${passes} cartridges are`} without such a finding`;
  const rejected =
    failures === null ? '' : `, rejected if the next ${failures === 1 ? 'one has' : `${failures} have`} one`;
  return `${accepted}${rejected}.`;
}

/** A quality as it was agreed and in whole cartridges. */
export const qualityWords = (
  { share, failing, risk }: Quality,
  size: number,
  whose: string,
  which = 'failing',
): string => `${exactly(share)} % ${which}, ${failing} of ${size}; ${whose} risk ${exactly(risk)} %`;

/** A rule in a line. */
export function ruleWords(rule: LotRule): string {
  if (rule.kind === 'single') {
    const { sample, accept } = rule.plan;
    return `try ${sample}; accept with ${accept === 0 ? 'none' : `no more than ${accept}`} failing`;
  }
  const { h1, h2, slope } = rule.lines;
  return `Wald’s sequential plan, h1 ${h1.toFixed(4)}, h2 ${h2.toFixed(4)}, s ${slope.toFixed(5)}`;
}

/** Why the lot is accepted, rejected or neither: by what was found on delivery, then by the trials. */
export function whyDecided(judged: JudgedLot): string[] {
  const { inspection, decided, failed } = judged;
  if (inspection === null || inspection.classes.length === 0) return [whyByTrials(judged)];
  const found = inspectionWhy(inspection);
  // What the trials alone come to is no lot yet.
  if (decided !== null)
    return [...found, `Trials: ${whyByTrials(judged).replace(/^The lot is/, 'by them it is')}`];
  const alone =
    failed === 0
      ? 'Of trials nothing was agreed (target.lot.limiting_quality): the inspection decides alone.'
      : `Of trials nothing was agreed (target.lot.limiting_quality); ${failed} failed, which keeps the lot from being accepted.`;
  return [...found, alone];
}

/** Why the trials accept the lot, reject it or neither, in a sentence or two. */
function whyByTrials({ decided, byTrials: decision, counted, failed, rejectedAt }: JudgedLot): string {
  if (decided === null)
    return 'No limiting quality was agreed: give target.lot.limiting_quality in the trials, or --limiting-quality. Without it nothing is accepted or rejected.';
  const { rule, next } = decided;
  if (decision === 'go-on') return next === null ? '' : nextWords(next);
  if (rule.kind === 'sequential') {
    return rejectedAt === null || rejectedAt.counted === counted
      ? `The sequential rule stops here: ${failed} of ${counted} failed.`
      : `The sequential rule rejected it when ${rejectedAt.failed} of ${rejectedAt.counted} had failed; what was tried after that does not change it.`;
  }
  const { sample, accept } = rule.plan;
  const left = sample - counted;
  const early =
    left > 0
      ? ` No result of the ${left === 1 ? 'cartridge' : `${left} cartridges`} left can change this.`
      : '';
  return decision === 'reject'
    ? `${failed} failed, and ${accept === 0 ? 'none' : `no more than ${accept}`} may.${early}`
    : `${failed} of ${counted} failed, and ${accept === 0 ? 'none' : `up to ${accept}`} may.${early}`;
}

function nextWords({ passes, failures }: Next): string {
  const accepted = `The lot is accepted if the next ${passes === 1 ? 'cartridge passes' : `${passes} cartridges pass`}`;
  const rejected =
    failures === null
      ? ''
      : `; it is rejected if the next ${failures === 1 ? 'one fails' : `${failures} fail`}`;
  return `${accepted}${rejected}.`;
}
