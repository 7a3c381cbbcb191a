import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { FIGURES } from '../../src/figures/list.ts';
import { CODES } from '../../src/problems/codes.ts';
import { ROOT } from '../run.ts';

/* Every code has its sentence met in a test, and every figure a check against a value from outside. */

const texts = (folder: string): string =>
  readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts') && entry.name !== 'sentences.test.ts')
    .map((entry) => readFileSync(join(entry.parentPath, entry.name), 'utf8'))
    .join('\n');

const all = texts('tests');
const published = texts(join('tests', 'published'));

test.each(Object.keys(CODES))('the code %s is met in a test', (code) => {
  expect(all).toMatch(new RegExp(`['" ]${code}['": ]`));
});

test.each(FIGURES.map(({ name }) => name))('%s is named in tests/published', (figure) => {
  expect(published).toMatch(new RegExp(`\\b${figure}\\b`));
});
