import { spawnSync } from 'node:child_process';
import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { folderWith, shell } from './built.ts';
import { documents } from './readme.ts';
import { ROOT } from './run.ts';

/* The scripts of README and manual, run as they stand there. */

const readme = [...documents().values()].join('\n');

/** The script behind `<!-- run:name -->`. */
function script(name: string): string {
  const block = new RegExp(`<!-- run:${name} -->\\n+\`\`\`sh\\n([^]*?)\`\`\``).exec(readme);
  if (block?.[1] === undefined) throw new Error(`The README has no script ${name}.`);
  return block[1];
}

const example = (name: string): string => readFileSync(join(ROOT, 'examples', `${name}.yaml`), 'utf8');
const house = example('limits/house');

const trials = (): string =>
  folderWith({
    'trials/a.yaml': example('harbour-street'),
    'trials/b.yaml': example('waste-fail'),
    'trials/c.yaml': example('not-exhausted'),
    'trials/d.yaml': 'trial: no meter\n',
    'trials/limits/house.yaml': house,
  });

const archive = (): string =>
  folderWith({
    'archive/harbour-street.yaml': example('harbour-street'),
    'archive/x/waste-fail.yaml': example('waste-fail'),
    'archive/x/limits/house.yaml': house,
  });

/** Shells that are here, each as strict as it can be: without pipefail in dash, which has not always known it. */
const STRICT = { bash: 'set -euo pipefail', dash: 'set -eu', zsh: 'set -euo pipefail' };
const isHere = (name: string): boolean => spawnSync(name, ['-c', ':']).error === undefined;
const shells = Object.entries(STRICT).filter(([name]) => isHere(name));
test.skipIf(shells.length === Object.keys(STRICT).length)(
  `not every shell is here: ${shells.map(([name]) => name).join(', ')} alone`,
  (context) => context.skip(),
);

const ODD = 'trials/a name\nof two lines.yaml';

/** What the loop leaves behind: names ended by NUL. */
function loopDoes(run: (cwd: string) => ReturnType<typeof shell>): void {
  const cwd = trials();
  writeFileSync(join(cwd, ODD), example('harbour-street'));
  const { stderr, stdout, status } = run(cwd);
  const list = (name: string): string => readFileSync(join(cwd, name), 'utf8');
  expect(list('passed')).toBe(`${ODD}\0trials/a.yaml\0`);
  expect(list('failed')).toBe('trials/b.yaml\0');
  expect(list('try-again')).toBe('trials/c.yaml\0');
  expect(stderr).toContain('trials/d.yaml: mend it first');
  expect(stdout).toContain('sealed          trials/a.yaml.seal.json\n');
  expect(existsSync(join(cwd, `${ODD}.seal.json`))).toBe(true);
  expect(status).toBe(0);
}

test.each(shells)(
  'in a strict %s the loop lists trials by verdict, and seals those that pass',
  (name, set) => {
    loopDoes((cwd) => shell(`${set}\n${script('loop')}`, cwd, name));
  },
);

test.skipIf(!isHere('fish'))('in fish it does the same (skipped where there is no fish)', () => {
  const block = /<!-- fish:loop -->\n+```fish\n([^]*?)```/.exec(readme)?.[1] ?? '';
  expect(block).not.toBe('');
  loopDoes((cwd) => shell(block, cwd, 'fish'));
});

test.each(shells)('a loop over nothing that ships ends with 0 in a strict %s', (name, set) => {
  const cwd = folderWith({ 'trials/b.yaml': example('waste-fail'), 'trials/limits/house.yaml': house });
  expect(shell(`${set}\n${script('loop')}`, cwd, name).status).toBe(0);
  expect(readFileSync(join(cwd, 'passed'), 'utf8')).toBe('');
});

test.each(shells)('each line over many trials gives its own code in a strict %s', (name, set) => {
  const cwd = trials();
  spawnSync('sh', ['-c', 'git init -q && git add .'], { cwd });
  const codes = script('many')
    .trimEnd()
    .split('\n')
    .map((line) => shell(`${set}\n${line}`, cwd, name).status);
  // d.yaml is no trial: 3 wherever it is come to.
  expect(codes).toEqual([3, 1, 3, 3, 3]);
});

test.each([
  ['four that pass of 400 ship nothing', 4, 'try-more'],
  ['twenty-two ship it', 22, 'ship'],
])('a lot ships on what all its trials say: %s', (_, count, list) => {
  const trial = example('pool/k19-1').replaceAll('K-19', 'K-20');
  const files = Array.from({ length: count }, (__, nth): [string, string] => [
    `trials/${nth}.yaml`,
    trial.replaceAll('K19-201', `K20-${nth}`),
  ]);
  const cwd = folderWith(Object.fromEntries(files));
  expect(shell(script('ship'), cwd).stderr).toBe('');
  const there = ['ship', 'send-back', 'try-more'].filter((name) => existsSync(join(cwd, name)));
  expect(there).toEqual([list]);
});

test('many trials at once', () => {
  const cwd = trials();
  spawnSync('sh', ['-c', 'git init -q && git add .'], { cwd });
  const { status, stdout } = shell(script('many'), cwd);
  expect(status).toBe(3);
  expect(stdout).toContain('fail\ttrials/b.yaml\n\nVERDICTS\n');
  expect(stdout).toMatch(/pass\ttrials\/a.yaml\nfail\ttrials\/b.yaml\npass\ttrials\/a.yaml\nfail\t/);
  expect(readFileSync(join(cwd, 'trials.csv'), 'utf8').split('\r\n')).toHaveLength(6);
  expect(readFileSync(join(cwd, 'verdict.xml'), 'utf8')).toContain(
    'tests="4" failures="1" errors="1" skipped="1"',
  );
});

describe('the archive', () => {
  const sealed = (): string => {
    const cwd = archive();
    const { status, stdout } = shell(script('seal'), cwd);
    expect(stdout.trimEnd().split('\n').at(-1)).toBe('2 trials: 2 same');
    expect(status).toBe(0);
    return cwd;
  };

  test('is sealed, and its digests checked by the shell', () => {
    const { stdout } = shell(script('digest'), sealed());
    const [computed = '', written = ''] = stdout.split('\n');
    expect(computed).toMatch(/^[0-9a-f]{64} /);
    expect(written).toBe(`  "digest": "${computed.slice(0, 64)}",`);
  });

  test('passes in CI while seals are missing, and not when anything changed', () => {
    const cwd = sealed();
    expect(shell(script('ci'), cwd).status).toBe(0);
    const more = shell(`cp archive/harbour-street.yaml archive/new.yaml\n${script('ci')}`, cwd);
    expect(more.status).toBe(0);
    expect(existsSync(join(cwd, 'recheck.xml'))).toBe(true);
    appendFileSync(join(cwd, 'archive/x/waste-fail.yaml'), '# a word\n');
    expect(shell(script('ci'), cwd).status).toBe(1);
  });

  test('goes over processors with xargs', () => {
    const cwd = sealed();
    appendFileSync(join(cwd, 'archive/harbour-street.yaml'), '# a word\n');
    const { stdout, status } = shell(script('xargs'), cwd);
    expect(stdout).toBe('trial changed\tarchive/harbour-street.yaml\n');
    expect(status).toBe(123);
    expect(readFileSync(join(cwd, 'states'), 'utf8').split('\n')).toHaveLength(3);
  });

  test.each(shells)(
    'in a strict %s the scripts end with 0 where all is the same, and only there',
    (name, set) => {
      const odd = 'archive/a name\nof two lines.yaml';
      const run = (which: string, cwd: string): number | null =>
        shell(`${set}\n${script(which)}`, cwd, name).status;
      const cwd = sealed();
      writeFileSync(join(cwd, odd), example('harbour-street'));
      expect(
        shell('tallytare seal archive --limits office && tallytare seal --archive archive', cwd).status,
      ).toBe(0);
      for (const which of ['digest', 'ci', 'xargs', 'sha256sum']) expect(run(which, cwd), which).toBe(0);
      appendFileSync(join(cwd, odd), '# a word\n');
      for (const which of ['ci', 'xargs', 'sha256sum']) expect(run(which, cwd), which).not.toBe(0);
    },
  );
});
