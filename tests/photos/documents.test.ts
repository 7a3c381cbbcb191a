import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { PNG } from 'pngjs';
import { expect, test } from 'vitest';
import { ROOT } from '../run.ts';
import { letter, letterPng } from './documents.ts';

/** `npm run photos` draws it; without it this test says when the file is another. */
test('examples/documents/letter.png is what is drawn here', () => {
  const file = join(ROOT, 'examples', 'documents', 'letter.png');
  if (process.env['PHOTOS'] === 'write') writeFileSync(file, letterPng());
  const { data } = PNG.sync.read(readFileSync(file));
  const { samples } = letter();
  expect(data.length).toBe(4 * samples.length);
  expect(samples.every((sample, at) => data[4 * at] === sample)).toBe(true);
});
