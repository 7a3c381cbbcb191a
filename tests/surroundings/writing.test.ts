import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, describe, expect, test } from 'vitest';
import { begun, folderWith, manyTrials, passing, shell, spawned, TOOL } from '../built.ts';

const all = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' }).toSorted();
const seals = (folder: string): string[] => all(folder).filter((name) => name.endsWith('.seal.json'));

describe('killed while sealing', () => {
  test.each([1, 7, 40, 90])(
    'after %i seals: every seal is whole, and the work can be taken up again',
    async (after) => {
      const cwd = folderWith(manyTrials(120));
      const child = begun(['seal', '.'], cwd);
      const ended = new Promise((done) => child.on('close', done));
      while (seals(cwd).length < after && child.exitCode === null) await wait(1);
      child.kill('SIGKILL');
      await ended;
      const done = seals(cwd).length;
      expect(done).toBeGreaterThanOrEqual(after);

      const { stdout } = spawned(['recheck', '.', '-q'], { cwd });
      const states = stdout
        .trimEnd()
        .split('\n')
        .map((line) => line.split('\t')[0]);
      expect(states.filter((state) => state === 'same')).toHaveLength(done);
      expect(states.filter((state) => state === 'seal missing')).toHaveLength(120 - done);

      expect(spawned(['seal', '.'], { cwd }).status).toBe(0);
      expect(spawned(['recheck', '.', '-q'], { cwd }).status).toBe(0);
      // What the killed one was writing into is no trial and no seal to anyone.
      const rest = all(cwd).filter((name) => !/^\d+$|\.yaml$|\.yaml\.seal\.json$/.test(name));
      expect(rest.filter((name) => !/(^|\/)\.[^/]*\.part$/.test(name))).toEqual([]);
    },
  );
});

describe('nowhere to write', () => {
  const mounted: string[] = [];
  afterAll(() => {
    for (const folder of mounted) spawnSync('umount', [folder]);
  });

  /** A disk of so many bytes; null where none can be made. */
  function disk(size: number): string | null {
    const folder = folderWith({});
    const { status } = spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${size}`, 'tmpfs', folder]);
    if (status !== 0) return null;
    mounted.push(folder);
    return folder;
  }
  const small = process.getuid?.() === 0 ? disk(40 * 1024) : null;

  test.skipIf(small === null)('a full disk: seals that fit are whole, the others are not there', () => {
    const cwd = small ?? '';
    for (let index = 0; index < 4; index += 1)
      writeFileSync(join(cwd, `${index}.yaml`), passing(`lot ${index}`));
    writeFileSync(join(cwd, 'filling'), 'x'.repeat(16 * 1024));
    const { status, stderr } = spawned(['seal', '.'], { cwd });
    expect(status).toBe(5);
    expect(stderr).toContain('the disk is full');
    expect(seals(cwd).length).toBeLessThan(4);
    expect(all(cwd).filter((name) => name.endsWith('.part'))).toEqual([]);
    expect(spawned(['recheck', '.', '-q'], { cwd }).stdout).not.toContain('seal damaged');
  });

  test('a file that may not grow so large: nothing half written', () => {
    const cwd = folderWith({ 'a.yaml': passing('a') });
    const { status, stderr } = shell("trap '' XFSZ; ulimit -f 1; tallytare seal a.yaml", cwd);
    expect(status).toBe(5);
    expect(stderr).toContain('a.yaml.seal.json: ');
    expect(all(cwd)).toEqual(['a.yaml']);
  });

  const NOBODY = 65534;
  const root = process.getuid?.() === 0;
  const startable =
    !root ||
    spawnSync(process.execPath, ['-e', `require('fs').accessSync(${JSON.stringify(TOOL)})`], { uid: NOBODY })
      .status === 0;

  test.skipIf(!startable)('a folder that may only be read: the others are sealed', () => {
    const cwd = folderWith({ 'a/a.yaml': passing('a'), 'b/b.yaml': passing('b'), 'c/c.yaml': passing('c') });
    for (const folder of ['.', 'a', 'c']) chmodSync(join(cwd, folder), 0o777);
    chmodSync(join(cwd, 'b'), 0o555);
    const { status, stderr } = spawned(['seal', '.'], { cwd, ...(root ? { uid: NOBODY } : {}) });
    chmodSync(join(cwd, 'b'), 0o755);
    expect(status).toBe(5);
    expect(stderr).toBe('tallytare: b/b.yaml.seal.json: you may not write there\n');
    expect(all(cwd)).toEqual([
      'a',
      'a/a.yaml',
      'a/a.yaml.seal.json',
      'b',
      'b/b.yaml',
      'c',
      'c/c.yaml',
      'c/c.yaml.seal.json',
    ]);
  });

  test('a name as long as a name can be, in letters of three bytes', () => {
    const name = `${'試'.repeat(80)}.yaml`;
    const cwd = folderWith({ [name]: passing('a') });
    expect(Buffer.byteLength(`${name}.seal.json`)).toBe(255);
    expect(spawned(['seal', '.'], { cwd }).status).toBe(0);
    expect(all(cwd)).toEqual([name, `${name}.seal.json`]);
  });

  test('a folder in the place of a seal', () => {
    const cwd = folderWith({ 'a.yaml': passing('a'), 'b.yaml': passing('b') });
    mkdirSync(join(cwd, 'a.yaml.seal.json'));
    const { status } = spawned(['seal', '.', '--force'], { cwd });
    expect(status).toBe(5);
    expect(existsSync(join(cwd, 'b.yaml.seal.json'))).toBe(true);
    expect(spawned(['recheck', '.', '-q'], { cwd }).stdout).toBe('unreadable\ta.yaml\nsame\tb.yaml\n');
  });

  test.skipIf(!existsSync('/dev/full'))('standard output on a full disk: said, exit code 5', () => {
    const cwd = folderWith({ 'a.yaml': passing('a') });
    for (const argv of [
      ['verdict', 'a.yaml'],
      ['recheck', 'a.yaml'],
      ['verdict', '.', '--format', 'junit'],
      ['verdict', '.', '--summary'],
    ]) {
      const { status, stderr } = spawnSync(process.execPath, [TOOL, ...argv], {
        cwd,
        encoding: 'utf8',
        stdio: ['ignore', openSync('/dev/full', 'w'), 'pipe'],
      });
      expect(status).toBe(5);
      expect(stderr).toBe('tallytare: the output cannot be written: the disk is full\n');
    }
  });
});

describe('standard output closed early', () => {
  test.each([
    'verdict .',
    'verdict . --format jsonl',
    'verdict . --format json',
    'verdict . -q',
    'recheck .',
  ])('%s | head -1: quietly, exit code 5', (command) => {
    const cwd = folderWith(manyTrials(300));
    const { stdout, stderr } = shell(`tallytare ${command} | head -1; echo "\${PIPESTATUS[0]}"`, cwd);
    const [, ...rest] = stdout.trimEnd().split('\n');
    expect(rest.at(-1)).toBe('5');
    expect(stderr).toBe('');
  });

  test('seals are the work, not the lines about them: all are written', () => {
    const cwd = folderWith(manyTrials(300));
    const { stdout, stderr } = shell('tallytare seal . | head -1; echo "${PIPESTATUS[0]}"', cwd);
    expect(stdout.trimEnd().split('\n').at(-1)).toBe('5');
    expect(stderr).toBe('');
    expect(seals(cwd)).toHaveLength(300);
    expect(readFileSync(join(cwd, '002', '00299.yaml.seal.json'), 'utf8').endsWith('}\n')).toBe(true);
  });
});
