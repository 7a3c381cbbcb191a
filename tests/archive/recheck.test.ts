import fc from 'fast-check';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readSeal } from '../../src/archive/read-seal.ts';
import { type Files, ROOT, run } from '../run.ts';
import { HOUSE, resealed, sha256, TRIAL } from './sealed.ts';

const SEAL = 'a/trial.yaml.seal.json';
const OFFICE = join(ROOT, 'shared/limits/office.yaml');

const unsealed: Files = { 'a/trial.yaml': TRIAL, 'a/house.yaml': HOUSE };
const seal = run(['seal', 'a/trial.yaml'], unsealed).written[SEAL] ?? '';
const archive: Files = { ...unsealed, [SEAL]: seal };

interface RecheckJson {
  readonly state: string;
  readonly verdict: string | null;
  readonly remarks: readonly {
    readonly kind: string;
    readonly code: string;
    readonly message: string;
    readonly figure?: string;
    readonly difference?: string | null;
    readonly printed?: boolean;
  }[];
}

/** The trial re-checked among files, as JSON; a file of null is taken out. */
function recheck(
  changed: Readonly<Record<string, string | null>> = {},
  ...options: string[]
): RecheckJson & { code: number } {
  const files = Object.fromEntries(
    Object.entries({ ...archive, ...changed }).filter(([, text]) => text !== null),
  ) as Files;
  const { code, out, err } = run(['recheck', 'a/trial.yaml', '--format', 'json', ...options], files);
  expect(err).toBe('');
  return { ...(JSON.parse(out) as RecheckJson), code };
}

const codes = ({ remarks }: RecheckJson): string[] => remarks.map(({ code }) => code);

const drifted = (from: string, to: string): string =>
  resealed(seal, (content) => {
    expect(content).toContain(from);
    return content.replace(from, to);
  });

const ONES = '1'.repeat(32);

describe('what can become of a sealed trial', () => {
  test('same', () => {
    expect(recheck()).toMatchObject({ code: 0, state: 'same', verdict: 'pass', remarks: [] });
  });

  test('trial changed, be it by a comment', () => {
    const changed = recheck({ 'a/trial.yaml': `${TRIAL}# a word\n` });
    expect(changed).toMatchObject({ code: 1, state: 'trial changed', verdict: 'pass' });
    expect(changed.remarks[0]).toMatchObject({
      code: 'input-changed',
      sealed: sha256(TRIAL),
      now: sha256(`${TRIAL}# a word\n`),
    });
  });

  test('trial changed, and its verdict with it', () => {
    const worse = recheck({ 'a/trial.yaml': TRIAL.replace('948 g', '1198 g') });
    expect(worse).toMatchObject({ code: 1, state: 'trial changed', verdict: 'fail' });
    expect(codes(worse)).toEqual(['input-changed', 'reading-moved', 'verdict-moved']);
    expect(worse.remarks[1]?.message).toBe('waste_container.final was "948 g" and is now "1198 g".');
  });

  test('trial changed, even into what is no trial', () => {
    expect(recheck({ 'a/trial.yaml': '}' })).toMatchObject({
      code: 1,
      state: 'trial changed',
      verdict: 'invalid',
    });
  });

  test('a limits file that differs now: the limits in the seal decide, and notes say what today would change', () => {
    const strict = recheck({ 'a/house.yaml': 'waste_per_thousand: {max: 15 g}\n' });
    expect(strict).toMatchObject({ code: 0, state: 'same', verdict: 'pass' });
    expect(codes(strict)).toEqual(['limits-file-differs', 'limit-differs', 'verdict-by-current-limits']);
    expect(strict.remarks.map(({ kind }) => kind)).toEqual(['note', 'note', 'note']);
    expect(strict.remarks[1]?.message).toBe(
      'The limit on waste per thousand pages: at most 25 g (fails) in the seal, at most 15 g (fails) in the files now.',
    );
    expect(strict.remarks[2]?.message).toContain('would be FAIL, not PASS');
    const comment = recheck({ 'a/house.yaml': `# reviewed\n${HOUSE}` });
    expect(comment).toMatchObject({ code: 0, state: 'same' });
    expect(codes(comment)).toEqual(['limits-file-differs']);
    const gone = recheck({ 'a/house.yaml': null });
    expect(gone).toMatchObject({ code: 0, state: 'same', verdict: 'pass' });
    expect(codes(gone)).toEqual(['limits-file-differs']);
  });

  test('a limits file that differs does not hide what else moved', () => {
    const moved = recheck({
      [SEAL]: drifted(`17.${ONES}`, '17.2'),
      'a/house.yaml': 'waste_per_thousand: {max: 15 g}\n',
    });
    expect(moved).toMatchObject({ code: 1, state: 'result changed' });
    expect(codes(moved)[0]).toBe('figure-moved');
  });

  test('a severity and a price come back from the seal as they were agreed', () => {
    const trial = TRIAL.replace(
      'limits: [house.yaml',
      'cartridges: [{slot: black, price: 40 EUR, exhausted_at: 130480, exhausted_by: fade}]\ninspection: [{stage: after, severity: major}]\nlimits: [house.yaml',
    );
    const house = 'worst_finding: {max: minor}\ncost_per_thousand: {max: 3 EUR}\n';
    const of = (limits: string) => ({ 'a/trial.yaml': trial, 'a/house.yaml': limits });
    const { written } = run(['seal', 'a/trial.yaml'], of(house));
    const again = run(['recheck', 'a', '--format', 'jsonl'], { ...of('pages: {min: 1}\n'), ...written });
    expect(JSON.parse(again.out)).toMatchObject({ state: 'same', verdict: 'fail' });
  });

  test('limits changed, where those of today are asked for: a file', () => {
    const changed = recheck({ 'a/house.yaml': 'waste_per_thousand: {max: 15 g}\n' }, '--current-limits');
    expect(changed).toMatchObject({ code: 1, state: 'limits changed', verdict: 'fail' });
    expect(changed.remarks[0]?.message).toContain('house.yaml');
  });

  test('limits changed: a file that holds no limits any more', () => {
    expect(recheck({ 'a/house.yaml': 'none: 1\n' }, '--current-limits')).toMatchObject({
      code: 1,
      state: 'limits changed',
    });
  });

  test('limits changed: a preset of another version', () => {
    const sealedOver = run(['seal', 'a/trial.yaml', '--limits', 'office'], unsealed).written[SEAL] ?? '';
    expect(recheck({ [SEAL]: sealedOver }).state).toBe('same');
    expect(recheck({ [SEAL]: sealedOver, [OFFICE]: HOUSE }, '--current-limits')).toMatchObject({
      code: 1,
      state: 'limits changed',
    });
    expect(recheck({ [SEAL]: sealedOver, [OFFICE]: HOUSE })).toMatchObject({ code: 0, state: 'same' });
  });

  test('limits laid over it when it was sealed are used again, from wherever the folder went', () => {
    const files = {
      'x/a/trial.yaml': TRIAL,
      'x/a/house.yaml': HOUSE,
      'x/strict.yaml': 'waste_mass: {max: 300 g}\n',
    };
    const { written } = run(['seal', 'x/a/trial.yaml', '--limits', 'x/strict.yaml'], files);
    const moved = Object.fromEntries(
      Object.entries({ ...files, ...written }).map(([name, text]) => [`y/${name}`, text]),
    );
    const { code, out } = run(['recheck', 'y', '--quiet'], moved);
    expect([code, out]).toEqual([0, 'same\ty/x/a/trial.yaml\n']);
    const { out: text } = run(['recheck', 'y', '--current-limits'], {
      ...moved,
      'y/x/strict.yaml': 'waste_mass: {max: 310 g}\n',
    });
    expect(text).toContain('limits changed');
    expect(text).toContain('The verdict was FAIL and is now PASS.');
  });

  test('result changed: a figure as it is printed', () => {
    const moved = recheck({ [SEAL]: drifted(`17.${ONES}`, '17.2') });
    expect(moved).toMatchObject({ code: 1, state: 'result changed' });
    // 17.1 recurring less 17.2 is −0.08 recurring, in 34 digits of the first.
    expect(moved.remarks).toMatchObject([
      {
        code: 'figure-moved',
        figure: 'waste_per_thousand',
        difference: `-0.0${'8'.repeat(30)}9`,
        printed: true,
      },
    ]);
    expect(moved.remarks[0]?.message).toBe(
      'waste per thousand pages was 17.200 ± 0.045 g and is now 17.111 ± 0.045 g, moved by -0.089 g.',
    );
  });

  test('result changed: only in digits that are not printed', () => {
    const moved = recheck({ [SEAL]: drifted(`17.${ONES}`, `17.${ONES.slice(1)}2`) });
    expect(moved).toMatchObject({ code: 1, state: 'result changed' });
    expect(moved.remarks).toMatchObject([{ code: 'figure-moved', printed: false }]);
    expect(moved.remarks[0]?.message).toBe(
      'waste per thousand pages differs only in digits that are not printed, moved by -1e-32 g.',
    );
  });

  test('result changed: outcome, verdict, rule, a figure no longer derived', () => {
    const outcome = drifted('"outcome": "met"}', '"outcome": "open"}').replaceAll('\r', '');
    expect(codes(recheck({ [SEAL]: outcome }))).toEqual(['outcome-moved']);
    expect(codes(recheck({ [SEAL]: drifted('"verdict": "pass"', '"verdict": "fail"') }))).toEqual([
      'verdict-moved',
    ]);
    expect(codes(recheck({ [SEAL]: drifted('"rule": "simple"', '"rule": "guarded"') }))).toEqual([
      'agreed-moved',
    ]);
    const gone = recheck({ [SEAL]: drifted('"figure": "sheets"', '"figure": "leaves"') });
    expect(gone.state).toBe('result changed');
    expect(codes(gone)).toEqual(['figure-moved', 'figures-new']);
  });

  test('a figure that was not derived when it was sealed moves nothing', () => {
    const fewer = resealed(seal, (content) => content.replace(/\n.*"sheets".*/, ''));
    const result = recheck({ [SEAL]: fewer });
    expect(result).toMatchObject({ code: 0, state: 'same' });
    expect(result.remarks).toMatchObject([{ kind: 'note', code: 'figures-new' }]);
  });

  test('another version of the tool, or another name, is the same, with a note', () => {
    const other = recheck({ [SEAL]: drifted('"tool": "tallytare ', '"tool": "tallytare 0.') });
    expect(other).toMatchObject({ code: 0, state: 'same' });
    expect(other.remarks).toMatchObject([{ kind: 'note', code: 'other-tool' }]);
    const named = recheck({ [SEAL]: drifted('"file": "trial.yaml",\n', '"file": "first.yaml",\n') });
    expect(named).toMatchObject({ code: 0, state: 'same' });
    expect(codes(named)).toEqual(['other-name']);
  });

  test('seal missing', () => {
    expect(recheck({ [SEAL]: null })).toMatchObject({ code: 2, state: 'seal missing', sealed: null });
  });

  test('unreadable: the trial is gone, the limits are gone, the seal is of a later format', () => {
    expect(codes(recheck({ 'a/trial.yaml': null }))).toEqual(['trial-gone']);
    expect(codes(recheck({ 'a/house.yaml': null }, '--current-limits'))).toEqual(['limits-unreadable']);
    const later = recheck({ [SEAL]: drifted('"format": 4', '"format": 5') });
    expect(later).toMatchObject({ code: 3, state: 'unreadable' });
    expect(later.remarks[0]?.message).toContain('format 5');
    expect(recheck({ [SEAL]: null, 'a/trial.yaml': 'trial: x\n' })).toMatchObject({
      code: 3,
      state: 'unreadable',
    });
  });

  test('of several changes the first in this order: damaged, trial, limits, result', () => {
    const all = {
      [SEAL]: drifted(`17.${ONES}`, '17.2'),
      'a/house.yaml': `${HOUSE}pages: {min: 7}\n`,
      'a/trial.yaml': `${TRIAL}# a word\n`,
    };
    expect(recheck({ ...all, [SEAL]: seal.replace('pass', 'fail') }).state).toBe('seal damaged');
    expect(recheck(all).state).toBe('trial changed');
    const limits = recheck({ ...all, 'a/trial.yaml': TRIAL }, '--current-limits');
    expect(limits.state).toBe('limits changed');
    expect(recheck({ ...all, 'a/trial.yaml': TRIAL, 'a/house.yaml': HOUSE }).state).toBe('result changed');
  });
});

describe('a damaged seal', () => {
  test.each([
    ['a word', seal.replace('"pass"', '"fail"')],
    ['a digit', seal.replace('"18000"', '"18001"')],
    ['its digest', seal.replace(/"digest": "./, '"digest": "g')],
    ['its end', seal.slice(0, -20)],
    ['everything', ''],
    ['its lay-out', `${JSON.stringify(JSON.parse(seal), null, 4)}\n`],
    ['a key it has not', resealed(seal, (content) => content.replace('"over"', '"beneath": 1,\n  "over"'))],
    [
      'a key that stands twice',
      resealed(seal, (content) => content.replace('  "verdict"', '  "verdict": "fail",\n  "verdict"')),
    ],
    ['a number that is none', resealed(seal, (content) => content.replace('"18000"', '"1e9999"'))],
    [
      'a preset that is a path',
      resealed(seal, (content) => content.replace('"over": []', '"over": ["../../etc/passwd"]')),
    ],
    ['a tower of brackets', resealed(seal, () => `{\n  "format": 1,\n  "tool": ${'['.repeat(200_000)}\n}\n`)],
  ])('%s', (_, text) => {
    const result = recheck({ [SEAL]: text });
    expect(result).toMatchObject({ code: 1, state: 'seal damaged', sealed: null, verdict: null });
    expect(result.remarks[0]?.message).toContain('copy');
  });

  test('more than 4 MiB, or no text', () => {
    const run1 = run(['recheck', 'a/trial.yaml', '-q'], {
      ...archive,
      [SEAL]: new Uint8Array(4 * 1024 * 1024 + 1),
    });
    expect([run1.code, run1.out]).toEqual([1, 'seal damaged\ta/trial.yaml\n']);
    const run2 = run(['recheck', 'a/trial.yaml', '-q'], { ...archive, [SEAL]: new Uint8Array([0xff, 0xfe]) });
    expect([run2.code, run2.out]).toEqual([1, 'seal damaged\ta/trial.yaml\n']);
  });

  test('but line ends that were turned on the way are no damage', () => {
    expect(recheck({ [SEAL]: seal.replaceAll('\n', '\r\n') }).state).toBe('same');
  });

  test('any change of its text is found', () => {
    const at = fc.nat(seal.length - 1);
    fc.assert(
      fc.property(at, at, fc.string({ maxLength: 4, unit: 'binary' }), (from, length, put) => {
        const text = seal.slice(0, from) + put + seal.slice(from + (length % 5));
        fc.pre(text.replaceAll('\r\n', '\n') !== seal);
        expect(readSeal(text, sha256)).not.toHaveProperty('seal');
      }),
      { numRuns: 500, seed: 20260309 },
    );
  });
});

describe('many', () => {
  const many: Files = {
    ...archive,
    'b.yaml': TRIAL.replace('house.yaml', 'a/house.yaml'),
    'a/c.yaml': TRIAL,
  };

  test('a folder: trials without a seal, seals without a trial, no limits', () => {
    const sealedToo = { ...many, 'a/d.yaml.seal.json': seal };
    const { code, out } = run(['recheck', 'a', 'b.yaml'], sealedToo);
    expect(code).toBe(3);
    expect(out.split('\n').filter((line) => !line.startsWith(' '))).toEqual([
      'seal missing    a/c.yaml',
      'unreadable      a/d.yaml',
      'same            a/trial.yaml',
      'seal missing    b.yaml',
      '4 trials: 1 same, 2 seal missing, 1 unreadable',
      '',
    ]);
  });

  test('a seal whose trial is gone and a folder stands in its place is told', () => {
    const beside = { ...archive, 'a/e.yaml/f.yaml': TRIAL, 'a/e.yaml.seal.json': seal };
    const { out, code } = run(['recheck', 'a', '-q'], beside);
    expect(out).toContain('unreadable\ta/e.yaml\n');
    expect(code).toBe(3);
  });

  test('exit codes: 0 all same, 2 only missing, 1 anything changed', () => {
    expect(run(['recheck', 'a/trial.yaml'], many).code).toBe(0);
    expect(run(['recheck', 'a'], many).code).toBe(2);
    expect(run(['recheck', 'a'], { ...many, 'a/trial.yaml': `${TRIAL}# a word\n` }).code).toBe(1);
  });

  test('a seal that is named stands for its trial, which is looked at once', () => {
    const { out } = run(['recheck', 'a/trial.yaml', SEAL, '-q'], archive);
    expect(out).toBe('same\ta/trial.yaml\n');
    expect(run(['recheck', SEAL, '-q'], archive).out).toBe('same\ta/trial.yaml\n');
    expect(run(['recheck', '--files-from', '-', '-q'], archive, `${SEAL}\n`).out).toBe(
      'same\ta/trial.yaml\n',
    );
  });

  test('json of one path is an object, else an array; jsonl a line each', () => {
    const array = JSON.parse(run(['recheck', 'a', '--format', 'json'], many).out) as RecheckJson[];
    expect(array.map(({ state }) => state)).toEqual(['seal missing', 'same']);
    const lines = run(['recheck', 'a', '--format', 'jsonl'], many).out.trimEnd().split('\n');
    expect(lines.map((line) => (JSON.parse(line) as RecheckJson).state)).toEqual(['seal missing', 'same']);
  });

  test('wrong usage', () => {
    expect(run(['recheck']).code).toBe(4);
    expect(run(['recheck', '-'], {}, TRIAL).code).toBe(4);
    expect(run(['recheck', 'a', '--format', 'csv'], many).code).toBe(4);
  });
});
