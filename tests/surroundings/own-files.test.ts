import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, existsSync, lstatSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, test } from 'vitest';
import { bytesOf, IMAGES } from '../report/images.ts';
import { ROOT } from '../run.ts';

/* What stands on the disk already, and is not to be lost: one's own files, devices, pipes; and a program in parts. */

const folders: string[] = [];
let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'own-files-'));
  folders.push(folder);
  cpSync(join(ROOT, 'examples', 'harbour-street.yaml'), join(folder, 'lot.yaml'));
});
afterAll(() => {
  for (const one of folders) rmSync(one, { recursive: true, force: true });
});

interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

function tool(argv: readonly string[], root = ROOT): Ran {
  const ran = spawnSync(process.execPath, [join(root, 'bin', 'tallytare.js'), ...argv], {
    cwd: folder,
    encoding: 'utf8',
    timeout: 600_000,
  });
  return { code: ran.status, out: ran.stdout, err: ran.stderr };
}
const bytes = (name: string): string => readFileSync(join(folder, name), 'latin1');

describe('written over', () => {
  test('never a pipe or a device, with --force or without', () => {
    execFileSync('mkfifo', [join(folder, 'page.html')]);
    expect(tool(['report', 'lot.yaml', '--output', 'page.html', '--force'])).toMatchObject({ code: 5 });
    expect(lstatSync(join(folder, 'page.html')).isFIFO()).toBe(true);
    expect(tool(['start', '/dev/null', '--force'])).toMatchObject({ code: 5 });
    expect(lstatSync('/dev/null').isCharacterDevice()).toBe(true);
  });

  test('never the trial that a new one starts from', () => {
    const before = bytes('lot.yaml');
    const { code, err } = tool(['start', './lot.yaml', '--from', 'lot.yaml', '--force']);
    expect([code, err]).toEqual([4, expect.stringContaining('would lose its readings')]);
    expect(bytes('lot.yaml')).toBe(before);
  });

  test.each(['limits.yaml', 'fuser.png'])('never what a report is made from: %s', (name) => {
    writeFileSync(join(folder, 'limits.yaml'), 'waste_per_thousand: {max: 25 g}\n');
    writeFileSync(join(folder, 'fuser.png'), bytesOf(IMAGES[2]?.[2] ?? ''));
    writeFileSync(
      join(folder, 'lot.yaml'),
      'trial: x\nmeter: {start: 1, end: 9}\nlimits: limits.yaml\ninspection: [{stage: after, severity: minor, photo: fuser.png}]\n',
    );
    const before = bytes(name);
    expect(tool(['report', 'lot.yaml', '--output', name, '--force'])).toMatchObject({ code: 4 });
    expect(bytes(name)).toBe(before);
    expect(tool(['report', 'lot.yaml'])).toMatchObject({ code: 0 });
  });

  test('what a killed run left of the same file is cleared away; what a living one writes is not', () => {
    const gone = spawnSync(process.execPath, ['-e', '']).pid;
    const left = (id: number): string => join(folder, `.page.html.${id}.part`);
    for (const id of [gone, process.pid]) writeFileSync(left(id), 'half');
    expect(tool(['report', 'lot.yaml', '--output', 'page.html'])).toMatchObject({ code: 0 });
    expect([existsSync(left(gone)), existsSync(left(process.pid))]).toEqual([false, true]);
  });
});

describe('a program of which a part is missing says what builds it', () => {
  const faulty = 'trial: x\n meter: ]\n';
  test.each([
    ['dist/report.cjs', ['report', 'lot.yaml']],
    ['dist/yaml.cjs', ['verdict', 'faulty.yaml']],
    ['shared', ['verdict', 'lot.yaml', '--limits', 'office']],
    ['shared/manual', ['help', 'limits']],
  ])('%s', (part, argv) => {
    writeFileSync(join(folder, 'faulty.yaml'), faulty);
    const root = join(folder, 'program');
    for (const name of ['bin', 'dist', 'shared', 'package.json'])
      cpSync(join(ROOT, name), join(root, name), { recursive: true });
    rmSync(join(root, part), { recursive: true });
    const { code, out, err } = tool(argv, root);
    expect([code, out]).toEqual([5, '']);
    expect(err).toMatch(/^tallytare is not whole: .* is missing; .*npm ci.*\n$/);
  });
});

describe('lists and patterns that have no end', () => {
  test.each([
    ['a device', ['--files-from', '/dev/zero'], 'it is not a file'],
    ['a pipe that nobody writes to', ['--files-from', 'list'], 'nobody writes to it'],
    ['an open bracket', ['['], 'No trial file fits'],
    ['a pattern in a pattern', ['*(*a)b'], 'No trial file fits'],
    ['more stars than a name has parts', ['*a*a*a*a*a*a*a*a*a*ab'], 'No trial file fits'],
  ])('%s', (_, argv, why) => {
    execFileSync('mkfifo', [join(folder, 'list')]);
    writeFileSync(join(folder, `${'a'.repeat(60)}.yaml`), '');
    const { code, err } = tool(['verdict', '--quiet', ...argv]);
    expect([code, err]).toEqual([3, expect.stringContaining(why)]);
  });

  test('the output of another program is waited for', () => {
    const list = `sleep 1; echo lot.yaml`;
    const command = `"${process.execPath}" "${join(ROOT, 'bin', 'tallytare.js')}" verdict -q --files-from <(${list})`;
    const { stdout } = spawnSync('bash', ['-c', command], { cwd: folder, encoding: 'utf8' });
    expect(stdout).toBe('pass\tlot.yaml\n');
  });
});

test('--only passes over a file that cannot be read, and says why it counts', () => {
  const { code, out, err } = tool(['verdict', '--only', 'fail', 'lot.yaml', 'gone.yaml']);
  expect([code, out, err]).toEqual([3, '', expect.stringMatching(/^gone[.]yaml: error: /)]);
});
