import { describe, expect, test } from 'vitest';
import { figure, judge, type ResultJson, run } from '../run.ts';

/*
 * What is measured on the prints. Differences are worked by hand beside each test; a reading to r has
 * u = r/√12 (GUM F.2.2.1, from memory). Colour differences have their own checks in
 * tests/published/ciede2000.test.ts; pair numbers here are those of its table (Sharma, Wu and Dalal 2005,
 * Table 1, seen second-hand). The prints are invented.
 */

type Figure = ResultJson['figures'][number];

const trial = (prints: string, more = ''): string => `
trial: Glovers Yard lot 8, machine Sepia
meter: {start: 1000, end: 9000}
prints:
${prints}
${more}
`;

const get = (text: string, name: string, of: string | null = null): Figure => {
  const found = figure(text, name, of);
  if (found === undefined) throw new Error(`${name} was not derived`);
  return found;
};

const DENSITY = 0.01 / Math.sqrt(12);

const PATCHES = trial(`
  patches:
    - patch: black solid
      reference: {density: 1.45, lab: [50, 2.6772, -79.7751], gloss: 14}
      first: {density: 1.42, lab: [50, 3.1571, -77.2803], gloss: 12.5}
      last: {density: 1.38, lab: [50, 0, -82.7485], gloss: 11.0}
    - patch: cyan half
      first: {density: 0.51}
      last: {density: 0.54}
`);

describe('density', () => {
  test('density_change: 1.38 − 1.42 = −0.04, u = √2 × 0.01/√12 = 0.0040825', () => {
    const change = get(PATCHES, 'density_change', 'black solid');
    expect(change).toMatchObject({ value: '-0.04', unit: '1', bound: 'exact' });
    expect(Number(change.u)).toBeCloseTo(Math.SQRT2 * DENSITY, 9);
    expect(get(PATCHES, 'density_change', 'cyan half').value).toBe('0.03');
  });

  test('density_to_reference: 1.38 − 1.45 = −0.07', () => {
    expect(get(PATCHES, 'density_to_reference', 'black solid').value).toBe('-0.07');
  });

  test('a densitometer off by no more than 0.02: u² = 2 (0.01²/12 + 0.02²/3)', () => {
    const coarse = `${PATCHES}instruments: {densitometer: {max_error: 0.02}}\n`;
    expect(Number(get(coarse, 'density_change', 'black solid').u)).toBeCloseTo(
      Math.SQRT2 * Math.hypot(DENSITY, 0.02 / Math.sqrt(3)),
      9,
    );
  });
});

describe('gloss', () => {
  test('gloss_change: 11.0 − 12.5 = −1.5 GU, u = √2 × 0.1/√12', () => {
    const change = get(PATCHES, 'gloss_change', 'black solid');
    expect(change).toMatchObject({ value: '-1.5', unit: 'GU' });
    expect(Number(change.u)).toBeCloseTo((Math.SQRT2 * 0.1) / Math.sqrt(12), 9);
  });

  test('gloss_to_reference: 11.0 − 14 = −3 GU, u from 0.1 and 1', () => {
    const apart = get(PATCHES, 'gloss_to_reference', 'black solid');
    expect(apart.value).toBe('-3');
    expect(Number(apart.u)).toBeCloseTo(Math.hypot(0.1, 1) / Math.sqrt(12), 9);
  });
});

describe('colour', () => {
  test('colour_difference, last against first: pair 2, 2.8615', () => {
    const { value, unit } = get(PATCHES, 'colour_difference', 'black solid');
    expect(unit).toBe('ΔE00');
    expect(Number(value).toFixed(4)).toBe('2.8615');
  });

  test('colour_to_reference, last against reference: pair 1, 2.0425', () => {
    expect(Number(get(PATCHES, 'colour_to_reference', 'black solid').value).toFixed(4)).toBe('2.0425');
  });
});

describe('a reading that was not taken', () => {
  test('leaves its figure out and the others in', () => {
    for (const name of [
      'gloss_change',
      'colour_difference',
      'density_to_reference',
      'colour_to_reference',
      'gloss_to_reference',
    ]) {
      expect(figure(PATCHES, name, 'cyan half'), name).toBeUndefined();
    }
  });

  test('leaves a limit open, with the reading named', () => {
    const { code, limits } = judge(`${PATCHES}limits: {gloss_change: {of: cyan half, min: -2}}`);
    expect(code).toBe(2);
    expect(limits[0]).toMatchObject({ of: 'cyan half', outcome: 'open' });
    expect(limits[0]?.reason).toContain('prints.patches[2].last.gloss');
  });

  test.each(['density_change', 'colour_difference', 'gloss_change', 'density_to_reference'])(
    'no patch at all leaves a limit on %s open, of every patch and of one',
    (name) => {
      for (const prints of ['  background: 0.01', '  patches: []'])
        for (const limit of ['{min: -2}', '{of: black solid, min: -2}']) {
          const text = trial(prints, `limits: {pages: {min: 1}, ${name}: ${limit}}`);
          const { verdict, limits, notes } = judge(text);
          expect(verdict).toBe('inconclusive');
          expect(limits.find((one) => one.figure === name)).toMatchObject({
            of: limit.includes('of:') ? 'black solid' : null,
            outcome: 'open',
            reason: 'prints.patches is still to be read',
          });
          expect(notes.map(({ code }) => code)).toContain('to-be-read');
        }
    },
  );

  test('a patch that others were measured beside is none of the trial', () => {
    const limit = 'limits: {pages: {min: 1}, density_change: {of: magenta solid, min: -2}}';
    expect(judge(`${PATCHES}${limit}`).notes.map(({ code }) => code)).toContain('limit-of-unknown-part');
  });

  test('empty ones are still to be read', () => {
    const empty = trial('  patches: [{patch: black solid, first: {density: 1.42}, last: {density:}}]');
    const { notes } = judge(empty);
    expect(notes.find(({ code }) => code === 'to-be-read')?.message).toContain(
      'prints.patches[1].last.density',
    );
  });
});

describe('the reference print', () => {
  const REFERENCE = `reference:
  meter: {start: 0, end: 1000}
  prints:
    patches:
      - {patch: black solid, first: {density: 1.30}, last: {density: 1.47, lab: [50, 2.6772, -79.7751], gloss: 15}}`;
  const own = (reference: string): string =>
    trial(
      `  patches: [{patch: black solid, ${reference}last: {density: 1.38, lab: [50, 0, -82.7485], gloss: 11}}]`,
      REFERENCE,
    );

  test('is the last of that patch in the reference run where the patch names none: −0.09, pair 1, −4', () => {
    expect(get(own(''), 'density_to_reference', 'black solid').value).toBe('-0.09');
    expect(Number(get(own(''), 'colour_to_reference', 'black solid').value).toFixed(4)).toBe('2.0425');
    expect(get(own(''), 'gloss_to_reference', 'black solid').value).toBe('-4');
  });

  test('the patch’s own comes first: 1.38 − 1.45 = −0.07', () => {
    const text = own('reference: {density: 1.45}, ');
    expect(get(text, 'density_to_reference', 'black solid').value).toBe('-0.07');
    expect(get(text, 'gloss_to_reference', 'black solid').value).toBe('-4');
  });

  test('another patch of the reference run is none', () => {
    const other = own('').replace('{patch: black solid, first', '{patch: black half, first');
    expect(figure(other, 'density_to_reference', 'black solid')).toBeUndefined();
  });
});

describe('background, fixing, registration', () => {
  const PAGE = trial('  background: 0.012\n  fixing: {before: 1.40, after: 1.33}\n  registration: 0.08 mm');

  test('background as read: 0.012 ± 0.001/√12', () => {
    const { value, unit, u } = get(PAGE, 'background');
    expect([value, unit]).toEqual(['0.012', '1']);
    expect(Number(u)).toBeCloseTo(0.001 / Math.sqrt(12), 10);
  });

  test('fixing: 100 × 1.33 / 1.40 = 95 %, u = 95 × 0.01/√12 × √(1/1.33² + 1/1.40²) = 0.28441', () => {
    const { value, unit, u } = get(PAGE, 'fixing');
    expect([value, unit]).toEqual(['95', '%']);
    expect(Number(u)).toBeCloseTo(95 * DENSITY * Math.hypot(1 / 1.33, 1 / 1.4), 9);
    expect(Number(u)).toBeCloseTo(0.28441, 5);
  });

  test('registration as read, also in cm: 0.08 mm', () => {
    expect(get(PAGE, 'registration')).toMatchObject({ value: '0.08', unit: 'mm' });
    expect(Number(get(PAGE, 'registration').u)).toBeCloseTo(DENSITY, 9);
    expect(get(PAGE.replace('0.08 mm', '0.008 cm'), 'registration').value).toBe('0.08');
  });

  test('no density before the test: no share of it', () => {
    const bare = PAGE.replace('before: 1.40', 'before: 0');
    expect(figure(bare, 'fixing')).toBeUndefined();
    expect(figure(bare, 'background')?.value).toBe('0.012');
  });

  test('none of them where nothing was measured', () => {
    const none = 'trial: Glovers Yard lot 8\nmeter: {start: 1, end: 2}\n';
    for (const name of ['background', 'fixing', 'registration'])
      expect(figure(none, name), name).toBeUndefined();
  });
});

describe('limits', () => {
  const held = (limits: string, text = PATCHES): (string | null)[][] =>
    judge(`${text}limits: {${limits}}`).limits.map(({ figure, of, outcome }) => [figure, of, outcome]);

  test('without "of" a limit holds for every patch', () => {
    expect(held('density_change: {min: -0.03, max: 0.03}')).toEqual([
      ['density_change', 'black solid', 'missed'],
      ['density_change', 'cyan half', 'met'],
    ]);
  });

  test('with "of" for one', () => {
    expect(
      held('density_change: {of: cyan half, max: 0.02}, colour_difference: {of: black solid, max: 2.9}'),
    ).toEqual([
      ['density_change', 'cyan half', 'missed'],
      ['colour_difference', 'black solid', 'met'],
    ]);
  });

  test('a patch the trial has not is an error', () => {
    const { code, notes } = judge(`${PATCHES}limits: {density_change: {of: yellow solid, max: 0}}`);
    expect(code).toBe(3);
    expect(notes.map(({ code }) => code)).toContain('limit-of-unknown-part');
  });

  test('on the page: background, fixing, registration', () => {
    const page = trial('  background: 0.012\n  fixing: {before: 1.40, after: 1.33}\n  registration: 0.08 mm');
    expect(
      held('background: {max: 0.012}, fixing: {min: 95.1 %}, registration: {max: 0.01 cm}', page),
    ).toEqual([
      ['background', null, 'met'],
      ['fixing', null, 'missed'],
      ['registration', null, 'met'],
    ]);
  });

  test('guarded: −0.04 ± 2 × 0.0040825 keeps to −0.049, may or may not to −0.045', () => {
    const code = (min: string): number =>
      judge(`${PATCHES}limits: {decision: {rule: guarded}, density_change: {of: black solid, min: ${min}}}`)
        .code;
    expect(code('-0.049')).toBe(0);
    expect(code('-0.045')).toBe(2);
    expect(code('-0.035')).toBe(2);
    expect(code('-0.031')).toBe(1);
  });
});

test('a patch is named once', () => {
  const twice = trial('  patches: [{patch: black solid}, {patch: black solid}]');
  const { code, notes } = judge(twice);
  expect(code).toBe(3);
  expect(notes.map(({ code }) => code)).toContain('patch-twice');
});

test('text lists the patches in columns', () => {
  const { out } = run(['verdict', 'trial.yaml'], { 'trial.yaml': PATCHES });
  // U = 2u = 0.0082, so four places.
  expect(out).toMatch(/black solid +cyan half/);
  expect(out).toMatch(/density change +-0\.0400±0\.0082 +0\.0300±0\.0082/);
});
