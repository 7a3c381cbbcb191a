import { describe, expect, test } from 'vitest';
import { CATALOGUE } from '../../src/figures/list.ts';
import { type Limit, type LimitLayer, merge } from '../../src/judge/limits.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { type Files, type ResultJson, run } from '../run.ts';

/*
 * Limits from several places, as agreed for the trial file: merged by figure, of and stat, the later
 * replacing the whole limit; the decision key by key. The runs are invented.
 */

interface Judged extends Omit<ResultJson, 'limits'> {
  readonly code: number;
  readonly err: string;
  readonly limits: readonly (ResultJson['limits'][number] & {
    readonly min: string | null;
    readonly max: string | null;
  })[];
  readonly notes: readonly (ResultJson['notes'][number] & {
    readonly figure: string | null;
    readonly of: string | null;
  })[];
}

/** The verdict on `trial.yaml` among files, as JSON. */
function judge(files: Files, ...options: string[]): Judged {
  const { code, out, err } = run(['verdict', 'trial.yaml', '--format', 'json', ...options], files);
  return { ...(JSON.parse(out) as Judged), code, err };
}

/** 12 000 pages, 240 g of waste (20 g per thousand, u of the mass 0.408 g); black yields 11 000. */
const trial = (limits: string): string =>
  [
    'trial: Ferry Lane lot 3, machine Teal',
    'meter: {start: 1000, end: 13000}',
    'coverage: 5 %',
    'waste_container: {tare: 640 g, final: 880 g}',
    'cartridges: [{slot: black, exhausted_at: 12000}]',
    'ambient: [{temperature: 22.0 °C, humidity: 45 %}]',
    limits === '' ? '' : `limits: ${limits}`,
    '',
  ].join('\n');

const edgesOf = ({ limits }: Judged): [string, string | null, string | null][] =>
  limits.map(({ figure, of, stat, min, max }) => [
    [figure, of, stat].filter((part) => part !== null).join(' '),
    min,
    max,
  ]);

describe('where limits come from', () => {
  test('inline', () => {
    const result = judge({ 'trial.yaml': trial('{waste_per_thousand: {max: 25 g}}') });
    expect(edgesOf(result)).toEqual([['waste_per_thousand', null, '25']]);
    expect(result.code).toBe(0);
  });

  test('a file, its name ending in .yaml or .yml', () => {
    for (const name of ['house.yaml', 'house.yml']) {
      const result = judge({ 'trial.yaml': trial(name), [name]: 'waste_per_thousand: {max: 19 g}\n' });
      expect(edgesOf(result)).toEqual([['waste_per_thousand', null, '19']]);
      expect(result.code).toBe(1);
    }
  });

  test('a preset by its name', () => {
    const { limits, code } = judge({ 'trial.yaml': trial('office') });
    expect(limits.map(({ figure }) => figure)).toContain('temperature');
    expect(code).toBe(2);
  });

  test('a list of these', () => {
    const result = judge({
      'trial.yaml': trial('[office, house.yaml, {pages: {min: 10000}}]'),
      'house.yaml': 'waste_per_thousand: {max: 25 g}\n',
    });
    const names = new Set(result.limits.map(({ figure }) => figure));
    expect(names).toEqual(new Set(['temperature', 'humidity', 'waste_per_thousand', 'pages']));
    expect(result.code).toBe(0);
  });

  test('none: nothing is decided', () => {
    expect(judge({ 'trial.yaml': trial('') })).toMatchObject({
      code: 2,
      verdict: 'inconclusive',
      limits: [],
    });
  });

  test('the option lays a file or preset over the trial’s own', () => {
    const files = {
      'trial.yaml': trial('{waste_per_thousand: {max: 25 g}}'),
      'house.yaml': 'waste_per_thousand: {max: 19 g}\n',
    };
    expect(judge(files).code).toBe(0);
    expect(judge(files, '--limits', 'house.yaml').code).toBe(1);
    expect(judge(files, '--limits', 'office').code).toBe(0);
  });

  test('the option given again: the later wins', () => {
    const files = {
      'trial.yaml': trial(''),
      'strict.yaml': 'waste_per_thousand: {max: 19 g}\n',
      'easy.yaml': 'waste_per_thousand: {max: 25 g}\n',
    };
    expect(judge(files, '--limits', 'strict.yaml', '--limits', 'easy.yaml').code).toBe(0);
    expect(judge(files, '--limits', 'easy.yaml', '--limits', 'strict.yaml').code).toBe(1);
  });

  test('a file is found from the folder of the trial that names it, and from here for option and standard input', () => {
    const files = {
      'trials/trial.yaml': trial('../rules/house.yaml'),
      'rules/house.yaml': 'waste_per_thousand: {max: 19 g}\n',
      'house.yaml': 'waste_per_thousand: {max: 25 g}\n',
    };
    expect(run(['verdict', 'trials/trial.yaml'], files).code).toBe(1);
    expect(run(['verdict', 'trials/trial.yaml', '--limits', 'house.yaml'], files).code).toBe(0);
    expect(run(['verdict', '-'], files, trial('house.yaml')).code).toBe(0);
    expect(run(['verdict', '-'], files, trial('rules/house.yaml')).code).toBe(1);
  });
});

describe('merged by figure, of and stat', () => {
  test('the later of the same three replaces the earlier', () => {
    const result = judge({
      'trial.yaml': trial('[{waste_per_thousand: {max: 19 g}}, {waste_per_thousand: {max: 25 g}}]'),
    });
    expect(edgesOf(result)).toEqual([['waste_per_thousand', null, '25']]);
  });

  test('whole: no edge and no effect of the earlier is left', () => {
    const result = judge({
      'trial.yaml': trial(
        '[{waste_per_thousand: {min: 21 g, max: 30 g, effect: advises}}, {waste_per_thousand: {max: 25 g}}]',
      ),
    });
    expect(edgesOf(result)).toEqual([['waste_per_thousand', null, '25']]);
    expect(result.limits[0]?.effect).toBe('fails');
    expect(result.code).toBe(0);
  });

  test('another "of" is another limit', () => {
    const result = judge({
      'trial.yaml': trial('[{yield: {min: 10000}}, {yield: {of: black, min: 11500}}]'),
    });
    expect(edgesOf(result)).toEqual([
      ['yield black', '10000', null],
      ['yield black', '11500', null],
    ]);
    expect(result.limits.map(({ outcome }) => outcome)).toEqual(['met', 'missed']);
    expect(result.code).toBe(1);
  });

  test('another "stat" is another limit', () => {
    const result = judge({
      'trial.yaml': trial('[{temperature: {max: 26}}, {temperature: {stat: mean, max: 24}}]'),
    });
    expect(edgesOf(result)).toEqual([
      ['temperature least', null, '26'],
      ['temperature greatest', null, '26'],
      ['temperature mean', null, '24'],
    ]);
  });

  test('a list under one figure holds them all; a later layer replaces only its like', () => {
    const result = judge({
      'trial.yaml': trial(
        '[{temperature: [{max: 26}, {stat: mean, min: 20, max: 24}]}, {temperature: {stat: mean, max: 23}}]',
      ),
    });
    expect(edgesOf(result)).toEqual([
      ['temperature least', null, '26'],
      ['temperature greatest', null, '26'],
      ['temperature mean', null, '23'],
    ]);
  });

  test.each([
    '{waste_per_thousand: [{max: 19 g}, {max: 25 g}]}',
    '{waste_per_thousand: [{max: 19 g}, {min: 1 g}]}',
  ])('two of the same three in one layer both hold: %s', (limits) => {
    const result = judge({ 'trial.yaml': trial(limits) });
    expect(result.limits.map(({ outcome }) => outcome)).toEqual(['missed', 'met']);
    expect(result.code).toBe(1);
  });

  test('one to fail and one to advise, and a later layer that replaces both', () => {
    const limits = '{waste_per_thousand: [{max: 19 g, effect: advises}, {max: 25 g}]}';
    const result = judge({ 'trial.yaml': trial(limits) });
    expect(result.limits.map(({ outcome, effect }) => [outcome, effect])).toEqual([
      ['missed', 'advises'],
      ['met', 'fails'],
    ]);
    expect(result.code).toBe(0);
    const later = judge({ 'trial.yaml': trial(`[${limits}, {waste_per_thousand: {max: 30 g}}]`) });
    expect(edgesOf(later)).toEqual([['waste_per_thousand', null, '30']]);
  });

  test('other figures of an earlier layer stay', () => {
    const result = judge(
      {
        'trial.yaml': trial('{waste_per_thousand: {max: 19 g}, pages: {min: 10000}}'),
        'house.yaml': 'waste_per_thousand: {max: 25 g}\n',
      },
      '--limits',
      'house.yaml',
    );
    expect(edgesOf(result)).toEqual(
      expect.arrayContaining([
        ['pages', '10000', null],
        ['waste_per_thousand', null, '25'],
      ]),
    );
    expect(result.limits).toHaveLength(2);
  });
});

describe('the decision is merged key by key', () => {
  /*
   * 240 g against 241 g, u = 0.408 g: kept with a guard band of 2 u (240.82), not with one of 3 u (241.22);
   * against 239.5 g: missed when simple, open when guarded.
   */
  const code = (layers: string, max = '241'): number =>
    judge({ 'trial.yaml': trial(`[{waste_mass: {max: ${max}}}, ${layers}]`) }).code;

  test.each<[layers: string, code: number]>([
    ['{decision: {rule: guarded}}', 0],
    ['{decision: {rule: guarded, factor: 3}}', 2],
    // The rule of the first, the factor of the second.
    ['{decision: {rule: guarded}}, {decision: {factor: 3}}', 2],
    ['{decision: {rule: guarded, factor: 3}}, {decision: {factor: 2}}', 0],
    ['{decision: {factor: 3}}, {decision: {rule: guarded}}', 2],
    ['{decision: {rule: guarded, factor: 3}}, {decision: {rule: simple}}', 0],
    // A layer that says nothing changes nothing.
    ['{decision: {rule: guarded, factor: 3}}, {pages: {min: 1}}', 2],
    ['{decision: {rule: guarded, factor: 3}}, {decision: {}}', 2],
  ])('%s', (layers, expected) => {
    expect(code(layers)).toBe(expected);
  });

  test('simple is the rule, and 2 the factor, where none is said', () => {
    expect(code('{pages: {min: 1}}', '239.5')).toBe(1);
    expect(code('{decision: {factor: 3}}', '239.5')).toBe(1);
    expect(code('{decision: {rule: guarded}}', '239.5')).toBe(2);
    expect(code('{decision: {rule: guarded}}', '240.8')).toBe(2);
    expect(code('{decision: {rule: guarded}}', '240.82')).toBe(0);
  });

  test('across trial, preset and option', () => {
    const files = {
      'trial.yaml': trial('[laboratory, {waste_mass: {max: 241}, decision: {factor: 3}}]'),
      'factor.yaml': 'decision: {factor: 1}\n',
      'rule.yaml': 'decision: {rule: simple}\n',
    };
    // The preset is guarded; the room keeps to its limits by more than any guard band here.
    expect(judge(files).code).toBe(2);
    expect(judge(files, '--limits', 'factor.yaml').code).toBe(0);
    expect(judge(files, '--limits', 'rule.yaml').code).toBe(0);
  });
});

describe('the reference coverage', () => {
  const yieldAt = (limits: string, ...options: string[]): string | undefined =>
    judge(
      { 'trial.yaml': trial(limits), 'house.yaml': 'reference_coverage: 2.5 %\n' },
      ...options,
    ).figures.find(({ figure, of }) => figure === 'yield_at_reference' && of === 'black')?.value;

  test('5 % of the page where none is said; the last that says one wins', () => {
    // 11 000 pages at 5 %: 13 750 at 4 %, 22 000 at 2.5 %.
    expect(yieldAt('{pages: {min: 1}}')).toBe('11000');
    expect(yieldAt('{reference_coverage: 4 %}')).toBe('13750');
    expect(yieldAt('[{reference_coverage: 2.5 %}, {reference_coverage: 4 %}]')).toBe('13750');
    expect(yieldAt('[{reference_coverage: 4 %}, {pages: {min: 1}}]')).toBe('13750');
    expect(yieldAt('{reference_coverage: 4 %}', '--limits', 'house.yaml')).toBe('22000');
  });
});

describe('an "of" that the trial has not', () => {
  test('inline: an error at its place, naming what there is', () => {
    const text = trial('{pages: {min: 1}, yield: {of: cyan, min: 10000}}');
    const { code, verdict, notes } = judge({ 'trial.yaml': text });
    expect([code, verdict]).toEqual([3, 'invalid']);
    const line = text.split('\n').findIndex((one) => one.startsWith('limits')) + 1;
    const errors = notes.filter(({ kind }) => kind === 'error');
    expect(errors).toHaveLength(1);
    expect(errors[0]).toMatchObject({ line, key: 'of', figure: 'yield', of: 'cyan' });
    expect(errors[0]?.message).toContain('cyan');
    expect(errors[0]?.message).toContain('black');
  });

  test('inline, a second cartridge that the slot has not', () => {
    expect(judge({ 'trial.yaml': trial('{yield: {of: "black#2", min: 1}}') }).code).toBe(3);
  });

  test.each<[where: string, own: string, options: readonly string[]]>([
    ['named by the trial', 'house.yaml', []],
    ['given by the option', '', ['--limits', 'house.yaml']],
  ])('in a file %s: not applied, with a note', (_, own, options) => {
    const house = 'yield: [{of: black, min: 10000}, {of: cyan, min: 10000}]\n';
    const result = judge({ 'trial.yaml': trial(own), 'house.yaml': house }, ...options);
    expect(result.code).toBe(0);
    expect(edgesOf(result)).toEqual([['yield black', '10000', null]]);
    const notes = result.notes.filter(({ of }) => of === 'cyan');
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ kind: 'note', figure: 'yield' });
    expect(notes[0]?.message).toContain('house.yaml');
  });

  test.each(['Black', 'BLACK', '" black "'])('in a file, %s is on the slot black', (of) => {
    const house = `waste_per_thousand: {max: 25 g}\nyield: {of: ${of}, min: 90000}\n`;
    const result = judge({
      'trial.yaml': trial('house.yaml'),
      'house.yaml': house,
    });
    expect(edgesOf(result)).toContainEqual(['yield black', '90000', null]);
    expect(result.notes.map(({ code }) => code)).not.toContain('limit-not-applied');
  });

  test('a file with nothing but such limits decides nothing', () => {
    const house = 'yield: {of: cyan, min: 10000}\n';
    expect(judge({ 'trial.yaml': trial('house.yaml'), 'house.yaml': house })).toMatchObject({
      code: 2,
      verdict: 'inconclusive',
      limits: [],
    });
  });

  test('replaced by a like limit inline, it is the trial’s own, and an error', () => {
    const result = judge({
      'trial.yaml': trial('[house.yaml, {yield: {of: cyan, min: 9000}}]'),
      'house.yaml': 'yield: {of: cyan, min: 10000}\n',
    });
    expect(result.code).toBe(3);
  });
});

describe('limits that cannot be', () => {
  test.each<[what: string, limits: string]>([
    ['no edge at all', '{waste_per_thousand: {effect: advises}}'],
    ['edges exchanged', '{waste_per_thousand: {min: 30 g, max: 25 g}}'],
    ['a figure there is not', '{waste_per_hundred: {max: 2 g}}'],
    ['a unit that does not fit', '{waste_per_thousand: {max: 25 mm}}'],
    ['"of" on a figure of the whole trial', '{waste_per_thousand: {of: black, max: 25 g}}'],
    ['"stat" on a figure that has none', '{waste_per_thousand: {stat: mean, max: 25 g}}'],
    ['a weight there is not', '{waste_per_thousand: {max: 25 g, weight: heavy}}'],
    ['a rule there is not', '{decision: {rule: strict}}'],
    ['a preset there is not', 'nonesuch'],
    ['a file there is not', 'nonesuch.yaml'],
  ])('%s: the trial is invalid', (_, limits) => {
    const { code, verdict, notes } = judge({ 'trial.yaml': trial(limits) });
    expect([code, verdict]).toEqual([3, 'invalid']);
    expect(notes.some(({ kind, line }) => kind === 'error' && line === 7)).toBe(true);
  });
});

describe('merge, layer by layer', () => {
  const entry = (name: string): Limit['figure'] => {
    const found = CATALOGUE.find((figure) => figure.name === name);
    if (found === undefined) throw new Error(name);
    return found;
  };
  const limit = (name: string, max: number, of: string | null = null): Limit => ({
    figure: entry(name),
    of,
    stat: null,
    min: null,
    max: new Decimal(max),
    currency: null,
    effect: 'fails',
    origin: { kind: 'inline' },
    path: [],
  });
  const layer = (limits: readonly Limit[], said: Partial<LimitLayer> = {}): LimitLayer => ({
    limits,
    rule: null,
    factor: null,
    precision: [],
    referenceCoverage: null,
    nonImageUsage: null,
    ...said,
  });

  test('no layers: no limits, the simple rule, factor 2, 5 % coverage', () => {
    const { limits, decision, referenceCoverage } = merge([]);
    expect(limits).toEqual([]);
    expect([decision.rule, decision.factor.toFixed(), referenceCoverage.toFixed()]).toEqual([
      'simple',
      '2',
      '5',
    ]);
  });

  test('of three like ones the last is left, whatever lies between', () => {
    const { limits } = merge([
      layer([limit('yield', 1), limit('pages', 1)]),
      layer([limit('yield', 2, 'black')]),
      layer([limit('yield', 3)]),
      layer([]),
    ]);
    expect(limits.map(({ figure, of, max }) => [figure.name, of, max?.toFixed()]).toSorted()).toEqual([
      ['pages', null, '1'],
      ['yield', null, '3'],
      ['yield', 'black', '2'],
    ]);
  });

  test('names that could run together are kept apart', () => {
    const { limits } = merge([
      layer([limit('yield', 1, 'a,b'), limit('yield', 2, 'a'), limit('yield', 3, '"a"')]),
    ]);
    expect(limits).toHaveLength(3);
  });

  test('each key of the decision from the last layer that says it', () => {
    const { decision, referenceCoverage } = merge([
      layer([], { rule: 'guarded', factor: new Decimal(3) }),
      layer([], { factor: new Decimal('1.64'), referenceCoverage: new Decimal(4) }),
      layer([]),
    ]);
    expect([decision.rule, decision.factor.toFixed(), referenceCoverage.toFixed()]).toEqual([
      'guarded',
      '1.64',
      '4',
    ]);
  });
});
