import { drawn, escaped } from '../escape.ts';

/** A node of a document, as far as it is read here. */
export interface DomNode {
  readonly nodeType: number;
  readonly localName?: string;
  readonly nodeValue: string | null;
  readonly attributes?: Iterable<{ readonly name: string; readonly value: string }>;
  readonly childNodes: Iterable<DomNode>;
}

const [ELEMENT, TEXT] = [1, 3];

/** What a picture is made of; anything else a library might add (styles, scripts, links) is left out. */
const ELEMENTS: ReadonlySet<string> = new Set(['g', 'path', 'line', 'circle', 'rect', 'text', 'tspan']);
const ATTRIBUTES: ReadonlySet<string> = new Set([
  ...['d', 'x', 'y', 'x1', 'x2', 'y1', 'y2', 'dx', 'dy', 'cx', 'cy', 'r', 'rx', 'width', 'height'],
  ...['transform', 'fill', 'fill-opacity', 'stroke', 'stroke-width', 'stroke-opacity', 'stroke-dasharray'],
  ...['stroke-linecap', 'stroke-linejoin', 'stroke-miterlimit', 'paint-order', 'opacity'],
  ...['text-anchor', 'font-size', 'font-weight', 'font-variant'],
]);

/** Coordinates of a hundredth of a pixel are as fine as anyone sees, and the same on every machine. */
const tidy = (value: string): string =>
  value.replace(/-?\d+\.\d{3,}(e-?\d+)?/g, (number) => String(Number(Number(number).toFixed(2)) || 0));

function written(node: DomNode): string {
  if (node.nodeType === TEXT) return drawn(node.nodeValue ?? '');
  const name = node.localName ?? '';
  if (node.nodeType !== ELEMENT || !ELEMENTS.has(name)) return '';
  const attributes = [...(node.attributes ?? [])]
    .filter((attribute) => ATTRIBUTES.has(attribute.name))
    .map((attribute) => ` ${attribute.name}="${escaped(tidy(attribute.value))}"`)
    .toSorted()
    .join('');
  const children = [...node.childNodes].map(written).join('');
  return children === '' ? `<${name}${attributes}/>` : `<${name}${attributes}>${children}</${name}>`;
}

interface Described {
  readonly id: string;
  readonly title: string;
  readonly alternative: string;
  readonly width: number;
  readonly height: number;
}

/** A drawing as SVG that stands in an HTML page: its own marks only, with a title and a text alternative. */
export function svgOf(drawing: DomNode, { id, title, alternative, width, height }: Described): string {
  const marks = [...drawing.childNodes].map(written).join('');
  return [
    `<svg role="img" aria-labelledby="${id}-title" aria-describedby="${id}-text" viewBox="0 0 ${width} ${height}"`,
    ` width="${width}" height="${height}" fill="currentColor" font-size="12" text-anchor="middle">`,
    `<title id="${id}-title">${drawn(title)}</title><desc id="${id}-text">${drawn(alternative)}</desc>`,
    `${marks}</svg>`,
  ].join('');
}
