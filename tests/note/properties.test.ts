import { expect, test } from 'vitest';
import { isMap, isScalar, isSeq, Lexer, type Node, parseDocument } from 'yaml';
import { readExamples } from '../fuzz/input.ts';
import { mutateStructure } from '../fuzz/mutate-structure.ts';
import { mutateTokens } from '../fuzz/mutate-tokens.ts';
import { Random } from '../fuzz/random.ts';
import { ROOT, run } from '../run.ts';

/* Notes on mutated examples, held against what another edit of the same document reads to. */

const examples = readExamples(ROOT);
const house = { 'limits/house.yaml': examples.limits[0] ?? '' };

interface Noted {
  readonly options: readonly string[];
  /** What another hand writes: an entry at the end of a list, or a value where none was. */
  readonly list: string;
  readonly entry: Readonly<Record<string, string>>;
}

const AT = '2026-07-01T09:10';

function noteFor(random: Random): Noted {
  const meter = String(1000 + random.below(160_000));
  const mass = String(600 + random.below(400));
  return random.pick<Noted>([
    {
      options: ['--meter', meter, '--container', mass],
      list: 'batches',
      entry: { end: meter, finished: AT, container_mass: `${mass} g` },
    },
    {
      options: ['--temperature', '21.40', '--humidity', '46'],
      list: 'ambient',
      entry: { at: AT, temperature: '21.40 °C', humidity: '46 %' },
    },
    {
      options: ['--event', 'jam', '--meter', meter, '--text', 'tray: 2, "left" #1'],
      list: 'events',
      entry: { at: meter, kind: 'jam', note: 'tray: 2, "left" #1' },
    },
    {
      options: ['--finding', 'transfer belt', '--severity', 'minor', '--stage', 'after'],
      list: 'inspection',
      entry: { stage: 'after', part: 'transfer belt', severity: 'minor' },
    },
  ]);
}

/** Comments of a text, in their order. */
function commentsOf(text: string): string[] {
  const comments: string[] = [];
  let before = '';
  for (const lexeme of new Lexer().lex(text)) {
    if (before !== '\u001f' && lexeme.startsWith('#')) comments.push(lexeme);
    before = lexeme;
  }
  return comments;
}

/** The text as the library writes it after adding the entry itself; null where it is not a plain list to add to. */
function byHand(text: string, { list, entry }: Noted): string | null {
  const document = parseDocument(text.replace(/^\ufeff/, ''), { schema: 'failsafe', version: '1.2' });
  if (!isMap(document.contents)) return null;
  const found = document.contents.get(list, true) as Node | null | undefined;
  const empty = found == null || (isScalar(found) && found.value === '');
  // An entry that was left empty is filled in.
  if (!empty && (!isSeq(found) || found.items.some((one) => !isMap(one) || one.items.length < 1)))
    return null;
  if (empty) document.set(list, document.createNode([entry]));
  else document.addIn([list], document.createNode(entry));
  return document.toString({ lineWidth: 0 });
}

const figuresOf = (text: string): unknown => {
  const { out } = run(['verdict', 't.yaml', '--format', 'json'], { 't.yaml': text, ...house });
  const { verdict, figures, limits, notes } = JSON.parse(out) as Record<string, unknown[]>;
  const codes = notes?.map((one) => (one as { code: string }).code).toSorted();
  return { verdict, figures, limits, codes };
};

/** Whether the lines of a text, but for a few, stand in another in their order. */
function missingLines(text: string, other: string): number {
  const rows = other.split(/\r\n|\n|\r/);
  let at = 0;
  let missing = 0;
  for (const row of text.split(/\r\n|\n|\r/)) {
    const found = rows.indexOf(row, at);
    if (found === -1) missing += 1;
    else at = found + 1;
  }
  return missing;
}

const SEEDS = 150;

test('a note on any trial reads as the trial did, and the reading; a refused one leaves it as it was', () => {
  const seen = { written: 0, compared: 0, refused: 0 };
  for (let seed = 1; seed <= SEEDS; seed++) {
    const random = new Random(seed);
    const trials = [...examples.trials, ...examples.pooled];
    const [one, other] = [random.pick(trials), random.pick(trials)];
    const structured = mutateStructure(one, random, other, random.below(4), true);
    const changed = random.once(2) ? mutateTokens(structured, random, examples.scalars, true) : structured;
    const ends = random.pick(['\n', '\n', '\r\n']);
    const text = `${random.once(4) ? '\ufeff' : ''}${changed.replaceAll('\n', ends)}`;
    const note = noteFor(random);
    const { code, written, err } = run(
      ['note', 't.yaml', ...note.options, ...(note.list in { batches: 1, ambient: 1 } ? ['--at', AT] : [])],
      { 't.yaml': text, ...house },
    );
    const what = `seed ${seed}: ${note.options.join(' ')}\n${err}`;
    expect([0, 3], what).toContain(code);
    const after = written['t.yaml'];
    if (code !== 0) {
      expect(written, what).toEqual({});
      expect(err, what).not.toBe('');
      seen.refused += 1;
      continue;
    }
    if (after === undefined) throw new Error(what);
    seen.written += 1;
    expect(missingLines(text, after), what).toBeLessThanOrEqual(1);
    const comments = commentsOf(after);
    for (const comment of commentsOf(text)) expect(comments, what).toContain(comment);
    const hand = byHand(text, note);
    if (hand === null) continue;
    seen.compared += 1;
    expect(figuresOf(after), what).toEqual(figuresOf(hand));
  }
  // Of each there is enough to mean something.
  expect(Math.min(...Object.values(seen)), JSON.stringify(seen)).toBeGreaterThan(SEEDS / 20);
});
