import { expect, test } from 'vitest';
import { namesIn } from '../../src/files/names-in.ts';

/** A text in pieces of a given size. */
function pieces(text: string, size: number): Uint8Array[] {
  const bytes = Buffer.from(text);
  return Array.from({ length: Math.ceil(bytes.length / size) }, (_, index) =>
    bytes.subarray(index * size, (index + 1) * size),
  );
}

test.each([1, 2, 3, 7, 1000])('names in pieces of %i bytes', (size) => {
  expect([...namesIn(pieces('añb\n\nc d\r\ne', size))]).toEqual(['añb', 'c d', 'e']);
  expect([...namesIn(pieces('a\nb\0\0c\r\0e', size))]).toEqual(['a\nb', 'c\r', 'e']);
  expect([...namesIn(pieces('', size))]).toEqual([]);
});

test('a list of any length, its first name with a line break', () => {
  const names = Array.from({ length: 20_000 }, (_, index) => `archive/${index}.yaml`);
  expect([...namesIn(pieces(names.join('\n'), 65536))]).toEqual(names);
  const odd = ['a\nb', ...names];
  expect([...namesIn(pieces(odd.map((name) => `${name}\0`).join(''), 4096))]).toEqual(odd);
});

test('what was read is given on before the rest is asked for', () => {
  let asked = 0;
  function* endless(): Generator<Uint8Array> {
    for (;;) {
      asked += 1;
      yield Buffer.from('x.yaml\n'.repeat(10_000));
    }
  }
  for (const name of namesIn(endless())) {
    expect(name).toBe('x.yaml');
    break;
  }
  expect(asked).toBe(1);
});
