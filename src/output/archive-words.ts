import { type AgreedPart, type Remark, type State, STATES } from '../archive/compare.ts';
import type { Input } from '../archive/input.ts';
import type { Of, SealedFigure, SealedLimit } from '../archive/seal.ts';
import { SEVERITY } from '../trial/catalogue.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { BOUND_WORDS, shown } from './numbers.ts';
import { figureWords, list, wordless } from './words/said.ts';
import { messageOf } from './words.ts';

const AGREED: Readonly<Record<AgreedPart, string>> = {
  decision: 'The rule that decides',
  reference_coverage: 'The reference coverage',
  limits: 'The limits as laid over each other',
};

const INPUTS: Readonly<Record<Input['kind'], string>> = {
  trial: 'The trial',
  table: 'The table',
  document: 'The document',
  limits: 'The limits file',
  preset: 'The preset',
  photo: 'The photo',
};

const sealedOf = ({ figure, of, stat }: Of): string => figureWords(figure, of, stat);

/** What there is to say of a re-checked trial. */
export function remarkWords(remark: Remark): string {
  switch (remark.code) {
    case 'seal-missing':
      return 'There is no seal beside this trial. "tallytare seal" makes one.';
    case 'seal-altered':
      return 'The text of the seal is not what was sealed: its digest does not fit, or has gone. Bring the seal back from a copy; what it says now proves nothing.';
    case 'seal-malformed':
      return 'The digest of the seal fits its text, but the text is no seal as tallytare writes it. Bring the seal back from a copy.';
    case 'seal-too-large':
      return 'The seal has more than 4 MiB, more than any seal. Bring it back from a copy.';
    case 'seal-newer':
      return `The seal is of format ${remark.format}, which this tallytare does not know. Re-check it with a later one.`;
    case 'seal-unreadable':
      return `The seal cannot be read: ${remark.why}.`;
    case 'trial-gone':
      return 'The trial that this seal is of is gone. Bring it back from a copy.';
    case 'problem':
      return messageOf(remark.problem);
    case 'input-changed': {
      const { kind, file, sha256 } = remark.input;
      const name = kind === 'trial' ? INPUTS.trial : `${INPUTS[kind]} ${file}`;
      return remark.now === null
        ? `${name} is no longer there.`
        : `${name} is not what was sealed: its SHA-256 was ${sha256.slice(0, 12)}… and is ${remark.now.slice(0, 12)}….`;
    }
    case 'reading-moved': {
      const { key, sealed, now } = remark.reading;
      if (sealed === null) return `${key} is new: ${quoted(now)}.`;
      return now === null
        ? `${key} was ${quoted(sealed)} and is gone.`
        : `${key} was ${quoted(sealed)} and is now ${quoted(now)}.`;
    }
    case 'verdict-moved':
      return `The verdict was ${remark.sealed.toUpperCase()} and is now ${remark.now.toUpperCase()}.`;
    case 'figure-moved': {
      const { sealed, now, difference, printed } = remark;
      const name = sealedOf(sealed);
      if (now === null) return `${name} was ${sealedFigure(sealed)} and is no longer derived.`;
      const by =
        difference === null || difference === '0'
          ? ''
          : `, moved by ${briefly(difference)}${wordless(sealed.unit)}`;
      return printed
        ? `${name} was ${sealedFigure(sealed)} and is now ${sealedFigure(now)}${by}.`
        : `${name} differs only in digits that are not printed${by}.`;
    }
    case 'outcome-moved': {
      const outcome = (one: string | null): string => one ?? 'not held against a figure';
      return `The limit on ${sealedOf(remark.limit)} was ${outcome(remark.sealed)} and is now ${outcome(remark.now)}.`;
    }
    case 'agreed-moved':
      return `${AGREED[remark.what]} came out differently from the same files.`;
    case 'archive-changed':
      return `${remark.file} is not what was sealed.`;
    case 'archive-removed':
      return `${remark.file} was sealed in this archive and is gone. Bring it back from a copy.`;
    case 'archive-moved':
      return `${remark.file} was moved to ${remark.to}.`;
    case 'archive-added':
      return `${remark.file} came after the archive was sealed. "tallytare seal --archive" takes it in.`;
    case 'archive-not-sealed':
      return 'This archive has no archive.seal. "tallytare seal --archive" makes one.';
    case 'archive-seal-altered':
      return 'The text of archive.seal is not as tallytare writes it. Bring it back from a copy.';
    case 'archive-unreadable':
      return `${remark.file} cannot be read: ${remark.why}.`;
    case 'other-tool':
      return `It was sealed by ${remark.tool}.`;
    case 'other-name':
      return `It was sealed under the name ${remark.file}.`;
    case 'limits-file-differs':
      return `${INPUTS[remark.input.kind]} ${remark.input.file} ${remark.now === null ? 'is gone, or cannot be read' : 'differs now'}; the trial is judged by the limits in its seal.`;
    case 'limit-differs': {
      const { sealed, now } = remark;
      const limit = sealed ?? now;
      const name = limit === null ? '' : sealedOf(limit);
      const edges = (one: SealedLimit | null): string => (one === null ? 'none' : edgesOf(one));
      return `The limit on ${name}: ${edges(sealed)} in the seal, ${edges(now)} in the files now.`;
    }
    case 'verdict-by-current-limits':
      return `By the limits of today the verdict would be ${remark.now.toUpperCase()}, not ${remark.sealed.toUpperCase()}.`;
    case 'figures-new':
      return `Not derived when it was sealed: ${list(remark.figures.map(sealedOf), 'and')}.`;
    case 'figures-other-method':
      return `Worked out in another way since ${remark.since}, and a little different: ${list(
        remark.moved.map((one) => sealedOf(one.sealed)),
        'and',
      )}.`;
  }
}

/** A value of a file, not longer than a line. */
const quoted = (text: string | null): string =>
  text === null || text === '' ? 'empty' : text.length > 60 ? `"${text.slice(0, 60)}…"` : `"${text}"`;

/** What a limit asks, and what it means that it is missed. */
function edgesOf({ min, max, unit, effect }: SealedLimit): string {
  const of = (word: string, value: string | null): string[] =>
    value === null ? [] : [`${word} ${value}${unit === SEVERITY ? '' : wordless(unit)}`];
  return `${[...of('at least', min), ...of('at most', max)].join(', ')} (${effect})`;
}

/** A sealed figure as a verdict prints it. */
export function sealedFigure({ value, unit, u, bound }: SealedFigure): string {
  const sign = BOUND_WORDS[bound];
  if (unit === SEVERITY) return `${sign}${value}`;
  const printed = shown(new Decimal(value), new Decimal(u ?? 0).times(2));
  return `${sign}${printed.value}${printed.U === '' ? '' : ` ± ${printed.U}`}${wordless(unit)}`;
}

/** A difference to two digits; of a very small one with its power of ten. */
function briefly(decimal: string): string {
  const value = new Decimal(decimal).toSignificantDigits(2);
  return value.abs().lt('1e-6') ? value.toExponential() : value.toFixed();
}

/** How many of a count of re-checked trials came out how. */
export function recheckSummary(counts: Readonly<Record<State, number>>): string {
  const all = STATES.reduce((sum, state) => sum + counts[state], 0);
  const each = STATES.filter((state) => counts[state] > 0).map((state) => `${counts[state]} ${state}`);
  return `${all} ${all === 1 ? 'trial' : 'trials'}: ${each.join(', ')}`;
}
