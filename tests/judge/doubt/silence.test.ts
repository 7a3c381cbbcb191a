import { describe, expect, test } from 'vitest';
import { judge, run } from '../../run.ts';
import { dotted } from '../../../src/uncertainty/path.ts';
import { assessed } from '../../assessed.ts';
import { trialWith } from './base.ts';

/*
 * What no limit speaks of and must not be passed over keeps a trial from passing, and what must be known before
 * relying on a verdict stands right before it. The trials are invented.
 */

const WASTE = '{waste_per_thousand: {max: 25}}';

const ground = (text: string): string => {
  const { out } = run(['verdict', 't.yaml', '--format', 'csv', '--columns', 'verdict,ground'], {
    't.yaml': text,
  });
  return out.split('\r\n')[1] ?? '';
};

/** Lines before the verdict that begin with a mark. */
const marked = (text: string, ...options: string[]): string[] =>
  run(['verdict', 't.yaml', ...options], { 't.yaml': text })
    .out.split('\n')
    .filter((line) => line.startsWith('  ! '));

describe('silence', () => {
  const critical = '[{stage: after, part: fuser, severity: critical, note: toner in the gears}]';
  const leaked = '[{slot: black, failed_at: 60000, failed_by: leak, removed_at: 60000}, {slot: black}]';

  test.each([
    ['a critical finding', { inspection: critical, limits: WASTE }, 'inconclusive,unspoken-finding'],
    [
      'a critical finding of a stage no limit is on',
      {
        inspection: critical,
        limits: '{waste_per_thousand: {max: 25}, worst_finding: {of: before, max: minor}}',
      },
      'inconclusive,open',
    ],
    ['a cartridge that leaked', { cartridges: leaked, limits: WASTE }, 'inconclusive,unspoken-failure'],
    [
      '6,000 of 24,000 pages',
      {
        meter: '{start: 51200, end: 57200}',
        batches: null,
        waste_container: '{tare: 626, final: 740}',
        events: '[]',
        limits: WASTE,
      },
      'inconclusive,short-of-target',
    ],
    // A fail stays a fail, a void a void.
    [
      'a critical finding of a trial that fails',
      { inspection: critical, limits: '{waste_per_thousand: {max: 5}}' },
      'fail,fails-missed',
    ],
    // Where a limit speaks of it, that decides.
    [
      'a critical finding that a limit allows',
      { inspection: critical, limits: '{waste_per_thousand: {max: 25}, worst_finding: {max: critical}}' },
      'pass,',
    ],
    ['a critical finding that a limit condemns', { inspection: critical }, 'fail,fails-missed'],
    [
      'a leak that a limit allows',
      { cartridges: leaked, limits: '{waste_per_thousand: {max: 25}, failed_cartridges: {max: 1}}' },
      'pass,',
    ],
    ['a leak that a limit condemns', { cartridges: leaked }, 'fail,fails-missed'],
    ['a major finding', { inspection: '[{part: fuser, severity: major}]', limits: WASTE }, 'pass,'],
    ['a batch short of the plan', { target: '{pages: 25000}', limits: WASTE }, 'pass,'],
    [
      'a run under way',
      {
        meter: '{start: 51200, end: }',
        waste_container: '{tare: 626}',
        limits: '{failed_cartridges: {max: 0}}',
      },
      'pass,',
    ],
    [
      'far short of the plan, but every cartridge exhausted',
      { target: '{pages: 60000}', cartridges: '[{slot: black, exhausted_at: 75200}]', limits: WASTE },
      'pass,',
    ],
  ] as const)('%s: %s', (_, changes, expected) => {
    const said = ground(trialWith(changes));
    expect(said).toBe(expected);
  });
});

describe('what a limit speaks of', () => {
  const said = (changes: Readonly<Record<string, string>>, limit: string) =>
    assessed(trialWith({ ...changes, limits: `{waste_per_thousand: {max: 25}, ${limit}}` })).silences.map(
      ({ path, ...rest }) => ({ ...rest, path: dotted(path) }),
    );
  const [fuser, belt, nothing] = [
    '{stage: after, part: fuser, severity: critical}',
    '{stage: before, part: belt, severity: critical}',
    '{stage: after, part: drum, severity: minor}',
  ];
  const findings = (...some: readonly string[]) => ({ inspection: `[${[nothing, ...some].join(', ')}]` });
  const unspoken = (of: 'inspection' | 'prints', count: number, path: string) => [
    { code: 'unspoken-finding', of, findings: count, path },
  ];

  test('findings in all, those of a stage, or on a part: the others are counted, and the first of them is named', () => {
    const both = findings(fuser, belt);
    expect(said(both, 'pages: {min: 1}')).toEqual(unspoken('inspection', 2, 'inspection[2].severity'));
    expect(said(both, 'worst_finding: {max: critical}')).toEqual([]);
    expect(said(both, 'worst_finding: {of: fuser, max: critical}')).toEqual(
      unspoken('inspection', 1, 'inspection[3].severity'),
    );
    expect(said(both, 'worst_finding: {of: before, max: critical}')).toEqual(
      unspoken('inspection', 1, 'inspection[2].severity'),
    );
    expect(said(both, 'worst_finding: [{of: before, max: critical}, {of: fuser, max: critical}]')).toEqual(
      [],
    );
    expect(said(findings(), 'pages: {min: 1}')).toEqual([]);
  });

  test('prints judged by eye in all, of an attribute, or of a slot', () => {
    const seen = {
      prints:
        '{by_eye: [{attribute: streaks, severity: minor}, {attribute: streaks, slot: black, severity: critical}, {attribute: voids, severity: critical}]}',
    };
    expect(said(seen, 'pages: {min: 1}')).toEqual(unspoken('prints', 2, 'prints.by_eye[2].severity'));
    expect(said(seen, 'worst_print: {max: critical}')).toEqual([]);
    expect(said(seen, 'worst_print: {of: streaks, max: critical}')).toEqual(
      unspoken('prints', 1, 'prints.by_eye[3].severity'),
    );
    expect(said(seen, 'worst_print: {of: black, max: critical}')).toEqual(
      unspoken('prints', 1, 'prints.by_eye[3].severity'),
    );
  });

  test('failures: each cartridge that failed, the first where it did', () => {
    const cartridges = (first: string) => ({
      cartridges: `[{slot: cyan}, {slot: black, ${first}}, {slot: black, failed_by: leak}]`,
    });
    const failed = (path: string) => [{ code: 'unspoken-failure', cartridges: 2, path }];
    expect(
      said(cartridges('failed_at: 60000, removed_at: 60000, failed_by: leak'), 'pages: {min: 1}'),
    ).toEqual(failed('cartridges[2].failed_at'));
    expect(said(cartridges('removed_at: 60000, failed_by: leak'), 'pages: {min: 1}')).toEqual(
      failed('cartridges[2]'),
    );
    expect(said(cartridges('removed_at: 60000, failed_by: leak'), 'failed_cartridges: {max: 2}')).toEqual([]);
  });

  test('a run may end a batch short of the plan, of a thousand pages unless it names another', () => {
    const short = (target: string, more = {}) => said({ target, batches: '[]', ...more }, 'pages: {min: 1}');
    const of = (target: string, pages = '24000') => [
      { code: 'short-of-target', pages, target, path: 'meter.end' },
    ];
    expect(short('{pages: 25000}')).toEqual([]);
    expect(short('{pages: 25001}')).toEqual(of('25001'));
    expect(short('{pages: 28000, batch: 4000}')).toEqual([]);
    expect(short('{pages: 28001, batch: 4000}')).toEqual(of('28001'));
    // 24,001 clicks, three to a page: told to six digits.
    const thirds = { meter: '{start: 51200, end: 75201, clicks_per_page: 3}' };
    expect(short('{pages: 9000}', thirds)).toEqual([]);
    expect(short('{pages: 9001}', thirds)).toEqual(of('9001', '8000.33'));
  });

  test('a run without any cartridge that holds toner has not shown what it was to show', () => {
    const drum = '[{slot: drum, life: pages}]';
    const target = '{pages: 60000}';
    expect(said({ cartridges: drum, target }, 'pages: {min: 1}').map(({ code }) => code)).toEqual([
      'short-of-target',
    ]);
    const two = (more: string) => `[{slot: black, exhausted_at: 75200}, {slot: cyan${more}}]`;
    expect(said({ cartridges: two(', exhausted_at: 75200'), target }, 'pages: {min: 1}')).toEqual([]);
    expect(said({ cartridges: two(''), target }, 'pages: {min: 1}').map(({ code }) => code)).toEqual([
      'short-of-target',
    ]);
  });
});

describe('caveats', () => {
  const leaked = '[{slot: black, failed_at: 60000, failed_by: leak, removed_at: 60000}, {slot: black}]';
  const LEAK = trialWith({ cartridges: leaked, limits: WASTE });

  test('stand right before the last line, in JSON, CSV and JUnit', () => {
    const { out } = run(['verdict', 't.yaml'], { 't.yaml': LEAK });
    expect(out.trimEnd().split('\n').slice(-2)).toEqual([
      '  ! 1 of 2 cartridges failed; no limit speaks of failures.',
      'VERDICT: INCONCLUSIVE',
    ]);
    const said = '1 of 2 cartridges failed; no limit speaks of failures.';
    expect(judge(LEAK).caveats).toEqual([{ code: 'unspoken-failure', message: said }]);
    const csv = run(['verdict', 't.yaml', '--format', 'csv', '--columns', 'caveats'], { 't.yaml': LEAK }).out;
    expect(csv).toContain(said);
    const junit = run(['verdict', 't.yaml', '--format', 'junit'], { 't.yaml': LEAK }).out;
    expect(junit).toContain(`<system-out>${said}\n`);
  });

  test('--quiet keeps its two fields', () => {
    expect(run(['verdict', 't.yaml', '-q'], { 't.yaml': LEAK }).out).toBe('inconclusive\tt.yaml\n');
  });

  test('are three at most, the worst first, of no more than 80 columns', () => {
    const many = trialWith({
      waste_container: '{tare: 626, final: 1028}',
      cartridges: leaked,
      inspection: '[{stage: after, part: fuser, severity: critical, note: toner in the gears}]',
      stated: '{pages: 42000}',
      limits: '{pages: {min: 24000}}',
    });
    const lines = marked(many);
    expect(lines).toHaveLength(3);
    expect(lines[0]).toMatch(/In doubt: waste_container\.final/);
    expect(lines[2]).toMatch(/\(and \d more\)$/);
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(80);
  });

  test('name a limit that is closer than U: 456 g ± 0.82 g against 456.5 g', () => {
    const [line] = marked(trialWith({ limits: '{waste_mass: {max: 456.5}}' }));
    expect(line).toMatch(/waste mass: 0\.50 g from the limit, ± U is 0\.82 g/);
  });

  test('name findings that are major, and stated figures that differ', () => {
    const text = trialWith({
      inspection: '[{part: fuser, severity: major, note: scratch}]',
      stated: '{pages: 42000}',
      limits: WASTE,
    });
    expect(marked(text)).toEqual([
      '  ! 1 major finding: fuser, scratch.',
      '  ! 1 stated figure differs from the readings.',
    ]);
  });

  test('name failures that a limit allows, and nothing beside the worst of a finding that has no more words', () => {
    const allowed = '{waste_per_thousand: {max: 25}, failed_cartridges: {max: 1}}';
    expect(marked(trialWith({ cartridges: leaked, limits: allowed }))).toEqual([
      '  ! 1 of 2 cartridges failed.',
    ]);
    const bare = '[{part: fuser, severity: major}]';
    expect(marked(trialWith({ inspection: bare, limits: WASTE }))).toEqual(['  ! 1 major finding: fuser.']);
  });

  test('name what is critical on one side while no limit speaks of it on the other', () => {
    const text = trialWith({
      inspection: '[{part: fuser, severity: critical, note: smoke}]',
      prints: '{by_eye: [{attribute: voids, severity: critical}]}',
      limits: '{waste_per_thousand: {max: 25}, worst_finding: {max: critical}}',
    });
    expect(marked(text)).toEqual([
      '  ! 1 print judged critical by eye; no limit speaks of prints.',
      '  ! 1 critical finding: fuser, smoke.',
    ]);
  });

  test('there are none of a sound trial', () => {
    expect(marked(trialWith())).toEqual([]);
    expect(judge(trialWith()).caveats).toEqual([]);
  });

  test('--strict makes a pass with any of them inconclusive, and nothing else', () => {
    const code = (text: string, ...options: string[]): number =>
      run(['verdict', 't.yaml', ...options], { 't.yaml': text }).code;
    const major = trialWith({ inspection: '[{part: fuser, severity: major}]', limits: WASTE });
    expect([code(major), code(major, '--strict')]).toEqual([0, 2]);
    expect([code(trialWith()), code(trialWith(), '--strict')]).toEqual([0, 0]);
    const fails = trialWith({ inspection: '[{part: fuser, severity: major}]', limits: '{pages: {max: 1}}' });
    expect(code(fails, '--strict')).toBe(1);
    const quiet = run(['verdict', 't.yaml', '-q', '--strict'], { 't.yaml': major }).out;
    expect(quiet).toBe('inconclusive\tt.yaml\n');
  });
});

describe('a cartridge put in for another', () => {
  const two = (first: string, second: string): string =>
    trialWith({
      cartridges: `[{slot: black, ${first}}, {slot: black${second}}]`,
      batches: null,
      limits: '{yield_at_reference: {min: 20000}, yield_to_rating: {min: 1 %}}',
    });

  test('and still in at the end is not judged: 20,438 pages keep to 20,000 though 3,562 do not', () => {
    const text = trialWith({
      cartridges: '[{slot: black, exhausted_at: 71638}, {slot: black}]',
      limits: '{yield_at_reference: {min: 20000}}',
    });
    const { verdict, limits, notes, figures } = judge(text);
    expect(verdict).toBe('pass');
    expect(limits.map(({ of, outcome }) => [of, outcome])).toEqual([['black', 'met']]);
    expect(notes.map(({ code }) => code)).toContain('still-in-at-end');
    const least = figures.find(({ figure, stat }) => figure === 'yield_at_reference' && stat === 'least');
    expect(least).toMatchObject({ value: '20438', bound: 'exact' });
  });

  test('is judged once it was exhausted, taken out before the end, or failed itself', () => {
    const judged = (first: string, second: string): (string | null)[] =>
      judge(two(first, second))
        .limits.filter(({ figure }) => figure === 'yield_at_reference')
        .map(({ of }) => of);
    expect(judged('exhausted_at: 71638', '')).toEqual(['black']);
    expect(judged('failed_at: 60000, failed_by: leak, removed_at: 60000', '')).toEqual(['black']);
    expect(judged('exhausted_at: 63200', ', exhausted_at: 75200')).toEqual(['black', 'black#2']);
    expect(judged('removed_at: 63200', '')).toEqual(['black', 'black#2']);
  });

  test('is not pooled', () => {
    const text = trialWith({ cartridges: '[{slot: black, exhausted_at: 71638}, {slot: black}]' });
    const { out } = run(['pool', 't.yaml', '--format', 'json'], { 't.yaml': text });
    const [group] = (JSON.parse(out) as { groups: { n: number; mean: string }[] }).groups;
    expect(group).toMatchObject({ n: 1, mean: '20438' });
  });
});

describe('pooling', () => {
  const yields = (pages: number, more = ''): string =>
    `trial: Fern Street ${pages}\nmachine: {serial: M${pages % 3}}\nmeter: {start: 0, end: ${pages}}\ncoverage: 5 %\ncartridges: [{slot: black, exhausted_at: ${pages}${more}}]\n`;
  const files = {
    'a.yaml': yields(10100),
    'b.yaml': yields(10202),
    'c.yaml': yields(10301),
    'd.yaml': yields(10000, ', start_mass: 900, end_mass: 700, fill_mass: 600'),
  };

  test('a yield in doubt is left out, and no claim is decided without it', () => {
    const { out, code } = run(['pool', 'a.yaml', 'b.yaml', 'c.yaml', 'd.yaml', '--claim', '5000'], files);
    expect(out).toContain('LEFT OUT');
    expect(out).toMatch(/d\.yaml, black: exhausted-early/);
    expect(out).toContain('rests on readings in doubt');
    expect(code).toBe(2);
  });

  test('sets of the same bytes are told by what was read, once', () => {
    // A pipe gives its bytes to the first that reads it.
    const read = new Map<string, number>();
    const pipe = {
      read: (file: string): Uint8Array => {
        const times = (read.get(file) ?? 0) + 1;
        read.set(file, times);
        return Buffer.from(times === 1 ? files[file as 'a.yaml'] : '');
      },
    };
    expect(run(['pool', 'a.yaml', 'b.yaml'], files, '', pipe).code).toBe(0);
    expect([...read.values()]).toEqual([1, 1]);
    const again = run(['pool', 'a.yaml', 'copy.yaml'], { ...files, 'copy.yaml': files['a.yaml'] });
    expect(again.err).toContain('are the same bytes');
    expect(again.code).toBe(3);
  });
});
