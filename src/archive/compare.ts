import type { Problem } from '../problems/problem.ts';
import type { Outcome } from '../judge/decide.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import type { Input } from './input.ts';
import { methodChangedIn } from './methods.ts';
import type { SealFault } from './read-seal.ts';
import type { ArchiveChange } from './manifest.ts';
import type { MovedReading } from './readings.ts';
import type { Of, Seal, SealedFigure, SealedLimit, SealedOutcome } from './seal.ts';

/** What became of a sealed result, the first that holds; `unreadable` where it could not be looked at. */
export const STATES = [
  'same',
  'result changed',
  'limits changed',
  'trial changed',
  'files changed',
  'seal damaged',
  'seal missing',
  'unreadable',
] as const;
export type State = (typeof STATES)[number];

/** Something to say of a re-checked trial: data only, worded in `output/words.ts`. */
export type Remark =
  | SealFault
  | { readonly code: 'seal-missing' }
  /** A later tool wrote it. */
  | { readonly code: 'seal-newer'; readonly format: number }
  | { readonly code: 'seal-unreadable'; readonly why: string }
  | { readonly code: 'trial-gone' }
  /** What is wrong with the trial, or with the limits it names. */
  | { readonly code: 'problem'; readonly problem: Problem }
  | { readonly code: 'input-changed'; readonly input: Input; readonly now: string | null }
  /** A value of the trial's file is another. */
  | { readonly code: 'reading-moved'; readonly reading: MovedReading }
  | { readonly code: 'verdict-moved'; readonly sealed: string; readonly now: string }
  | {
      readonly code: 'figure-moved';
      readonly sealed: SealedFigure;
      /** Null where it is no longer derived. */
      readonly now: SealedFigure | null;
      /** Now less sealed; null where the two cannot be subtracted. */
      readonly difference: string | null;
      /** Whether people see it: the figure as printed differs too. */
      readonly printed: boolean;
    }
  | {
      readonly code: 'outcome-moved';
      readonly limit: Of;
      readonly sealed: Outcome | null;
      readonly now: Outcome | null;
    }
  | { readonly code: 'agreed-moved'; readonly what: AgreedPart }
  // Of an archive as a whole
  | ArchiveChange
  | { readonly code: 'archive-not-sealed' }
  | { readonly code: 'archive-seal-altered' }
  | { readonly code: 'archive-unreadable'; readonly file: string; readonly why: string }
  // Of what is the same all the same
  | { readonly code: 'other-tool'; readonly tool: string }
  | { readonly code: 'other-name'; readonly file: string }
  /** A limits file or preset has other bytes now, or is gone. */
  | { readonly code: 'limits-file-differs'; readonly input: Input; readonly now: string | null }
  /** A limit that the files give now and the seal does not, or the other way round. */
  | { readonly code: 'limit-differs'; readonly sealed: SealedLimit | null; readonly now: SealedLimit | null }
  /** The verdict by the limits of today, which is not the one by those in the seal. */
  | { readonly code: 'verdict-by-current-limits'; readonly sealed: string; readonly now: string }
  | { readonly code: 'figures-new'; readonly figures: readonly Of[] }
  /** A later version works figures out in another way. */
  | {
      readonly code: 'figures-other-method';
      readonly since: string;
      readonly moved: readonly { readonly sealed: SealedFigure; readonly now: SealedFigure }[];
    };

/** A part of what was agreed. */
export type AgreedPart = 'decision' | 'reference_coverage' | 'limits';

/** Remarks that change nothing. */
const NOTES: ReadonlySet<Remark['code']> = new Set([
  'other-tool',
  'other-name',
  'limits-file-differs',
  'limit-differs',
  'verdict-by-current-limits',
  'figures-new',
  'figures-other-method',
]);
export const isNote = ({ code }: Remark): boolean => NOTES.has(code);

/** One re-checked trial. */
export interface Rechecked {
  readonly file: string;
  readonly state: State;
  /** The tool that sealed it, and the verdict; null where there is no seal to rely on. */
  readonly sealed: { readonly tool: string; readonly verdict: string } | null;
  /** The verdict as it comes out now; null where it was not asked for. */
  readonly verdict: string | null;
  readonly remarks: readonly Remark[];
}

/** A figure as people see it: what is printed of it. */
export type Printed = (figure: SealedFigure) => string;

/**
 * What moved between a seal and the same inputs judged now, and what is worth a note. A figure that the
 * tool did not derive when it sealed moves nothing.
 */
export function compareSeals(sealed: Seal, now: Seal, printed: Printed): Remark[] {
  const remarks: Remark[] = [];
  if (sealed.verdict !== now.verdict) {
    remarks.push({ code: 'verdict-moved', sealed: sealed.verdict, now: now.verdict });
  }
  for (const what of ['decision', 'reference_coverage', 'limits'] as const) {
    if (JSON.stringify(agreed(sealed, what)) !== JSON.stringify(agreed(now, what)))
      remarks.push({ code: 'agreed-moved', what });
  }
  remarks.push(...movedOutcomes(sealed.outcomes, now.outcomes));

  const otherwise = new Map<string, { sealed: SealedFigure; now: SealedFigure }[]>();
  const current = new Map(now.figures.map((figure) => [keyOf(figure), figure]));
  for (const before of sealed.figures) {
    const after = current.get(keyOf(before)) ?? null;
    current.delete(keyOf(before));
    if (after !== null && after.value === before.value && sameBeside(before, after)) continue;
    const since = methodChangedIn(before.figure, sealed.tool);
    if (after !== null && since !== null) {
      if (printed(before) !== printed(after))
        otherwise.set(since, [...(otherwise.get(since) ?? []), { sealed: before, now: after }]);
      continue;
    }
    remarks.push({
      code: 'figure-moved',
      sealed: before,
      now: after,
      difference: after && difference(before, after),
      printed: after === null || printed(before) !== printed(after),
    });
  }
  for (const [since, moved] of otherwise) remarks.push({ code: 'figures-other-method', since, moved });
  if (current.size > 0) remarks.push({ code: 'figures-new', figures: [...current.values()] });
  if (sealed.tool !== now.tool) remarks.push({ code: 'other-tool', tool: sealed.tool });
  if (sealed.file !== now.file) remarks.push({ code: 'other-name', file: sealed.file });
  return remarks;
}

/** A part of what was agreed; from which file a limit came is no part of it. */
const agreed = (seal: Seal, what: AgreedPart): unknown =>
  what === 'limits' ? seal.limits.map((limit) => ({ ...limit, from: '' })) : seal[what];

/** Limits that differ, whichever file they came from. */
export function movedLimits(sealed: readonly SealedLimit[], now: readonly SealedLimit[]): Remark[] {
  // A set may hold several limits on one figure.
  const keyed = (limits: readonly SealedLimit[]): Map<string, SealedLimit> => {
    const met = new Map<string, number>();
    return new Map(
      limits.map((limit) => {
        const key = keyOf(limit);
        const nth = (met.get(key) ?? 0) + 1;
        met.set(key, nth);
        return [`${nth} ${key}`, limit];
      }),
    );
  };
  const [before, after] = [keyed(sealed), keyed(now)];
  const said = (limit: SealedLimit | undefined): string => {
    if (limit === undefined) return '';
    const { min, max, unit, effect } = limit;
    return JSON.stringify([min, max, unit, effect]);
  };
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((key): Remark[] => {
    const [was, is] = [before.get(key), after.get(key)];
    return said(was) === said(is) ? [] : [{ code: 'limit-differs', sealed: was ?? null, now: is ?? null }];
  });
}

const keyOf = ({ figure, of, stat }: Of): string => JSON.stringify([figure, of, stat]);

/** Formats up to 3 sealed no uncertainty of a colour difference of zero. */
const sameBeside = (sealed: SealedFigure, now: SealedFigure): boolean =>
  sealed.unit === now.unit && (sealed.u === null || sealed.u === now.u) && sealed.bound === now.bound;

function difference(before: SealedFigure, after: SealedFigure): string | null {
  const isNumber = /^-?\d/;
  if (before.unit !== after.unit || !isNumber.test(before.value) || !isNumber.test(after.value)) return null;
  return new Decimal(after.value).minus(before.value).toFixed();
}

function movedOutcomes(sealed: readonly SealedOutcome[], now: readonly SealedOutcome[]): Remark[] {
  const keyed = (outcomes: readonly SealedOutcome[]): Map<string, SealedOutcome> =>
    new Map(
      outcomes.map((one) => {
        const { figure, of, stat, min, max, unit, effect } = one;
        return [JSON.stringify([figure, of, stat, min, max, unit, effect]), one];
      }),
    );
  const [before, after] = [keyed(sealed), keyed(now)];
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((key): Remark[] => {
    const [was, is] = [before.get(key), after.get(key)];
    const limit = was ?? is;
    if (limit === undefined || was?.outcome === is?.outcome) return [];
    return [{ code: 'outcome-moved', limit, sealed: was?.outcome ?? null, now: is?.outcome ?? null }];
  });
}
