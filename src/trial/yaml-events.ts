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
  constructor(
    private readonly text: string,
    private readonly events: readonly Event[],
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
    const text = getScalarValue(this.text, event);
    const plain = event.style === SCALAR_STYLE.PLAIN;
    return plain && NOTHING.has(text) && event.tagStart < 0 ? null : text;
  }

  /** The tag of a node as written, and where; null where it has none. */
  tag(index: number): { readonly tag: string; readonly offset: number } | null {
    const event = this.events[index];
    if (!hasTag(event) || event.tagStart < 0) return null;
    return { tag: this.text.slice(event.tagStart, event.tagEnd), offset: event.tagStart };
  }

  /** Where a node begins; below zero where nothing stands. */
  start(index: number): number {
    const event = this.events[index];
    switch (event?.type) {
      case EVENT_ID.SEQUENCE:
      case EVENT_ID.MAPPING:
        return event.start;
      case EVENT_ID.ALIAS:
        return event.anchorStart - 1;
      case EVENT_ID.SCALAR:
        return this.scalarStart(event, index);
      default:
        return 0;
    }
  }

  private scalarStart({ style, valueStart }: ScalarEvent, index: number): number {
    switch (style) {
      case SCALAR_STYLE.SINGLE_QUOTED:
      case SCALAR_STYLE.DOUBLE_QUOTED:
        return valueStart - 1;
      case SCALAR_STYLE.LITERAL_BLOCK:
        return this.text.indexOf('|', this.endBefore(index));
      case SCALAR_STYLE.FOLDED_BLOCK:
        return this.text.indexOf('>', this.endBefore(index));
      default:
        return valueStart;
    }
  }

  /** Where a key begins; where there is none, the colon after it. */
  keyStart(index: number): number {
    const start = this.start(index);
    return start >= 0 ? start : Math.max(0, this.text.indexOf(':', this.endBefore(index)));
  }

  /** The end of the last text before a node. */
  private endBefore(index: number): number {
    for (let at = index - 1; at >= ROOT; at--) {
      const event = this.events[at];
      if (event?.type === EVENT_ID.SCALAR && event.valueEnd >= 0) return event.valueEnd;
      if (event?.type === EVENT_ID.SEQUENCE || event?.type === EVENT_ID.MAPPING) return event.start;
    }
    return 0;
  }

  /** The entries of a map. */
  private *pairs(index: number): Generator<Pair> {
    for (let key = index + 1; this.isOpen(key); key = this.after(this.after(key))) {
      yield { name: this.scalar(key), key, value: this.after(key) };
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
        offset = this.keyStart(found.key);
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
    return Array.from(this.pairs(ROOT), ({ name, key }) => [name, this.keyStart(key)]);
  }
}

const hasTag = (event: Event | undefined): event is ScalarEvent | SequenceEvent | MappingEvent =>
  event?.type === EVENT_ID.SCALAR || event?.type === EVENT_ID.SEQUENCE || event?.type === EVENT_ID.MAPPING;
