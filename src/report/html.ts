import { cut } from '../output/columns.ts';
import { harmless } from '../output/harmless.ts';
import {
  type Block,
  type Cell,
  type Formulas,
  type Head,
  lettered,
  type LimitRow,
  type Limits,
  type Photo,
  type Picture,
  type Report,
  type Section,
  type Table,
} from './content.ts';
import { escaped, told } from './escape.ts';
import type { Letterhead } from './letterhead.ts';
import { withOwnTexts } from './own-texts.ts';
import { PAGE_STYLE } from './page-style.ts';

/**
 * A report as one HTML page that needs nothing beside it: no script, no request, its pictures and photos
 * inside.
 *
 * @param sha256 SHA-256 of a text's UTF-8 bytes, in hexadecimal: the policy lets the page's own style in by it
 */
export function html(asMade: Report, sha256: (text: string) => string): string {
  const report = withOwnTexts(asMade);
  const sections = lettered(report.sections.filter(({ blocks }) => blocks.length > 0));
  const style = `${PAGE_STYLE}${runningHead(asMade)}`;
  const policy = `default-src 'none'; img-src data:; style-src 'sha256-${base64OfHex(sha256(style))}'; base-uri 'none'; form-action 'none'`;
  let pictures = 0;
  const nextId = (): string => `picture-${++pictures}`;
  return [
    '<!DOCTYPE html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="referrer" content="no-referrer">',
    `<title>${escaped(cut(titleOf(asMade), 70))}</title>`,
    `<style>${style}</style>`,
    '</head>',
    '<body>',
    '<header>',
    ...letterheadHtml(report.letterhead),
    `<p class="kind">${told(report.kind)}</p>`,
    `<h1>${told(report.title)}</h1>`,
    headline(report, nextId()),
    '<nav aria-label="Contents">',
    '<ul>',
    ...sections.map(({ title }, index) => `<li><a href="#part-${index + 1}">${told(title)}</a></li>`),
    '</ul>',
    '</nav>',
    '</header>',
    '<main>',
    ...sections.map((section, index) => sectionHtml(section, index + 1, nextId)),
    '</main>',
    '<footer>',
    '<p class="end">End of the report</p>',
    ...(report.data === undefined
      ? []
      : [
          `<p><a href="data:application/json;base64,${base64(report.data.json)}" download="${escaped(report.data.name)}">The verdict as data (JSON)</a></p>`,
        ]),
    `<p>This report concerns only what was tried, and is not to be copied in part without the consent of who sent it. Made by ${escaped(report.tool)} from the files named above. Nothing was taken from elsewhere, and the page asks for nothing.</p>`,
    '</footer>',
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

/** What a browser prints at the head of a page of its own accord: the number and the title. */
const titleOf = ({ id, title }: Report): string => [id, title].filter((part) => part !== null).join(', ');

/** The bytes of a text in base64. */
const base64 = (text: string): string =>
  btoa(Array.from(new TextEncoder().encode(text), (byte) => String.fromCharCode(byte)).join(''));

/** What stands on every printed page: what it is a report of, and its number. */
const runningHead = ({ title, id }: Report): string =>
  `@page { @top-left { content: ${quoted(cut(title, 70))}; } @top-right { content: ${quoted(id ?? '')}; } }\n`;

/** Any text as a string of CSS: what is no letter, digit or blank is written by its number and a blank (CSS Syntax, 4.3.7). */
const quoted = (text: string): string =>
  `"${harmless(text).replace(/[^A-Za-z0-9 ]/gu, (char) => `\\${(char.codePointAt(0) ?? 0).toString(16).padStart(6, '0')} `)}"`;

const base64OfHex = (hex: string): string =>
  btoa(String.fromCharCode(...(hex.match(/../g) ?? []).map((pair) => Number.parseInt(pair, 16))));

const SIGNS = { met: '●', missed: '✕', open: '◇' } as const;
const SEVERITY_SIGNS = { none: '○', minor: '△', major: '▲', critical: '■' } as const;
const VERDICT_SIGNS = { pass: '●', fail: '✕', inconclusive: '◇' } as const;

/** The sender's own head of the page. */
function letterheadHtml(letterhead: Letterhead | null): string[] {
  if (letterhead === null) return [];
  const { name, address, logo, customer, facts } = letterhead;
  const line = (text: string): string => `<span class="line">${told(text)}</span>`;
  return [
    '<div class="letterhead">',
    ...(logo === null
      ? []
      : [
          `<img src="data:${logo.type};base64,${logo.base64}" width="${logo.width}" height="${logo.height}" alt="Logo: ${escaped(name)}">`,
        ]),
    ...(name === ''
      ? []
      : [`<p class="sender"><strong>${told(name)}</strong> ${address.map(line).join(' ')}</p>`]),
    ...(customer.length === 0 ? [] : [`<p class="customer">For ${customer.map(line).join(' ')}</p>`]),
    ...(facts.length === 0
      ? []
      : [
          '<dl>',
          ...facts.map(([word, said]) => `<div><dt>${told(word)}</dt><dd>${told(said)}</dd></div>`),
          '</dl>',
        ]),
    '</div>',
  ];
}

/** The first screen: the answer as a heading, its strip, the facts, the caveats. */
function headline({ headline: first }: Report, id: string): string {
  const { verdict, word, said, more, strip, facts, caveats, covers } = first;
  const sign =
    verdict === null ? '' : `<span class="sign" aria-hidden="true">${VERDICT_SIGNS[verdict]}</span> `;
  return [
    `<section class="first ${verdict ?? 'none'}" aria-labelledby="answer">`,
    `<h2 class="answer" id="answer">${sign}<strong>${told(word)}</strong> ${told(said)}</h2>`,
    ...more.map((sentence) => `<p>${told(sentence)}</p>`),
    ...(strip === null
      ? []
      : [
          `<figure class="strip">`,
          `<figcaption>${told(strip.title)}</figcaption>`,
          strip.svg(id),
          '</figure>',
        ]),
    ...(caveats.length === 0
      ? []
      : [
          '<h3 class="know">Know this before relying on it</h3>',
          '<ul class="caveats">',
          ...caveats.map(
            (caveat) => `<li><span class="sign" aria-hidden="true">▲</span> ${told(caveat)}</li>`,
          ),
          '</ul>',
        ]),
    '<dl class="four">',
    ...facts.map(
      (fact) =>
        `<div><dt>${told(fact.word)}</dt><dd class="said">${told(fact.said)}</dd><dd>${told(fact.beside)}</dd></div>`,
    ),
    '</dl>',
    `<p class="covers">${told(covers)}</p>`,
    '</section>',
  ].join('\n');
}

function sectionHtml({ title, blocks }: Section, nth: number, nextId: () => string): string {
  const parts: string[] = [];
  // A heading is held together with what must stand whole behind it: not every browser minds `break-after`.
  let headings = [`<h2 id="part-${nth}">${told(title)}</h2>`];
  for (let at = 0; at < blocks.length; at++) {
    const photos: Photo[] = [];
    for (let block = blocks[at]; block?.kind === 'photo'; block = blocks[++at]) photos.push(block);
    if (photos.length > 0) {
      parts.push(...headings, `<div class="photos">\n${photos.map(photoHtml).join('\n')}\n</div>`);
      headings = [];
    }
    const block = blocks[at];
    if (block === undefined) break;
    const written = blockHtml(block, nextId);
    if (block.kind === 'heading') headings.push(written);
    else {
      parts.push(
        ...(headings.length > 0 && standsWhole(block)
          ? ['<div class="together">', ...headings, written, '</div>']
          : [...headings, written]),
      );
      headings = [];
    }
  }
  return `<section>\n${[...parts, ...headings].join('\n')}\n</section>`;
}

/** Whether a block is never parted between two pages. */
const standsWhole = (block: Block): boolean =>
  block.kind === 'picture' || block.kind === 'signatures' || (block.kind === 'table' && !isLong(block.rows));

function blockHtml(block: Block, nextId: () => string): string {
  switch (block.kind) {
    case 'paragraph':
      return `<p>${told(block.text)}</p>`;
    case 'heading':
      return `<h3>${told(block.text)}</h3>`;
    case 'list':
      return `<ul>\n${block.items.map((item) => `<li>${told(item)}</li>`).join('\n')}\n</ul>`;
    case 'facts':
      return `<dl class="facts">\n${block.pairs.map(factHtml).join('\n')}\n</dl>`;
    case 'table':
      return tableHtml(block);
    case 'limits':
      return limitsHtml(block);
    case 'formulas':
      return formulasHtml(block);
    case 'picture':
      return pictureHtml(block, nextId());
    case 'photo':
      return photoHtml(block);
    case 'signatures':
      return `<p>${told(block.of)}</p>\n${block.authorisedBy === null ? '' : `<p>Authorised by ${told(block.authorisedBy)}.</p>\n`}<ul class="signatures">\n${block.roles
        .map(
          (role) =>
            `<li><span class="rule">${told(role)} <span class="what">name, date, signature</span></span></li>`,
        )
        .join('\n')}\n</ul>`;
  }
}

/**
 * Limits as a list of rows, which fits every width. What is folded stands behind its `details`, not in it: so it is
 * open on paper in every browser, and without style too.
 */
const limitsHtml = ({ rows, folded }: Limits): string =>
  [
    ...(folded === null
      ? []
      : [`<details class="fold"><summary>${told(folded)}</summary></details>`, '<div class="folded">']),
    '<ol class="limits">',
    ...rows.map(limitHtml),
    '</ol>',
    ...(folded === null ? [] : ['</div>']),
  ].join('\n');

function limitHtml({ outcome, name, value, agreed, margin, effect, notes, strip, scale }: LimitRow): string {
  const part = (kind: string, text: string): string =>
    text === '' ? '' : `<span class="${kind}">${told(text)}</span> `;
  return [
    `<li class="${outcome}">`,
    `<span class="outcome"><span class="sign" aria-hidden="true">${SIGNS[outcome]}</span> ${outcome}</span> `,
    `<span class="name">${told(name)} ${part('effect', effect === '' ? '' : `(${effect})`)}</span> `,
    part('value', value),
    `<span class="agreed">${told(agreed)}</span> `,
    part('margin', margin),
    `<div class="bar">${strip}${part('scale', scale)}</div>`,
    ...notes.map((note) => `<p class="note">${told(note)}</p>`),
    '</li>',
  ].join('');
}

const factHtml = ([word, said]: readonly [string, readonly string[]]): string =>
  `<div><dt>${told(word)}</dt>${said.map((one) => `<dd>${told(one)}</dd>`).join('')}</div>`;

/** Tables of more rows may go over the end of a page; their heads are repeated. */
const LONG = 24;
/** And so may tables of more letters. */
const LETTERS = 3000;
/** Of more columns the values may take two lines. */
const MANY = 6;
/** Fewer columns fit on a telephone. */
const FEW = 3;

const isLong = (rows: readonly (readonly Cell[])[]): boolean =>
  rows.length > LONG ||
  rows.flat().reduce((sum, cell) => sum + (typeof cell === 'string' ? cell.length : 0), 0) > LETTERS;

function sizeOf(columns: number, rows: readonly (readonly Cell[])[]): string {
  const classes = [
    ...(isLong(rows) ? ['long'] : []),
    ...(columns > MANY ? ['many'] : columns > FEW ? ['some'] : []),
  ];
  return classes.length > 0 ? ` class="${classes.join(' ')}"` : '';
}

/** A wide table is read row by row on a telephone, each cell with its heading before it: no value is out of sight. */
function tableHtml({ caption, heads, rows }: Table): string {
  const name = told(caption);
  const wide = heads.length > FEW;
  const head = heads.map((one) => `<th scope="col"${classOf(one)}>${breakable(one.text)}</th>`).join('');
  const body = rows
    .map((row) => `<tr>${row.map((cell, index) => cellHtml(cell, heads[index], index, wide)).join('')}</tr>`)
    .join('\n');
  return [
    `<div class="${wide ? 'wide' : 'narrow'}">`,
    `<table${sizeOf(heads.length, rows)}>`,
    `<caption>${name}</caption>`,
    `<thead><tr>${head}</tr></thead>`,
    `<tbody>\n${body}\n</tbody>`,
    '</table>',
    '</div>',
  ].join('\n');
}

/** Longer words would make a table wider than the page; they may be broken. */
const LONG_WORD = /\S{24}(?=\S)/gu;

const breakable = (text: string): string =>
  text
    .replace(LONG_WORD, (piece) => `${piece}\n`)
    .split('\n')
    .map(told)
    .join('<wbr>');

const classOf = (head: Head | undefined): string =>
  head?.numeric ? ' class="number"' : head?.code ? ' class="code"' : head?.whole ? ' class="keep"' : '';

function cellHtml(cell: Cell, head: Head | undefined, index: number, labelled: boolean): string {
  const label = labelled && head !== undefined ? ` data-head="${escaped(head.text)}"` : '';
  if (typeof cell !== 'string' && 'link' in cell) {
    const link = `<a href="${escaped(addressOf(cell.link))}">${told(cell.text)}</a>`;
    return index === 0 ? `<th scope="row">${link}</th>` : `<td${label}>${link}</td>`;
  }
  if (typeof cell !== 'string') {
    if ('severity' in cell)
      return `<td class="severity"${label}><span class="sign" aria-hidden="true">${SEVERITY_SIGNS[cell.severity]}</span> ${cell.severity}</td>`;
    const colour = `<svg class="swatch" aria-hidden="true" width="28" height="18"><rect width="28" height="18" fill="${escaped(cell.swatch)}"/></svg>`;
    return `<td${label}>${colour} ${told(cell.text)}</td>`;
  }
  const text = breakable(cell);
  return index === 0
    ? `<th scope="row"${classOf(head)}>${text}</th>`
    : `<td${classOf(head)}${label}>${text}</td>`;
}

/** A file beside the page as an address: it never begins like one that leads elsewhere. */
const addressOf = (file: string): string => `./${file.split('/').map(encodeURIComponent).join('/')}`;

const formulasHtml = ({ formulas }: Formulas): string =>
  ['<div class="formulas">', ...formulas.map(formulaHtml), '</div>'].join('\n');

const formulaHtml = ({ name, words, symbols, worked, source }: Formulas['formulas'][number]): string =>
  [
    '<dl class="formula">',
    `<dt>${told(name)}</dt>`,
    `<dd>${told(words)}</dd>`,
    `<dd class="math">${told(symbols)}</dd>`,
    ...worked.map((line) => `<dd class="math">${told(line)}</dd>`),
    `<dd class="source">Source: ${told(source)}</dd>`,
    '</dl>',
  ].join('\n');

/** A picture in both its widths, of which the style shows one; without style the narrow one stays hidden. */
const pictureHtml = ({ title, key, svg, slim }: Picture, id: string): string =>
  [
    '<figure class="picture">',
    `<figcaption><strong>${told(title)}</strong>${key === '' ? '' : ` <span class="key">${told(key)}</span>`}</figcaption>`,
    ...(slim === undefined
      ? [svg(id)]
      : [`<div class="full">${svg(id)}</div>`, `<div class="slim" hidden>${slim(`${id}-slim`)}</div>`]),
    '</figure>',
  ].join('\n');

const photoHtml = ({ caption, image }: Photo): string =>
  [
    '<figure>',
    `<img src="data:${image.type};base64,${image.base64}" width="${image.width}" height="${image.height}" alt="Photo: ${escaped(caption)}">`,
    `<figcaption>${told(caption)}</figcaption>`,
    '</figure>',
  ].join('\n');
