import { spawnSync } from 'node:child_process';
import {
  appendFileSync,
  chmodSync,
  mkdirSync,
  readdirSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { begun, folderWith, manyTrials, passing, shell, spawned, TOOL } from '../built.ts';

/** Lines of a quiet run. */
const lines = (text: string): string[] => text.split('\n').filter((line) => line !== '');

/** Someone to whom permissions mean something; null where there is nobody who can start the program. */
const NOBODY = 65534;
const somebody = ((): { uid?: number } | null => {
  if (process.getuid?.() !== 0) return {};
  const { status } = spawnSync(
    process.execPath,
    ['-e', `require('fs').accessSync(${JSON.stringify(TOOL)})`],
    {
      uid: NOBODY,
    },
  );
  return status === 0 ? { uid: NOBODY } : null;
})();

describe('what is no file, or cannot be read, is said, and the rest goes on', () => {
  test('a name whose bytes are no UTF-8', () => {
    const cwd = folderWith({ 'a.yaml': passing('a') });
    shell(`cp a.yaml "$(printf 'b\\377.yaml')"`, cwd);
    const { status, stdout, stderr } = spawned(['verdict', '.', '--quiet'], { cwd });
    expect(lines(stdout)).toContain('pass\ta.yaml');
    expect(stderr).toContain('its name is not UTF-8');
    expect(status).toBe(3);
  });

  test('a pipe, a device, links in a loop, a link that leads nowhere', () => {
    const cwd = folderWith({ 'a.yaml': passing('a'), 'z/z.yaml': passing('z') });
    spawnSync('mkfifo', [join(cwd, 'pipe.yaml')]);
    symlinkSync('loop.yaml', join(cwd, 'loop.yaml'));
    symlinkSync('nowhere', join(cwd, 'nowhere.yaml'));
    symlinkSync('/dev/zero', join(cwd, 'zero.yaml'));
    symlinkSync('..', join(cwd, 'z', 'above'));
    symlinkSync('../a.yaml', join(cwd, 'z', 'linked.yaml'));
    const { status, stdout, stderr } = spawned(['verdict', '.', '--quiet'], { cwd });
    expect(lines(stdout)).toEqual([
      'pass\ta.yaml',
      'invalid\tloop.yaml',
      'invalid\tnowhere.yaml',
      'invalid\tpipe.yaml',
      'pass\tz/linked.yaml',
      'pass\tz/z.yaml',
      'invalid\tzero.yaml',
    ]);
    expect(status).toBe(3);
    expect(stderr).toContain('loop.yaml: error: This file cannot be read: its links go in a loop.');
    expect(stderr).toContain('pipe.yaml: error: This file cannot be read: it is not a file.');
    expect(stderr).toContain('zero.yaml: error: This file cannot be read: it is not a file.');
    expect(stderr).toContain('z/above is a link to a folder and was not followed');
    const again = spawned(['recheck', '.', '--quiet'], { cwd });
    expect(lines(again.stdout)).toContain('unreadable\tpipe.yaml');
    expect(again.status).toBe(3);
  });

  test('but the output of another program, named as a shell names it, is read', () => {
    const cwd = folderWith({ 'a.yaml': passing('a') });
    const { status, stdout } = shell('tallytare verdict -q <(cat a.yaml) <(sleep 0.3; cat a.yaml)', cwd);
    expect(stdout).toMatch(/^pass\t\/dev\/fd\/\d+\npass\t\/dev\/fd\/\d+\n$/);
    expect(status).toBe(0);
  });

  test.skipIf(somebody === null)('an unreadable file and an unreadable folder among a thousand', () => {
    const cwd = folderWith(manyTrials(1000));
    chmodSync(cwd, 0o755);
    chmodSync(join(cwd, '004', '00444.yaml'), 0);
    chmodSync(join(cwd, '007'), 0);
    const { status, stdout, stderr } = spawned(['verdict', '.', '-q'], { cwd, ...somebody });
    chmodSync(join(cwd, '007'), 0o755);
    expect(lines(stdout).filter((line) => !line.startsWith('pass'))).toEqual([
      'invalid\t004/00444.yaml',
      'invalid\t007',
    ]);
    expect(lines(stdout)).toHaveLength(901);
    expect(stderr).toContain('004/00444.yaml: error: This file cannot be read: you may not read it.');
    expect(stderr).toContain('007: error: This folder cannot be read: you may not read it.');
    expect(status).toBe(3);
    chmodSync(join(cwd, '007'), 0o111);
    const fitting = spawned(['verdict', '-q', '00[67]/*.yaml', '007/*.yaml'], { cwd, ...somebody });
    chmodSync(join(cwd, '007'), 0o755);
    expect(lines(fitting.stdout).slice(99)).toEqual(['pass\t006/00699.yaml', 'invalid\t007', 'invalid\t007']);
    expect(fitting.stderr.match(/This folder cannot be read/g)).toHaveLength(2);
  });

  test('names with line breaks and escape sequences are shown harmless, and read all the same', () => {
    const name = 'a\n\u001b[31m\u0007b.yaml';
    const cwd = folderWith({ [name]: passing('a'), 'bad\u001b[2J.yaml': 'trial: x\n' });
    for (const format of [
      ['-q'],
      ['--format', 'text'],
      ['--format', 'csv'],
      ['--format', 'jsonl'],
      ['--format', 'junit'],
      ['--summary'],
    ]) {
      const { status, stdout, stderr } = spawned(['verdict', '.', ...format], { cwd });
      expect(status).toBe(3);
      // eslint-disable-next-line no-control-regex -- that is what is looked for
      expect(stdout + stderr).not.toMatch(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/);
    }
    expect(lines(spawned(['verdict', '.', '-q'], { cwd }).stdout)).toHaveLength(2);
    const sealed = spawned(['seal', '.'], { cwd });
    expect(lines(sealed.stdout)).toHaveLength(1);
    expect(readdirSync(cwd)).toContain(`${name}.seal.json`);
    const listed = shell("find . -name '*b.yaml' -print0 | tallytare recheck -q --files-from -", cwd);
    expect(lines(listed.stdout)).toHaveLength(1);
    expect(listed.status).toBe(0);
  });

  test('files that vanish, and files that grow, while they are being judged', async () => {
    const cwd = folderWith(manyTrials(1500));
    const child = begun(['verdict', '.', '-q'], cwd);
    let [out, err] = ['', ''];
    child.stderr.on('data', (text: Buffer) => (err += String(text)));
    child.stdout.once('data', () => {
      rmSync(join(cwd, '012'), { recursive: true });
      rmSync(join(cwd, '014', '01499.yaml'));
      appendFileSync(join(cwd, '013', '01399.yaml'), '# a word\n');
    });
    child.stdout.on('data', (text: Buffer) => (out += String(text)));
    const status = await new Promise((done) => child.on('close', done));
    // How far it was when they went is not known: each was judged before, or is said to be gone.
    expect(lines(out).filter((line) => !/^(pass|invalid)\t[\d/]+(\.yaml)?$/.test(line))).toEqual([]);
    expect(lines(out).filter((line) => line.startsWith('pass')).length).toBeGreaterThan(1398);
    expect(err).not.toMatch(/\bat .*:\d+:\d+|NaN/);
    expect(status).toBe(out.includes('invalid') ? 3 : 0);
  });

  test('a list that names what is not there, in the middle', () => {
    const cwd = folderWith({ 'a.yaml': passing('a'), 'b.yaml': passing('b') });
    const { status, stdout } = spawned(['verdict', '-q', '--files-from', '-'], {
      cwd,
      input: 'a.yaml\ngone.yaml\nb.yaml\n',
    });
    expect(stdout).toBe('pass\ta.yaml\ninvalid\tgone.yaml\npass\tb.yaml\n');
    expect(status).toBe(3);
  });

  test('folders in folders, as deep as a path goes', () => {
    const deep = Array.from({ length: 200 }, () => 'in').join('/');
    const cwd = folderWith({ [`${deep}/a.yaml`]: passing('a') });
    expect(spawned(['verdict', '.', '-q'], { cwd }).stdout).toBe(`pass\t${deep}/a.yaml\n`);
    mkdirSync(join(cwd, 'none'));
    writeFileSync(join(cwd, 'none', 'x.txt'), '');
    expect(spawned(['verdict', 'none', '-q'], { cwd }).status).toBe(3);
  });
});
