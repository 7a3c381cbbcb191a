import { COLLECTION_STYLE, type Event, EVENT_ID, parseEvents, YAMLException } from 'js-yaml';
import type { Path } from '../uncertainty/path.ts';
import type { Fault, Problem } from '../problems/problem.ts';
import { ROOT, YamlEvents } from './yaml-events.ts';
import { DEEPEST, readCarefully } from './yaml-careful.ts';
import { isPlain } from './yaml-plain.ts';
import { eventsOfNodes } from './yaml-nodes.ts';

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
/** Every mark is held against every part that turns. */
const MOST_PAIRED = 100;
const PAIRED: ReadonlySet<unknown> = new Set(['marks', 'rotating_parts']);

/**
 * Reads YAML 1.2 with every scalar left as written, so that `0012`, `1500.50` and a serial `12E45678` keep
 * their digits. Aliases, tags, several documents and doubled keys are problems; what else is well-formed is
 * still read. `lineOf` gives the line of an offset. The quick reader is asked first where the text is plain enough,
 * unless `carefully`: both read such a text alike, and only the time they take differs.
 */
export function readYaml(text: string, lineOf: (offset: number) => number, carefully = false): YamlText {
  const read = eventsOf(text, carefully);
  if ('faults' in read) {
    return { data: null, problems: read.faults, offset: () => 0, topKeys: () => null };
  }
  const { events } = read;
  const { data, problems } = new Reading(events, lineOf);
  return {
    data,
    problems,
    offset: (path, atKey) => events.offset(path, atKey),
    topKeys: () => events.topKeys(),
  };
}

/** The events of a text, or what keeps it from being read. */
function eventsOf(
  text: string,
  carefully: boolean,
): { readonly events: YamlEvents } | { readonly faults: readonly Problem[] } {
  if (marksIn(text) > MOST_MARKS) return { faults: [{ code: 'too-long', path: [] }] };
  // It may give tags another meaning.
  const directive = /^%TAG/m.exec(text);
  if (directive !== null)
    return { faults: [{ code: 'tag', tag: '%TAG', path: [], offset: directive.index }] };
  const events = carefully || !isPlain(text) ? null : quickly(text);
  if (events !== null) return { events: new YamlEvents(text, events) };
  // The careful reader does not know the line ends of old; with others in their place nothing moves.
  const read = readCarefully(text.replace(/\r(?!\n)/g, '\n'));
  if ('faults' in read) return read;
  const { events: met, scalars } = eventsOfNodes(read.root, text);
  return { events: new YamlEvents(text, met, scalars) };
}

/** The events of one document; null where the text is not one, or not one for the quick reader. */
function quickly(text: string): readonly Event[] | null {
  try {
    const events = parseEvents(text, { maxDepth: DEEPEST });
    return events.findLastIndex(({ type }) => type === EVENT_ID.DOCUMENT) > 0 ? null : events;
  } catch (error) {
    if (error instanceof YAMLException) return null;
    throw error;
  }
}

/** Far more than any trial has of what ends an entry or opens one. */
const MOST_MARKS = 250_000;

/** What a node may begin or end with. */
const ALONE = new Set(Array.from(',[{\n\r', (mark) => mark.charCodeAt(0)));
const BEFORE_BLANK = new Set(Array.from(':?-', (mark) => mark.charCodeAt(0)));

/** How often something stands in a text that may begin another node: no text has more nodes than four times as many. */
function marksIn(text: string): number {
  if (text.length <= MOST_MARKS) return 0;
  let count = 0;
  for (let at = 0; at < text.length; at++) {
    const sign = text.charCodeAt(at);
    // Whatever a blank is, it is below the letters.
    if (ALONE.has(sign) || (BEFORE_BLANK.has(sign) && !(text.charCodeAt(at + 1) > 32))) count += 1;
  }
  return count;
}

/** Tags that say of a value what it is without them, by the kind of node. */
const PLAIN_TAGS: Readonly<Record<number, RegExp>> = {
  [EVENT_ID.SCALAR]: /^(!!|!<tag:yaml\.org,2002:)(str|null)>?$/,
  [EVENT_ID.SEQUENCE]: /^(!!|!<tag:yaml\.org,2002:)seq>?$/,
  [EVENT_ID.MAPPING]: /^(!!|!<tag:yaml\.org,2002:)map>?$/,
};

/** A name that objects have of their own, and that no map of a trial can hold. */
const PROTOTYPE = '__proto__';

/** The plain data of a document, and what is wrong with it. */
class Reading {
  readonly data: Data;
  readonly problems: Problem[] = [];
  /** The node that is read next. */
  private next = ROOT;
  /** Of the node that is read. */
  private readonly path: (string | number)[] = [];

  constructor(
    private readonly events: YamlEvents,
    private readonly lineOf: (offset: number) => number,
  ) {
    this.data = events.any ? this.node() : null;
  }

  /** Reads the node that comes next. */
  private node(): Data {
    const index = this.next;
    const event = this.events.at(index);
    this.next += 1;
    this.untagged(index);
    switch (event?.type) {
      case EVENT_ID.SCALAR:
        return this.events.scalar(index);
      case EVENT_ID.SEQUENCE:
        return this.list();
      case EVENT_ID.MAPPING:
        return this.map(event.style === COLLECTION_STYLE.FLOW);
      case EVENT_ID.ALIAS:
        this.note({ code: 'alias' }, this.events.start(index));
        return null;
      default:
        return null;
    }
  }

  private list(): Data[] {
    const list: Data[] = [];
    const most = this.most();
    while (!this.closes()) list.push(list.length < most ? this.entry(list.length) : this.passedOver());
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
      const key = this.next;
      const name = this.events.name(key);
      this.passedOver();
      const first = name === null ? undefined : seenAt.get(name);
      if (entries >= most) {
        this.passedOver();
        continue;
      }
      this.untagged(key);
      if (name === PROTOTYPE) {
        const unknown = {
          code: 'unknown-key',
          key: name,
          nearest: null,
          known: [],
          belongs: [],
          empty: false,
        } as const;
        this.problems.push({ ...unknown, path: [...this.path, name], offset: this.events.start(key) });
        this.passedOver();
      } else if (name === null) {
        const alias = this.events.at(key)?.type === EVENT_ID.ALIAS;
        this.note({ code: alias ? 'alias' : 'key-not-text' }, this.events.start(key));
        this.passedOver();
      } else if (first !== undefined) {
        const firstLine = this.lineOf(this.events.start(first));
        const offset = this.events.start(key);
        this.problems.push({
          code: 'duplicate-key',
          key: name,
          firstLine,
          path: [...this.path, name],
          offset,
        });
        this.passedOver();
      } else if (flow && before !== null && /^\d/.test(name) && this.isAlone(key)) {
        seenAt.set(name, key);
        const written = `${before},${name}`;
        const pointed = `${before}.${name}`;
        // Three digits behind it may be thousands as well.
        const write = /^[1-9]\d{0,2}\.\d{3}(?!\d)/.test(pointed) ? [pointed, `${before}${name}`] : [pointed];
        const path = last === null ? this.path : [...this.path, last];
        const offset = this.events.start(key);
        this.problems.push({ code: 'split-number', written, write, path: [...path], offset });
        if (last !== null) map[last] = null;
        this.passedOver();
      } else {
        seenAt.set(name, key);
        const read = this.entry(name);
        map[name] = read;
        before = typeof read === 'string' ? read : null;
        last = name;
      }
    }
    if (entries > most) this.note({ code: 'too-many-entries', entries, most });
    return map;
  }

  /** Whether a key stands without colon and value, as what is left of a number split at its comma. */
  private isAlone(key: number): boolean {
    return this.events.isNothing(this.next) && !this.events.hasColon(key);
  }

  /** How many entries the map or list that is read may have. */
  private most(): number {
    const key = this.path.at(-1);
    return LOGGED.has(key) ? MOST_LOGGED : PAIRED.has(key) ? MOST_PAIRED : MOST_ENTRIES;
  }

  private entry(step: string | number): Data {
    this.path.push(step);
    const data = this.node();
    this.path.pop();
    return data;
  }

  /** Whether the map or list that is read ends here; then its end is taken. */
  private closes(): boolean {
    if (this.events.isOpen(this.next)) return false;
    this.next += 1;
    return true;
  }

  /** Goes past the node that comes next. */
  private passedOver(): null {
    this.next = this.events.after(this.next);
    return null;
  }

  private untagged(index: number): void {
    const tagged = this.events.tag(index);
    if (tagged !== null && !PLAIN_TAGS[this.events.at(index)?.type ?? 0]?.test(tagged.tag)) {
      this.note({ code: 'tag', tag: tagged.tag }, tagged.offset);
    }
  }

  private note(fault: Fault, offset?: number): void {
    this.problems.push({ ...fault, path: [...this.path], ...(offset === undefined ? {} : { offset }) });
  }
}
