import { COLLECTION_STYLE, type Event, EVENT_ID, SCALAR_STYLE } from 'js-yaml';
import { isAlias, isMap, isScalar, isSeq, type Node, type Scalar } from 'yaml';
import { wordOrNothing } from './yaml-events.ts';

/** Nodes as the events that reading them would have been, and what their scalars say. */
export interface NodeEvents {
  readonly events: readonly Event[];
  readonly scalars: ReadonlyMap<Event, string | null>;
}

const NO_MARKS = { anchorStart: -1, anchorEnd: -1, tagStart: -1, tagEnd: -1 };
const AS_READ = { style: SCALAR_STYLE.PLAIN, chomping: 1, indent: -1, fast: false } as const;

/** The tag of nothing, as the reader resolves it. */
const NULL_TAG = /^tag:yaml\.org,2002:null$/;

/** The events of a document that was read as nodes. */
export function eventsOfNodes(root: Node | null, text: string): NodeEvents {
  const events: Event[] = [
    { type: EVENT_ID.DOCUMENT, explicitStart: false, explicitEnd: false, directives: [] },
  ];
  const scalars = new Map<Event, string | null>();

  /** Where the tag of a node stands: right before it, which the nodes do not tell. */
  const marks = (tag: string | undefined, start: number) => {
    if (tag === undefined) return NO_MARKS;
    const sign = text.lastIndexOf('!', start);
    const tagStart = Math.max(0, text[sign - 1] === '!' ? sign - 1 : sign);
    return { ...NO_MARKS, tagStart, tagEnd: tagStart + text.slice(tagStart).search(/[\s,[\]{}]|$/) };
  };

  const scalar = (node: Scalar | null): void => {
    const plain = node?.type === undefined || node.type === 'PLAIN';
    const said = typeof node?.value === 'string' ? node.value : '';
    const [valueStart, valueEnd] = plain && said === '' ? [-1, -1] : (node?.range ?? [0, 0]);
    const at = { valueStart, valueEnd, ...marks(node?.tag, node?.range?.[0] ?? 0) };
    const event: Event = { type: EVENT_ID.SCALAR, ...at, ...AS_READ };
    scalars.set(
      event,
      plain && (node?.tag === undefined || NULL_TAG.test(node.tag)) ? wordOrNothing(said) : said,
    );
    events.push(event);
  };

  function walk(node: unknown): void {
    if (isAlias(node)) {
      const [start, end] = node.range ?? [0, 0];
      events.push({ type: EVENT_ID.ALIAS, anchorStart: start + 1, anchorEnd: end });
    } else if (isMap(node) || isSeq(node)) {
      const [start] = node.range ?? [0];
      const type = isMap(node) ? EVENT_ID.MAPPING : EVENT_ID.SEQUENCE;
      const style = node.flow ? COLLECTION_STYLE.FLOW : COLLECTION_STYLE.BLOCK;
      events.push({ type, start, ...marks(node.tag, start), style });
      const inside = isMap(node) ? node.items.flatMap(({ key, value }) => [key, value]) : node.items;
      inside.forEach(walk);
      events.push({ type: EVENT_ID.POP });
    } else scalar(isScalar(node) ? node : null);
  }
  walk(root);
  return { events, scalars };
}
