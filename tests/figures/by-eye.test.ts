import { describe, expect, test } from 'vitest';
import { leastWorst, seenApart } from '../../src/figures/seen-apart.ts';
import type { SeenPrint } from '../../src/trial/trial.ts';
import { figure, judge, run } from '../run.ts';

/*
 * Prints judged by eye. The order none, minor, major, critical is the format's own, and so is what people who differ
 * leave open; the trials are invented.
 */

const HEAD = `
trial: Saddlers Court lot 2, machine Dun
meter: {start: 500, end: 4500}
cartridges: [{slot: black}, {slot: cyan}]
`;

const trial = (byEye: string, limits = ''): string =>
  `${HEAD}${byEye === '' ? '' : `prints: {by_eye: ${byEye}}\n`}${limits === '' ? '' : `limits: {${limits}}\n`}`;

const worst = (byEye: string, of: string | null = null): string | undefined =>
  figure(trial(byEye), 'worst_print', of)?.value;

const SEEN = `[
  {attribute: density, slot: black, stage: last, severity: none},
  {attribute: density, slot: cyan, stage: last, severity: minor, note: a little lighter},
  {attribute: background, stage: last, severity: none},
  {attribute: streaks, slot: black, batch: 3, severity: major, by: R. Okoye},
  ]`;

describe('worst_print', () => {
  test('in all the worst of all', () => {
    expect(figure(trial(SEEN), 'worst_print')).toMatchObject({
      of: null,
      stat: null,
      value: 'major',
      unit: 'severity',
      u: '0',
      bound: 'exact',
    });
  });

  test('by attribute and by slot', () => {
    expect(['density', 'background', 'streaks', 'black', 'cyan'].map((of) => worst(SEEN, of))).toEqual([
      'minor',
      'none',
      'major',
      'major',
      'minor',
    ]);
  });

  test('of what was not looked at there is none, unless nothing worse was seen at all', () => {
    expect(worst(SEEN, 'ghosting')).toBeUndefined();
    expect(worst('[{attribute: voids, severity: none}]', 'ghosting')).toBeUndefined();
    expect(worst('[]', 'ghosting')).toBe('none');
    expect(worst('[]')).toBe('none');
    expect(figure(trial(''), 'worst_print')).toBeUndefined();
  });

  test('with prints still to be judged it is none yet, or at least the worst so far', () => {
    const open = (severity: string): string =>
      `[{attribute: voids, severity: ${severity}}, {attribute: colour, severity: }]`;
    expect(worst(open('none'))).toBeUndefined();
    expect(figure(trial(open('minor')), 'worst_print')).toMatchObject({ value: 'minor', bound: 'at_least' });
  });

  test('a slot that has the name of an attribute does not hide the attribute', () => {
    const text = `
trial: x
meter: {start: 500, end: 4500}
cartridges: [{slot: colour}]
prints: {by_eye: [{attribute: colour, severity: none}, {attribute: voids, slot: colour, severity: major}]}
`;
    const own = judge(text).figures.filter((one) => one.figure === 'worst_print' && one.of === 'colour');
    expect(own.map(({ value }) => value)).toEqual(['none']);
  });

  test('the reference run has its own', () => {
    const both = `${trial('[{attribute: voids, severity: none}]', 'worst_print: {max: none}')}reference: {meter: {start: 0, end: 500}, prints: {by_eye: [{attribute: voids, severity: critical}]}}\n`;
    expect(judge(both).verdict).toBe('pass');
  });
});

describe('limits', () => {
  const outcome = (byEye: string, limit: string): (string | null | undefined)[] => {
    const { verdict, limits } = judge(trial(byEye, `worst_print: {${limit}}`));
    return [verdict, limits[0]?.outcome];
  };

  test('in words, in all, on an attribute and on a slot', () => {
    expect(outcome(SEEN, 'max: major')).toEqual(['pass', 'met']);
    expect(outcome(SEEN, 'max: minor')).toEqual(['fail', 'missed']);
    expect(outcome(SEEN, 'of: total, max: minor')).toEqual(['fail', 'missed']);
    expect(outcome(SEEN, 'of: background, max: none')).toEqual(['pass', 'met']);
    expect(outcome(SEEN, 'of: cyan, max: none')).toEqual(['fail', 'missed']);
  });

  test('on what was not looked at it is open, and says so', () => {
    const { limits } = judge(trial(SEEN, 'worst_print: {of: ghosting, max: none}'));
    expect(limits[0]).toMatchObject({ outcome: 'open', reason: 'prints.by_eye holds no such reading' });
    expect(outcome('', 'max: none')).toEqual(['inconclusive', 'open']);
    expect(outcome('[]', 'of: black, max: none')).toEqual(['pass', 'met']);
  });

  test('on a slot the trial has not is an error', () => {
    const { code, notes } = judge(trial(SEEN, 'worst_print: {of: yellow, max: none}'));
    expect(code).toBe(3);
    expect(notes.map((note) => note.code)).toContain('limit-of-unknown-part');
  });

  test('while prints are still to be judged it is open with the place, or missed already', () => {
    const byEye = '[{attribute: voids, severity: minor}, {attribute: colour, severity: }]';
    const { limits } = judge(trial(byEye, 'worst_print: {max: minor}'));
    expect(limits[0]).toMatchObject({
      outcome: 'open',
      reason: 'prints.by_eye[2].severity is still to be read',
    });
    expect(outcome(byEye, 'max: none')).toEqual(['fail', 'missed']);
  });
});

describe('two people', () => {
  const two = (first: string, second: string, more = ''): string =>
    `[{attribute: background, slot: cyan, stage: last, severity: ${first}, by: R. Okoye},
      {attribute: background, slot: cyan, stage: last, severity: ${second}, by: L. Brandt}${more}]`;
  const limit = (byEye: string, max: string) =>
    judge(trial(byEye, `worst_print: {max: ${max}}`)).limits.map(({ outcome, reason }) => [
      outcome,
      reason,
    ])[0];

  test('who differ across a limit leave it open, and are named', () => {
    const named = 'people differ on background, cyan (R. Okoye minor, L. Brandt major)';
    expect(limit(two('minor', 'major'), 'minor')).toEqual(['open', named]);
    expect(judge(trial(two('minor', 'major'), 'worst_print: {max: minor}')).verdict).toBe('inconclusive');
  });

  test('who differ on one side of it do not', () => {
    expect(limit(two('minor', 'major'), 'major')).toEqual(['met', null]);
    expect(limit(two('minor', 'major'), 'none')).toEqual(['missed', null]);
  });

  test('whose judgement does not turn it do not: another print is worse, whoever is right', () => {
    expect(limit(two('none', 'major', ', {attribute: voids, severity: major}'), 'minor')).toEqual([
      'missed',
      null,
    ]);
  });

  test('only those of them who differ across it are named', () => {
    const more = `, {attribute: voids, severity: none, by: R. Okoye}, {attribute: voids, severity: minor, by: A. Moss}`;
    expect(limit(two('minor', 'major', more), 'minor')?.[1]).toBe(
      'people differ on background, cyan (R. Okoye minor, L. Brandt major)',
    );
    expect(limit(two('none', 'none', more), 'none')?.[1]).toBe(
      'people differ on voids (R. Okoye none, A. Moss minor)',
    );
  });

  test('see the same print: another stage, batch, slot or comparison is another one', () => {
    const apart = (one: string, other: string): string =>
      `[{attribute: voids, severity: none, by: A, ${one}}, {attribute: voids, severity: major, by: B, ${other}}]`;
    for (const [one, other] of [
      ['stage: first', 'stage: last'],
      ['batch: 1', 'batch: 2'],
      ['slot: black', 'slot: cyan'],
      ['against: first', 'against: reference'],
    ] as const)
      expect(limit(apart(one, other), 'minor'), one).toEqual(['missed', null]);
    expect(limit(apart('batch: 2', 'batch: 2, against: reference'), 'minor')?.[0]).toBe('open');
  });

  test('one person who looked twice, or nobody named, counts at the worst', () => {
    const twice = (by: string): string =>
      `[{attribute: voids, severity: none${by}}, {attribute: voids, severity: major${by}}]`;
    expect(limit(twice(', by: A'), 'minor')).toEqual(['missed', null]);
    expect(limit(twice(''), 'minor')).toEqual(['missed', null]);
    const unsigned = '[{attribute: voids, severity: major}, {attribute: voids, severity: none, by: A}]';
    expect(limit(unsigned, 'minor')).toEqual(['missed', null]);
  });
});

describe('what people said of one print', () => {
  const [A, B] = ['R. Okoye', 'L. Brandt'];
  const print = (severity: string | null, by: string | null, attribute = 'voids') =>
    ({
      attribute,
      slot: null,
      stage: null,
      batch: null,
      against: 'reference',
      severity,
      by,
    }) as unknown as SeenPrint;

  // Severities by their places: none 0, minor 1, major 2, critical 3.
  test.each([
    ['two who differ', [print('none', A), print('major', B)], [[0, 2]], 0],
    ['two who agree', [print('major', A), print('major', B)], [], 2],
    ['one alone', [print('major', A)], [], 2],
    ['one who looked twice', [print('none', A), print('major', A)], [], 2],
    [
      'one who looked twice, the worse first',
      [print('major', A), print('none', A), print('none', B)],
      [[0, 2]],
      0,
    ],
    ['nobody named', [print('major', null), print('minor', null)], [], 2],
    [
      'two who differ, and one not named',
      [print('none', A), print('minor', null), print('critical', B)],
      [[1, 3]],
      1,
    ],
    ['one not named who thinks worst', [print('none', A), print('minor', B), print('critical', null)], [], 3],
    ['still to be judged', [print(null, A), print(null, null)], [], 0],
    ['two prints', [print('none', A), print('major', B), print('minor', A, 'colour')], [[0, 2]], 1],
  ])('%s', (_, seen, apart, best) => {
    expect(seenApart(seen).map(({ least, worst }) => [least, worst])).toEqual(apart);
    expect(seenApart(seen).map(({ print: first }) => first)).toEqual(seen.slice(0, apart.length));
    expect(leastWorst(seen)).toBe(best);
  });

  test('may turn a limit or not; what is still to be judged is at least so bad', () => {
    const limit = (more: string, max: string): unknown[] =>
      judge(
        trial(
          `[{attribute: voids, severity: none, by: A}, {attribute: voids, severity: major, by: B}${more}]`,
          `worst_print: {max: ${max}}`,
        ),
      ).limits.map(({ outcome }) => outcome);
    const open = ', {attribute: colour, severity: }';
    expect([limit('', 'minor'), limit(open, 'minor'), limit(open, 'major')]).toEqual([
      ['open'],
      ['open'],
      ['open'],
    ]);
    const reason = judge(
      trial(
        `[{attribute: voids, severity: none, by: A}, {attribute: voids, severity: minor, by: B}${open}]`,
        'worst_print: {max: major}',
      ),
    ).limits[0]?.reason;
    expect(reason).toBe('prints.by_eye[3].severity is still to be read');
    const between = judge(
      trial(
        `[{attribute: voids, severity: none, by: A}, {attribute: voids, severity: minor, by: B}${open}]`,
        'worst_print: {min: minor, max: major}',
      ),
    ).limits[0];
    expect(between).toMatchObject({ outcome: 'open', reason });
  });
});

describe('what no limit speaks of', () => {
  const critical = '[{attribute: fixing, slot: black, severity: critical, note: rubs off}]';
  const ground = (limits: string): (string | null)[] => {
    const { verdict, caveats } = judge(trial(critical, limits));
    return [verdict, ...caveats.map(({ message }) => message)];
  };

  test('a critical print keeps the trial from passing', () => {
    const text = trial(critical, 'pages: {min: 100}, worst_finding: {max: critical, effect: advises}');
    const { verdict, notes } = judge(text);
    expect(verdict).toBe('inconclusive');
    expect(notes.find(({ code }) => code === 'unspoken-finding')?.message).toContain(
      'A print was judged critical by eye, and no limit speaks of prints judged by eye.',
    );
    expect(run(['verdict', 't.yaml'], { 't.yaml': text }).out).toContain(
      '  ! 1 print judged critical by eye; no limit speaks of prints.',
    );
  });

  test('a limit in all, on its attribute or on its slot speaks of it; one on another does not', () => {
    const pages = 'pages: {min: 100}';
    expect(ground(`${pages}, worst_print: {max: critical}`)[0]).toBe('pass');
    expect(ground(`${pages}, worst_print: {of: fixing, max: critical}`)[0]).toBe('pass');
    expect(ground(`${pages}, worst_print: {of: black, max: critical}`)[0]).toBe('pass');
    expect(ground(`${pages}, worst_print: {of: voids, max: none}`)[0]).toBe('inconclusive');
  });

  test('what is major or worse stands before the verdict', () => {
    expect(ground('pages: {min: 100}, worst_print: {max: critical}')).toEqual([
      'pass',
      '1 print judged critical by eye: fixing, black, rubs off.',
    ]);
  });
});

describe('where it is shown', () => {
  const text = trial(
    `[{attribute: colour, severity: none}, {attribute: contrast, severity: none},
      {attribute: streaks, slot: black, severity: none}, {attribute: voids, against: first, severity: none},
      {attribute: background, stage: last, severity: minor, by: A. Moss, note: a veil},
      {attribute: background, stage: last, severity: none, by: L. Brandt},
      {attribute: ghosting, batch: 2, severity: major}, {attribute: density, severity: }]`,
  );

  test('in text: what is as good in a line, then what is worse, and what is still to be judged', () => {
    const { out } = run(['verdict', 't.yaml'], { 't.yaml': text });
    const prints = /^PRINTS\n([^]*?)\n\n/m.exec(out)?.[1]?.split('\n');
    expect(prints).toEqual([
      '  colour, contrast, streaks (black): as the reference',
      '  voids: as the first print',
      '  major    batch 2   ghosting',
      '  minor    last      background: a veil (A. Moss)',
    ]);
    expect(out).toContain('prints.by_eye[8].severity (line');
    expect(run(['verdict', 't.yaml'], { 't.yaml': trial('[]') }).out).toContain('nothing worse was found');
  });

  test('on the record sheet: the prints planned, else every attribute', () => {
    const sheet = (text: string): string => run(['plan', 't.yaml', '--record'], { 't.yaml': text }).out;
    expect(sheet(text)).toMatch(/ ghosting, batch 2 _+$/m);
    expect(sheet(text)).not.toContain('uniformity');
    expect(sheet(trial(''))).toMatch(/ uniformity _+/);
  });

  test('in the file that start writes: every attribute, still to be judged', () => {
    const { out } = run(['start', '-']);
    expect(out).toContain('    - {attribute: ghosting, stage: last, severity: }\n');
    const { notes } = judge(out);
    expect(notes.filter(({ message }) => message.includes('prints.by_eye'))).toHaveLength(11);
  });

  test('a severity that is not there at all, and a word that is none, are errors', () => {
    expect(judge(trial('[{attribute: voids}]')).notes[0]).toMatchObject({ code: 'missing-key' });
    expect(judge(trial('[{attribute: void, severity: none}]')).notes[0]?.message).toContain('"voids"');
    expect(judge(trial('[{attribute: voids, slot: blue, severity: none}]')).notes[0]?.code).toBe(
      'unknown-slot',
    );
  });
});
