import fc from 'fast-check';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { readSource } from '../../src/text/source.ts';

/** Data as `yaml` reads it, an independent reader of YAML 1.2: every scalar as text, no word but those for nothing. */
const expected = (text: string): unknown =>
  parse(text, {
    schema: 'core',
    customTags: (tags) =>
      tags.filter((tag) => typeof tag === 'string' || !/:(int|float|bool)$/.test(tag.tag)),
  });

const plainly = (data: unknown): unknown => JSON.parse(JSON.stringify(data));

test.each([
  ['numbers, words and serials', 'a: 0012\nb: 1500.50\nc: 12E45678\nd: yes\ne: 0x1F\nf: 1_000\n'],
  ['nothing, and the words for it', 'a:\nb: ~\nc: null\nd: Null\ne: NULL\nf: ""\ng: "null"\nh: nULL\n'],
  ['quotation marks', 'a: \'it\'\'s\'\nb: "x\\ty\\u00e9"\nc: "two\n  lines"\n"d": 1\n'],
  ['plain text over lines', 'a: one\n  two\n\n  three\nb: x#y # note\n'],
  ['block text', 'a: |\n  one\n  two\nb: >-\n  one\n  two\nc: |2\n    x\nd: # why | not\n  |+\n  y\n\n'],
  ['lists and maps', 'a:\n- b\n- c: 1\n  d: 2\n-\n  - x\n  - - y\ne: [1, {f: g}, [], {}]\n'],
  ['brackets over lines', 'a: {b: 1,\n  c: [x,\n  y], "d":2 }\n'],
  ['one document, marked', '%YAML 1.2\n---\na: 1\n...\n'],
  ['anchors, of which nothing follows', 'a: &x 1\nb: &y {c: 2}\n'],
  [
    'tags that say what is there anyway',
    'a: !!str 5\nb: !!map {c: !!seq [1]}\nd: !!str null\ne: !!null ~\nf: !!null\n',
  ],
  [
    'a bracket closed below its key',
    'a: [\n  {b: 1, c: "x y"},\n  \'it\'\'s\', ~, null, "null", \n]\nd: {\n  e: f\n}\ng: 0012\n',
  ],
  [
    'a bracket closed below its key, with much else',
    'a: [\n]\nb: |\n  x\n  y\nc: >-\n  p\n  q\nd:\n  - !!str 5\n  - &z {f: }\n  - one\n    two\n',
  ],
  ['nested as deep as a trial may be', `a: ${'['.repeat(63)}1${']'.repeat(63)}\n`],
  ['dashes that are none of a list', `a: ${'-'.repeat(400_000)}\n`],
])('%s', (_, text) => {
  const { data, problems } = readSource('a.yaml', text);
  expect(problems).toEqual([]);
  expect(plainly(data)).toEqual(expected(text));
});

test('data written as YAML is read back, and each value stands where it is said to', () => {
  const word = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9 .°µé-]{0,8}[a-z]$/);
  const { value } = fc.letrec((tie) => ({
    value: fc.oneof(
      { depthSize: 'small' },
      word,
      fc.array(tie('value'), { maxLength: 4 }),
      fc.dictionary(word, tie('value'), { maxKeys: 4 }),
    ),
  }));
  fc.assert(
    fc.property(fc.dictionary(word, value, { minKeys: 1, maxKeys: 5 }), (wanted) => {
      // JSON is YAML 1.2.
      const text = JSON.stringify(wanted, null, 2);
      const source = readSource('a.yaml', text);
      expect(plainly(source.data)).toEqual(plainly(wanted));
      const rows = text.split('\n');
      const look = (data: unknown, path: (string | number)[]): void => {
        const { line, column } = source.place({ path });
        const here = rows[line - 1]?.slice(column - 1) ?? '';
        if (typeof data === 'string') expect(here.startsWith(JSON.stringify(data))).toBe(true);
        else expect(here.startsWith(Array.isArray(data) ? '[' : '{')).toBe(true);
        if (typeof data !== 'object' || data === null) return;
        for (const [step, entry] of Object.entries(data)) {
          const at = [...path, Array.isArray(data) ? Number(step) : step];
          look(entry, at);
          if (Array.isArray(data)) continue;
          const key = source.place({ path: at, atKey: true });
          expect(rows[key.line - 1]?.slice(key.column - 1).startsWith(JSON.stringify(step))).toBe(true);
        }
      };
      look(wanted, []);
    }),
  );
});

test('block text stands where its sign is', () => {
  const text = 'note: |\n  a\n  b\nother: [x]\nlast: >-\n  c\n';
  const source = readSource('a.yaml', text);
  expect(source.place({ path: ['note'] })).toEqual({ line: 1, column: 7 });
  expect(source.place({ path: ['last'] })).toEqual({ line: 5, column: 7 });
});

test.each([
  ['block text after a comment with its sign', 'a: # not > 6\n  >\n  x\n', ['a'], 2, 3],
  ['block text with an anchor', 'a: &p> >\n  x\n', ['a'], 1, 8],
  ['after a bracket closed below its key', 'a: [\n]\nb: "x"\nc: |\n  y\n', ['b'], 3, 4],
  ['block text after such a bracket', 'a: [\n]\nb: "x"\nc: |\n  y\n', ['c'], 4, 4],
])('%s', (_, text, path, line, column) => {
  expect(readSource('a.yaml', text).place({ path })).toEqual({ line, column });
});

test('a key that is a digit and has a value left empty is a key', () => {
  const { data, problems } = readSource('a.yaml', 'coverage: {black: 1, 5: }\n');
  expect(problems).toEqual([]);
  expect(plainly(data)).toEqual({ coverage: { black: '1', 5: null } });
});

test('faults are told where they stand, whatever lines end in', () => {
  const text = 'trial: a\rmeter: {start: 1}\rcoverage: 5 %\rduplex_share: 40 % 30: x\r';
  const source = readSource('a.yaml', text);
  expect(source.problems.map((problem) => source.place(problem).line)).toEqual([4]);
});
