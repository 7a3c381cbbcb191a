import { describe, expect, it } from 'vitest';
import { type Thread, inOrder, MANY } from '../../src/many/in-order.ts';
import type { TrialFile } from '../../src/files/trial-files.ts';

const named = (file: string): TrialFile => ({ file, met: false, trouble: null });
const many = (count: number): TrialFile[] => Array.from({ length: count }, (_, index) => named(`t${index}`));

/** A thread that is done with a portion only when it was asked `slow` times. */
function threadOf(slow: number, seen: string[]): Thread<string> {
  const given: (readonly TrialFile[])[] = [];
  let asked = 0;
  return {
    give: (files) => void given.push(files),
    take: () => {
      asked += 1;
      if (asked % (slow + 1) !== 0) return null;
      const files = given.shift() ?? [];
      seen.push(...files.map(({ file }) => file));
      return files.map(({ file }) => (file.endsWith('7') ? null : `thread ${file}`));
    },
    dismiss: () => void seen.push('dismissed'),
  };
}

const step = ({ file }: TrialFile): string | null => (file.endsWith('7') ? null : `here ${file}`);
const names = (made: Iterable<string>): string[] => [...made].map((one) => one.replace(/^\w+ /, ''));
const wanted = (count: number): string[] =>
  many(count)
    .map(({ file }) => file)
    .filter((file) => !file.endsWith('7'));

describe('what is made of many files', () => {
  it.each([0, 1, 3, 50])('comes in their order, however slow the others are (%d)', (slow) => {
    const seen: string[] = [];
    const threads = { all: [threadOf(slow, seen), threadOf(slow * 2, seen)], wait: () => undefined };
    expect(names(inOrder(many(1003), step, () => threads))).toEqual(wanted(1003));
    expect(seen.filter((one) => one === 'dismissed')).toHaveLength(2);
    expect(seen.length).toBeGreaterThan(100);
  });

  it('is made here where there are few, or nobody else', () => {
    const nobody = (): never => {
      throw new Error('called');
    };
    expect(names(inOrder(many(MANY - 1), step, nobody))).toEqual(wanted(MANY - 1));
    expect(names(inOrder(many(500), step, () => ({ all: [], wait: nobody })))).toEqual(wanted(500));
  });

  it('is made here where it is read from standard input', () => {
    const files = [...many(300), named('-'), ...many(10)];
    const made = [...inOrder(files, step, () => ({ all: [threadOf(0, [])], wait: () => undefined }))];
    expect(made).toContain('here -');
  });

  it('asks for no more files than are under work, so that any number of them may come', () => {
    let asked = 0;
    function* endless(): Generator<TrialFile> {
      for (;;) yield named(`t${asked++}`);
    }
    const seen: string[] = [];
    const made = inOrder(endless(), step, () => ({ all: [threadOf(2, seen)], wait: () => undefined }));
    for (let count = 0; count < 1000; count++) expect(made.next().done).toBe(false);
    expect(asked).toBeLessThan(1000 + 1000);
    made.return(undefined);
    expect(seen).toContain('dismissed');
  });
});
