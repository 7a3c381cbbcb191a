import { type Document, isCollection, isMap, isNode, isPair, isScalar, isSeq, parseDocument } from 'yaml';
import type { Pair, YAMLMap, YAMLSeq } from 'yaml';
import type { Random } from './random.ts';

type Collection = YAMLMap | YAMLSeq;

/** A place in a document: an entry of a list or a map. */
interface Slot {
  readonly parent: Collection;
  readonly index: number;
}

const childOf = ({ parent, index }: Slot): unknown => {
  const item = parent.items[index];
  return isPair(item) ? item.value : item;
};

function setChild({ parent, index }: Slot, value: unknown): void {
  const item = parent.items[index];
  if (isPair(item)) item.value = value;
  else parent.items[index] = value;
}

const cloned = <T>(value: T): T => (isNode(value) || isPair(value) ? (value.clone() as T) : value);

/** Every place below a node, in file order. */
function slotsBelow(node: unknown, slots: Slot[] = []): Slot[] {
  if (!isCollection(node)) return slots;
  const parent = node;
  for (const index of parent.items.keys()) {
    slots.push({ parent, index });
    slotsBelow(childOf({ parent, index }), slots);
  }
  return slots;
}

const keyOf = ({ parent, index }: Slot): string | null => {
  const item = parent.items[index];
  return isPair(item) && isScalar(item.key) ? String(item.key.value) : null;
};

/** What a change has to work with: this document, its places, and those of another example. */
interface Work {
  readonly document: Document;
  readonly slots: readonly Slot[];
  readonly foreign: readonly Slot[];
  readonly random: Random;
}

/** Puts an entry into a collection: under a key where it is a map. */
function put({ document, random, foreign }: Work, into: Collection, value: unknown): void {
  const at = random.below(into.items.length + 1);
  const key = random.pick(foreign.map(keyOf).filter((one) => one !== null));
  into.items.splice(at, 0, (isMap(into) ? document.createPair(key, value) : value) as never);
}

type Change = (work: Work) => void;

const CHANGES = {
  remove: ({ slots, random }) => {
    const { parent, index } = random.pick(slots);
    parent.items.splice(index, 1);
  },
  duplicate: ({ slots, random }) => {
    const { parent, index } = random.pick(slots);
    parent.items.splice(index, 0, cloned(parent.items[index]) as never);
  },
  move: (work) => {
    const { slots, random } = work;
    const from = random.pick(slots);
    const [item] = from.parent.items.splice(from.index, 1);
    const { parent } = random.pick(slots);
    const value = isPair(item) ? item.value : item;
    // A collection moved into itself would have no end.
    if (!slotsBelow(value).some((slot) => slot.parent === parent)) put(work, parent, value);
  },
  rename: ({ slots, foreign, random }) => {
    const named = slots.filter((slot) => keyOf(slot) !== null);
    const keys = [...slots, ...foreign].map(keyOf).filter((key) => key !== null);
    if (named.length === 0 || keys.length === 0) return;
    const { parent, index } = random.pick(named);
    const item = parent.items[index] as Pair;
    if (isScalar(item.key)) item.key.value = random.pick(keys);
  },
  swap: ({ slots, random }) => {
    const [one, other] = [random.pick(slots), random.pick(slots)];
    const [a, b] = [cloned(childOf(one)), cloned(childOf(other))];
    setChild(one, b);
    setChild(other, a);
  },
  shuffle: ({ slots, random }) => {
    const { parent } = random.pick(slots);
    const items = parent.items as unknown[];
    items.splice(random.below(items.length), 0, ...items.splice(random.below(items.length), 1));
  },
  empty: ({ slots, random }) => {
    setChild(random.pick(slots), null);
  },
  deepen: ({ document, slots, random }) => {
    const slot = random.pick(slots);
    let value: unknown = cloned(childOf(slot));
    for (let level = random.times(90); level > 0; level--) {
      value = document.createNode(random.once(2) ? [value] : { [keyOf(slot) ?? 'value']: value });
    }
    setChild(slot, value);
  },
  otherShape: ({ document, slots, random }) => {
    const slot = random.pick(slots);
    const child = childOf(slot);
    if (isMap(child)) setChild(slot, document.createNode(child.items.map((item) => cloned(item.value))));
    else if (isSeq(child)) {
      const entries = child.items.map(
        (item, index) => [`${keyOf(slot) ?? 'k'}${index}`, cloned(item)] as const,
      );
      setChild(slot, document.createNode(Object.fromEntries(entries)));
    } else setChild(slot, document.createNode([cloned(child), cloned(child)]));
  },
  multiply: ({ slots, random }) => {
    const lists = slots.filter(({ parent }) => isSeq(parent));
    if (lists.length === 0) return;
    const { parent, index } = random.pick(lists);
    const items = parent.items as unknown[];
    const more = Array.from({ length: random.times(400) }, () => cloned(items[index]));
    items.splice(index, 0, ...more);
  },
  graft: ({ slots, foreign, random }) => {
    setChild(random.pick(slots), cloned(childOf(random.pick(foreign))));
  },
  graftSame: ({ slots, foreign, random }) => {
    const own = random.pick(slots);
    const same = foreign.filter((slot) => keyOf(slot) !== null && keyOf(slot) === keyOf(own));
    if (same.length > 0) setChild(own, cloned(childOf(random.pick(same))));
  },
  graftSection: ({ document, foreign, random }) => {
    const top = document.contents;
    const sections = foreign.filter(({ parent }) => parent === foreign[0]?.parent);
    const section = random.pick(sections);
    const key = keyOf(section);
    if (!isMap(top) || key === null) return;
    const place = random.once(6) && isMap(top.get('reference')) ? (top.get('reference') as YAMLMap) : top;
    place.set(key, cloned(childOf(section)));
  },
} satisfies Readonly<Record<string, Change>>;

const ALL: readonly Change[] = Object.values(CHANGES);

/** Changes that mostly leave a trial behind. */
const GENTLE: readonly Change[] = [
  CHANGES.remove,
  CHANGES.empty,
  CHANGES.multiply,
  CHANGES.shuffle,
  CHANGES.graftSame,
  CHANGES.graftSame,
  CHANGES.graftSection,
  CHANGES.graftSection,
];

const documents = new Map<string, Document>();

/** The document of an example, parsed once; it is not to be changed. */
function parsed(text: string): Document {
  const document = documents.get(text) ?? parseDocument(text, { logLevel: 'silent', uniqueKeys: false });
  documents.set(text, document);
  return document;
}

/**
 * A text with some changes to what it holds, written out again; as it was where it is not YAML.
 *
 * @param other an example to take from
 * @param gentle whether it should mostly stay a file that can be read
 */
export function mutateStructure(
  text: string,
  random: Random,
  other: string,
  changes: number,
  gentle: boolean,
): string {
  const document = parsed(text).clone();
  if (document.errors.length > 0) return text;
  const foreign = slotsBelow(parsed(other).contents);
  for (let done = 0; done < changes; done++) {
    const slots = slotsBelow(document.contents);
    if (slots.length === 0) break;
    random.pick(gentle ? GENTLE : ALL)({ document, slots, foreign, random });
  }
  return document.toString({ lineWidth: 0 });
}
