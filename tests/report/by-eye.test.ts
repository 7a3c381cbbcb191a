import { expect, test } from 'vitest';
import { run } from '../run.ts';
import { IMAGES, bytesOf } from './images.ts';
import { htmlOf } from './run-report.ts';

/* What was judged on the prints by eye, in the report and in the seal; the trial is invented. */

const TRIAL = `
trial: Saddlers Court lot 2, machine Dun
meter: {start: 500, end: 4500}
prints:
  by_eye:
    - {attribute: contrast, severity: none, by: R. Okoye}
    - {attribute: voids, severity: minor, batch: 2, by: L. Brandt, note: small white spots, photo: voids.png}
    - {attribute: streaks, severity: major, against: first}
limits: {worst_print: {max: major}}
`;

test('the report has a line for what is as good, and a row for what is worse, with its photo', () => {
  const [, , png = ''] = IMAGES.find(([name]) => name === 'PNG') ?? [];
  const html = htmlOf(TRIAL, { 'voids.png': bytesOf(png) });
  const text = html.replace(/<[^>]*>/g, '|').replace(/\|+/g, '|');
  expect(text).toContain('By eye: contrast: as the reference.');
  expect(text).toContain('Prints judged by eye, the worst first');
  const [streaks, voids] = [text.indexOf('|streaks|'), text.indexOf('|voids|')];
  expect(streaks).toBeGreaterThan(-1);
  expect(voids).toBeGreaterThan(streaks);
  expect(text).toMatch(
    /\|voids\|[^]*?minor[^]*?\|batch 2\|the reference print\|small white spots\|L\. Brandt\|voids\.png\|/,
  );
  expect(html).toContain('voids: small white spots (voids.png)');
});

test('a photo of a print is an input of the seal', () => {
  const { written } = run(['seal', 'a/t.yaml'], { 'a/t.yaml': TRIAL, 'a/voids.png': 'the bytes of a photo' });
  const [seal = ''] = Object.values(written);
  expect(seal).toContain('"voids.png"');
});
