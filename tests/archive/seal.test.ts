import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { ROOT, run } from '../run.ts';
import { HOUSE, sha256, TRIAL } from './sealed.ts';

const files = { 'a/trial.yaml': TRIAL, 'a/house.yaml': HOUSE };
const NAME = 'a/trial.yaml.seal.json';

function sealed(...options: string[]): string {
  const { code, err, written } = run(['seal', 'a/trial.yaml', ...options], files);
  expect([code, err]).toEqual([0, '']);
  expect(Object.keys(written)).toEqual([NAME]);
  return written[NAME] ?? '';
}

interface SealJson {
  readonly inputs: readonly { kind: string; file: string; sha256: string }[];
  readonly over: readonly string[];
  readonly figures: readonly {
    figure: string;
    of: string | null;
    stat: string | null;
    value: string;
    u: string;
  }[];
  readonly limits: readonly { figure: string; from: string; min: string | null; max: string | null }[];
  readonly outcomes: readonly { figure: string; outcome: string }[];
  readonly verdict: string;
  readonly file: string;
}

const parsed = (text: string): SealJson => JSON.parse(text) as SealJson;

describe('what a seal holds', () => {
  test('the SHA-256 of every file the verdict rests on, named as the trial names it', () => {
    expect(parsed(sealed()).inputs).toEqual([
      { kind: 'trial', file: 'trial.yaml', sha256: sha256(TRIAL) },
      { kind: 'limits', file: 'house.yaml', sha256: sha256(HOUSE) },
    ]);
  });

  test('limits laid over it: a preset by name, a file from the folder of the trial', () => {
    const { code, written } = run(['seal', 'a/trial.yaml', '--limits', 'office', '--limits', 'strict.yaml'], {
      ...files,
      'strict.yaml': 'waste_per_thousand: {max: 20 g}\n',
    });
    expect(code).toBe(0);
    const { over, inputs, limits } = parsed(written[NAME] ?? '');
    expect(over).toEqual(['office', '../strict.yaml']);
    expect(inputs.slice(2)).toEqual([
      {
        kind: 'preset',
        file: 'office',
        sha256: sha256(readFileSync(join(ROOT, 'shared/limits/office.yaml'))),
      },
      { kind: 'limits', file: '../strict.yaml', sha256: sha256('waste_per_thousand: {max: 20 g}\n') },
    ]);
    expect(limits.find(({ figure }) => figure === 'waste_per_thousand')).toMatchObject({
      max: '20',
      from: '../strict.yaml',
    });
  });

  test('every digit: 308 g / 18 is 17.1 recurring, u of two readings to 1 g is 1/√6 g', () => {
    // 34 digits by long division; 1/√6 = 0.408248290463863016… (OEIS A157697), cut to the 15 that count.
    const { figures } = parsed(sealed());
    const of = (name: string) => figures.find(({ figure }) => figure === name);
    expect(of('waste_per_thousand')?.value).toBe(`17.${'1'.repeat(32)}`);
    expect(of('waste_mass')).toMatchObject({ value: '308', u: '0.408248290463863' });
  });

  test('the limits with where they come from, what came of each, and the verdict', () => {
    const { limits, outcomes, verdict, file } = parsed(sealed());
    expect(limits.map(({ figure, from }) => [figure, from])).toEqual([
      ['waste_per_thousand', 'house.yaml'],
      ['yield_at_reference', 'trial'],
    ]);
    expect(outcomes.map(({ figure, outcome }) => [figure, outcome])).toEqual([
      ['waste_per_thousand', 'met'],
      ['yield_at_reference', 'met'],
    ]);
    expect([verdict, file]).toEqual(['pass', 'trial.yaml']);
  });
});

describe('how a seal is written', () => {
  test('the same bytes every time, and from every folder', () => {
    expect(sealed()).toBe(sealed());
    const elsewhere = run(['seal', 'b/a/trial.yaml'], { 'b/a/trial.yaml': TRIAL, 'b/a/house.yaml': HOUSE });
    expect(elsewhere.written['b/a/trial.yaml.seal.json']).toBe(sealed());
  });

  test('the same bytes however the trial and its limits were typed', () => {
    const trial = { 'a/trial.yaml': TRIAL, 'a/house.yaml': HOUSE, 'strict.yaml': 'pages: {min: 1}\n' };
    const full = Object.fromEntries(Object.entries(trial).map(([name, text]) => [join(ROOT, name), text]));
    const all = { ...trial, ...full };
    const asTyped = (folder: string, limits: string): string | undefined => {
      const { written } = run(['seal', join(folder, 'a/trial.yaml'), '--limits', limits], all);
      return written[join(folder, NAME)];
    };
    const first = asTyped('', 'strict.yaml');
    expect(first).toContain('"over": ["../strict.yaml"]');
    expect(asTyped('', join(ROOT, 'strict.yaml'))).toBe(first);
    expect(asTyped(ROOT, 'strict.yaml')).toBe(first);
    expect(asTyped(ROOT, join(ROOT, 'strict.yaml'))).toBe(first);
  });

  test('a line for each figure, lines ending in LF', () => {
    const text = sealed();
    const lines = text.split('\n');
    for (const figure of parsed(text).figures) {
      const own = lines.filter((line) => {
        try {
          return JSON.stringify(JSON.parse(line.replace(/,$/, ''))) === JSON.stringify(figure);
        } catch {
          return false;
        }
      });
      expect(own, JSON.stringify(figure)).toHaveLength(1);
    }
    expect(text.endsWith('}\n')).toBe(true);
    expect(text).not.toContain('\r');
  });

  test('its digest is what sed and sha256sum say of the text without its second line', () => {
    const file = join(mkdtempSync(join(tmpdir(), 'tallytare-')), 'seal.json');
    writeFileSync(file, sealed());
    const { stdout, status } = spawnSync('sh', ['-c', 'sed 2d "$1" | sha256sum', 'sh', file], {
      encoding: 'utf8',
    });
    if (status !== 0) return; // No such tools here; the next test holds the same by Node's own hash.
    expect(sealed().split('\n')[1]).toBe(`  "digest": "${stdout.slice(0, 64)}",`);
  });

  test('its digest is that of the text without its second line', () => {
    const lines = sealed().split('\n');
    expect(lines[1]).toBe(`  "digest": "${sha256(lines.toSpliced(1, 1).join('\n'))}",`);
  });

  test('nothing in it that a terminal obeys, whatever the trial says', () => {
    const title = '\\e[31m \\u202e \\x9b2J \\0';
    const { written } = run(['seal', 't.yaml'], {
      't.yaml': `trial: "${title}"\nmeter: {start: 1, end: 2}\n`,
    });
    const text = written['t.yaml.seal.json'] ?? '';
    // eslint-disable-next-line no-control-regex -- that is what is looked for
    expect(text.replaceAll('\n', '')).not.toMatch(/[\u0000-\u001f\u007f-\u009f\u202e]/);
    expect((JSON.parse(text) as { trial: string }).trial).toBe('\u001b[31m \u202e \u009b2J \u0000');
  });
});

describe('what seal does', () => {
  const again = (change: string, ...options: string[]) =>
    run(['seal', 'a/trial.yaml', ...options], {
      ...files,
      [NAME]: sealed(),
      'a/trial.yaml': TRIAL + change,
    });

  test('sealed again unchanged it stays as it is', () => {
    const { code, out, written } = again('');
    expect([code, out, written]).toEqual([0, `sealed already  ${NAME}\n`, {}]);
  });

  test('a seal that says something else is replaced only when told', () => {
    const kept = again('# a word\n');
    expect([kept.code, kept.out, kept.written]).toEqual([5, '', {}]);
    expect(kept.err).toContain('--force');
    const replaced = again('# a word\n', '--force');
    expect(replaced.code).toBe(0);
    expect(parsed(replaced.written[NAME] ?? '').inputs[0]?.sha256).toBe(sha256(`${TRIAL}# a word\n`));
  });

  test('another run that wrote the same seal meanwhile is no error; one that wrote another is', () => {
    const meanwhile = (left: string) => {
      let wrote = false;
      return run(['seal', 'a/trial.yaml'], files, '', {
        kind: (path) => (path === NAME && !wrote ? 'nothing' : 'other'),
        read: (file) => Buffer.from(file === NAME ? left : files[file as keyof typeof files]),
        write: () => {
          wrote = true;
          throw Object.assign(new Error('taken'), { code: 'EEXIST' });
        },
      });
    };
    expect(meanwhile(sealed())).toMatchObject({ code: 0, out: `sealed already  ${NAME}\n` });
    expect(meanwhile('another')).toMatchObject({ code: 5, out: '' });
  });

  test('a photo is an input; one that changed or is gone is told, one that is not there is said', () => {
    const trial = `${TRIAL}inspection: [{stage: after, severity: minor, photo: p/a.png}]\n`;
    const photo = 'the bytes of a photo';
    const all = { ...files, 'a/trial.yaml': trial, 'a/p/a.png': photo };
    const { written, err } = run(['seal', 'a'], all);
    expect(err).toBe('');
    expect(parsed(written[NAME] ?? '').inputs.at(-1)).toEqual({
      kind: 'photo',
      file: 'p/a.png',
      sha256: sha256(photo),
    });
    expect(run(['recheck', 'a', '-q'], { ...all, ...written }).out).toBe('same\ta/trial.yaml\n');
    const changed = run(['recheck', 'a'], { ...all, ...written, 'a/p/a.png': 'another photo' });
    expect([changed.code, changed.out]).toEqual([
      1,
      expect.stringMatching(/^trial changed {3}a\/trial.yaml\n {4}The photo p\/a.png is not what was sealed/),
    ]);
    const gone = run(['seal', 'a'], { ...files, 'a/trial.yaml': trial });
    expect(gone.code).toBe(0);
    expect(gone.err).toContain('a/trial.yaml: a photo is not sealed');
  });

  test('whatever the verdict, a trial that can be read is sealed; what is none is not, and the rest goes on', () => {
    const { code, err, written } = run(
      ['seal', 'bad.yaml', 'gone.yaml', 'examples/waste-fail.yaml', 'examples/warm-room.yaml'],
      {
        'bad.yaml': 'trial: x\n',
      },
    );
    expect(code).toBe(3);
    expect(err).toContain('bad.yaml:1:1: error');
    expect(err).toContain('gone.yaml: error');
    expect(Object.entries(written).map(([name, text]) => [name, parsed(text).verdict])).toEqual([
      ['examples/waste-fail.yaml.seal.json', 'fail'],
      ['examples/warm-room.yaml.seal.json', 'inconclusive'],
    ]);
  });

  test('standard input has no place for a seal, and nothing is no trial', () => {
    expect(run(['seal', '-'], {}, TRIAL).code).toBe(4);
    expect(run(['seal']).code).toBe(4);
    expect(run(['seal', 'a/trial.yaml', '--limits', 'none-such'], files).code).toBe(4);
  });

  test('a folder is sealed but for its limits and the seals in it', () => {
    const { written } = run(['seal', 'a'], { ...files, 'a/b/c.yaml': 'trial: c\nmeter: {start: 1}\n' });
    expect(Object.keys(written)).toEqual(['a/b/c.yaml.seal.json', NAME]);
  });
});
