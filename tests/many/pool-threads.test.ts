import { expect, test } from 'vitest';
import { folderWith, spawned } from '../built.ts';

/* Many trials pooled on every core: each is taken in once, in its order. */

const COUNT = 240;
const pagesOf = (index: number): number => 10_000 + index;

const trials = Object.fromEntries(
  Array.from({ length: COUNT }, (_, index) => {
    const end = 1000 + pagesOf(index);
    return [
      `${String(index).padStart(3, '0')}.yaml`,
      `trial: run ${index}\nlot: {id: K-${index % 2}}\nmachine: {label: Teal}\nmeter: {start: 1000, end: ${end}}\ncoverage: 5 %\n` +
        `cartridges: [{slot: black, serial: S-${index}, price: 40.00 EUR, exhausted_at: ${end}}]\n`,
    ];
  }),
);

test('groups and cartridges of many files', () => {
  const cwd = folderWith({ ...trials, '999.yaml': 'trial: no meter\n' });
  const groups = spawned(['pool', '.', '--by', 'lot', '--format', 'jsonl'], { cwd });
  expect(groups.status).toBe(3);
  expect(groups.stderr).toMatch(/^999\.yaml:/);
  // Of lot K-0 pages 10 000, 10 002, … 10 238: their mean is 10 119; of K-1 one more.
  expect(
    groups.stdout
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as unknown),
  ).toEqual([
    expect.objectContaining({ lot: 'K-0', n: 120, mean: '10119', trials: 120, currency: 'EUR' }),
    expect.objectContaining({ lot: 'K-1', n: 120, mean: '10120', trials: 120, currency: 'EUR' }),
  ]);
  const rows = spawned(['pool', '.', '--cartridges', '--format', 'jsonl'], { cwd });
  expect(
    rows.stdout
      .trimEnd()
      .split('\n')
      .map((line) => (JSON.parse(line) as { yield_at_reference: string }).yield_at_reference),
  ).toEqual(Array.from({ length: COUNT }, (_, index) => String(pagesOf(index))));
});

test('the same bytes twice among many are refused', () => {
  const cwd = folderWith({ ...trials, 'again.yaml': trials['000.yaml'] ?? '' });
  const { status, stderr, stdout } = spawned(['pool', '.'], { cwd });
  expect({ status, stdout }).toEqual({ status: 3, stdout: '' });
  expect(stderr).toContain('000.yaml and again.yaml are the same bytes');
});
