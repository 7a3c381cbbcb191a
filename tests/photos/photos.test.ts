import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ROOT } from '../run.ts';
import { PHOTOS } from './drawings.ts';
import { holds, png } from './png.ts';

/** `npm run photos` draws them; without it this test says when the files are others. */
test.each(Object.entries(PHOTOS))('examples/photos/%s is what is drawn here', (name, draw) => {
  const file = join(ROOT, 'examples', 'photos', name);
  const drawn = draw();
  if (process.env['PHOTOS'] === 'write') writeFileSync(file, png(drawn));
  expect(holds(readFileSync(file), drawn)).toBe(true);
});
