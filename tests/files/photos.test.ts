import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { processIo } from '../../src/world/io.ts';
import { main } from '../../src/commands/main.ts';
import { report } from '../../src/commands/report.ts';
import { bytesOf, IMAGES } from '../report/images.ts';
import { ROOT } from '../run.ts';

// Links, pipes and devices are of a real disk only.

let folder = '';
const jpeg = bytesOf(IMAGES[0]?.[2] ?? '');

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'photos-'));
  mkdirSync(join(folder, 'trial', 'inside'), { recursive: true });
  writeFileSync(join(folder, 'outside.jpg'), jpeg);
  writeFileSync(join(folder, 'trial', 'inside', 'seal.jpg'), jpeg);
  symlinkSync(join('inside', 'seal.jpg'), join(folder, 'trial', 'link-inside.jpg'));
  symlinkSync(join('..', 'outside.jpg'), join(folder, 'trial', 'link-outside.jpg'));
  symlinkSync(folder, join(folder, 'trial', 'link-folder'));
  symlinkSync('/dev/zero', join(folder, 'trial', 'device.jpg'));
  execFileSync('mkfifo', [join(folder, 'trial', 'pipe.jpg')]);
  symlinkSync('loop.jpg', join(folder, 'trial', 'loop.jpg'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function reportWith(photo: string): { code: number; err: string } {
  const trial = join(folder, 'trial', 'trial.yaml');
  writeFileSync(
    trial,
    `trial: Ferry Steps lot 3\nmeter: {start: 1, end: 9}\ninspection:\n  - {stage: after, severity: minor, photo: ${photo}}\n`,
  );
  let err = '';
  const io = {
    ...processIo(ROOT),
    report: () => report,
    out: () => undefined,
    err: (text: string) => void (err += text),
  };
  const code = main(['report', trial, '--force'], io);
  return { code, err: err.replace(/\s+/g, ' ') };
}

test.each(['inside/seal.jpg', 'link-inside.jpg', './inside/seal.jpg'])('%s is taken', (photo) => {
  expect(reportWith(photo)).toEqual({ code: 0, err: '' });
});

test.each([
  ['link-outside.jpg', 'is not in the trial file’s folder'],
  ['link-folder/outside.jpg', 'is not in the trial file’s folder'],
  ['device.jpg', 'is not in the trial file’s folder'],
  ['pipe.jpg', 'it is not a file'],
  ['inside', 'it is not a file'],
  ['loop.jpg', 'its links go in a loop'],
  ['inside/seal.jpg/more.jpg', 'part of its path is not a folder'],
])('%s is refused, at once and whole', (photo, why) => {
  rmSync(join(folder, 'trial', 'trial.html'), { force: true });
  const { code, err } = reportWith(photo);
  expect(code).toBe(3);
  expect(err).toContain(why);
  expect(readdirSync(join(folder, 'trial'))).not.toContain('trial.html');
});
