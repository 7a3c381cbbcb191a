import {
  COLLECTION_STYLE,
  type Event,
  EVENT_ID,
  getScalarValue,
  type MappingEvent,
  parseEvents,
  SCALAR_STYLE,
  type ScalarEvent,
  type SequenceEvent,
  YAMLException,
} from 'js-yaml';
import type { Path } from '../uncertainty/path.ts';
import type { Fault, Problem } from './problem.ts';
import { DEEPEST, yamlFaults } from './yaml-faults.ts';

/** Plain data of a YAML document: every scalar is its text as written, or null where nothing stands. */
export type Data = string | null | Data[] | { [key: string]: Data };

/** A YAML document as read: its data, what is wrong with it, and where everything stands. */
export interface YamlText {
  readonly data: Data;
  readonly problems: readonly Problem[];
  /** Where the value at `path` begins; else its key; else the nearest thing above it. */
  offset(path: Path, atKey: boolean): number;
  /** The keys of the map at the top, where it is one with a line for each of them, and where they begin. */
  topKeys(): readonly (readonly [key: string | null, offset: number])[] | null;
}

/** More cartridges, patches or keys than any trial has; and more readings than a logger takes in a week. */
const MOST_ENTRIES = 1000;
const MOST_LOGGED = 10_000;
const LOGGED: ReadonlySet<unknown> = new Set(['ambient', 'batches', 'events']);

/**
 * Reads YAML 1.2 with every scalar left as written, so that `0012`, `1500.50` and a serial `12E45678` keep
 * their digits. Aliases, tags, several documents and doubled keys are problems; what else is well-formed is
 * still read. `lineOf` gives the line of an offset.
 */
export function readYaml(text: string, lineOf: (offset: number) => number): YamlText {
  let events: Event[] = [];
  let fault: Problem | null = null;
  if (marksIn(text) > MOST_MARKS) fault = { code: 'too-long', path: [] };
  else {
    try {
      events = parseEvents(text, { maxDepth: DEEPEST });
      const second = events.slice(1).some(({ type }) => type === EVENT_ID.DOCUMENT);
      if (second) fault = { code: 'several-documents', path: [] };
    } catch (error) {
      if (!(error instanceof YAMLException)) throw error;
      fault = faultOf(error, text);
    }
  }
  if (fault === null) return new Document(text, events, lineOf);
  const found = yamlFaults(text);
  const problems = found.length > 0 ? found : [fault];
  return { data: null, problems, offset: () => 0, topKeys: () => null };
}

/** What stopped the reading. */
function faultOf({ reason, mark }: YAMLException, text: string): Problem {
  const offset = mark?.position ?? 0;
  const sign = text.codePointAt(offset) ?? 0;
  return PRINTABLE.test(String.fromCodePoint(sign))
    ? { code: 'not-yaml', yaml: '', detail: reason, path: [], offset }
    : { code: 'not-printable', sign, path: [], offset };
}

/** What YAML 1.2.2, 5.1 (c-printable), lets stand in a text. */
const PRINTABLE = /^[\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]$/u;

/** Far more than any trial has of what ends an entry or opens one. */
const MOST_MARKS = 350_000;

const MARKS = new Set(Array.from(',[{\n\r:?-', (mark) => mark.charCodeAt(0)));

/** How often something stands in a text that may begin another node: no text has more nodes than twice as many. */
function marksIn(text: string): number {
  if (text.length <= MOST_MARKS) return 0;
  let count = 0;
  for (let at = 0; at < text.length; at++) if (MARKS.has(text.charCodeAt(at))) count += 1;
  return count;
}

/** Tags that say of a value what it is without them. */
const PLAIN_TAG = /^(!!|!<tag:yaml\.org,2002:)(map|seq|str|null)>?$/;

const NOTHING: ReadonlySet<string> = new Set(['', '~', 'null', 'Null', 'NULL']);

/** A document of one text, from the events of reading it: each node, and the end of each map and list. */
class Document implements YamlText {
  readonly data: Data;
  readonly problems: Problem[] = [];
  /** The event that is read next; the first is of the document itself. */
  private next = FIRST;
  /** Of the node that is read. */
  private readonly path: (string | number)[] = [];

  constructor(
    private readonly text: string,
    private readonly events: readonly Event[],
    private readonly lineOf: (offset: number) => number,
  ) {
    this.data = events.length > FIRST ? this.node() : null;
  }

  /** Reads the node that comes next. */
  private node(): Data {
    const event = this.take();
    switch (event.type) {
      case EVENT_ID.SCALAR:
        this.untagged(event);
        return this.scalar(event);
      case EVENT_ID.SEQUENCE:
        this.untagged(event);
        return this.list();
      case EVENT_ID.MAPPING:
        this.untagged(event);
        return this.map(event.style === COLLECTION_STYLE.FLOW);
      case EVENT_ID.ALIAS:
        this.note({ code: 'alias' }, event.anchorStart - 1);
        return null;
      default:
        return null;
    }
  }

  private list(): Data[] {
    const list: Data[] = [];
    const most = this.most();
    for (; !this.closes(); list.push(list.length < most ? this.entry(list.length) : this.passedOver()));
    if (list.length > most) this.note({ code: 'too-many-entries', entries: list.length, most });
    return list;
  }

  private map(flow: boolean): Data {
    const map = Object.create(null) as Record<string, Data>;
    const seenAt = new Map<string, number>();
    const most = this.most();
    let entries = 0;
    let before: string | null = null;
    let last: string | null = null;
    for (; !this.closes(); entries += 1) {
      const key = this.events[this.next];
      const name = key?.type === EVENT_ID.SCALAR ? this.scalar(key) : null;
      if (key?.type === EVENT_ID.SCALAR) this.untagged(key);
      const offset = this.keyStart(this.next);
      this.passedOver();
      const first = name === null ? undefined : seenAt.get(name);
      const value = this.events[this.next];
      if (entries >= most) this.passedOver();
      else if (name === null) {
        this.note({ code: 'key-not-text' }, offset);
        this.passedOver();
      } else if (first !== undefined) {
        this.problems.push({
          code: 'duplicate-key',
          key: name,
          firstLine: this.lineOf(first),
          path: [...this.path, name],
          offset,
        });
        this.passedOver();
      } else if (flow && before !== null && /^\d/.test(name) && isNothing(value)) {
        seenAt.set(name, offset);
        this.note({ code: 'split-number', written: `${before},${name}`, write: `${before}.${name}` }, offset);
        if (last !== null) map[last] = null;
        this.passedOver();
      } else {
        seenAt.set(name, offset);
        const read = this.entry(name);
        map[name] = read;
        before = typeof read === 'string' ? read : null;
        last = name;
      }
    }
    if (entries > most) this.note({ code: 'too-many-entries', entries, most });
    return map;
  }

  /** How many entries the map or list that is read may have. */
  private most(): number {
    return LOGGED.has(this.path.at(-1)) ? MOST_LOGGED : MOST_ENTRIES;
  }

  private entry(step: string | number): Data {
    this.path.push(step);
    const data = this.node();
    this.path.pop();
    return data;
  }

  private take(): Event {
    const event = this.events[this.next];
    if (event === undefined) throw new Error('The events of a document end before it does.');
    this.next += 1;
    return event;
  }

  /** Whether the map or list that is read ends here; then its end is taken. */
  private closes(): boolean {
    if (this.events[this.next]?.type !== EVENT_ID.POP) return false;
    this.next += 1;
    return true;
  }

  /** Goes past the node that comes next. */
  private passedOver(): null {
    this.next = this.after(this.next);
    return null;
  }

  /** The event after the node that begins with the one at `index`. */
  private after(index: number): number {
    let depth = 0;
    for (let at = index; at < this.events.length; at++) {
      const type = this.events[at]?.type;
      if (type === EVENT_ID.MAPPING || type === EVENT_ID.SEQUENCE) depth += 1;
      else if (type === EVENT_ID.POP) depth -= 1;
      if (depth <= 0) return at + 1;
    }
    return this.events.length;
  }

  /** A scalar as text; null where nothing stands, or a word for it. */
  private scalar(event: ScalarEvent): string | null {
    const text = getScalarValue(this.text, event);
    const plain = event.style === SCALAR_STYLE.PLAIN;
    return plain && NOTHING.has(text) && event.tagStart < 0 ? null : text;
  }

  private untagged({ tagStart, tagEnd }: ScalarEvent | SequenceEvent | MappingEvent): void {
    if (tagStart < 0) return;
    const tag = this.text.slice(tagStart, tagEnd);
    if (!PLAIN_TAG.test(tag)) this.note({ code: 'tag', tag }, tagStart);
  }

  private note(fault: Fault, offset?: number): void {
    this.problems.push({ ...fault, path: [...this.path], ...(offset === undefined ? {} : { offset }) });
  }

  /** Where the node begins whose event is at `index`. */
  private startOf(index: number): number {
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

  /** Where a key begins; where there is none, the colon after it. */
  private keyStart(index: number): number {
    const start = this.startOf(index);
    return start >= 0 ? start : Math.max(0, this.text.indexOf(':', this.endBefore(index)));
  }

  /** The end of the last text before the node whose event is at `index`. */
  private endBefore(index: number): number {
    for (let at = index - 1; at >= FIRST; at--) {
      const event = this.events[at];
      if (event?.type === EVENT_ID.SCALAR && event.valueEnd >= 0) return event.valueEnd;
      if (event?.type === EVENT_ID.SEQUENCE || event?.type === EVENT_ID.MAPPING) return event.start;
    }
    return 0;
  }

  private scalarStart({ style, valueStart }: ScalarEvent, index: number): number {
    switch (style) {
      case SCALAR_STYLE.SINGLE_QUOTED:
      case SCALAR_STYLE.DOUBLE_QUOTED:
        return valueStart - 1;
      case SCALAR_STYLE.LITERAL_BLOCK:
      case SCALAR_STYLE.FOLDED_BLOCK: {
        // The event tells where its lines begin; the sign for it stands after what comes before.
        return this.text.indexOf(style === SCALAR_STYLE.LITERAL_BLOCK ? '|' : '>', this.endBefore(index));
      }
      default:
        return valueStart;
    }
  }

  offset(path: Path, atKey: boolean): number {
    let index = FIRST;
    let offset = this.startOf(index);
    for (const [level, step] of path.entries()) {
      const found = this.find(index, step);
      if (found === null) return offset;
      if (found.key !== null) {
        offset = this.keyStart(found.key);
        if (atKey && level === path.length - 1) return offset;
      }
      index = found.value;
      if (!isNothing(this.events[index])) offset = this.startOf(index);
    }
    return offset;
  }

  /** The events of an entry of the map or list that begins at `index`; null where it has no such entry. */
  private find(index: number, step: string | number): { key: number | null; value: number } | null {
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

  /** The entries of the map that begins at `index`: the key as text, and the events of key and value. */
  private *pairs(index: number): Generator<{ name: string | null; key: number; value: number }> {
    for (let key = index + 1; this.isOpen(key); key = this.after(this.after(key))) {
      const event = this.events[key];
      const name = event?.type === EVENT_ID.SCALAR ? this.scalar(event) : null;
      yield { name, key, value: this.after(key) };
    }
  }

  /** Whether the map or list that was begun goes on at `index`. */
  private isOpen(index: number): boolean {
    return index < this.events.length && this.events[index]?.type !== EVENT_ID.POP;
  }

  topKeys(): [key: string | null, offset: number][] | null {
    const top = this.events[FIRST];
    if (top?.type !== EVENT_ID.MAPPING || top.style === COLLECTION_STYLE.FLOW) return null;
    return Array.from(this.pairs(FIRST), ({ name, key }) => [name, this.keyStart(key)]);
  }
}

/** The event of the document's own node; before it is that of the document. */
const FIRST = 1;

/** Whether nothing at all stands in the place of a node. */
const isNothing = (event: Event | undefined): boolean =>
  event?.type === EVENT_ID.SCALAR && event.valueStart < 0;
