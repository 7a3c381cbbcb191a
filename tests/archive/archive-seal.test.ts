import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, unlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { archiveChanges, manifestText, readManifest } from '../../src/archive/manifest.ts';
import { main } from '../../src/commands/main.ts';
import { processIo } from '../../src/world/io.ts';
import { ROOT } from '../run.ts';
import { HOUSE, sha256, TRIAL } from './sealed.ts';

// On a real disk: sha256sum and ssh-keygen read what is written there.

let home = '';
let archive = '';
const at = (name: string): string => join(archive, name);
const manifest = (): string => readFileSync(at('archive.seal'), 'utf8');

function program(...argv: string[]): { code: number; out: string; err: string } {
  let [out, err] = ['', ''];
  const io = {
    ...processIo(ROOT),
    out: (text: string) => void (out += text),
    err: (text: string) => void (err += text),
    threads: () => 0,
  };
  return { code: main(argv, io), out, err };
}

const failing = TRIAL.replace('948 g', '1198 g');
const recheckArchive = () => program('recheck', archive);
/** What is told of the archive as a whole. */
const told = (out: string): string =>
  out
    .slice(out.indexOf(at('archive.seal')))
    .replace(/\n {4}/g, ' ')
    .replace(/\s+/g, ' ');

beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), 'archive-'));
  archive = join(home, 'arc');
  mkdirSync(at('2025'), { recursive: true });
  mkdirSync(at('photos'));
  writeFileSync(at('2025/a.yaml'), TRIAL);
  writeFileSync(at('2025/b.yaml'), failing);
  writeFileSync(at('2025/house.yaml'), HOUSE);
  writeFileSync(at('photos/roller.jpg'), 'bytes of a photo');
  expect(program('seal', archive).code).toBe(0);
  expect(program('seal', '--archive', archive, '--date', '2026-11-27')).toMatchObject({ code: 0, err: '' });
});
afterEach(() => rmSync(home, { recursive: true, force: true }));

describe('what is written', () => {
  test('two lines of comment, then every file with its SHA-256, in order', () => {
    const [head, before, ...lines] = manifest().split('\n');
    expect(head).toBe('# tallytare archive 1; 6 files; sealed 2026-11-27');
    expect(before).toBe('# before: none');
    expect(lines).toEqual([
      `${sha256(TRIAL)}  2025/a.yaml`,
      `${sha256(readFileSync(at('2025/a.yaml.seal.json')))}  2025/a.yaml.seal.json`,
      `${sha256(failing)}  2025/b.yaml`,
      `${sha256(readFileSync(at('2025/b.yaml.seal.json')))}  2025/b.yaml.seal.json`,
      `${sha256(HOUSE)}  2025/house.yaml`,
      `${sha256('bytes of a photo')}  photos/roller.jpg`,
      '',
    ]);
  });

  test.runIf(spawnSync('sha256sum', ['--version']).status === 0)(
    'sha256sum -c reads it, odd names included',
    () => {
      writeFileSync(at('photos/a\\b\nc d.png'), 'x');
      expect(program('seal', '--archive', archive).code).toBe(0);
      const check = () =>
        spawnSync('sha256sum', ['-c', '--strict', '--quiet', 'archive.seal'], { cwd: archive });
      expect(check().status).toBe(0);
      writeFileSync(at('2025/a.yaml'), failing);
      expect(check().status).toBe(1);
    },
  );

  test.runIf(spawnSync('ssh-keygen', ['-?']).error === undefined)(
    'it is signed and checked with ssh-keygen -Y, as the manual shows',
    () => {
      const shell = (script: string) =>
        spawnSync('sh', ['-e', '-c', script], { cwd: home, encoding: 'utf8' });
      expect(shell("ssh-keygen -q -t ed25519 -N '' -f lab_key").status).toBe(0);
      const manual = readFileSync(join(ROOT, 'shared/manual/archive.md'), 'utf8');
      const sign = /<!-- run:sign -->\n+```sh\n([^]*?)```/.exec(manual)?.[1] ?? '';
      expect(sign).toContain('ssh-keygen -Y verify');
      const script = sign.replaceAll('~/.ssh/lab_key', 'lab_key').replaceAll('archive/', 'arc/');
      const signed = shell(script);
      expect(signed.stdout + signed.stderr).toContain('Good "archive" signature for lab');
      expect(signed.status).toBe(0);
      writeFileSync(at('archive.seal'), manifest().replace('2026-11-27', '2026-11-28'));
      const verify = /^ssh-keygen -Y verify(?:.|\\\n)*$/m.exec(script)?.[0] ?? '';
      expect(shell(verify).status).not.toBe(0);
    },
  );

  test('the day is only that given; the same files sealed again stay as they are', () => {
    const before = manifest();
    expect(program('seal', '--archive', archive).out).toContain('sealed already');
    expect(manifest()).toBe(before);
    expect(program('seal', '--archive', archive, '--date', '27.11.2026').code).toBe(4);
    expect(program('seal', archive, '--date', '2026-11-27').code).toBe(4);
  });

  test('the next one names the digest of the one before', () => {
    const before = manifest();
    writeFileSync(at('2025/c.yaml'), TRIAL.replace('lot 7', 'lot 8'));
    const { code, err } = program('seal', '--archive', archive, '--date', '2026-12-01');
    expect([code, err]).toEqual([0, `tallytare: ${at('2025/c.yaml')} was never sealed\n`]);
    expect(manifest().split('\n').slice(0, 2)).toEqual([
      '# tallytare archive 1; 7 files; sealed 2026-12-01',
      `# before: ${sha256(before)}`,
    ]);
  });

  test('what is gone or another is not sealed over without --force', () => {
    const before = manifest();
    unlinkSync(at('2025/b.yaml'));
    unlinkSync(at('2025/b.yaml.seal.json'));
    const refused = program('seal', '--archive', archive);
    expect(refused.code).toBe(5);
    expect(refused.err).toContain('2025/b.yaml was sealed in this archive and is gone');
    expect(manifest()).toBe(before);
    expect(program('seal', '--archive', archive, '--force').code).toBe(0);
    expect(manifest()).toContain('4 files');
  });
});

describe('what recheck tells of an archive', () => {
  test('all the same', () => {
    const { code, out } = recheckArchive();
    expect(code).toBe(0);
    expect(out).toMatch(/^same .*archive\.seal$/m);
    expect(out).toContain('2 trials: 2 same');
    expect(program('recheck', at('archive.seal'), '-q').out).toBe(`same\t${at('archive.seal')}\n`);
  });

  test('a trial that went together with its seal', () => {
    unlinkSync(at('2025/b.yaml'));
    unlinkSync(at('2025/b.yaml.seal.json'));
    const { code, out } = recheckArchive();
    expect(code).toBe(1);
    expect(out).toContain('files changed');
    expect(told(out)).toContain('2025/b.yaml was sealed in this archive and is gone.');
    expect(told(out)).toContain('2025/b.yaml.seal.json was sealed in this archive and is gone.');
  });

  test('a seal taken away to hide a fail', () => {
    unlinkSync(at('2025/b.yaml.seal.json'));
    const { code, out } = recheckArchive();
    expect(code).toBe(1);
    expect(out).toMatch(/^seal missing .*b\.yaml$/m);
    expect(told(out)).toContain('2025/b.yaml.seal.json was sealed in this archive and is gone.');
  });

  test('a file moved into a hidden folder, or elsewhere', () => {
    mkdirSync(at('.old'));
    renameSync(at('2025/b.yaml'), at('.old/b.yaml'));
    renameSync(at('2025/b.yaml.seal.json'), at('.old/b.yaml.seal.json'));
    renameSync(at('photos/roller.jpg'), at('photos/drum.jpg'));
    const { code, out } = recheckArchive();
    expect(code).toBe(1);
    expect(told(out)).toContain('2025/b.yaml was moved to .old/b.yaml.');
    expect(told(out)).toContain('photos/roller.jpg was moved to photos/drum.jpg.');
    expect(told(out)).not.toContain('is gone');
    expect(told(out)).not.toContain('came after');
  });

  test('a photo that is another; a file that came later alone is no change', () => {
    writeFileSync(at('photos/more.jpg'), 'more');
    const later = recheckArchive();
    expect(later.code).toBe(2);
    expect(told(later.out)).toContain('photos/more.jpg came after the archive was sealed.');
    writeFileSync(at('photos/roller.jpg'), 'retouched');
    const { code, out } = recheckArchive();
    expect(code).toBe(1);
    expect(told(out)).toContain('photos/roller.jpg is not what was sealed.');
  });

  test('json: an entry more, with the same keys; an archive.seal that was edited; none at all', () => {
    unlinkSync(at('photos/roller.jpg'));
    const entries = JSON.parse(program('recheck', archive, '--format', 'json').out) as object[];
    expect(entries.at(-1)).toMatchObject({
      file: at('archive.seal'),
      state: 'files changed',
      remarks: [{ kind: 'change', code: 'archive-removed', file: 'photos/roller.jpg' }],
    });
    writeFileSync(at('archive.seal'), manifest().replace(/^.*roller.*\n/m, ''));
    expect(program('recheck', at('archive.seal'), '-q')).toMatchObject({
      code: 1,
      out: `seal damaged\t${at('archive.seal')}\n`,
    });
    unlinkSync(at('archive.seal'));
    expect(program('recheck', at('archive.seal')).code).toBe(3);
  });

  test('junit counts it as a case', () => {
    unlinkSync(at('photos/roller.jpg'));
    expect(program('recheck', archive, '--format', 'junit').out).toMatch(/tests="3" failures="1"/);
  });
});

test('of equal bytes that are gone twice, one found elsewhere was moved and the other is gone', () => {
  const one = (file: string) => ({ file, sha256: sha256('x') });
  expect(archiveChanges([one('a'), one('b')], [one('c')], () => [])).toEqual([
    { code: 'archive-moved', file: 'a', to: 'c' },
    { code: 'archive-removed', file: 'b' },
  ]);
});

test('a text that is none, or that is not as it would be written, is no manifest', () => {
  const files = [
    { file: 'a', sha256: sha256('a') },
    { file: 'b\n\\n', sha256: sha256('b') },
  ];
  const text = manifestText({ date: null, before: null, files });
  expect(readManifest(text)?.files).toEqual(files);
  const lines = text.split('\n');
  for (const bad of [
    '',
    text.slice(0, -1),
    text.replace('2 files', '3 files'),
    [lines[0], lines[1], lines[3], lines[2], ''].join('\n'),
    text.replace('  a', ' *a'),
    text.replace('none', 'x'),
  ]) {
    expect(readManifest(bad), bad).toBeNull();
  }
});
