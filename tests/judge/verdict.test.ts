import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { main } from '../../src/commands/main.ts';
import { OutputLost, processIo } from '../../src/world/io.ts';
import type { Outcome } from '../../src/judge/decide.ts';
import { type Verdict, verdictOf } from '../../src/judge/verdict.ts';
import type { Effect } from '../../src/trial/catalogue.ts';
import { type Files, judge, ROOT, run } from '../run.ts';

/*
 * From outcomes to the verdict and the exit code, as agreed for the trial file: a missed condition voids
 * the trial, a missed reject limit fails it, an open one of either leaves it undecided. The runs are
 * invented; what the figures come to is worked by hand beside each.
 */

const limit = (text: string): { effect: Effect; outcome: Outcome } => {
  const [effect, outcome] = text.split(' ') as [Effect, Outcome];
  return { effect, outcome };
};

describe('the verdict over judged limits', () => {
  test.each<[limits: string, verdict: Verdict, ground: string]>([
    // All kept.
    ['fails met', 'pass', 'all-met'],
    ['fails met, voids met, advises met', 'pass', 'all-met'],
    // 1. Any voids missed: inconclusive, whatever else.
    ['voids missed', 'inconclusive', 'voids-missed'],
    ['voids missed, fails met', 'inconclusive', 'voids-missed'],
    ['fails missed, voids missed', 'inconclusive', 'voids-missed'],
    ['fails open, voids missed', 'inconclusive', 'voids-missed'],
    ['voids met, voids missed, fails missed', 'inconclusive', 'voids-missed'],
    // 2. Else any that fails missed: fail.
    ['fails missed', 'fail', 'fails-missed'],
    ['fails met, fails missed', 'fail', 'fails-missed'],
    ['fails open, fails missed', 'fail', 'fails-missed'],
    ['fails missed, voids met', 'fail', 'fails-missed'],
    ['fails missed, voids open', 'fail', 'fails-missed'],
    // 3. Else any of either open: inconclusive.
    ['fails open', 'inconclusive', 'open'],
    ['fails met, fails open', 'inconclusive', 'open'],
    ['fails met, voids open', 'inconclusive', 'open'],
    ['voids open', 'inconclusive', 'open'],
    // 4. Nothing that could condemn the lot: inconclusive.
    ['voids met', 'inconclusive', 'no-fails-limit'],
    ['advises met', 'inconclusive', 'no-fails-limit'],
    ['advises missed, voids met', 'inconclusive', 'no-fails-limit'],
    ['', 'inconclusive', 'no-fails-limit'],
    // A warning decides nothing.
    ['fails met, advises missed', 'pass', 'all-met'],
    ['fails met, advises open', 'pass', 'all-met'],
  ])('%s: %s', (limits, verdict, ground) => {
    const judged = limits === '' ? [] : limits.split(', ').map(limit);
    expect(verdictOf(judged, [])).toEqual({ verdict, ground });
    expect(verdictOf(judged.toReversed(), [])).toEqual({ verdict, ground });
  });

  const effects = fc.constantFrom<Effect>('fails', 'voids', 'advises');
  const outcomes = fc.constantFrom<Outcome>('met', 'missed', 'open');
  const judgedLimits = fc.array(fc.record({ effect: effects, outcome: outcomes }), { maxLength: 8 });

  test('warnings never move it, and order does not matter', () => {
    fc.assert(
      fc.property(judgedLimits, (judged) => {
        const { verdict } = verdictOf(judged, []);
        expect(
          verdictOf(
            judged.filter(({ effect }) => effect !== 'advises'),
            [],
          ).verdict,
        ).toBe(verdict);
        expect(verdictOf(judged.toReversed(), []).verdict).toBe(verdict);
      }),
      { seed: 20260309 },
    );
  });

  test('a pass has a reject limit, and keeps every limit that counts', () => {
    fc.assert(
      fc.property(judgedLimits, (judged) => {
        const counting = judged.filter(({ effect }) => effect !== 'advises');
        const kept = counting.every(({ outcome }) => outcome === 'met');
        const condemning = counting.some(({ effect }) => effect === 'fails');
        expect(verdictOf(judged, []).verdict === 'pass').toBe(kept && condemning);
      }),
      { seed: 20260309 },
    );
  });
});

/** 12 000 pages, 240 g of waste: 20 g per thousand. Room 22 °C at 45 %. Yields 11 000 black; cyan not exhausted at 12 000. */
const trial = (limits: string, more = ''): string =>
  [
    'trial: Ferry Lane lot 3, machine Teal',
    'meter: {start: 1000, end: 13000}',
    'coverage: 5 %',
    'waste_container: {tare: 640 g, final: 880 g}',
    'cartridges: [{slot: black, exhausted_at: 12000}, {slot: cyan}]',
    'ambient: [{temperature: 22.0 °C, humidity: 45 %}]',
    more,
    limits === '' ? '' : `limits: {${limits}}`,
    '',
  ].join('\n');

const PASS = trial('waste_per_thousand: {max: 25 g}');
const FAIL = trial('waste_per_thousand: {max: 19 g}');
const INCONCLUSIVE = trial('yield: {of: cyan, min: 13000}');
const NOT_A_TRIAL = 'trial: [1, 2]\n';

describe('exit codes of one trial', () => {
  test.each<[name: string, text: string, code: number, verdict: string]>([
    ['pass', PASS, 0, 'PASS'],
    ['fail', FAIL, 1, 'FAIL'],
    ['inconclusive: a limit is open', INCONCLUSIVE, 2, 'INCONCLUSIVE'],
    ['inconclusive: no limits', trial(''), 2, 'INCONCLUSIVE'],
    ['inconclusive: conditions only', trial('temperature: {max: 26 °C}'), 2, 'INCONCLUSIVE'],
    ['inconclusive: a room too warm', trial('temperature: {max: 21 °C}'), 2, 'INCONCLUSIVE'],
    ['no trial', NOT_A_TRIAL, 3, 'INVALID'],
    ['not YAML', 'trial: "open\n', 3, 'INVALID'],
    ['an unknown key', `${PASS}colour: blue\n`, 3, 'INVALID'],
    ['an empty file', '', 3, 'INVALID'],
  ])('%s', (_, text, code, verdict) => {
    const ran = run(['verdict', 'trial.yaml'], { 'trial.yaml': text });
    expect(ran.code).toBe(code);
    expect(ran.out.trimEnd().split('\n').at(-1)).toMatch(new RegExp(`^VERDICT: ${verdict}\\b`));
    expect(judge(text).verdict).toBe(verdict.toLowerCase());
  });

  test('a missing trial file: 3', () => {
    const ran = run(['verdict', 'nowhere.yaml']);
    expect(ran.code).toBe(3);
    expect(ran.out.trimEnd().split('\n').at(-1)).toMatch(/^VERDICT: INVALID/);
  });

  test('a missing limits file: 3, given by option or named in the trial', () => {
    expect(run(['verdict', 'a.yaml', '--limits', 'nowhere.yaml'], { 'a.yaml': PASS }).code).toBe(3);
    const named = PASS.replace(/limits: .*/, 'limits: nowhere.yaml');
    expect(run(['verdict', 'a.yaml'], { 'a.yaml': named }).code).toBe(3);
  });

  test('a limits file that is none: 3', () => {
    const files = { 'a.yaml': PASS, 'house.yaml': 'waste_per_thousand: {max: 25 stone}\n' };
    expect(run(['verdict', 'a.yaml', '--limits', 'house.yaml'], files).code).toBe(3);
  });

  test.each([
    [['verdict', 'a.yaml', '--limits', 'nonesuch']],
    [['verdict', 'a.yaml', '--nonesuch']],
    [['verdict', 'a.yaml', '--format', 'nonesuch']],
    [['verdict']],
    [['nonesuch']],
  ])('wrong usage, %j: 4, said on standard error alone', (argv) => {
    const ran = run(argv, { 'a.yaml': PASS });
    expect(ran.code).toBe(4);
    expect(ran.out).toBe('');
    expect(ran.err).not.toBe('');
  });

  test('output that cannot be written: 5, also of a trial that fails', () => {
    const code = main(['verdict', '-'], {
      ...processIo(ROOT),
      out: () => {
        throw new OutputLost();
      },
      err: () => undefined,
      read: () => Buffer.from(FAIL),
    });
    expect(code).toBe(5);
  });

  test('from standard input', () => {
    expect(run(['verdict', '-'], {}, PASS).code).toBe(0);
    expect(run(['verdict', '-'], {}, FAIL).code).toBe(1);
  });
});

describe('exit codes over many trials', () => {
  const FILES: Files = {
    'pass.yaml': PASS,
    'fail.yaml': FAIL,
    'open.yaml': INCONCLUSIVE,
    'broken.yaml': NOT_A_TRIAL,
  };

  test.each<[files: string, code: number]>([
    ['pass pass', 0],
    ['pass open', 2],
    ['open pass', 2],
    ['open fail', 1],
    ['fail open pass', 1],
    ['fail broken', 3],
    ['broken pass', 3],
    ['pass nowhere', 3],
    ['broken fail open pass', 3],
  ])('%s: %d, and every file is judged', (names, code) => {
    const files = names.split(' ').map((name) => `${name}.yaml`);
    const ran = run(['verdict', ...files, '--quiet'], FILES);
    expect(ran.code).toBe(code);
    const verdicts: Record<string, string> = {
      'pass.yaml': 'pass',
      'fail.yaml': 'fail',
      'open.yaml': 'inconclusive',
      'broken.yaml': 'invalid',
      'nowhere.yaml': 'invalid',
    };
    expect(ran.out).toBe(files.map((file) => `${verdicts[file] ?? ''}\t${file}\n`).join(''));
  });
});

describe('effects', () => {
  const effectOf = (text: string): string | undefined => judge(text).limits[0]?.effect;

  test.each<[figure: string, effect: string]>([
    ['waste_per_thousand: {max: 25 g}', 'fails'],
    ['waste_mass: {max: 300 g}', 'fails'],
    ['yield: {of: black, min: 1000}', 'fails'],
    ['yield_at_reference: {of: black, min: 1000}', 'fails'],
    ['temperature: {max: 26 °C}', 'voids'],
    ['humidity: {max: 60 %}', 'voids'],
    ['absolute_humidity: {max: 15 g/m³}', 'voids'],
    ['dew_point: {max: 15 °C}', 'voids'],
  ])('%s is of effect %s unless said', (limits, effect) => {
    expect(effectOf(trial(limits))).toBe(effect);
  });

  test('what is said wins over what is usual', () => {
    expect(judge(trial('temperature: {max: 21 °C, effect: fails}')).code).toBe(1);
    expect(judge(trial('temperature: {max: 21 °C, effect: advises}, waste_mass: {max: 300}')).code).toBe(0);
    expect(judge(trial('waste_mass: {max: 200, effect: voids}, pages: {min: 1}')).code).toBe(2);
    expect(judge(trial('waste_mass: {max: 200, effect: advises}, pages: {min: 1}')).code).toBe(0);
  });

  test('air that was not kept to voids the trial though the toner failed too, and is told first', () => {
    const limits = 'waste_per_thousand: {max: 19 g}, temperature: {max: 21 °C}';
    const ran = run(['verdict', 'trial.yaml'], { 'trial.yaml': trial(limits) });
    expect(ran.code).toBe(2);
    expect(ran.out).toMatch(/proves nothing/i);
    expect(ran.out).toMatch(/VERDICT: INCONCLUSIVE.*\n$/);
  });
});

describe('outcomes in a trial', () => {
  const outcomesOf = (text: string): Record<string, string> =>
    Object.fromEntries(
      judge(text).limits.map(({ figure, of, stat, outcome }) => [
        [figure, of, stat].filter((part) => part !== null).join(' '),
        outcome,
      ]),
    );

  test('without "of" a limit holds for every cartridge', () => {
    // Black yields 11 000; cyan at least 12 000.
    expect(outcomesOf(trial('yield: {min: 11500}'))).toEqual({
      'yield black': 'missed',
      'yield cyan': 'met',
    });
    expect(outcomesOf(trial('yield: {min: 12500}'))).toEqual({
      'yield black': 'missed',
      'yield cyan': 'open',
    });
  });

  test('without slots it holds for the one cartridge there is', () => {
    const small = 'trial: x\nmeter: {start: 0, end: 9000}\ncoverage: 5 %\n';
    expect(judge(`${small}limits: {yield_at_reference: {min: 9000}}\n`).code).toBe(0);
    expect(judge(`${small}limits: {yield_at_reference: {min: 9001}}\n`).code).toBe(2);
    expect(judge(`${small}limits: {yield: {max: 8999}}\n`).code).toBe(1);
  });

  test('"of" a slot covers the later cartridges of the slot; a numbered one is that one alone', () => {
    const two = (limits: string): string =>
      trial(limits).replace(
        /cartridges: .*/,
        'cartridges: [{slot: black, exhausted_at: 7000}, {slot: cyan}, {slot: black, exhausted_at: 12500}]',
      );
    // black: 7000 − 1000 = 6000; black#2: 12 500 − 7000 = 5500.
    expect(outcomesOf(two('yield: {of: black, min: 5800}'))).toEqual({
      'yield black': 'met',
      'yield black#2': 'missed',
    });
    expect(outcomesOf(two('yield: {of: "black#2", min: 5400}'))).toEqual({ 'yield black#2': 'met' });
  });

  test('"of: total" is the figure in all, and only that', () => {
    const weighed = (limits: string): string =>
      trial(limits).replace(
        /cartridges: .*/,
        'cartridges: [{slot: black, start_mass: 800, end_mass: 500}, {slot: cyan, start_mass: 700, end_mass: 500}]',
      );
    // 300 g and 200 g: 500 g in all.
    expect(judge(weighed('toner_used: {of: total, max: 450 g}'))).toMatchObject({
      code: 1,
      limits: [{ figure: 'toner_used', of: null, outcome: 'missed', margin: '-50' }],
    });
    expect(outcomesOf(weighed('toner_used: {max: 450 g}'))).toEqual({
      'toner_used black': 'met',
      'toner_used cyan': 'met',
    });
  });

  test('"stat: least" is the least of all cartridges', () => {
    // Black 11 000 exactly is the least: cyan has 12 000 or more.
    expect(judge(trial('yield_at_reference: {stat: least, min: 11000}'))).toMatchObject({
      code: 0,
      limits: [{ of: null, stat: 'least', outcome: 'met', margin: '0' }],
    });
    expect(judge(trial('yield_at_reference: {stat: least, min: 11001}')).code).toBe(1);
  });

  test('without "stat" a limit on the room holds for the least and the greatest reading', () => {
    const warm = (limits: string): string =>
      trial(limits).replace(
        /ambient: .*/,
        'ambient: [{temperature: 19.0}, {temperature: 23.0}, {temperature: 27.0}]',
      );
    expect(outcomesOf(warm('temperature: {min: 20, max: 26}'))).toEqual({
      'temperature least': 'missed',
      'temperature greatest': 'missed',
    });
    expect(outcomesOf(warm('temperature: {max: 26}'))).toEqual({
      'temperature least': 'met',
      'temperature greatest': 'missed',
    });
    expect(outcomesOf(warm('temperature: {stat: mean, min: 20, max: 26}'))).toEqual({
      'temperature mean': 'met',
    });
    expect(outcomesOf(warm('temperature: {stat: greatest, min: 20}'))).toEqual({
      'temperature greatest': 'met',
    });
  });

  test('at least: a cartridge that was not exhausted meets a minimum it passed, and never misses one', () => {
    expect(judge(trial('yield: {of: cyan, min: 12000}')).code).toBe(0);
    expect(judge(trial('yield: {of: cyan, min: 12001}')).code).toBe(2);
    expect(judge(trial('yield: {of: cyan, max: 12000}')).code).toBe(2);
    expect(judge(trial('yield: {of: cyan, max: 11999}')).code).toBe(1);
  });

  test('at most: the cost of a yield that is at least so much meets a maximum, and never misses one', () => {
    // 1000 × 48 / 12 000 = 4 EUR at most.
    const priced = (limits: string): string =>
      trial(limits).replace(/cartridges: .*/, 'cartridges: [{slot: cyan, price: 48 EUR}]');
    expect(judge(priced('cost_per_thousand: {of: cyan, max: 4 EUR}')).code).toBe(0);
    expect(judge(priced('cost_per_thousand: {of: cyan, max: 3.99 EUR}')).code).toBe(2);
    expect(judge(priced('cost_per_thousand: {of: cyan, min: 4 EUR}')).code).toBe(2);
    expect(judge(priced('cost_per_thousand: {of: cyan, min: 4.01 EUR}')).code).toBe(1);
  });

  test('guarded: two weighings to 1 g cannot tell 240 g from 240.5 g', () => {
    // u = √(1/6) = 0.408 g, guard band 0.816 g.
    const guarded = (edge: string): number =>
      judge(trial(`decision: {rule: guarded}, waste_mass: {${edge}}`)).code;
    expect(guarded('max: 240.9')).toBe(0);
    expect(guarded('max: 240.5')).toBe(2);
    expect(guarded('max: 239.5')).toBe(2);
    expect(guarded('max: 239.1')).toBe(1);
    expect(guarded('min: 239.1')).toBe(0);
    expect(guarded('min: 240.9')).toBe(1);
    expect(judge(trial('waste_mass: {max: 240}')).code).toBe(0);
    expect(judge(trial('waste_mass: {max: 239.9}')).code).toBe(1);
  });

  test('a reading not taken yet leaves its limit open, and is named', () => {
    const unweighed = trial('waste_per_thousand: {max: 25 g}').replace('final: 880 g', 'final:');
    const { code, limits, notes } = judge(unweighed);
    expect(code).toBe(2);
    expect(limits[0]).toMatchObject({ outcome: 'open', margin: null });
    expect(limits[0]?.reason).toContain('waste_container.final');
    expect(notes.find((note) => note.code === 'to-be-read')?.message).toContain('waste_container.final');
    expect(run(['verdict', 'trial.yaml'], { 'trial.yaml': unweighed }).out).toContain(
      'waste_container.final',
    );
  });

  test('events not recorded leave a limit on them open; none recorded meets it', () => {
    expect(judge(trial('jams_per_thousand: {max: 1}')).code).toBe(2);
    expect(judge(trial('jams_per_thousand: {max: 1}', 'events: []')).code).toBe(0);
    // 24 jams in 12 000 pages: 2 per thousand.
    const jams = Array.from({ length: 24 }, () => '{kind: jam}').join(', ');
    expect(judge(trial('jams_per_thousand: {max: 1}', `events: [${jams}]`)).code).toBe(1);
    expect(judge(trial('jams_per_thousand: {max: 2}', `events: [${jams}]`)).code).toBe(0);
  });

  test('severities are compared in their order', () => {
    const found = (severity: string): string => `inspection: [{stage: after, severity: ${severity}}]`;
    expect(judge(trial('worst_finding: {max: minor}', found('none'))).code).toBe(0);
    expect(judge(trial('worst_finding: {max: minor}', found('minor'))).code).toBe(0);
    expect(judge(trial('worst_finding: {max: minor}', found('major'))).code).toBe(1);
    expect(judge(trial('worst_finding: {max: major}', found('critical'))).code).toBe(1);
    expect(judge(trial('worst_finding: {max: minor}', 'inspection: []')).code).toBe(0);
    expect(judge(trial('worst_finding: {max: minor}')).code).toBe(2);
  });

  test('the margin is on the good side, exact where the figure is', () => {
    // 20 g against 25; 11 000 against 10 500; 22 °C between 20 and 26.
    const { limits } = judge(
      trial(
        'waste_mass: {max: 250.5}, yield: {of: black, min: 11500}, temperature: {stat: mean, min: 20, max: 26}',
      ),
    );
    expect(limits.map(({ figure, margin }) => [figure, margin])).toEqual([
      ['waste_mass', '10.5'],
      ['yield', '-500'],
      ['temperature', '2'],
    ]);
  });
});
