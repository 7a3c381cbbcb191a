import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { imageKind } from '../../src/report/photo.ts';
import { ROOT } from '../run.ts';
import { installedBrowser, launch } from './browser.ts';
import { runReport } from './run-report.ts';

const file = join(ROOT, 'examples', 'report.png');
const [WIDTH, HEIGHT, SCALE] = [760, 900, 0.7];

/** Two parts of the report on the four-colour example beside each other: its head, and its strips. */
async function draw(): Promise<Buffer> {
  const executable = installedBrowser();
  if (executable === null) throw new Error('The picture is taken in a Chromium, and there is none here.');
  const browser = await launch(executable);
  try {
    const page = await browser.newPage({
      viewport: { width: WIDTH, height: HEIGHT },
      deviceScaleFactor: SCALE,
      colorScheme: 'light',
    });
    await page.setContent(runReport(['examples/four-colour-pass.yaml', '--output', '-']).out);
    const strips = await page.evaluate<number>(
      "document.querySelector('details').open = true, document.querySelector('#part-1').getBoundingClientRect().top + scrollY",
    );
    const views = [];
    for (const y of [0, strips - 20]) {
      const clip = { x: 0, y, width: WIDTH, height: HEIGHT };
      views.push((await page.screenshot({ fullPage: true, clip })).toString('base64'));
    }
    const both = await browser.newPage({
      viewport: { width: 2 * WIDTH * SCALE + 16, height: HEIGHT * SCALE + 2 },
    });
    const images = views.map((view) => `<img src="data:image/png;base64,${view}">`).join('');
    await both.setContent(
      `<style>body { margin: 0; display: flex; gap: 12px; background: #fff } img { border: 1px solid #bbb }</style>${images}`,
    );
    return await both.screenshot();
  } finally {
    await browser.close();
  }
}

/** `npm run picture` takes it anew; what a browser draws differs from machine to machine, so it is not compared. */
test('the picture in the README is an image of the report, and small', async () => {
  if (process.env['PICTURE'] === 'write') writeFileSync(file, await draw());
  expect(existsSync(file)).toBe(true);
  const bytes = readFileSync(file);
  expect(imageKind(bytes)?.type).toBe('image/png');
  expect(bytes.length).toBeLessThan(150_000);
  expect(readFileSync(join(ROOT, 'README.md'), 'utf8')).toContain('](examples/report.png)');
});
