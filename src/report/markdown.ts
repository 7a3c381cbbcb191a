import type { Letterhead } from './letterhead.ts';
import { harmless } from '../output/harmless.ts';
import {
  type Block,
  type Cell,
  lettered,
  type LimitRow,
  type Report,
  type Section,
  type Table,
} from './content.ts';

/**
 * A report as Markdown (CommonMark, with the tables of GitHub's dialect). Pictures are told in words and
 * photos by name; no text of a file becomes mark-up, HTML, a link or an image.
 */
export function markdown({ title, letterhead, headline, sections, tool }: Report): string {
  const { word, said, more, strip, facts, caveats, covers } = headline;
  const lines = [
    ...letterheadLines(letterhead),
    `# ${plain(title)}`,
    `## ${plain(`${word} ${said}`.trim())}`,
    ...more.map(plain),
    ...(strip === null ? [] : [plain(strip.alternative)]),
    ...(caveats.length === 0
      ? []
      : ['**Know this before relying on it**', caveats.map((caveat) => `- ${plain(caveat)}`).join('\n')]),
    facts.map((fact) => `- **${plain(fact.word)}:** ${plain(fact.said)} (${plain(fact.beside)})`).join('\n'),
    plain(covers),
    ...lettered(sections.filter(({ blocks }) => blocks.length > 0)).flatMap(sectionLines),
    'End of the report. It concerns only what was tried, and is not to be copied in part without the consent of who sent it.',
    `Made by ${plain(tool)}.`,
  ];
  return `${lines.join('\n\n')}\n`;
}

function letterheadLines(letterhead: Letterhead | null): string[] {
  if (letterhead === null) return [];
  const { name, address, customer, facts } = letterhead;
  const told = (parts: readonly string[]): string[] =>
    parts.length === 0 ? [] : [parts.map(plain).join(', ')];
  return [
    ...told([name, ...address].filter((one) => one !== '')),
    ...(customer.length === 0 ? [] : [`For ${customer.map(plain).join(', ')}`]),
    ...(facts.length === 0
      ? []
      : [facts.map(([word, said]) => `- **${plain(word)}:** ${plain(said)}`).join('\n')]),
  ];
}

/**
 * Text as text: whatever could begin mark-up is escaped, and an address loses what makes it a link, for
 * which there is no escape.
 */
export const plain = (text: string): string =>
  harmless(text)
    .replace(/[ \t\r\n]+/g, ' ')
    .trim()
    .replace(/[\\`*_{}[\]<>#|~&$!]/g, '\\$&')
    .replace(/:(?=\/)|(?<=\b(?:mailto|xmpp)):/gi, '\\:')
    .replace(/www\./gi, (www) => `${www.slice(0, 3)}\\.`)
    .replace(/@/g, '@\u2060')
    .replace(/^(\d+)([.)])(?=\s|$)/, '$1\\$2')
    .replace(/^[-+](?=[-+\s]|$)|^=/, '\\$&');

const sectionLines = ({ title, blocks }: Section): string[] => [
  `## ${plain(title)}`,
  ...blocks.flatMap(blockLines),
];

function blockLines(block: Block): string[] {
  switch (block.kind) {
    case 'paragraph':
      return [plain(block.text)];
    case 'heading':
      return [`### ${plain(block.text)}`];
    case 'list':
      return [block.items.map((item) => `- ${plain(item)}`).join('\n')];
    case 'facts':
      return [block.pairs.flatMap(factLines).join('\n')];
    case 'table':
      return [`**${plain(block.caption)}**`, tableLines(block)];
    case 'limits':
      return [
        tableLines({
          heads: ['outcome', 'figure', 'value', 'agreed', 'margin'].map((text) => ({ text })),
          rows: block.rows.map(limitCells),
        }),
        ...block.rows.flatMap(({ name, notes }) => notes.map((note) => `${plain(name)}: ${plain(note)}`)),
      ];
    case 'formulas':
      return block.formulas.map(({ name, words, symbols, worked, source }) =>
        [
          `- **${plain(name)}** ${plain(words)}`,
          ...[symbols, ...worked].map((line) => `  - ${plain(line)}`),
          `  - Source: ${plain(source)}`,
        ].join('\n'),
      );
    case 'picture':
      return [`**${plain(block.title)}** ${plain(block.alternative)}`];
    case 'photo':
      return [`Photo ${plain(block.image.name)}: ${plain(block.caption)}`];
    case 'signatures':
      return [
        plain(block.of),
        ...(block.authorisedBy === null ? [] : [plain(`Authorised by ${block.authorisedBy}.`)]),
        ...block.roles.map(
          (role) => `${plain(role)}: name, date, signature \\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_`,
        ),
      ];
  }
}

function factLines([word, said]: readonly [string, readonly string[]]): string[] {
  const [only] = said;
  if (said.length === 1 && only !== undefined) return [`- **${plain(word)}:** ${plain(only)}`];
  return [`- **${plain(word)}:**`, ...said.map((one) => `  - ${plain(one)}`)];
}

const cellText = (cell: Cell): string =>
  typeof cell === 'string' ? cell : 'severity' in cell ? cell.severity : cell.text;

const limitCells = ({ outcome, name, value, agreed, margin, effect }: LimitRow): string[] => [
  outcome,
  effect === '' ? name : `${name} (${effect})`,
  value,
  agreed,
  margin,
];

function tableLines({ heads, rows }: Pick<Table, 'heads' | 'rows'>): string {
  const row = (cells: readonly Cell[]): string =>
    `| ${cells.map((cell) => plain(cellText(cell))).join(' | ')} |`;
  return [
    row(heads.map(({ text }) => text)),
    `| ${heads.map(({ numeric }) => (numeric ? '---:' : '---')).join(' | ')} |`,
    ...rows.map(row),
  ].join('\n');
}
