import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ROOT, run } from '../run.ts';

/*
 * Trials sealed by version 1.0.0, with `weight: reject / condition / warn` in their limits and in their seals of format
 * 1. They are kept as they were written; a later version reads them and finds the same.
 */

const FOLDER = 'tests/archive/format-1';
const sealed = readdirSync(join(ROOT, FOLDER)).filter((name) => name.endsWith('.seal.json'));

test('every archived trial is as it was sealed', () => {
  expect(sealed.length).toBeGreaterThanOrEqual(5);
  const { out, code } = run(['recheck', FOLDER, '--format', 'json']);
  const checked = JSON.parse(out) as { file: string; state: string }[];
  expect(checked.map(({ state }) => state)).toEqual(sealed.map(() => 'same'));
  expect(code).toBe(0);
});

test('a seal of format 1 that says something else is told', () => {
  const name = `${FOLDER}/house-limits.yaml`;
  const text = readFileSync(join(ROOT, `${name}.seal.json`), 'utf8');
  const files = {
    [name]: readFileSync(join(ROOT, name), 'utf8'),
    [`${name}.seal.json`]: text.replace('"voids"', '"x"').replace('"condition"', '"warn"'),
  };
  expect(run(['recheck', name], files).out).toContain('seal damaged');
});
