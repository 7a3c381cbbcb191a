import { DOMParser } from 'linkedom';
import { escaped } from './escape.ts';
import type { DomNode } from './pictures/svg.ts';

/**
 * A logo drawn as SVG, made harmless: it is read, and only shapes, text and gradients that are known here are written
 * again. Scripts, styles, links, embedded pictures and addresses are left out. The page shows it as a picture, in which
 * no browser runs or fetches anything either.
 */

const ELEMENTS: ReadonlySet<string> = new Set(
  'svg g path line circle ellipse rect polygon polyline text tspan defs linearGradient radialGradient stop clipPath'.split(
    ' ',
  ),
);
const ATTRIBUTES: ReadonlySet<string> = new Set(
  (
    'viewBox preserveAspectRatio id d points x y x1 y1 x2 y2 cx cy r rx ry fx fy dx dy width height transform offset ' +
    'gradientUnits gradientTransform spreadMethod clipPathUnits clip-path clip-rule fill fill-rule fill-opacity opacity ' +
    'stroke stroke-width stroke-opacity stroke-linecap stroke-linejoin stroke-miterlimit stroke-dasharray stop-color ' +
    'stop-opacity font-family font-size font-weight font-style text-anchor letter-spacing'
  ).split(' '),
);

/** A reference to something in the picture itself; every other one leads out of it. */
const INSIDE = /^url\(\s*#[\w-]+\s*\)$/;
const REFERS = /url\s*\(|javascript:|data:|https?:|\\/i;

/** Deeper than any logo is drawn. */
const DEEPEST = 60;
const [ELEMENT, TEXT] = [1, 3];

function written(node: DomNode, depth: number): string {
  if (node.nodeType === TEXT) return escaped(node.nodeValue ?? '');
  const name = node.localName ?? '';
  if (node.nodeType !== ELEMENT || !ELEMENTS.has(name) || depth > DEEPEST) return '';
  const attributes = [...(node.attributes ?? [])]
    .filter(({ name: attribute, value }) => isHarmless(attribute, value))
    .map(({ name: attribute, value }) => ` ${attribute}="${escaped(value)}"`)
    .join('');
  const inside = [...node.childNodes].map((child) => written(child, depth + 1)).join('');
  const space = name === 'svg' && depth === 0 ? ' xmlns="http://www.w3.org/2000/svg"' : '';
  return `<${name}${space}${attributes}>${inside}</${name}>`;
}

const isHarmless = (attribute: string, value: string): boolean =>
  ATTRIBUTES.has(attribute) && (INSIDE.test(value.trim()) || !REFERS.test(value));

export interface DrawnLogo {
  readonly svg: string;
  /** Pixels, or the picture's own units: their ratio counts. */
  readonly width: number;
  readonly height: number;
}

/** The picture, written anew; null where the text is no SVG, or does not say how wide and high it is. */
export function harmlessSvg(text: string): DrawnLogo | null {
  if (!/<svg[\s>]/.test(text)) return null;
  const { documentElement: root } = new DOMParser().parseFromString(text, 'image/svg+xml') as unknown as {
    documentElement: (DomNode & { getAttribute(name: string): string | null }) | null;
  };
  if (root?.localName !== 'svg') return null;
  const box = (root.getAttribute('viewBox') ?? '')
    .trim()
    .split(/[\s,]+/)
    .map(Number);
  const length = (name: 'width' | 'height', index: 2 | 3): number => {
    const said = /^\s*(\d+(?:\.\d+)?)\s*(?:px|mm|pt|cm|in)?\s*$/.exec(root.getAttribute(name) ?? '')?.[1];
    return box.length === 4 && Number.isFinite(box[index]) ? (box[index] ?? 0) : Number(said ?? 0);
  };
  const [width, height] = [length('width', 2), length('height', 3)];
  return width > 0 && height > 0 ? { svg: written(root, 0), width, height } : null;
}
