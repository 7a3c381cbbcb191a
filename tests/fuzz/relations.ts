import { isMap, isScalar, isSeq, type Node, parseDocument, YAMLMap } from 'yaml';
import { type Files, run } from '../run.ts';
import { inputOf, type Examples } from './input.ts';
import { Random } from './random.ts';

/*
 * What must hold between two runs, whatever the input says: the program is held against itself. A relation is
 * asked of a trial as text; it says what does not hold, `null` where it does, or that it cannot be asked.
 */

const NOT_ASKED = Symbol('not asked');
type Answer = string | null | typeof NOT_ASKED;
type Relation = (text: string, more: Files, random: Random) => Answer;

interface Judged {
  readonly verdict: string;
  readonly figures: readonly unknown[];
  readonly limits: readonly {
    readonly figure: string;
    readonly of: string | null;
    readonly stat: string | null;
  }[];
}

const TRIAL = 'a.yaml';

function judged(text: string, more: Files): Judged | null {
  const { out } = run(['verdict', TRIAL, '--format', 'json'], { ...more, [TRIAL]: text });
  const found = JSON.parse(out) as Judged;
  return found.verdict === 'invalid' ? null : found;
}

/** A list without its order: keys that are shuffled list slots in another. */
const sorted = (list: readonly unknown[]): string[] => list.map((one) => JSON.stringify(one)).toSorted();

/** The trial with something changed in its document; null where the text is none to change. */
function changed(text: string, change: (top: YAMLMap) => boolean): string | null {
  // A byte order mark belongs before everything, wherever the key behind it goes.
  const document = parseDocument(text.replace(/^\ufeff/, ''), { schema: 'failsafe', version: '1.2' });
  if (document.errors.length > 0 || !isMap(document.contents)) return null;
  return change(document.contents) ? document.toString({ lineWidth: 0 }) : null;
}

function shuffle(node: unknown, random: Random): void {
  if (isSeq(node)) for (const item of node.items) shuffle(item, random);
  if (!isMap(node)) return;
  for (const { value } of node.items) shuffle(value, random);
  for (let last = node.items.length - 1; last > 0; last--) {
    const other = random.below(last + 1);
    const [a, b] = [node.items[last], node.items[other]];
    if (a && b) [node.items[last], node.items[other]] = [b, a];
  }
}

function same(text: string, change: (top: YAMLMap) => boolean, more: Files, only?: 'figures'): Answer {
  const before = judged(text, more);
  const other = before === null ? null : changed(text, change);
  if (before === null || other === null) return NOT_ASKED;
  const after = judged(other, more);
  if (after === null) return 'it can no longer be read';
  if (only === undefined && after.verdict !== before.verdict)
    return `${before.verdict} became ${after.verdict}`;
  for (const list of only === undefined ? (['figures', 'limits'] as const) : [only]) {
    const [was, is] = [sorted(before[list]), sorted(after[list])];
    const moved = was.find((one, index) => one !== is[index]);
    if (moved !== undefined || was.length !== is.length) return `${list}: ${moved ?? 'more of them'}`;
  }
  return null;
}

const get = (map: YAMLMap, key: string): Node | null | undefined => map.get(key, true);

export const RELATIONS: Readonly<Record<string, Relation>> = {
  'keys shuffled': (text, more, random) =>
    same(
      text,
      (top) => {
        shuffle(top, random);
        return true;
      },
      more,
    ),

  'notes added': (text, more) =>
    same(
      text,
      (top) => {
        let added = false;
        for (const key of ['events', 'inspection', 'batches']) {
          const list = get(top, key);
          for (const item of isSeq(list) ? list.items : []) {
            if (!isMap(item) || item.has('note')) continue;
            item.set('note', 'looked at twice');
            added = true;
          }
        }
        return added;
      },
      more,
    ),

  'a batch split': (text, more) =>
    same(
      text,
      (top) => {
        const [meter, batches] = [get(top, 'meter'), get(top, 'batches')];
        if (!isMap(meter) || !isSeq(batches)) return false;
        const [first] = batches.items;
        // A part without times of its own would leave the printing without them.
        if (isMap(first) && (first.has('started') || first.has('finished'))) return false;
        const [start, end] = [meter.get('start'), isMap(first) ? first.get('end') : null];
        if (!/^\d{1,9}$/.test(String(start)) || !/^\d{1,9}$/.test(String(end))) return false;
        const middle = Math.floor((Number(start) + Number(end)) / 2);
        if (middle <= Number(start) || middle >= Number(end)) return false;
        const split = new YAMLMap();
        split.set('end', String(middle));
        batches.items.unshift(split);
        return true;
      },
      more,
      'figures',
    ),

  'every format says one verdict': (text, more) => {
    const files = { ...more, [TRIAL]: text };
    const as = (...options: string[]) => run(['verdict', TRIAL, ...options], files);
    const json = as('--format', 'json');
    const { verdict } = JSON.parse(json.out) as Judged;
    const plain = as();
    const csv = as('--format', 'csv', '--columns', 'verdict');
    const junit = as('--format', 'junit');
    const codes = { pass: 0, fail: 1, inconclusive: 2, invalid: 3 } as Record<string, number>;
    const cases = {
      pass: /failures="0" errors="0" skipped="0"/,
      fail: /failures="1"/,
      inconclusive: /skipped="1"/,
      invalid: /errors="1"/,
    } as Record<string, RegExp>;
    const wrong = [json, plain, csv, junit, as('--quiet')].find(({ code }) => code !== codes[verdict]);
    if (wrong) return `exit ${wrong.code} of ${verdict}`;
    const last = plain.out.trimEnd().split('\n').at(-1) ?? '';
    if (!last.startsWith(`VERDICT: ${verdict.toUpperCase()}`)) return `text: ${last}`;
    if (as('--quiet').out !== `${verdict}\t${TRIAL}\n`) return 'quiet';
    if (verdict !== 'invalid' && csv.out.split('\r\n')[1] !== verdict) return `CSV: ${csv.out}`;
    return cases[verdict]?.test(junit.out) ? null : `JUnit: ${junit.out.slice(0, 200)}`;
  },

  'sealed, it is the same': (text, more) => {
    const files = { ...more, [TRIAL]: text };
    const { code, written } = run(['seal', TRIAL], files);
    if (code === 3) return NOT_ASKED;
    if (code !== 0) return `seal ended with ${code}`;
    const { code: again, out } = run(['recheck', TRIAL], { ...files, ...written });
    return again === 0 ? null : out;
  },
};

/** A scalar alone, or nothing, is no trial that anything can be asked of. */
function isTrial(text: string): boolean {
  try {
    const { contents, errors } = parseDocument(text, { schema: 'failsafe' });
    return errors.length === 0 && contents !== null && !isScalar(contents);
  } catch (error) {
    // Lists in lists in lists.
    if (error instanceof RangeError) return false;
    throw error;
  }
}

/** Asks every relation of `count` mutated trials; how often each was asked, and what did not hold. */
export function relate(
  seed: number,
  count: number,
  examples: Examples,
): { readonly asked: ReadonlyMap<string, number>; readonly broken: readonly string[] } {
  const asked = new Map(Object.keys(RELATIONS).map((name) => [name, 0]));
  const broken: string[] = [];
  for (let number = 0; number < count; number++) {
    const { files } = inputOf(seed, number, examples);
    const { [TRIAL]: bytes, ...more } = files;
    if (bytes === undefined) continue;
    const text = bytes.toString('utf8');
    if (!Buffer.from(text).equals(bytes) || !isTrial(text)) continue;
    const names = ['every format says one verdict', ...Object.keys(RELATIONS)];
    const random = new Random(seed, number, 1);
    for (const name of new Set(names)) {
      const answer = RELATIONS[name]?.(text, more, random);
      if (answer === NOT_ASKED || answer === undefined) continue;
      asked.set(name, (asked.get(name) ?? 0) + 1);
      if (answer !== null) broken.push(`seed ${seed}, number ${number}: ${name}: ${answer}`);
    }
  }
  return { asked, broken };
}
