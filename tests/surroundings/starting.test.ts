import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderWith, manyTrials, passing, PATIENCE, shell, spawned, TOOL } from '../built.ts';
import { ROOT } from '../run.ts';

/** A copy of what is installed, without a file of it. */
function installedWithout(file: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'tallytare-installed-'));
  for (const part of ['bin', 'dist', 'shared'])
    cpSync(join(ROOT, part), join(folder, part), { recursive: true });
  rmSync(join(folder, file), { force: true });
  return join(folder, 'bin', 'tallytare.js');
}

describe('the executable', () => {
  it('says nothing of its own over many files', () => {
    const { status, stderr } = spawned(['verdict', '-q', '.'], { cwd: folderWith(manyTrials(300)) });
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });

  it.each([
    ['tallytare', ['verdict', 'a.yaml']],
    ['tallytare', ['plan', 'a.yaml']],
  ])('without %s.cjs says what builds it', (bundle, argv) => {
    const cwd = folderWith({ 'a.yaml': passing('lot 1') });
    const tool = installedWithout(`dist/${bundle}.cjs`);
    const broken = spawnSync(process.execPath, [tool, ...argv], { encoding: 'utf8', timeout: PATIENCE, cwd });
    expect({ status: broken.status, stdout: broken.stdout }).toEqual({ status: 5, stdout: '' });
    expect(broken.stderr).toMatch(
      /^tallytare cannot start: it has not been built; "npm ci && npm run build" .*\n$/,
    );
  });

  it('takes compiled code of the very same Node alone', () => {
    const { cacheFile } = createRequire(import.meta.url)(TOOL) as { cacheFile: string };
    expect(cacheFile).toContain(`tallytare-${process.version}-${process.platform}-${process.arch}.`);
  });

  it(
    'passes over compiled code of which any byte has changed, and code of another bundle',
    () => {
      const cwd = folderWith({ 'a.yaml': passing('lot 1') });
      const { cacheFile } = createRequire(import.meta.url)(TOOL) as { cacheFile: string };
      const name = basename(cacheFile);
      const whole = readFileSync(cacheFile);
      const tool = installedWithout('bin/none');
      const copy = join(dirname(dirname(tool)), 'dist', name);
      const start = () =>
        spawnSync(process.execPath, [tool, 'verdict', '-q', 'a.yaml'], {
          encoding: 'utf8',
          timeout: PATIENCE,
          cwd,
        });
      for (let nth = 0; nth < 24; nth++) {
        const changed = Buffer.from(whole);
        const at = Math.floor((whole.length * (nth + 0.5)) / 24);
        changed[at] = (changed[at] ?? 0) ^ (1 << (nth % 8));
        writeFileSync(copy, changed);
        expect(start(), `byte ${at}`).toMatchObject({
          status: 0,
          signal: null,
          stderr: '',
          stdout: 'pass\ta.yaml\n',
        });
      }
      for (const odd of [Buffer.alloc(0), whole.subarray(0, 5), whole.subarray(0, 9000)]) {
        writeFileSync(copy, odd);
        expect(start()).toMatchObject({ status: 0, signal: null, stderr: '' });
      }
      // A bundle changed at equal length is not run with the code of the one before.
      writeFileSync(copy, whole);
      const bundle = join(dirname(copy), 'tallytare.cjs');
      writeFileSync(
        bundle,
        readFileSync(bundle, 'latin1').replace('"pass"', '"PASS"').replaceAll("'pass'", "'PASS'"),
        'latin1',
      );
      expect(start().signal).toBeNull();
    },
    PATIENCE,
  );

  it.each(['0.12.18', '8.17.0', '18.20.8', '20.15.1'])(
    'under Node %s says what it needs, code 5',
    (version) => {
      // A Node of before: it says so, and has no modules by the names of today.
      const before = [
        `Object.defineProperty(process, 'versions', { value: { node: '${version}' } });`,
        `Object.defineProperty(process, 'version', { value: 'v${version}' });`,
        "const Module = require('module'); const load = Module._load;",
        "Module._load = (name, ...more) => { if (name.startsWith('node:')) throw new Error(`no ${name}`); return load(name, ...more); };",
      ].join('\n');
      const cwd = folderWith({ 'before.cjs': before });
      const { status, stdout, stderr } = spawnSync(
        process.execPath,
        ['--require', join(cwd, 'before.cjs'), TOOL, 'verdict', '-q', '.'],
        { encoding: 'utf8', timeout: PATIENCE, cwd },
      );
      expect({ status, stdout, stderr }).toEqual({
        status: 5,
        stdout: '',
        stderr: `tallytare needs Node 20.16 or later; this is v${version}\n`,
      });
    },
  );

  it('is written so that Nodes of long ago can read it: no catch without a name', () => {
    expect(readFileSync(TOOL, 'utf8')).not.toMatch(/catch\s*\{|\?\.|\?\?|\bimport\b/);
  });

  it('where too many files are open it says so once, code 5, and never 1', () => {
    const cwd = folderWith(manyTrials(300));
    let status: number | null = 0;
    for (let most = 16; status !== 5 && most <= 60; most++) {
      const ran = shell(`ulimit -n ${most} && tallytare verdict -q .`, cwd);
      // With fewer yet, Node itself cannot open the program: a signal ends it, or it says so in its own words.
      const byNode = ran.status === null || ran.status > 128 || /node:internal|Assertion/.test(ran.stderr);
      if (byNode || ran.status === 0) continue;
      status = ran.status;
      expect(ran.stdout).toMatch(/^(PASS .*\n)*$/);
      expect(ran.stderr).toMatch(/^tallytare(: | cannot start: )too many files are open.*\n$/);
    }
    expect(status).toBe(5);
  });
});
