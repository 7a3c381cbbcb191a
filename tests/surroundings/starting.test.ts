import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderWith, manyTrials, passing, PATIENCE, spawned, TOOL } from '../built.ts';
import { ROOT } from '../run.ts';

/** A copy of what is installed, without a file of it. */
function installedWithout(file: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'tallytare-installed-'));
  for (const part of ['bin', 'dist', 'shared'])
    cpSync(join(ROOT, part), join(folder, part), { recursive: true });
  rmSync(join(folder, file));
  return join(folder, 'bin', 'tallytare.js');
}

describe('the executable', () => {
  it('says nothing of its own over many files', () => {
    const { status, stderr } = spawned(['verdict', '-q', '.'], { cwd: folderWith(manyTrials(300)) });
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });

  it.each([
    ['one', ['verdict', 'a.yaml'], ['verdict', 'a.yaml', '-q']],
    ['verdict', ['verdict', 'a.yaml', '-q'], ['verdict', 'a.yaml']],
    ['tallytare', ['plan', 'a.yaml'], ['verdict', 'a.yaml']],
  ])('opens %s for %j, not for %j', (bundle, needs, spares) => {
    const cwd = folderWith({ 'a.yaml': passing('lot 1') });
    const tool = installedWithout(`dist/${bundle}.cjs`);
    const start = (argv: readonly string[]) =>
      spawnSync(process.execPath, [tool, ...argv], { encoding: 'utf8', timeout: PATIENCE, cwd });
    const broken = start(needs);
    expect({ status: broken.status, stdout: broken.stdout }).toEqual({ status: 5, stdout: '' });
    expect(broken.stderr).toMatch(/^tallytare cannot start; "npm ci" .* \(ENOENT\)\n$/);
    expect(start(spares)).toMatchObject({ status: 0, stderr: '' });
  });

  it('hands a folder on', () => {
    const cwd = folderWith({ 'trials/a.yaml': passing('lot 1') });
    expect(spawned(['verdict', 'trials'], { cwd })).toMatchObject({ status: 0, stderr: '' });
  });

  it('takes compiled code of the very same Node alone', () => {
    const { cacheOf } = createRequire(import.meta.url)(TOOL) as { cacheOf: (name: string) => string };
    expect(cacheOf('one')).toContain(`one-${process.version}-${process.platform}-${process.arch}.`);
  });
});
