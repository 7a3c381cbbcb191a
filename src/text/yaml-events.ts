import {
  COLLECTION_STYLE,
  type Event,
  EVENT_ID,
  getScalarValue,
  type MappingEvent,
  SCALAR_STYLE,
  type ScalarEvent,
  type SequenceEvent,
} from 'js-yaml';
import type { Path } from '../uncertainty/path.ts';

/** The event of the document's own node; before it is that of the document. */
export const ROOT = 1;

const NOTHING: ReadonlySet<string> = new Set(['', '~', 'null', 'Null', 'NULL']);

/** Plain text, or null for what stands for nothing. */
export const wordOrNothing = (text: string): string | null => (NOTHING.has(text) ? null : text);

/** The tag of nothing, as written; of whatever else it may be in front. */
const NULL_TAG = /^(?:!!|!<tag:yaml\.org,2002:)null>?$/;

/** The entry of a map: its key as text, null where it is none, and the events of key and value. */
interface Pair {
  readonly name: string | null;
  readonly key: number;
  readonly value: number;
}

/**
 * The events of reading one YAML document: each node where it begins, and the end of each map and list. A
 * node is named by the index of its event.
 */
export class YamlEvents {
  /** Where each node begins, once it was asked for. */
  private known: Int32Array | undefined;

  /** `scalars` says what scalars hold, where that is known otherwise than by their events. */
  constructor(
    private readonly text: string,
    private readonly events: readonly Event[],
    private readonly scalars: ReadonlyMap<Event, string | null> = new Map(),
  ) {}

  /** Whether there is a document at all. */
  get any(): boolean {
    return this.events.length > ROOT;
  }

  at(index: number): Event | undefined {
    return this.events[index];
  }

  /** Whether a map or list that was begun goes on at `index`. */
  isOpen(index: number): boolean {
    return index < this.events.length && this.events[index]?.type !== EVENT_ID.POP;
  }

  /** The event after a node. */
  after(index: number): number {
    let depth = 0;
    for (let at = index; at < this.events.length; at++) {
      const type = this.events[at]?.type;
      if (type === EVENT_ID.MAPPING || type === EVENT_ID.SEQUENCE) depth += 1;
      else if (type === EVENT_ID.POP) depth -= 1;
      if (depth <= 0) return at + 1;
    }
    return this.events.length;
  }

  /** Whether nothing at all stands in the place of a node. */
  isNothing(index: number): boolean {
    const event = this.events[index];
    return event?.type === EVENT_ID.SCALAR && event.valueStart < 0;
  }

  /** A scalar as text; null where nothing stands, or a word for it, and of a map or list. */
  scalar(index: number): string | null {
    const event = this.events[index];
    if (event?.type !== EVENT_ID.SCALAR) return null;
    const known = this.scalars.size === 0 ? undefined : this.scalars.get(event);
    if (known !== undefined) return known;
    const text = getScalarValue(this.text, event);
    if (event.style !== SCALAR_STYLE.PLAIN) return text;
    if (event.tagStart < 0) return wordOrNothing(text);
    return NULL_TAG.test(this.text.slice(event.tagStart, event.tagEnd)) ? wordOrNothing(text) : text;
  }

  /** A scalar as a key: names that look alike are alike, whatever blanks or composed letters they are written with. */
  name(index: number): string | null {
    return this.scalar(index)?.trim().normalize('NFC') ?? null;
  }

  /** The tag of a node as written, and where; null where it has none. */
  tag(index: number): { readonly tag: string; readonly offset: number } | null {
    const event = this.events[index];
    if (!hasTag(event) || event.tagStart < 0) return null;
    return { tag: this.text.slice(event.tagStart, event.tagEnd), offset: event.tagStart };
  }

  /** Whether a colon stands after a scalar that is a key. */
  hasColon(index: number): boolean {
    const event = this.events[index];
    if (event?.type !== EVENT_ID.SCALAR) return false;
    const end = event.valueEnd + quoteOf(event);
    return /^\s*:/.test(this.text.slice(end, end + MOST_BLANKS));
  }

  /** Where a node begins, a key left empty at its colon; below zero where nothing stands. */
  start(index: number): number {
    return (this.known ??= this.starts())[index] ?? 0;
  }

  /** Of all nodes in one pass: what the events do not tell follows what was before. */
  private starts(): Int32Array {
    const starts = new Int32Array(this.events.length).fill(-1);
    const open: ('list' | 'key' | 'value')[] = [];
    let end = 0;
    for (const [index, event] of this.events.entries()) {
      if (event.type === EVENT_ID.DOCUMENT) continue;
      if (event.type === EVENT_ID.POP) {
        open.pop();
        continue;
      }
      const place = open.pop();
      if (place !== undefined) open.push(place === 'list' ? place : place === 'key' ? 'value' : 'key');
      let start: number;
      switch (event.type) {
        case EVENT_ID.SCALAR:
          start = this.scalarStart(event, place === 'key', end);
          end = Math.max(end, event.valueEnd < 0 ? start + 1 : event.valueEnd + quoteOf(event));
          break;
        case EVENT_ID.ALIAS:
          start = event.anchorStart - 1;
          end = event.anchorEnd;
          break;
        default:
          start = event.start;
          end = Math.max(end, event.style === COLLECTION_STYLE.FLOW ? start + 1 : start);
          open.push(event.type === EVENT_ID.MAPPING ? 'key' : 'list');
      }
      starts[index] = start;
    }
    return starts;
  }

  private scalarStart({ style, valueStart }: ScalarEvent, isKey: boolean, from: number): number {
    if (valueStart < 0) return isKey ? this.seek(':', from) : -1;
    if (style === SCALAR_STYLE.LITERAL_BLOCK) return this.seek('|', from);
    if (style === SCALAR_STYLE.FOLDED_BLOCK) return this.seek('>', from);
    return style === SCALAR_STYLE.PLAIN ? valueStart : valueStart - 1;
  }

  /** The next place of a sign outside of comments, anchors and tags; where there is none, where it was looked from. */
  private seek(sign: string, from: number): number {
    if (this.spent.has(sign)) return from;
    const next = new RegExp(`#[^\\n\\r]*|[&!]\\S*|\\${sign}`, 'g');
    next.lastIndex = from;
    for (let found = next.exec(this.text); found !== null; found = next.exec(this.text)) {
      if (found[0] === sign) return found.index;
    }
    // The text is gone through once, not for every key that has no colon.
    this.spent.add(sign);
    return from;
  }

  private readonly spent = new Set<string>();

  /** The entries of a map. */
  private *pairs(index: number): Generator<Pair> {
    for (let key = index + 1; this.isOpen(key); key = this.after(this.after(key))) {
      yield { name: this.name(key), key, value: this.after(key) };
    }
  }

  /** The events of an entry of a map or list; null where it has no such entry. */
  private entry(index: number, step: string | number): { key: number | null; value: number } | null {
    const type = this.events[index]?.type;
    if (type === EVENT_ID.MAPPING) {
      for (const { name, key, value } of this.pairs(index)) if (name === step) return { key, value };
    } else if (type === EVENT_ID.SEQUENCE && typeof step === 'number') {
      let at = index + 1;
      for (let entry = 0; this.isOpen(at); entry++, at = this.after(at)) {
        if (entry === step) return { key: null, value: at };
      }
    }
    return null;
  }

  /** Where the value at `path` begins; else its key; else the nearest thing above it. */
  offset(path: Path, atKey: boolean): number {
    let index = ROOT;
    let offset = Math.max(0, this.start(index));
    for (const [level, step] of path.entries()) {
      const found = this.entry(index, step);
      if (found === null) return offset;
      if (found.key !== null) {
        offset = this.start(found.key);
        if (atKey && level === path.length - 1) return offset;
      }
      index = found.value;
      if (!this.isNothing(index)) offset = this.start(index);
    }
    return offset;
  }

  /** The keys of the map at the top, where it is one with a line for each of them, and where they begin. */
  topKeys(): [key: string | null, offset: number][] | null {
    const top = this.events[ROOT];
    if (top?.type !== EVENT_ID.MAPPING || top.style === COLLECTION_STYLE.FLOW) return null;
    return Array.from(this.pairs(ROOT), ({ name, key }) => [name, this.start(key)]);
  }
}

/** Nobody leaves more between a key and its colon. */
const MOST_BLANKS = 80;

/** The quotation mark that closes a scalar. */
const quoteOf = ({ style }: ScalarEvent): number =>
  style === SCALAR_STYLE.SINGLE_QUOTED || style === SCALAR_STYLE.DOUBLE_QUOTED ? 1 : 0;

const hasTag = (event: Event | undefined): event is ScalarEvent | SequenceEvent | MappingEvent =>
  event?.type === EVENT_ID.SCALAR || event?.type === EVENT_ID.SEQUENCE || event?.type === EVENT_ID.MAPPING;
