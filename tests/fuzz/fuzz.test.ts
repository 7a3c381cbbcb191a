import { expect, test } from 'vitest';
import { ROOT } from '../run.ts';
import { fuzz } from './fuzz.ts';
import { inputOf, readExamples } from './input.ts';
import { judge } from './judge.ts';
import { relate } from './relations.ts';
import { shrink } from './shrink.ts';
import { tryHere } from './try.ts';

test('mutated examples end in a documented way', () => {
  const said: string[] = [];
  const { inputs, codes } = fuzz({ seed: 7, count: 100, say: (text) => said.push(text) });
  expect(said).toEqual([]);
  expect(inputs).toBe(100);
  // A round that only ever tried what cannot be read would prove little.
  const ends = [...codes.values()].flatMap((ended) => [...ended.keys()]);
  expect(ends).toEqual(expect.arrayContaining([0, 1, 2, 3]));
});

test('mutated trials keep to what must hold between two runs', () => {
  const { asked, broken } = relate(3, 150, readExamples(ROOT));
  expect(broken).toEqual([]);
  expect(Math.min(...asked.values())).toBeGreaterThan(0);
});

test('the same seed and number give the same input', () => {
  const examples = readExamples(ROOT);
  const some = (seed: number) => Array.from({ length: 60 }, (_, number) => inputOf(seed, number, examples));
  expect(some(3)).toEqual(some(3));
  expect(some(3)).not.toEqual(some(4));
});

const input = {
  argv: ['verdict', 'a.yaml'],
  shape: 'text',
  writes: null,
  files: { 'a.yaml': Buffer.from('trial: x\n') },
} as const;
const fine = { code: 0, out: 'x\n', err: '', written: null, milliseconds: 1, peak: null } as const;

test.each([
  ['exit code', { code: null }],
  ['exit code', { code: 134 }],
  ['stack trace in err', { err: '\n    at main (/x/tallytare.cjs:1:2)\n' }],
  ['error of the language in err', { err: 'TypeError: x is not a function\n' }],
  ['own failure in err', { err: 'tallytare: something went wrong that should not have: x\n' }],
  ['not a number in out', { out: 'pages  NaN page\n' }],
  ['infinity in out', { out: 'pages  -Infinity page\n' }],
  ['undefined in out', { out: 'undefined\n' }],
  ['object in out', { out: '[object Object]\n' }],
  ['minus zero in out', { out: 'room  -0.0 g\n' }],
  ['control character in out', { out: '\u001b[31mx\n' }],
  ['over 80 columns', { out: `${'漢'.repeat(41)}\n` }],
  ['says nothing', { out: '' }],
  ['slow', { milliseconds: 1001 }],
  ['memory', { peak: 201 }],
])('a fault is found: %s', (kind, change) => {
  expect(judge(input, fine)).toBeNull();
  expect(judge(input, { ...fine, ...change })).toMatchObject({ kind });
});

test.each([
  ['json', '{"a": 1', 'not JSON'],
  ['jsonl', '{"a": 1}\n{"a"\n', 'not JSON'],
  ['csv', 'a,b\r\n1\r\n', 'not CSV'],
  ['csv', 'a,b\n1,2\n', 'not CSV'],
] as const)('%s that is none is found', (shape, out, kind) => {
  expect(judge({ ...input, shape }, { ...fine, out })).toMatchObject({ kind });
});

test('what the file says may be said back', () => {
  const said = { ...input, files: { 'a.yaml': Buffer.from('trial: NaN\n') } };
  expect(judge(said, { ...fine, out: 'NaN\n' })).toBeNull();
});

test('a failing input is shrunk to what fails', () => {
  const files = { 'a.yaml': Buffer.from('trial: x\nmeter: {start: 1, end: 2}\ncoverge: 5 %\n') };
  const fails = (one: typeof input) => tryHere(one).out.includes('"coverge"');
  const small = shrink({ ...input, files }, (one) => fails(one as typeof input), 2000, 30);
  expect(String(small.files['a.yaml'])).toBe('coverge:');
});
