import {
  isMap,
  isScalar,
  isSeq,
  type Node,
  type Pair,
  parseDocument,
  type YAMLMap,
  type YAMLSeq,
} from 'yaml';
import { scalar } from '../text/yaml-scalar.ts';
import { dotted, type Path } from '../uncertainty/path.ts';
import type { Change, Entry, Value } from './change.ts';

/**
 * A change made in the text of a trial. Where it goes is read from the document of a YAML library; every line that has
 * no part in it stays as it is, byte for byte. A value that is replaced stays as a comment at the end of its line.
 *
 * @returns null where the text has no place for it
 */
export function edited(text: string, change: Change): string | null {
  // The library does not know the line ends of old; with others in their place nothing moves.
  const document = parseDocument(text.replace(/\r(?!\n)/g, '\n'), {
    schema: 'failsafe',
    version: '1.2',
    keepSourceTokens: true,
    uniqueKeys: false,
    prettyErrors: false,
    logLevel: 'silent',
  });
  if (document.errors.length > 0) return null;
  const page = new Page(text, document.contents);
  const splices =
    change.kind === 'set'
      ? page.set(change.path, written(change.value, change.path.at(-1)))
      : page.add(change);
  return splices && spliced(text, splices);
}

/** A piece of the text that is replaced by another; both may be empty. */
interface Splice {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

function spliced(text: string, splices: readonly Splice[]): string {
  return splices
    .toSorted((a, b) => b.from - a.from)
    .reduce((rest, { from, to, text: put }) => rest.slice(0, from) + put + rest.slice(to), text);
}

const TIME = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}([.]\d+)?)?(Z|[+-]\d{2}:\d{2})?$/;

/** Keys that take true or false, which is no text there. */
const FLAGS: readonly unknown[] = ['other', 'shared_error'];

/** The value of a key as it is written, in braces or without. */
const written = (value: Value | null, key?: string | number): string => {
  if (value === null) return '';
  if (typeof value !== 'string') return `[${value.map((one) => written(one)).join(', ')}]`;
  const plain = TIME.test(value) || (FLAGS.includes(key) && /^(true|false)$/.test(value));
  return plain ? value : scalar(value);
};

const inBraces = (entry: Entry): string =>
  `{${entry.map(([key, value]) => `${key}: ${written(value, key)}`).join(', ')}}`;

/** What a trial's sections are put behind where they are not there yet: the order the work is done in. */
const ORDER: readonly string[] = [
  'trial',
  'lot',
  'target',
  'limits',
  'machine',
  'printing',
  'instruments',
  'coverage',
  'coverage_basis',
  'printable_border',
  'non_image_usage',
  'duplex_share',
  'duplex_basis',
  'paper',
  'cartridges',
  'waste_container',
  'meter',
  'batches',
  'ambient',
  'events',
  'prints',
  'inspection',
  'reference',
  'stated',
  'checked',
];

type Holder = YAMLMap<Node, Node | null>;
type Entered = Pair<Node, Node | null>;

const isNothing = (node: Node | null | undefined): boolean =>
  node == null ||
  (isScalar(node) &&
    (node.value === '' || /^(~|null|Null|NULL)$/.test(String(node.value))) &&
    node.type === 'PLAIN');

const rangeOf = (node: Node): readonly [start: number, end: number] => {
  const [start, end] = node.range ?? [0, 0];
  return [start, end];
};

const nameOf = ({ key }: Entered): string | null =>
  isScalar(key) ? String(key.value).trim().normalize('NFC') : null;

/** Where the colon behind a key stands; null where there is none. */
const colonOf = ({ srcToken }: Entered): number | null =>
  (srcToken?.sep ?? []).find(({ type }) => type === 'map-value-ind')?.offset ?? null;

/** A text with the nodes that were read from it. */
class Page {
  private readonly eol: string;

  constructor(
    private readonly text: string,
    private readonly root: Node | null,
  ) {
    this.eol = /\r\n|\n|\r/.exec(text)?.[0] ?? '\n';
  }

  /** A value under a key, in a map that is there or is made. */
  set(path: Path, value: string): readonly Splice[] | null {
    const key = path.at(-1);
    if (typeof key !== 'string') return this.setInList(path, value);
    const above = path.slice(0, -1);
    const holder = this.at(above);
    if (isMap(holder)) {
      const map = holder as Holder;
      const pair = this.pairIn(map, key);
      return pair === null ? this.addPair(map, key, value) : this.fill(pair, key, value, map.flow ?? false);
    }
    return holder === undefined || isNothing(holder) ? this.set(above, `{${key}: ${value}}`) : null;
  }

  /** A value of a list of values, in the place of the one that is there. */
  private setInList(path: Path, value: string): readonly Splice[] | null {
    const node = this.at(path);
    if (node == null || !isScalar(node) || isNothing(node)) return null;
    return this.replaced(node, dotted(path.slice(-2)), value);
  }

  /** A new entry at the end of a list that is there or is made. */
  add({ path, entry }: Extract<Change, { kind: 'add' }>): readonly Splice[] | null {
    const key = path.at(-1);
    const holder = this.at(path.slice(0, -1));
    const list = this.at(path);
    if (typeof key !== 'string') return null;
    if (holder === undefined || isNothing(holder)) return this.addBelow(path, entry);
    if (!isMap(holder)) return null;
    const map = holder as Holder;
    const pair = this.pairIn(map, key);
    if (isSeq(list)) return this.addTo(list as YAMLSeq<Node | null>, map, pair, entry);
    if (list !== undefined && !isNothing(list)) return null;
    if (map.flow) {
      const value = `[${inBraces(entry)}]`;
      return pair === null ? this.addPair(map, key, value) : this.fill(pair, key, value, true);
    }
    const indent = this.indentOf(map);
    const line = `${indent}  - ${inBraces(entry)}`;
    if (pair === null) return this.addPair(map, key, '', line);
    return this.fillBelow(pair, indent.length, line);
  }

  /** Writes lines below a key that has no value. */
  private fillBelow(pair: Entered, indent: number, line: string): readonly Splice[] | null {
    if (colonOf(pair) === null) return null;
    const after = this.lineEnd(this.endOf(pair));
    return [...this.cleared(pair), this.below(this.pastComments(after, indent), line)];
  }

  /** A new list with its first entry, in a section that is not there or empty. */
  private addBelow(path: Path, entry: Entry): readonly Splice[] | null {
    const [section, key] = path;
    if (path.length !== 2 || typeof section !== 'string' || !isMap(this.root)) return null;
    const map = this.root as Holder;
    const pair = this.pairIn(map, section);
    if (map.flow) return this.set([section], `{${String(key)}: [${inBraces(entry)}]}`);
    const indent = this.indentOf(map);
    const line = `${indent}  ${String(key)}:${this.eol}${indent}    - ${inBraces(entry)}`;
    return pair === null ? this.addPair(map, section, '', line) : this.fillBelow(pair, indent.length, line);
  }

  private at(path: Path): Node | null | undefined {
    let node: Node | null | undefined = this.root;
    for (const step of path) {
      if (isMap(node) && typeof step === 'string') {
        const pair = this.pairIn(node as Holder, step);
        node = pair === null ? undefined : pair.value;
      } else if (isSeq(node) && typeof step === 'number') node = (node.items as (Node | null)[])[step];
      else return node === undefined || isNothing(node) ? undefined : null;
    }
    return node;
  }

  private pairIn(map: Holder, key: string): Entered | null {
    return (map.items as Entered[]).find((pair) => nameOf(pair) === key) ?? null;
  }

  /** Writes a value where none stands, or another where one does. */
  private fill(pair: Entered, key: string, value: string, flow: boolean): readonly Splice[] | null {
    const { value: node } = pair;
    if (node !== null && isScalar(node) && !isNothing(node)) return this.replaced(node, key, value);
    if (node !== null && !isScalar(node))
      return this.onOneLine(node) ? this.replaced(node, key, value) : null;
    const colon = colonOf(pair);
    if (colon === null) {
      const [, end] = rangeOf(pair.key);
      return flow ? [{ from: end, to: end, text: `: ${value}` }] : null;
    }
    const put = { from: colon + 1, to: colon + 1, text: ` ${value}` };
    const [cleared] = this.cleared(pair);
    if (cleared !== undefined) return [{ ...cleared, text: put.text }];
    const blanks = flow ? (/^ *(?=[,}])/.exec(this.text.slice(put.from))?.[0].length ?? 0) : 0;
    return [{ ...put, to: put.from + blanks }];
  }

  /** Writes another value in the place of one; the old one stays as a comment. */
  private replaced(node: Node, name: string, value: string): readonly Splice[] {
    const [from, to] = rangeOf(node);
    const old = this.text.slice(from, to).replace(/\s+/g, ' ');
    const end = this.lineEnd(to);
    return [
      { from, to, text: value },
      { from: end, to: end, text: ` # ${name} was ${old}` },
    ];
  }

  /** Whether a node is a list in brackets on one line. */
  private onOneLine(node: Node): boolean {
    const [from, to] = rangeOf(node);
    return isSeq(node) && node.flow === true && !/[\r\n]/.test(this.text.slice(from, to));
  }

  /** Takes out a word for nothing. */
  private cleared(pair: Entered): readonly Splice[] {
    const colon = colonOf(pair);
    const { value } = pair;
    if (colon === null || value === null) return [];
    const [from, to] = rangeOf(value);
    return from < to ? [{ from: colon + 1, to, text: '' }] : [];
  }

  /** A new key in a map; `line` is what stands below it. */
  private addPair(map: Holder, key: string, value: string, line?: string): readonly Splice[] {
    const items = map.items as Entered[];
    const said = `${key}:${value === '' ? '' : ` ${value}`}`;
    const last = items.at(-1);
    if (map.flow || last === undefined) {
      const end = last === undefined ? rangeOf(map)[0] + 1 : this.endOf(last);
      return [{ from: end, to: end, text: last === undefined ? said : `, ${said}` }];
    }
    const before = map === this.root ? this.before(items, key) : last;
    const indent = this.indentOf(map);
    const end = this.pastComments(this.lineEnd(this.endOf(before ?? last)), indent.length);
    return [this.below(end, `${indent}${said}${line === undefined ? '' : this.eol + line}`)];
  }

  /** What a section is put behind: the last of those that come before it in the order of the work. */
  private before(items: readonly Entered[], key: string): Entered | undefined {
    const rank = ORDER.indexOf(key);
    const earlier = ORDER.slice(0, Math.max(0, rank)).toReversed();
    for (const name of earlier) {
      const found = items.find((pair) => nameOf(pair) === name);
      if (found !== undefined) return found;
    }
    return items.at(-1);
  }

  private addTo(
    list: YAMLSeq<Node | null>,
    map: Holder,
    pair: Entered | null,
    entry: Entry,
  ): readonly Splice[] | null {
    const last = list.items.at(-1);
    const [start, end] = rangeOf(list);
    if (list.flow) {
      if (last !== undefined) {
        const after = last === null ? end - 1 : rangeOf(last)[1];
        return [{ from: after, to: after, text: `, ${inBraces(entry)}` }];
      }
      const colon = pair === null ? null : colonOf(pair);
      const onItsLine = colon !== null && !/[\r\n]/.test(this.text.slice(colon, end));
      if (map.flow || !onItsLine) return [{ from: start + 1, to: start + 1, text: inBraces(entry) }];
      const line = `${this.indentOf(map)}  - ${inBraces(entry)}`;
      return [{ from: colon + 1, to: end, text: '' }, this.below(this.lineEnd(end), line)];
    }
    const indent = ' '.repeat(this.columnOf(start));
    const own =
      isMap(last) && !last.flow
        ? entry.map(([key, value]) => `${key}: ${written(value, key)}`.trimEnd())
        : [inBraces(entry)];
    const after = this.lineEnd(last == null ? end : this.contentEnd(last));
    return [
      this.below(this.pastComments(after, indent.length), `${indent}- ${own.join(`${this.eol}${indent}  `)}`),
    ];
  }

  /** Where what is written in a node ends. */
  private contentEnd(node: Node): number {
    if (isMap(node) && !node.flow) {
      const last = (node.items as Entered[]).at(-1);
      return last === undefined ? rangeOf(node)[1] : this.endOf(last);
    }
    if (isSeq(node) && !node.flow) {
      const last = (node.items as (Node | null)[]).at(-1);
      return last == null ? rangeOf(node)[1] : this.contentEnd(last);
    }
    return rangeOf(node)[1];
  }

  /** Where what is written of a key and its value ends. */
  private endOf(pair: Entered): number {
    const colon = colonOf(pair);
    const { value } = pair;
    if (value !== null && rangeOf(value)[0] < rangeOf(value)[1]) return this.contentEnd(value);
    return colon === null ? rangeOf(pair.key)[1] : colon + 1;
  }

  private lineEnd(offset: number): number {
    // A text of several lines ends where the line after it begins.
    if (offset > 0 && /[\r\n]/.test(this.text[offset - 1] ?? '')) return this.beforeBreak(offset);
    const rest = /[\r\n]/.exec(this.text.slice(offset));
    return rest === null ? this.text.length : offset + rest.index;
  }

  private beforeBreak(offset: number): number {
    return this.text.slice(0, offset).endsWith('\r\n') ? offset - 2 : offset - 1;
  }

  /** Past the comments right below a line's end that are set in further than `indent` columns. */
  private pastComments(end: number, indent: number): number {
    const comment = new RegExp(`^(?:\\r\\n|\\n|\\r) {${indent + 1},}#[^\\r\\n]*`);
    let past = end;
    for (let found = comment.exec(this.text.slice(past)); found; found = comment.exec(this.text.slice(past)))
      past += found[0].length;
    return past;
  }

  /** A line of its own below the one that ends at an offset. */
  private below(end: number, line: string): Splice {
    return { from: end, to: end, text: this.eol + line };
  }

  private columnOf(offset: number): number {
    return (
      offset - Math.max(this.text.lastIndexOf('\n', offset - 1), this.text.lastIndexOf('\r', offset - 1)) - 1
    );
  }

  private indentOf(map: Holder): string {
    const first = (map.items as Entered[])[0];
    return ' '.repeat(first === undefined ? 0 : this.columnOf(rangeOf(first.key)[0]));
  }
}
