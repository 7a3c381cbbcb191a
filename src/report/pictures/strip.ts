import { expandedOf } from '../../checks/near-limits.ts';
import { isDerived } from '../../figures/figure.ts';
import { guardBand, type Outcome } from '../../judge/decide.ts';
import type { Judged } from '../../judge/judge.ts';
import type { Decision } from '../../judge/limits.ts';
import { SEVERITY } from '../../trial/catalogue.ts';
import { drawn as ofText } from '../escape.ts';
import { agreedText, amount } from '../figure-words.ts';
import { judgedValue } from '../values.ts';
import { ACCENT, BAND, INK, PAPER, tick } from './draw.ts';

/**
 * One limit as a strip: what was agreed, the limit, and the value with its uncertainty. Places are shares of
 * the width, so that one drawing fits a telephone, a wide screen and paper, its letters the same on all.
 */

/** What a strip spans, in the figure's unit. */
export interface Scale {
  readonly low: number;
  readonly high: number;
}

interface Drawn {
  readonly outcome: Outcome;
  readonly value: number | null;
  readonly U: number;
  readonly bound: 'exact' | 'at_least' | 'at_most';
  readonly min: number | null;
  readonly max: number | null;
  readonly guard: number;
}

function drawn(judged: Judged, decision: Decision): Drawn {
  const { derived, limit, outcome, repeated } = judged;
  const result = isDerived(derived.result) ? derived.result : null;
  return {
    outcome,
    value: result?.value.toNumber() ?? null,
    U: result === null ? 0 : expandedOf(judged, result).toNumber(),
    bound: result?.bound ?? 'exact',
    min: limit.min?.toNumber() ?? null,
    max: limit.max?.toNumber() ?? null,
    guard: result === null ? 0 : guardBand(result, decision, repeated).toNumber(),
  };
}

/** Units whose zero is a choice, not nothing: a strip in them shows the neighbourhood of its limits. */
const WITHOUT_ZERO: ReadonlySet<string> = new Set(['°C']);

/** The one scale for all limits on a figure: from zero, or around values and limits where zero says nothing. */
export function scaleOf(judged: readonly Judged[], decision: Decision): Scale {
  const unit = judged[0]?.derived.unit ?? '';
  if (unit === SEVERITY) return { low: -0.15, high: 3.15 };
  const ends = judged.flatMap((one) => {
    const { value, U, min, max, guard } = drawn(one, decision);
    return [
      ...(value === null ? [] : [value - U, value + U]),
      ...[min, max].flatMap((edge) => (edge === null ? [] : [edge - guard, edge + guard])),
    ];
  });
  const [least, greatest] = [Math.min(...ends), Math.max(...ends)];
  const values = judged.flatMap((one) => drawn(one, decision).value ?? []);
  const cropped = WITHOUT_ZERO.has(unit);
  const negative = Math.min(...values, 0) < 0 || judged.some(({ limit }) => limit.min?.isNegative());
  const [from, to] = cropped ? [least, greatest] : [Math.min(0, least), Math.max(0, greatest)];
  const air = (to - from || 1) * 0.14;
  return { low: cropped || negative ? from - air : 0, high: to + air };
}

/** Whether a scale leaves out the zero, which has to be said. */
export const isCropped = ({ low, high }: Scale): boolean => low > 0 || high < 0;

interface Placed extends Drawn {
  /** Share of the width, in percent, of a number; held within the strip. */
  readonly at: (value: number) => number;
}

const placed = (one: Drawn, { low, high }: Scale): Placed => ({
  ...one,
  at: (value) => Math.min(100, Math.max(0, (100 * (value - low)) / (high - low))),
});

const percent = (share: number): string => `${Number(share.toFixed(2))}%`;

/** Share of the width of a telephone that a letter takes, in percent: of 14 pixels, and of the 17 of a value. */
const [LETTER, LARGE_LETTER] = [2.5, 3.1];

/** Where a text stands, in shares of the width. */
interface Span {
  readonly anchor: 'start' | 'middle' | 'end';
  readonly x: number;
  readonly from: number;
  readonly to: number;
}

/** A text near a share of the width: it begins there, ends there or is centred there, and never leaves the strip. */
function spanOf(share: number, text: string, letter = LETTER): Span {
  const wide = Math.min(100, text.length * letter);
  if (share < 38) {
    const x = Math.min(share, 100 - wide);
    return { anchor: 'start', x, from: x, to: x + wide };
  }
  if (share > 62) {
    const x = Math.max(share, wide);
    return { anchor: 'end', x, from: x - wide, to: x };
  }
  const x = Math.min(100 - wide / 2, Math.max(wide / 2, share));
  return { anchor: 'middle', x, from: x - wide / 2, to: x + wide / 2 };
}

const written = ({ anchor, x }: Span, y: number, text: string, more = ''): string =>
  `<text x="${percent(x)}" y="${y}" text-anchor="${anchor}" fill="${INK}"${more}>${ofText(text)}</text>`;

const label = (share: number, y: number, text: string): string => written(spanOf(share, text), y, text);

/** Marks by outcome: their shape says it without colour. */
function mark({ outcome, value, at }: Placed, y: number): string {
  if (value === null) return '';
  const shape = {
    met: `<circle r="6" fill="${ACCENT}" stroke="${PAPER}" stroke-width="1.5"/>`,
    missed: `<path d="M-7,-7L7,7M-7,7L7,-7" fill="none" stroke="${PAPER}" stroke-width="7"/><path d="M-7,-7L7,7M-7,7L7,-7" fill="none" stroke="${INK}" stroke-width="3.5"/>`,
    open: `<path d="M0,-8L8,0L0,8L-8,0Z" fill="${PAPER}" stroke="${INK}" stroke-width="2"/>`,
  }[outcome];
  return `<svg x="${percent(at(value))}" y="${y}" overflow="visible" width="1" height="1">${shape}</svg>`;
}

/** The band that was agreed, the uncertainty and the mark, between two heights. */
function bar(one: Placed, top: number, height: number): string[] {
  const { value, U, bound, min, max, guard, at } = one;
  const [from, to] = [min === null ? 0 : at(min), max === null ? 100 : at(max)];
  const [middle, bottom] = [top + height / 2, top + height];
  const upright = (share: number, more: string, reach = 0): string =>
    `<line x1="${percent(share)}" x2="${percent(share)}" y1="${top - reach}" y2="${bottom + reach}" stroke="${INK}" ${more}/>`;
  const across = (a: number, b: number, more: string): string =>
    `<line x1="${percent(a)}" x2="${percent(b)}" y1="${middle}" y2="${middle}" stroke="${ACCENT}" ${more}/>`;
  const edges = [min, max].flatMap((edge) => edge ?? []);
  return [
    `<rect x="0%" width="100%" y="${top}" height="${height}" fill="none" stroke="${LINE}"/>`,
    `<rect x="${percent(from)}" width="${percent(Math.max(0, to - from))}" y="${top}" height="${height}" fill="${BAND}"/>`,
    ...(guard > 0
      ? edges.flatMap((edge) =>
          [edge - guard, edge + guard].map((side) => upright(at(side), 'stroke-dasharray="3 3"')),
        )
      : []),
    ...edges.map((edge) => upright(at(edge), 'stroke-width="2.5"', 3)),
    ...(value !== null && bound === 'at_least'
      ? [across(at(value), 100, 'stroke-width="2.5" stroke-dasharray="2 4"')]
      : []),
    ...(value !== null && bound === 'at_most'
      ? [across(0, at(value), 'stroke-width="2.5" stroke-dasharray="2 4"')]
      : []),
    ...(value !== null && U > 0
      ? [
          across(at(value - U), at(value + U), 'stroke-width="2.5"'),
          ...[value - U, value + U].map(
            (end) =>
              `<line x1="${percent(at(end))}" x2="${percent(at(end))}" y1="${middle - 6}" y2="${middle + 6}" stroke="${ACCENT}" stroke-width="2"/>`,
          ),
        ]
      : []),
    mark(one, middle),
  ];
}

/** Lines that only frame. */
const LINE = 'var(--line, #c9cdc8)';

interface Described {
  readonly id: string;
  readonly title: string;
  readonly alternative: string;
}

const framed = ({ id, title, alternative }: Described, height: number, inside: string): string =>
  `<svg class="large" role="img" aria-labelledby="${id}-title" aria-describedby="${id}-text" width="100%" height="${height}" font-size="14" fill="currentColor"><title id="${id}-title">${ofText(title)}</title><desc id="${id}-text">${ofText(alternative)}</desc>${inside}</svg>`;

/** A strip in a row of limits: its numbers stand beside it, so that it is told twice to no one. */
export const smallStrip = (judged: Judged, decision: Decision, scale: Scale): string =>
  `<svg class="small" aria-hidden="true" width="100%" height="24" fill="currentColor">${bar(placed(drawn(judged, decision), scale), 3, 18).join('')}</svg>`;

/** A word in the band takes so much of the width of a telephone. */
const ROOM = 24;

/** What a large strip says beside its drawing. */
interface Labels {
  readonly value: string;
  /** Each limit, and where it stands. */
  readonly edges: readonly (readonly [edge: number, said: string])[];
  /** Both limits in one, where they are too close for two labels. */
  readonly both: string;
  /** The word in the band. */
  readonly band: string;
  /** An end of the strip. */
  readonly end: (at: number) => string | null;
}

/** The strip of the first screen, with everything in it labelled. */
export function largeStrip(judged: Judged, decision: Decision, described: Described): string {
  const { derived, limit } = judged;
  const { unit } = derived;
  const { min, max } = drawn(judged, decision);
  const agreed = agreedText(judged);
  const edge = (at: number | null, word: string): (readonly [number, string])[] =>
    at === null ? [] : [[at, `${word} ${amount(tick(at), limit.currency ?? unit)}`]];
  const two = min !== null && max !== null;
  const one = min ?? max;
  return large(drawn(judged, decision), scaleOf([judged], decision), described, {
    value: judgedValue(judged) ?? 'no value yet',
    edges: two
      ? [...edge(min, 'at least'), ...edge(max, 'at most')]
      : one === null
        ? []
        : [[one, `agreed: ${agreed}`]],
    both: `agreed: ${agreed}`,
    band: 'agreed',
    end: (at) => (unit === SEVERITY ? null : amount(tick(Number(at.toPrecision(2))), unit)),
  });
}

/** The strip of a claim: what the lower bound of the mean reaches, against what is to be claimed. */
export function claimStrip(bound: number, claim: number, outcome: Outcome, described: Described): string {
  const pages = (at: number): string => amount(tick(Math.round(at)), 'page');
  const one: Drawn = { outcome, value: bound, U: 0, bound: 'at_least', min: claim, max: null, guard: 0 };
  return large(one, { low: 0, high: Math.max(bound, claim) * 1.14 }, described, {
    value: `lower bound: ${pages(bound)}`,
    edges: [[claim, `to be claimed: ${pages(claim)}`]],
    both: '',
    band: 'supports it',
    end: pages,
  });
}

function large(drawing: Drawn, scale: Scale, described: Described, labels: Labels): string {
  const one = placed(drawing, scale);
  const { value, at, min, max } = one;
  const [first, second] = labels.edges.map(([edge, said]) => spanOf(at(edge), said));
  const close = first !== undefined && second !== undefined && second.from - first.to < 2;
  const middle = labels.edges.reduce((sum, [edge]) => sum + at(edge), 0) / labels.edges.length;
  const limits = close
    ? [label(middle, 102, labels.both)]
    : labels.edges.map(([edge, said]) => label(at(edge), 102, said));
  // Below the limits, where no label is: the zero, or what the strip spans where it has none.
  const ends = [scale.low, scale.high].flatMap((end) => {
    const said = end !== 0 && !isCropped(scale) ? null : labels.end(end);
    return said === null ? [] : [label(at(end), 121, said)];
  });
  // The word stands in the band, at the end of it that is further from the value.
  const [from, to] = [min === null ? 0 : at(min), max === null ? 100 : at(max)];
  const where = value === null ? 0 : at(value);
  const [before, after] = [
    Math.min(to, value === null ? to : at(value - one.U)) - from,
    to - Math.max(from, value === null ? from : at(value + one.U)),
  ];
  const left = before >= after;
  const band =
    Math.max(before, after) < ROOM
      ? ''
      : `<text x="${percent(left ? from : to)}" dx="${left ? 10 : -10}" y="65" text-anchor="${left ? 'start' : 'end'}" fill="${INK}">${ofText(labels.band)}</text>`;
  return framed(
    described,
    126,
    [
      ...bar(one, 40, 40),
      band,
      value === null
        ? label(50, 24, labels.value)
        : `${written(spanOf(where, labels.value, LARGE_LETTER), 20, labels.value, ' font-size="17" font-weight="650"')}<line x1="${percent(where)}" x2="${percent(where)}" y1="27" y2="47" stroke="${INK}"/>`,
      ...limits,
      ...ends,
    ].join(''),
  );
}
