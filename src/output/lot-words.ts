import type { JudgedLot } from '../lot/judged-lot.ts';
import type { Said, Tried } from '../lot/tried.ts';
import { count, groundWords } from './ground-words.ts';
import { reasonWords } from './reason-words.ts';

/** What is said of a lot and of its cartridges; the same in every output. */

export const SAID: Readonly<Record<Said, string>> = {
  passes: 'passes',
  fails: 'fails',
  'says-nothing': 'says nothing',
};

export const DECISION = { accept: 'ACCEPT', reject: 'REJECT', 'go-on': 'GO ON' } as const;

/** A cartridge as people find it: its file, its slot where there are several, its serial number. */
export const triedName = ({ file, name, serial }: Tried): string =>
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

/** What has to be known of a lot's trials before their numbers are relied on. */
export const lotRemarks = (judged: JudgedLot): string[] =>
  [
    silentWords(judged),
    togetherWords(judged),
    machineWords(judged),
    slotWords(judged),
    serialWords(judged),
    orderWords(judged),
    moreWords(judged),
    'All this holds for cartridges drawn at random from the whole lot, none passed over: "tallytare plan --draw" draws them.',
  ].filter((one) => one !== null);

const counts = ({ said }: Tried): boolean => said !== 'says-nothing';

function silentWords({ tried }: JudgedLot): string | null {
  const silent = tried.filter((one) => !counts(one)).length;
  if (silent === 0) return null;
  return `${count(silent, 'cartridge says', 'cartridges say')} nothing and ${silent === 1 ? 'counts' : 'count'} neither as passed nor as failed: find out why, and try ${silent === 1 ? 'it' : 'them'} again. One left out because it went badly spoils the sample.`;
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
