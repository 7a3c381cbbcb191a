import { type ByEye, type Derived, isDerived } from '../figures/figure.ts';
import type { SeenApart } from '../figures/seen-apart.ts';
import { CURRENCY } from '../trial/catalogue.ts';
import type { Problem } from '../problems/problem.ts';
import { STAGES } from '../trial/schema/run.ts';
import { sameTyped } from '../trial/serial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { Measured } from '../uncertainty/measured.ts';
import type { Reason } from '../uncertainty/not-derived.ts';
import { type Doubt, type Doubted, doubted } from './doubt/all.ts';
import { decide, guardBand, type Outcome, marginOf } from './decide.ts';
import type { Agreed, Limit } from './limits.ts';
import { type Repeated, repeated } from './repeated.ts';

/** Why a limit is open: the figure has no value, or its value cannot decide. */
export type OpenReason =
  | Reason
  | Doubted
  /** A yield of a cartridge that was put in for another and not run to its end. */
  | { readonly code: 'still-in-at-end' }
  /** People see prints differently, and on both sides of the limit. */
  | { readonly code: 'seen-differently'; readonly prints: readonly SeenApart[] }
  | { readonly code: 'only-at-least' }
  | { readonly code: 'only-at-most' }
  | { readonly code: 'within-guard-band'; readonly band: Decimal };

/** One figure held against one limit. */
export interface Judged {
  readonly limit: Limit;
  readonly derived: Derived;
  readonly outcome: Outcome;
  /** Positive on the good side; null where the figure has no value. */
  readonly margin: Decimal | null;
  /** Null unless open. */
  readonly reason: OpenReason | null;
  readonly effect: Limit['effect'];
  /** Its uncertainty if repeated; null where no precision is known, or the figure has no value or only a bound. */
  readonly repeated: Repeated | null;
}

/**
 * Every agreed limit held against every figure it holds for, and what is wrong with limits for parts
 * the trial has not.
 */
export function judge(
  derived: readonly Derived[],
  agreed: Agreed,
  doubts: readonly Doubt[],
): { readonly judged: readonly Judged[]; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const judged = agreed.limits.flatMap((written) => {
    const figures = derived.filter(({ figure }) => figure.name === written.figure.name);
    const limit = asNamedHere(written, figures);
    const targets = figures.filter((figure) => holdsFor(limit, figure));
    const foreign = targets.find(
      ({ unit }) => limit.currency !== null && ![limit.currency, CURRENCY].includes(unit),
    );
    if (foreign !== undefined) {
      problems.push(otherCurrency(limit, foreign));
      return [];
    }
    const unseen = targets.length === 0 ? partNotSeen(limit, figures) : null;
    if (unseen !== null) return [judgeOne(limit, unseen, agreed, doubts)];
    if (targets.length === 0 && limit.of !== null) problems.push(notApplied(limit, figures));
    return targets
      .filter(({ judgeable }) => judgeable)
      .map((target) => judgeOne(limit, target, agreed, doubts));
  });
  return { judged, problems };
}

/** Whether a limit holds for a figure: of every part unless said, and of every reading unless said. */
function holdsFor({ figure, of, stat }: Limit, derived: Derived): boolean {
  if (figure.per === 'readings') return stat === null ? derived.stat !== 'mean' : derived.stat === stat;
  if (derived.stat !== stat) return false;
  if (stat !== null || figure.per === 'trial') return true;
  if (of === TOTAL) return derived.of === null;
  if (figure.per === 'findings' || figure.per === 'prints') return derived.of === of;
  if (of === null) return derived.of !== null || derived.alone;
  return derived.of === of || (derived.of?.startsWith(`${of}#`) ?? false);
}

/**
 * A limit of a file or preset on a part that the trial writes in other capitals, or with spaces around it, is on that
 * part. In the trial itself such a name is an error, which can be put right there.
 */
function asNamedHere(limit: Limit, figures: readonly Derived[]): Limit {
  const { of, origin } = limit;
  if (of === null || origin.kind === 'inline' || figures.some((figure) => holdsFor(limit, figure)))
    return limit;
  const part = figures.flatMap((derived) => derived.of ?? []).find((one) => sameTyped(one, of));
  return part === undefined ? limit : { ...limit, of: part };
}

/**
 * A part that no finding names, as far as something can be said of it: of an inspection that was not
 * recorded it is open, of one that found nothing it is as good as the whole. A patch is open while none was measured.
 */
function partNotSeen({ figure, of }: Limit, figures: readonly Derived[]): Derived | null {
  const [unread] = figures;
  if (figure.per === 'patch') return unread?.of === null ? { ...unread, of } : null;
  if (figure.per !== 'findings') return null;
  const whole = figures.find((one) => one.of === null);
  const named = figures.some((one) => one.of !== null && !(STAGES as readonly string[]).includes(one.of));
  if (whole === undefined || named) return null;
  const { result } = whole;
  return !isDerived(result) || result.value.isZero() ? { ...whole, of } : null;
}

/** What a limit on a figure in all names. */
const TOTAL = 'total';

function notApplied({ figure, of, origin, path }: Limit, figures: readonly Derived[]): Problem {
  const name = of ?? '';
  if (origin.kind !== 'inline') {
    return { code: 'limit-not-applied', figure: figure.name, of: name, from: origin.name, path: [] };
  }
  const parts = figures.flatMap((derived) => derived.of ?? []);
  return { code: 'limit-of-unknown-part', figure: figure.name, of: name, parts, path: [...path, 'of'] };
}

function otherCurrency({ currency, origin, path }: Limit, { unit }: Derived): Problem {
  const limit = currency ?? '';
  if (origin.kind === 'inline') return { code: 'limit-in-other-currency', limit, prices: unit, path };
  return { code: 'limit-currency-not-applied', limit, prices: unit, from: origin.name, path: [] };
}

function judgeOne(limit: Limit, derived: Derived, { decision }: Agreed, doubts: readonly Doubt[]): Judged {
  const { result } = derived;
  const { effect } = limit;
  if (!isDerived(result)) {
    return { limit, derived, outcome: 'open', margin: null, reason: result, effect, repeated: null };
  }
  const again = repeated(result, derived, decision);
  const shown = { limit, derived, margin: marginOf(result, limit), effect, repeated: again };
  const doubt = doubted(result, doubts);
  if (doubt !== null) return { ...shown, outcome: 'open', reason: doubt };
  const outcome = decide(result, limit, decision, derived.bounds, again);
  const prints = derived.byEye ? apartOver(derived.byEye, outcome, limit, decision) : [];
  if (prints.length > 0) return { ...shown, outcome: 'open', reason: { code: 'seen-differently', prints } };
  if (outcome !== 'open') return { ...shown, outcome, reason: null };
  const unread = derived.byEye?.unread ?? null;
  const reason: OpenReason =
    unread !== null
      ? { code: 'reading-missing', path: [...unread.path, 'severity'] }
      : result.bound === 'at_least'
        ? { code: 'only-at-least' }
        : result.bound === 'at_most'
          ? { code: 'only-at-most' }
          : { code: 'within-guard-band', band: guardBand(result, decision, again) };
  return { ...shown, outcome, reason };
}

/**
 * The prints that people see differently, where it turns a limit which of them is right: those with one of them on
 * either side of it.
 */
function apartOver(
  { least, apart }: ByEye,
  outcome: Outcome,
  limit: Limit,
  decision: Agreed['decision'],
): readonly SeenApart[] {
  if (decide(least, limit, decision) === outcome) return [];
  const at = (rank: number): Outcome => decide(Measured.exact(rank), limit, decision);
  return apart.filter(({ least: better, worst }) => at(better) !== at(worst));
}
