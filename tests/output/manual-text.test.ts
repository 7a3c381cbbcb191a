import { expect, test } from 'vitest';
import { manualText } from '../../src/output/manual-text.ts';
import { PLAIN } from '../../src/output/paint.ts';
import { run } from '../run.ts';

/* A page of the manual on a terminal: nothing is cut, and a command stays one line that can be copied. */

const fenced = (...lines: string[]): string[] =>
  manualText(['```', ...lines, '```'].join('\n'), PLAIN)
    .trimEnd()
    .split('\n');

test('a command longer than a line stays whole; what is said of it goes above it', () => {
  const command = `tallytare start lot-k20.yaml --lot K-20 --slots ${'black,'.repeat(10)}cyan`;
  expect(fenced(command)).toEqual([command]);
  expect(fenced('tallytare plan a.yaml', `${command}    # the first of them`)).toEqual([
    'tallytare plan a.yaml',
    '    # the first of them',
    `    ${command}`,
  ]);
  expect(fenced('tallytare plan a.yaml    # short')).toEqual(['tallytare plan a.yaml    # short']);
});

test('what is printed is wrapped at 80 columns, no word lost', () => {
  const long = `  ${'word '.repeat(30)}end`;
  const lines = fenced('head', long);
  expect(lines.join(' ').split(/\s+/)).toEqual(`head ${long.trim()}`.split(/\s+/));
  expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80);
});

test('the list of commands and topics has every word of what is said of them', () => {
  const { out } = run(['help']);
  expect(out.replace(/\s+/g, ' ')).toContain('from the trials of its cartridges ');
  expect(out.replace(/\s+/g, ' ')).toContain('by which limit, by how much');
  expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
});
