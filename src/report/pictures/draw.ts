import { type Markish, plot, type PlotOptions } from '@observablehq/plot';
import { parseHTML } from 'linkedom';
import { cut, width } from '../../output/columns.ts';
import type { Picture } from '../content.ts';
import { type DomNode, svgOf } from './svg.ts';

/** What a picture is drawn from. */
export interface Drawing {
  readonly title: string;
  readonly alternative: string;
  readonly key: string;
  readonly options: PlotOptions & { readonly height: number };
  readonly marks: readonly Markish[];
}

/** Pixels: as wide as the text of a printed page. */
export const WIDTH = 640;

/** A picture, drawn when its SVG is asked for. */
export function picture({ title, alternative, key, options, marks }: Drawing): Picture {
  return {
    kind: 'picture',
    title: capital(title),
    alternative,
    key,
    svg: (id) => {
      const { document } = parseHTML('<!doctype html><html><body></body></html>') as { document: unknown };
      // The library would make a class of the options; this one is the same for all, and not written out.
      const whole = { ...options, width: WIDTH, className: 'picture', document, marks: [...marks] };
      const drawing: unknown = plot(whole);
      const { height } = options;
      return svgOf(drawing as DomNode, { id, title, alternative, width: WIDTH, height });
    },
  };
}

/** Colours, as the page's style sheet has them for light and for dark; without it the light ones stand. */
export const INK = 'currentColor';
export const QUIET = 'var(--quiet, #555e64)';
export const BAND = 'var(--band, #dfe7e0)';
export const PAPER = 'var(--paper, #fffefb)';
export const ACCENT = 'var(--accent, #1b5a6e)';

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A number on an axis: plain digits, no marks between thousands. */
export const tick = (value: number): string => String(Number(value.toPrecision(12)));

/** Longer names are cut; the table beside a picture has them whole. */
const LONGEST = 24;

/** Rows of a picture, each with a name before it. Names may be alike; a row is known by its place. */
export function rowsOf(names: readonly string[]) {
  const shown = names.map((name) => cut(name, LONGEST));
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

/** A domain around values, with a little air; never empty. */
export function around(values: readonly number[], air = 0.08): [number, number] {
  const [least, greatest] = [Math.min(...values), Math.max(...values)];
  const span = greatest - least || Math.abs(greatest) || 1;
  return [least - span * air, greatest + span * air];
}
