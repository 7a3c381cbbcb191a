import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ROOT, run } from '../run.ts';
import { resealed } from './sealed.ts';

/*
 * Trials sealed by version 1.0.0, with `weight: reject / condition / warn` in their limits and in their seals of format
 * 1; and by a version before 1.1.0 in format 2, without readings and photos; and by version 1.1.0 in format 3. They are kept as they were written; a
 * later version reads them and finds the same.
 */

const FOLDER = 'tests/archive/format-1';

test.each([FOLDER, 'tests/archive/format-2', 'tests/archive/format-3'])(
  'every trial in %s is as it was sealed',
  (folder) => {
    const sealed = readdirSync(join(ROOT, folder)).filter((name) => name.endsWith('.seal.json'));
    expect(sealed.length).toBeGreaterThanOrEqual(5);
    const { out, code } = run(['recheck', folder, '--format', 'json']);
    const checked = JSON.parse(out) as { file: string; state: string }[];
    expect(checked.map(({ state }) => state)).toEqual(sealed.map(() => 'same'));
    expect(code).toBe(0);
  },
);

test('a seal of format 1 that says something else is told', () => {
  const name = `${FOLDER}/house-limits.yaml`;
  const text = readFileSync(join(ROOT, `${name}.seal.json`), 'utf8');
  const files = {
    [name]: readFileSync(join(ROOT, name), 'utf8'),
    [`${name}.seal.json`]: text.replace('"voids"', '"x"').replace('"condition"', '"warn"'),
  };
  expect(run(['recheck', name], files).out).toContain('seal damaged');
});

test('a seal of before that names limits in full is judged by the limits it holds, and that file is not opened', () => {
  const text = readFileSync(join(ROOT, 'tests/archive/format-2/harbour-street.yaml.seal.json'), 'utf8');
  const trial = readFileSync(join(ROOT, 'tests/archive/format-2/harbour-street.yaml'), 'utf8');
  const inFull = resealed(text, (content) =>
    content
      .replace('"over": ["office"]', '"over": ["/elsewhere/office.yaml"]')
      .replace('"kind": "preset", "file": "office"', '"kind": "limits", "file": "/elsewhere/office.yaml"'),
  );
  const { out, code } = run(['recheck', 'h.yaml', '--format', 'json'], {
    'h.yaml': trial,
    'h.yaml.seal.json': inFull,
    '/elsewhere/office.yaml': 'waste_per_thousand: {max: 1 g}\n',
  });
  const { state, remarks } = JSON.parse(out) as { state: string; remarks: { code: string }[] };
  expect([code, state]).toEqual([0, 'same']);
  expect(remarks.map(({ code: one }) => one)).toContain('limits-file-differs');
  expect(remarks.map(({ code: one }) => one)).not.toContain('limit-differs');
});
