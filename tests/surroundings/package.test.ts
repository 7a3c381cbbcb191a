import { execFileSync, spawnSync } from 'node:child_process';
import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { ROOT } from '../run.ts';

/* The package as it is handed on: one tarball that runs alone, and that others can build on. */

/** The tarball unpacked where a package of that name belongs. */
function installed(): string {
  const folder = mkdtempSync(join(tmpdir(), 'tallytare-package-'));
  execFileSync('npm', ['pack', '--ignore-scripts', '--pack-destination', folder], {
    cwd: ROOT,
    stdio: 'pipe',
  });
  const tarball = readdirSync(folder).find((name) => name.endsWith('.tgz')) ?? '';
  const modules = join(folder, 'node_modules');
  mkdirSync(modules);
  execFileSync('tar', ['-xzf', join(folder, tarball), '-C', modules]);
  cpSync(join(modules, 'package'), join(modules, 'tallytare'), { recursive: true });
  return folder;
}

const folder = installed();
const tool = join(folder, 'node_modules', 'tallytare', 'bin', 'tallytare.js');
const run = (...argv: string[]) =>
  spawnSync(process.execPath, [tool, ...argv], { cwd: folder, encoding: 'utf8' });

describe('the tarball', () => {
  test('asks for no other package', () => {
    const manifest = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as Record<string, unknown>;
    expect(manifest['dependencies']).toBeUndefined();
  });

  test('judges, reports, explains, and reads what the quick reader refuses', () => {
    writeFileSync(
      join(folder, 't.yaml'),
      'trial: "Elm\\x20Yard"\nmeter: {start: 0, end: 10000}\nlimits: [office, {pages: {min: 1}}]\n',
    );
    expect(run('verdict', '-q', 't.yaml')).toMatchObject({ stdout: 'inconclusive\tt.yaml\n', stderr: '' });
    expect(run('report', 't.yaml', '--output', '-').stdout).toContain('<!DOCTYPE html>');
    expect(run('help', 'limits').stdout).toContain('LIMITS AND THE DECISION');
    expect(run('explain', 'meter.end').status).toBe(0);
  });

  test('carries the notices of what is bundled in it', () => {
    const notices = readFileSync(join(folder, 'node_modules', 'tallytare', 'dist', 'licences.txt'), 'utf8');
    for (const name of [
      'commander',
      'decimal.js',
      'zod',
      'js-yaml',
      'yaml',
      '@observablehq/plot',
      'linkedom',
    ])
      expect(notices).toMatch(new RegExp(`^${name} \\d`, 'm'));
    expect(notices).not.toMatch(/undefined/);
  });

  test('loads nothing from outside of it: a package that its library asks for is not run', () => {
    const planted = join(folder, 'node_modules', 'canvas');
    mkdirSync(planted);
    writeFileSync(join(planted, 'package.json'), '{"name": "canvas", "main": "index.js"}');
    writeFileSync(join(planted, 'index.js'), 'require("node:fs").writeFileSync("planted", "");');
    for (const argv of [
      ['report', 't.yaml', '--output', '-'],
      ['verdict', 't.yaml'],
    ])
      run(...argv);
    expect(readdirSync(folder)).not.toContain('planted');
  });
});

test('a small project builds on its functions, with their types', () => {
  for (const name of ['zod', 'decimal.js'])
    symlinkSync(join(ROOT, 'node_modules', name), join(folder, 'node_modules', name));
  writeFileSync(join(folder, 'package.json'), '{"type": "module"}');
  const program = `import { assess, CATALOGUE, FIGURES, find, layersOf, readSource, readTrial, resultData } from 'tallytare';
const text = 'trial: t\\nmeter: {start: 0, end: 10000}\\nwaste_container: {tare: 600 g, final: 700 g}\\nlimits: {waste_per_thousand: {max: 11 g}}\\n';
const source = readSource('t.yaml', text);
const { trial, problems } = readTrial(source, CATALOGUE);
if (trial === null) throw new Error('no trial');
const result = assess(trial, source, layersOf(trial), FIGURES, problems.map((one) => find(one, source)));
console.log(result.verdict, resultData(result, 'mine').limits[0]?.outcome, trial.title);
`;
  writeFileSync(
    join(folder, 'use.ts'),
    program.replace(
      'result.verdict,',
      "result.verdict satisfies 'pass' | 'fail' | 'inconclusive' | 'invalid',",
    ),
  );
  writeFileSync(join(folder, 'use.mjs'), program);
  const options = [
    '--noEmit',
    '--strict',
    '--module',
    'nodenext',
    '--target',
    'es2023',
    '--lib',
    'es2023,es2024.string,dom',
    '--skipLibCheck',
  ];
  const types = spawnSync(
    process.execPath,
    [join(ROOT, 'node_modules', 'typescript', 'bin', 'tsc'), ...options, 'use.ts'],
    { cwd: folder, encoding: 'utf8' },
  );
  expect(types.stdout).toBe('');
  expect(spawnSync(process.execPath, ['use.mjs'], { cwd: folder, encoding: 'utf8' }).stdout).toBe(
    'pass met t\n',
  );
});
