import { type Markish, plot, type PlotOptions } from '@observablehq/plot';
import { parseHTML } from 'linkedom';
import { cut, width } from '../../output/columns.ts';
import type { Picture } from '../content.ts';
import { typeset } from '../typeset.ts';
import { type DomNode, svgOf } from './svg.ts';

/** What a picture is drawn from. */
export interface Drawing {
  readonly title: string;
  readonly alternative: string;
  readonly key: string;
  readonly options: PlotOptions & { readonly height: number };
  readonly marks: readonly Markish[];
  /** The same for a telephone, where fewer letters and numbers have room. */
  readonly slim: Pick<Drawing, 'options' | 'marks'>;
}

/** Pixels: as wide as the text of a printed page. */
export const WIDTH = 640;

/** Pixels: as wide as a telephone, so that letters keep their size on it. */
export const SLIM = 340;

/** A picture, drawn when its SVG is asked for. */
export function picture({ title, alternative, key, slim, ...wide }: Drawing): Picture {
  const drawn =
    ({ options, marks }: Drawing['slim'], width: number) =>
    (id: string): string => {
      const { document } = parseHTML('<!doctype html><html><body></body></html>') as { document: unknown };
      // The library would make a class of the options; this one is the same for all, and not written out.
      const whole = { ...options, width, className: 'picture', document, marks: [...marks] };
      const drawing: unknown = plot(whole);
      return svgOf(drawing as DomNode, { id, title, alternative, width, height: options.height });
    };
  return {
    kind: 'picture',
    title: capital(title),
    alternative,
    key,
    svg: drawn(wide, WIDTH),
    slim: drawn(slim, SLIM),
  };
}

/** A drawing for both widths, from what draws it for either. */
export const forBoth = (
  drawn: (slim: boolean) => Drawing['slim'],
): Pick<Drawing, 'options' | 'marks' | 'slim'> => ({
  ...drawn(false),
  slim: drawn(true),
});

/** Colours, as the page's style sheet has them for light and for dark; without it the light ones stand. */
export const INK = 'currentColor';
export const QUIET = 'var(--quiet, #555e64)';
export const BAND = 'var(--band, #dfe7e0)';
export const PAPER = 'var(--paper, #fffefb)';
export const ACCENT = 'var(--accent, #1b5a6e)';

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A number on an axis. */
export const tick = (value: number): string => typeset(String(Number(value.toPrecision(12))));

/** The name of an axis, in the middle below it. */
export const namedBelow = (label: string) => ({
  label,
  labelAnchor: 'center' as const,
  labelArrow: 'none' as const,
});

/** Longer names are cut; the table beside a picture has them whole. */
const [LONGEST, LONGEST_SLIM] = [24, 13];

/** Rows of a picture, each with a name before it. Names may be alike; a row is known by its place. */
export function rowsOf(names: readonly string[], slim = false) {
  const shown = names.map((name) => cut(name, slim ? LONGEST_SLIM : LONGEST));
  return {
    /** Space that the names take. */
    space: 24 + 6.6 * Math.max(0, ...shown.map(width)),
    axis: {
      type: 'band' as const,
      domain: names.map((_, index) => index),
      tickFormat: (index: number) => shown[index] ?? '',
      tickSize: 0,
      label: null,
    },
  };
}

/** A domain around values, with a little air; never empty, and not below zero where no value is. */
export function around(values: readonly number[], air = 0.08): [number, number] {
  const [least, greatest] = [Math.min(...values), Math.max(...values)];
  const span = greatest - least || Math.abs(greatest) || 1;
  const low = least - span * air;
  return [least >= 0 ? Math.max(0, low) : low, greatest + span * air];
}
