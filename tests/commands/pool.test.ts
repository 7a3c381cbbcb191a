import { describe, expect, test } from 'vitest';
import reference from '../published/pool-reference.json' with { type: 'json' };
import { runReport } from '../report/run-report.ts';
import { type Files, type Ran, run } from '../run.ts';

/*
 * Pooling trials from the command line. Yields are invented; what is expected of them is worked by hand in
 * group.test.ts or stands in tests/published/, and is cited here.
 */

interface Told {
  readonly title?: string;
  readonly started?: string;
  readonly machine?: string | null;
  readonly pages: number;
  readonly slot?: string;
  readonly lot?: string;
  readonly serial?: string;
  readonly exhausted?: boolean;
  readonly failed?: boolean;
  readonly lines?: readonly string[];
}

/** A trial of one cartridge at 5 % coverage: its yield at reference is its pages. */
function trial(told: Told): string {
  const { machine = 'Teal', pages, slot = 'black', exhausted = true, failed = false } = told;
  const end = 10000 + pages;
  const cartridge = [
    `slot: ${JSON.stringify(slot)}`,
    ...(told.lot === undefined ? [] : [`lot: ${JSON.stringify(told.lot)}`]),
    ...(told.serial === undefined ? [] : [`serial: ${JSON.stringify(told.serial)}`]),
    ...(exhausted && !failed ? [`exhausted_at: ${end}`] : []),
    ...(failed ? [`failed_at: ${end}`, 'failed_by: leak'] : []),
  ];
  return [
    `trial: {title: ${JSON.stringify(told.title ?? `Ferry Lane lot 9, ${pages} pages`)}${told.started ? `, started: ${told.started}` : ''}}`,
    ...(machine === null ? [] : [`machine: {label: ${JSON.stringify(machine)}}`]),
    `meter: {start: 10000, end: ${end}}`,
    ...(told.lines?.some((line) => line.startsWith('coverage')) ? [] : ['coverage: 5 %']),
    `cartridges: [{${cartridge.join(', ')}}]`,
    ...(told.lines ?? []),
    '',
  ].join('\n');
}

const files = (told: readonly Told[]): Record<string, string> =>
  Object.fromEntries(told.map((one, index) => [`t${index + 1}.yaml`, trial(one)]));

/** Few cartridges are enough here; that they are not, unless it is said, is in group.test.ts. */
const pool = (own: Files, ...options: readonly string[]): Ran =>
  run(['pool', ...Object.keys(own), '--few', ...options], own);

interface GroupJson {
  readonly slot: string | null;
  readonly lot: string | null;
  readonly n: number;
  readonly at_least: number;
  readonly failed: number;
  readonly machines: number;
  readonly mean: string | null;
  readonly sd: string | null;
  readonly t: string | null;
  readonly confidence: string;
  readonly tail: string;
  readonly lower_bound: string | null;
  readonly clustered_lower_bound: string | null;
  readonly common_u: string | null;
  readonly failure_upper_bound: string | null;
  readonly claim: { readonly pages: string; readonly supported: boolean | null } | null;
}

interface PoolJson {
  readonly groups: readonly GroupJson[];
  readonly against?: readonly Readonly<Record<string, unknown>>[];
  readonly trend?: {
    readonly centre: string | null;
    readonly lower: string | null;
    readonly upper: string | null;
    readonly mean_moving_range: string | null;
    readonly points: readonly {
      readonly file: string;
      readonly day: string | null;
      readonly value: string;
      readonly moving_range: string | null;
      readonly signals: readonly string[];
    }[];
  };
}

const parsed = (ran: Ran): PoolJson => JSON.parse(ran.out) as PoolJson;

const groupsOf = (own: Files, ...options: readonly string[]): readonly GroupJson[] =>
  parsed(pool(own, '--format', 'json', ...options)).groups;

function onlyGroup(own: Files, ...options: readonly string[]): GroupJson {
  const groups = groupsOf(own, ...options);
  expect(groups).toHaveLength(1);
  const [group] = groups;
  if (group === undefined) throw new Error('no group');
  return group;
}

/** No line of plain text is wider than a terminal. */
const narrow = (text: string): void => {
  for (const line of text.split('\n')) expect(Array.from(line).length, line).toBeLessThanOrEqual(80);
};

const YIELDS = [10000, 10200, 9800, 10000];
const FOUR = files(YIELDS.map((pages, index) => ({ pages, title: `Ferry Lane, run ${index + 1}` })));

const NINE = [2310, 2285, 2342, 2298, 2325, 2270, 2335, 2301, 2319];
const NINE_FILES = files(
  NINE.map((pages, index) => ({ pages, machine: ['Teal', 'Wren', 'Plum'][Math.floor(index / 3)] ?? null })),
);

describe('nine cartridges over three machines (bounds computed, scipy 1.17.1 and R 4.2.2)', () => {
  test('one-sided 90 % unless asked otherwise', () => {
    const group = onlyGroup(NINE_FILES);
    expect(group).toMatchObject({ n: 9, machines: 3, at_least: 0, failed: 0, confidence: '90' });
    expect(group.tail).toBe('one-sided');
    expect(Number(group.mean).toFixed(6)).toBe('2309.444444');
    expect(Number(group.sd).toFixed(6)).toBe('23.458000');
    expect(Number(group.t).toFixed(10)).toBe('1.3968153097');
    expect(Number(group.lower_bound).toFixed(6)).toBe('2298.522280');
  });

  test('--tail two-sided', () => {
    const group = onlyGroup(NINE_FILES, '--tail', 'two-sided');
    expect(group.tail).toBe('two-sided');
    expect(Number(group.t).toFixed(10)).toBe('1.8595480375');
    expect(Number(group.lower_bound).toFixed(6)).toBe('2294.904018');
  });

  test.each(['95', '95 %'])('--confidence %s', (level) => {
    const group = onlyGroup(NINE_FILES, '--confidence', level);
    expect(group.confidence).toBe('95');
    expect(Number(group.lower_bound).toFixed(6)).toBe('2294.904018');
  });

  test('twelve significant digits at least (t.test, R 4.2.2: tests/published/pool.R)', () => {
    const row = reference.plain[0];
    if (row === undefined) throw new Error('the case is not among the references');
    const { mean, sd, lower_bound: bound } = onlyGroup(NINE_FILES);
    for (const [found, expected] of [
      [mean, row.mean],
      [sd, row.sd],
      [bound, row.lower_one_sided_90],
    ] as const) {
      expect(Math.abs(Number(found) / expected - 1), `${found} for ${expected}`).toBeLessThan(5e-12);
    }
  });

  test('text: t with its degrees and tail, the coefficient of variation', () => {
    const { out, code, err } = pool(NINE_FILES);
    expect(code).toBe(0);
    expect(err).toBe('');
    narrow(out);
    expect(out).toMatch(/1\.397\s+8 degrees of freedom, one-sided 90 %/);
    // 23.458 / 2309.444 = 1.016 %.
    expect(out).toContain('1.0 %');
    expect(out).toMatch(/lower bound\s+2299 page/);
  });

  test('nothing said of too few', () => {
    expect(pool(NINE_FILES).out).not.toContain('Fewer');
  });

  test('the tail is a reading of the standard, whose text was not consulted: said also where nothing is too few', () => {
    expect(pool(NINE_FILES).out).toMatch(/text\s+not\s+consulted/);
  });
});

describe('fewer than nine cartridges, or than three machines, is said plainly', () => {
  test('both', () => {
    expect(pool(FOUR).out.replace(/\s+/g, ' ')).toContain(
      'Fewer than the nine cartridges and three machines',
    );
  });

  test('machines alone', () => {
    const nine = files(NINE.map((pages) => ({ pages })));
    expect(pool(nine).out.replace(/\s+/g, ' ')).toMatch(/Fewer than the three machines/);
  });

  test('cartridges alone', () => {
    const three = files(
      ['Teal', 'Wren', 'Plum'].map((machine) => ({ machine, pages: machine.charCodeAt(0) })),
    );
    expect(pool(three).out.replace(/\s+/g, ' ')).toMatch(/Fewer than the nine cartridges that/);
  });
});

describe('JSON, as fixed', () => {
  const KEYS = [
    'slot',
    'lot',
    'n',
    'at_least',
    'failed',
    'machines',
    'mean',
    'sd',
    't',
    'confidence',
    'tail',
    'lower_bound',
    'clustered_lower_bound',
    'between_machine_sd',
    'within_machine_sd',
    'common_u',
    'tolerance_bound',
    'failure_upper_bound',
    'claim',
  ];
  const COUNTS = ['n', 'at_least', 'failed', 'machines'];

  test.each([
    ['nine over three machines', NINE_FILES],
    ['four in one machine', FOUR],
    ['one', files([{ pages: 10000 }])],
    ['one failed', files([{ pages: 100, failed: true }])],
  ])('%s', (_, own) => {
    const ran = pool(own, '--format', 'json', '--claim', '2290');
    const data = JSON.parse(ran.out) as { groups: Record<string, unknown>[] };
    expect(Object.keys(data)).toEqual(['format', 'tool', 'groups']);
    for (const group of data.groups) {
      expect(Object.keys(group)).toEqual(KEYS);
      for (const key of KEYS.slice(2, -1)) {
        const value = group[key];
        if (COUNTS.includes(key)) expect(Number.isInteger(value), key).toBe(true);
        else if (key === 'tail') expect(['one-sided', 'two-sided']).toContain(value);
        else if (value !== null) expect(value, key).toMatch(/^-?\d+(\.\d+)?$/);
      }
      expect(Object.keys(group['claim'] as object)).toEqual(['pages', 'supported']);
    }
  });

  test('no claim: null; and counts are numbers, values text', () => {
    expect(onlyGroup(FOUR)).toMatchObject({
      slot: 'black',
      lot: null,
      n: 4,
      machines: 1,
      mean: '10000',
      confidence: '90',
      clustered_lower_bound: null,
      between_machine_sd: null,
      within_machine_sd: null,
      common_u: '0',
      claim: null,
    });
  });

  test('a claim: its pages as text', () => {
    expect(onlyGroup(FOUR, '--claim', '9500').claim).toEqual({ pages: '9500', supported: true });
  });
});

describe('claims and exit codes (bounds of the four: 9866.28 and 10 133.72, worked in group.test.ts)', () => {
  test.each([
    ['9866', 0, true, 'supported'],
    ['10134', 1, false, 'not supported'],
    ['9900', 2, null, 'not decidable yet'],
  ])('--claim %s: exit %i', (claim, code, supported, words) => {
    const ran = pool(FOUR, '--claim', claim);
    expect(ran.code).toBe(code);
    expect(ran.out).toContain(`CLAIM of ${claim} pages: ${words}`);
    const json = pool(FOUR, '--claim', claim, '--format', 'json');
    expect(json.code).toBe(code);
    expect(parsed(json).groups[0]?.claim).toEqual({ pages: claim, supported });
  });

  test('without a claim the work was done: 0', () => {
    expect(pool(FOUR).code).toBe(0);
  });

  test('target.claim, where no --claim is given', () => {
    const own = files(
      YIELDS.map((pages, index) => ({ pages, title: `run ${index}`, lines: ['target: {claim: 10134}'] })),
    );
    expect(onlyGroup(own).claim).toEqual({ pages: '10134', supported: false });
    expect(pool(own).code).toBe(1);
    expect(onlyGroup(own, '--claim', '9500').claim).toEqual({ pages: '9500', supported: true });
    expect(pool(own, '--claim', '9500').code).toBe(0);
  });

  test('target.claim in one of the trials is the claim of all', () => {
    const own = { ...FOUR, 't5.yaml': trial({ pages: 10001, lines: ['target: {claim: 9000}'] }) };
    expect(onlyGroup(own).claim).toEqual({ pages: '9000', supported: true });
  });

  test('trials that plan for different claims: none is judged in silence', () => {
    const own = files([
      { pages: 10000, lines: ['target: {claim: 9000}'] },
      { pages: 10100, lines: ['target: {claim: 9500}'] },
      { pages: 10200 },
    ]);
    const ran = pool(own);
    expect(`${ran.out}${ran.err}`).toMatch(/9000[\s\S]*9500|9500[\s\S]*9000/);
  });

  test('over several groups: not supported before undecided before supported', () => {
    const cyan = files([{ pages: 5000, slot: 'cyan' }]);
    const own = { ...FOUR, 'cyan.yaml': cyan['t1.yaml'] ?? '' };
    expect(pool(own, '--claim', '9500').code).toBe(2);
    expect(pool(own, '--claim', '10134').code).toBe(1);
  });

  test('two exhausted never support a claim', () => {
    const two = files([{ pages: 10000 }, { pages: 10001 }]);
    expect(pool(two, '--claim', '100').code).toBe(2);
    expect(pool(two, '--claim', '100000').code).toBe(2);
  });

  test('a claim with nothing to hold it against is undecided, not supported', () => {
    const own = { 't1.yaml': 'trial: Ferry Lane, run not finished\nmeter: {start: 10000}\ncoverage: 5 %\n' };
    const ran = pool(own, '--claim', '9000');
    expect(ran.code).toBe(2);
    expect(pool(own).code).toBe(0);
  });

  test.each([
    ['--claim', 'many'],
    ['--claim', '0'],
    ['--claim', '-5'],
    ['--claim', '9,500'],
    ['--confidence', '0'],
    ['--confidence', '100'],
    ['--confidence', 'NaN'],
    ['--tail', 'both'],
    ['--margin', '-1'],
    ['--margin', '300'],
    ['--of', 'black'],
    ['--trend', 'no_such_figure'],
    ['--format', 'junit'],
    ['--no-such-option', '1'],
  ])('%s %s: wrong usage, 4, nothing on standard output', (option, value) => {
    const ran = run(['pool', 't1.yaml', `${option}=${value}`], FOUR);
    expect(ran.code).toBe(4);
    expect(ran.out).toBe('');
    expect(ran.err).not.toBe('');
  });

  test('no file at all: wrong usage', () => {
    expect(run(['pool']).code).toBe(4);
  });
});

describe('what is pooled', () => {
  test('the yield at reference: 10 000 pages at 6 % are 12 000 at 5 %', () => {
    expect(onlyGroup(files([{ pages: 10000, lines: ['coverage: 6 %'] }])).mean).toBe('12000');
  });

  test('not exhausted: at least, counted at its pages', () => {
    const group = onlyGroup(
      files([
        ...YIELDS.map((pages, index) => ({ pages, title: `${index}` })),
        { pages: 12000, exhausted: false },
      ]),
    );
    // Mean 10 400, s² 820 000 (group.test.ts); the bound is that of all, 1.5332062741 × s / √5 below.
    expect(group).toMatchObject({ n: 5, at_least: 1, mean: '10400' });
    expect(Number(group.lower_bound)).toBeCloseTo(
      10400 - (1.5332062741 * Math.sqrt(820000)) / Math.sqrt(5),
      5,
    );
  });

  test('pages a cartridge had printed before count for its yield', () => {
    const own = {
      't1.yaml':
        'trial: Ferry Lane, used cartridge\nmeter: {start: 10000, end: 12000}\ncoverage: 5 %\ncartridges: [{slot: black, used_before: 800, exhausted_at: 12000}]\n',
    };
    expect(onlyGroup(own)).toMatchObject({ n: 1, at_least: 0, mean: '2800' });
  });

  test('a trial without cartridges is one that was not exhausted, in a slot without a name', () => {
    const own = { 't1.yaml': 'trial: Ferry Lane\nmeter: {start: 10000, end: 12000}\ncoverage: 5 %\n' };
    expect(onlyGroup(own)).toMatchObject({ slot: null, n: 1, at_least: 1, mean: '2000', lower_bound: null });
  });

  test('several cartridges of one trial, by slot', () => {
    const own = {
      't1.yaml': [
        'trial: Ferry Lane, two colours',
        'machine: {label: Teal}',
        'meter: {start: 10000, end: 20000}',
        'coverage: 5 %',
        'cartridges:',
        '  - {slot: black, serial: B1, exhausted_at: 14000}',
        '  - {slot: black, serial: B2, exhausted_at: 18200}',
        '  - {slot: black, serial: B3}',
        '  - {slot: cyan, serial: C1, exhausted_at: 19000}',
        '',
      ].join('\n'),
    };
    expect(groupsOf(own)).toMatchObject([
      // 4000 and 4200; the third was put in for the second and not run to its end.
      { slot: 'black', n: 2, at_least: 0, mean: '4100', machines: 1 },
      { slot: 'cyan', n: 1, at_least: 0, mean: '9000' },
    ]);
  });

  test('failed: in the share of failures, not in the yields', () => {
    const own = files([
      ...YIELDS.map((pages, index) => ({ pages, title: `${index}` })),
      { pages: 120, failed: true },
    ]);
    const group = onlyGroup(own);
    expect(group).toMatchObject({ n: 4, failed: 1, mean: '10000' });
    // 1 of 5 at 90 %: computed, scipy 1.17.1.
    expect(Number(group.failure_upper_bound).toFixed(5)).toBe('0.58389');
  });

  test('none of four failed: up to 44 % at 90 % (1 − 0.1^¼ = 0.437659)', () => {
    expect(Number(onlyGroup(FOUR).failure_upper_bound).toFixed(6)).toBe('0.437659');
    expect(pool(FOUR).out).toMatch(/0 of 4\s+up to 44 %/);
  });

  test('a failed one without pages counts among the failures all the same', () => {
    const dead = trial({ pages: 0, failed: true });
    expect(onlyGroup({ ...FOUR, 't5.yaml': dead })).toMatchObject({ n: 4, failed: 1 });
  });

  test('where all failed, nothing is said to be exhausted', () => {
    const { out } = pool(files([0, 40].map((pages) => ({ pages, failed: true }))));
    expect(out).toContain('No cartridge is in the mean; 2 failed.');
    expect(out).not.toContain('all exhausted');
  });

  test('a failed one whose yield cannot be derived is a failure all the same', () => {
    const dead = [
      'trial: Ferry Lane, leaked before coverage was noted',
      'meter: {start: 10000, end: 10050}',
      'cartridges: [{slot: black, failed_at: 10050, failed_by: leak}]',
      '',
    ].join('\n');
    const group = onlyGroup({ ...FOUR, 't5.yaml': dead });
    expect(group).toMatchObject({ n: 4, failed: 1 });
    expect(Number(group.failure_upper_bound).toFixed(5)).toBe('0.58389');
  });

  test('a yield that cannot be derived is named and left out; the others are pooled', () => {
    const own = {
      ...FOUR,
      'open.yaml':
        'trial: Ferry Lane, not finished\nmeter: {start: 10000}\ncoverage: 5 %\ncartridges: [{slot: black}]\n',
    };
    const ran = pool(own);
    expect(ran.code).toBe(0);
    expect(ran.out).toContain('open.yaml');
    expect(onlyGroup(own)).toMatchObject({ n: 4, mean: '10000' });
  });

  test('a machine is its serial, else its label', () => {
    const one = (machine: string, pages: number): string =>
      trial({ pages, machine: null, lines: [`machine: ${machine}`] });
    const own = {
      'a.yaml': one('{label: Teal, serial: "0047"}', 10000),
      'b.yaml': one('{label: Wren, serial: "0047"}', 10100),
      'c.yaml': one('{label: Teal}', 10200),
      'd.yaml': one('{label: Teal}', 10300),
    };
    expect(onlyGroup(own).machines).toBe(2);
  });

  test('one trial without a machine: no bound over machines; all named: there is one', () => {
    const named = files(
      [10000, 10200, 9800, 10000].map((pages, index) => ({ pages, machine: index < 2 ? 'Teal' : 'Wren' })),
    );
    // Means 10 100 and 9900: 10 000 − 3.0776835372 × 100.
    expect(Number(onlyGroup(named).clustered_lower_bound)).toBeCloseTo(10000 - 307.76835372, 5);
    const one = { ...named, 't5.yaml': trial({ pages: 10001, machine: null }) };
    expect(onlyGroup(one).clustered_lower_bound).toBeNull();
  });

  test('the uncertainty of the coverage is common to all: 0.2 % / √3 of 5 %, twice that shown', () => {
    const own = files(
      YIELDS.map((pages, index) => ({
        pages,
        title: `${index}`,
        lines: ['coverage: {value: 5 %, tolerance: 0.2 %}'],
      })),
    );
    const group = onlyGroup(own);
    // Mean 10 000 × 0.2 / (5 √3) = 230.940.
    expect(Number(group.common_u).toFixed(3)).toBe('230.940');
    expect(Number(group.lower_bound)).toBeCloseTo(Number(onlyGroup(FOUR).lower_bound), 6);
    expect(pool(own).out).toMatch(/± 462 page/);
  });

  test('--by-lot keeps lots apart; the lot of the cartridge goes before that of the trial', () => {
    const own = files([
      { pages: 10000, lot: 'K-19' },
      { pages: 10100, lot: 'K-20' },
      { pages: 10200, lot: 'K-19', lines: ['lot: {id: K-21}'] },
      { pages: 10300, lines: ['lot: {id: K-20}'] },
      { pages: 10400 },
    ]);
    expect(groupsOf(own, '--by-lot').map(({ lot, n, mean }) => [lot, n, mean])).toEqual([
      ['K-19', 2, '10100'],
      ['K-20', 2, '10200'],
      [null, 1, '10400'],
    ]);
    expect(groupsOf(own).map(({ lot, n }) => [lot, n])).toEqual([[null, 5]]);
  });
});

describe('files', () => {
  test('a folder: every trial in it', () => {
    const own = Object.fromEntries(Object.entries(FOUR).map(([name, text]) => [`lot9/${name}`, text]));
    const ran = run(['pool', 'lot9', '--format', 'json'], own);
    expect(parsed(ran).groups[0]).toMatchObject({ n: 4, mean: '10000' });
  });

  test('a folder and files beside it', () => {
    const own = { 'lot9/a.yaml': trial({ pages: 10000 }), 'b.yaml': trial({ pages: 10100 }) };
    expect(parsed(run(['pool', 'lot9', 'b.yaml', '--format', 'json'], own)).groups[0]?.n).toBe(2);
  });

  test('standard input', () => {
    const ran = run(['pool', '-', '--format', 'json'], {}, trial({ pages: 10000 }));
    expect(parsed(ran).groups[0]).toMatchObject({ n: 1, mean: '10000' });
  });

  test('a file that is no trial is named and left out: exit 3, the rest pooled', () => {
    const own = { ...FOUR, 'notes.yaml': 'shopping: [paper, gloves]\n' };
    const ran = pool(own, '--format', 'json');
    expect(ran.code).toBe(3);
    expect(ran.err).toContain('notes.yaml');
    expect(parsed(ran).groups[0]).toMatchObject({ n: 4, mean: '10000' });
  });

  test('a missing file likewise', () => {
    const ran = run(['pool', ...Object.keys(FOUR), 'gone.yaml', '--format', 'json'], FOUR);
    expect(ran.code).toBe(3);
    expect(ran.err).toContain('gone.yaml');
    expect(parsed(ran).groups[0]?.n).toBe(4);
  });

  test('exit 3 goes before what is said of the claim', () => {
    expect(pool({ ...FOUR, 'notes.yaml': 'shopping: []\n' }, '--claim', '10134').code).toBe(3);
  });

  test('none is a trial: exit 3, and the JSON holds no group', () => {
    const ran = pool({ 'notes.yaml': 'shopping: []\n' }, '--format', 'json');
    expect(ran.code).toBe(3);
    expect(parsed(ran).groups).toEqual([]);
  });

  test('the examples: nine trials over three machines', () => {
    const ran = run(['pool', 'examples/pool', '--format', 'json']);
    expect(ran.code).toBe(0);
    expect(ran.err).toBe('');
    expect(parsed(ran).groups).toMatchObject([{ n: 9, machines: 3, at_least: 0, failed: 0 }]);
    narrow(run(['pool', 'examples/pool', '--claim', '10500']).out);
  });
});

describe('refused: exit 3, said why, nothing on standard output', () => {
  const refused = (ran: Ran, ...names: readonly string[]): void => {
    expect(ran.code).toBe(3);
    expect(ran.out).toBe('');
    for (const name of names) expect(ran.err).toContain(name);
  };

  test('the same cartridge twice: slot and serial', () => {
    const own = files([
      { pages: 10000, serial: 'S-1' },
      { pages: 10100, serial: 'S-1' },
    ]);
    refused(pool(own), 'S-1', 't1.yaml', 't2.yaml');
    refused(pool(own, '--format', 'json'), 'S-1');
    refused(pool(own, '--by-lot'), 'S-1');
  });

  test('the same serial in another slot is another cartridge', () => {
    const own = files([
      { pages: 10000, serial: 'S-1' },
      { pages: 10100, serial: 'S-1', slot: 'cyan' },
    ]);
    expect(pool(own).code).toBe(0);
  });

  test('the same cartridge twice in one trial', () => {
    const own = {
      't1.yaml':
        'trial: Ferry Lane\nmeter: {start: 10000, end: 12000}\ncoverage: 5 %\ncartridges: [{slot: black, serial: S-1, exhausted_at: 11000}, {slot: black, serial: S-1, exhausted_at: 12000}]\n',
    };
    expect(pool(own).code).toBe(3);
    expect(pool(own).out).toBe('');
  });

  test('cartridges without a serial are not taken for one another', () => {
    expect(pool(FOUR).code).toBe(0);
  });

  test('identical bytes under two names', () => {
    const text = trial({ pages: 10000 });
    refused(pool({ 'a.yaml': text, 'b.yaml': text }), 'a.yaml', 'b.yaml');
  });

  test('one file given twice', () => {
    refused(run(['pool', 't1.yaml', 't1.yaml'], FOUR), 't1.yaml');
  });

  test('differing reference coverages', () => {
    const own = files([{ pages: 10000 }, { pages: 10100, lines: ['limits: {reference_coverage: 4 %}'] }]);
    refused(pool(own), '4 %', '5 %', 't1.yaml', 't2.yaml');
  });

  test('… but one laid over both pools them', () => {
    const own = files([{ pages: 10000 }, { pages: 10100, lines: ['limits: {reference_coverage: 4 %}'] }]);
    const house = { ...own, 'house.yaml': 'reference_coverage: 4 %\n' };
    const ran = run(['pool', 't1.yaml', 't2.yaml', '--limits', 'house.yaml', '--format', 'json'], house);
    // (10 000 + 10 100) / 2 × 5 / 4.
    expect(parsed(ran).groups[0]).toMatchObject({ n: 2, mean: '12562.5' });
  });

  test('5 and 5.0 are the same coverage', () => {
    const own = files([{ pages: 10000 }, { pages: 10100, lines: ['limits: {reference_coverage: 5.0 %}'] }]);
    expect(pool(own).code).toBe(0);
  });

  test('a cartridge of the first group in the second', () => {
    const own = files([
      { pages: 10000, serial: 'S-1' },
      { pages: 10100, serial: 'S-1' },
    ]);
    refused(run(['pool', 't1.yaml', '--against', 't2.yaml'], own), 'S-1');
    refused(run(['pool', 't1.yaml', '--against', 't1.yaml'], own), 't1.yaml');
  });

  test('a second group at another reference coverage', () => {
    const own = files([{ pages: 10000 }, { pages: 10100, lines: ['limits: {reference_coverage: 4 %}'] }]);
    refused(run(['pool', 't1.yaml', '--against', 't2.yaml'], own), '4 %', '5 %');
  });
});

describe('--against', () => {
  // Welch's interval, Fieller's and the p of two one-sided tests: R 4.2.2, tests/published/pool.R.
  const CASE = reference.two_samples.find(({ name }) => name.startsWith('four against four'));
  if (CASE === undefined) throw new Error('the case is not among the references');
  const own = files(CASE.first.map((pages, index) => ({ pages, title: `first ${index}` })));
  const other = Object.fromEntries(
    CASE.second.map((pages, index) => [`u${index + 1}.yaml`, trial({ pages, title: `second ${index}` })]),
  );
  const all = { ...own, ...other };
  const against = (...options: readonly string[]): Ran =>
    run(['pool', ...Object.keys(own), '--against', ...Object.keys(other), ...options], all);
  const found = (...options: readonly string[]): Readonly<Record<string, unknown>> => {
    const [one] = parsed(against('--format', 'json', ...options)).against ?? [];
    if (one === undefined) throw new Error('nothing held against');
    return one;
  };

  test('difference and ratio with their intervals', () => {
    const one = found();
    expect(one).toMatchObject({
      slot: 'black',
      n: [4, 4],
      means: ['10000', '10010'],
      equivalent: null,
      p: null,
    });
    expect(Number(one['difference'])).toBe(-10);
    expect(Number(one['difference_low'])).toBeCloseTo(CASE.difference_low, 6);
    expect(Number(one['difference_high'])).toBeCloseTo(CASE.difference_high, 6);
    expect(Number(one['ratio_low'])).toBeCloseTo(CASE.ratio_low ?? NaN, 9);
    expect(Number(one['ratio_high'])).toBeCloseTo(CASE.ratio_high ?? NaN, 9);
    expect(Number(one['degrees_of_freedom'])).toBeCloseTo(6, 9);
  });

  test('the groups pooled are those of the first alone', () => {
    expect(parsed(against('--format', 'json')).groups).toMatchObject([{ n: 4, mean: '10000' }]);
  });

  test('a margin of 235 pages holds the interval −234.4 to 214.4: shown equivalent', () => {
    const one = found('--margin', '235');
    expect(one['equivalent']).toBe(true);
    expect(Number(one['p'])).toBeCloseTo(CASE.p, 8);
    const { out } = against('--margin', '235');
    expect(out).toContain('Shown equivalent within 235 pages');
    narrow(out);
  });

  test('a margin of 234 does not: not shown equivalent', () => {
    expect(found('--margin', '234')['equivalent']).toBe(false);
    const { out } = against('--margin', '234');
    expect(out).toContain('Not shown equivalent within 234 pages');
  });

  test('at 95 % the same margin is too narrow', () => {
    // t(0.975, 6) = 2.4469118511: 10 + 2.4469 × 115.47 = 292.5.
    expect(found('--margin', '292', '--confidence', '95')['equivalent']).toBe(false);
    expect(found('--margin', '293', '--confidence', '95')['equivalent']).toBe(true);
  });

  test('"no difference" is never said', () => {
    for (const margin of [[], ['--margin', '235'], ['--margin', '1'], ['--margin', '0']]) {
      expect(against(...margin).out).not.toMatch(/no (significant )?difference/i);
      expect(against(...margin).out).not.toMatch(/the same (yield|mean)/i);
    }
  });

  test('with a cartridge that was not exhausted nothing is compared: leaving it out would favour the short ones', () => {
    const more = {
      ...all,
      'u8.yaml': trial({ pages: 20000, exhausted: false }),
      'u9.yaml': trial({ pages: 50, failed: true }),
    };
    const ran = run(
      [
        'pool',
        ...Object.keys(own),
        '--against',
        ...Object.keys(other),
        'u8.yaml',
        'u9.yaml',
        '--format',
        'json',
      ],
      more,
    );
    expect(parsed(ran).against?.[0]).toMatchObject({ difference: null, equivalent: null });
  });

  test('one exhausted cartridge in a group: no interval, said so', () => {
    const ran = run(['pool', ...Object.keys(own), '--against', 'u1.yaml', '--margin', '500'], all);
    expect(ran.out).toContain('Two exhausted cartridges in each group are needed');
    expect(ran.out).not.toMatch(/NaN|equivalent within/);
  });

  test('two groups without any scatter: it is not cartridges that are wanting', () => {
    const alike = files([10000, 10000, 9000, 9000].map((pages, index) => ({ pages, title: `run ${index}` })));
    const ran = run(
      ['pool', 't1.yaml', 't2.yaml', '--against', 't3.yaml', 't4.yaml', '--margin', '10'],
      alike,
    );
    expect(ran.out).not.toMatch(/NaN|Infinity/);
    expect(ran.out).not.toContain('Two exhausted cartridges in each group are needed');
  });

  test('slots that only one group has are not passed over in silence', () => {
    const cyan = { ...all, 'c.yaml': trial({ pages: 5000, slot: 'cyan' }) };
    const { out, err } = run(['pool', 'c.yaml', '--against', 'u1.yaml', 'u2.yaml'], cyan);
    expect(`${out}${err}`).toContain('black');
  });

  test('a file of the second group that is no trial: named, exit 3', () => {
    const ran = run(['pool', ...Object.keys(own), '--against', ...Object.keys(other), 'bad.yaml'], {
      ...all,
      'bad.yaml': 'shopping: []\n',
    });
    expect(ran.code).toBe(3);
    expect(ran.err).toContain('bad.yaml');
    expect(ran.out).toContain('GROUPS');
  });

  test('CSV tells of it too', () => {
    const { out } = against('--margin', '235', '--format', 'csv');
    expect(out).toMatch(/difference/);
  });
});

describe('--trend', () => {
  /*
   * NIST/SEMATECH e-Handbook 6.3.2.2, flow rates: data, centre, limits from memory; they follow from the data
   * by hand: 508.1 / 10, 16.9 / 9, and 3 × 1.87778 / 1.128 = 4.99409 either way. Here they are the waste per
   * thousand of trials of 1000 pages.
   */
  const FLOW = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
  const wasteTrial = (grams: number, started: string | null, index = 0): string =>
    trial({
      pages: 1000,
      title: `Ferry Lane, trial ${index + 1}`,
      ...(started === null ? {} : { started }),
      lines: [`waste_container: {tare: 100.0 g, final: ${(100 + grams).toFixed(1)} g}`],
    });
  const day = (index: number): string => `2026-03-${String(index + 1).padStart(2, '0')}`;
  // Given in the opposite order of their days.
  const flow = Object.fromEntries(
    FLOW.map(
      (grams, index) => [`w${9 - index}.yaml`, wasteTrial(grams, day(index), index)] as const,
    ).toReversed(),
  );
  const trendOf = (own: Files, ...options: readonly string[]): NonNullable<PoolJson['trend']> => {
    const { trend } = parsed(pool(own, '--trend', 'waste_per_thousand', '--format', 'json', ...options));
    if (trend === undefined) throw new Error('no trend');
    return trend;
  };

  test('in the order of days, whatever the order of files', () => {
    const { points } = trendOf(flow);
    expect(points.map(({ value }) => Number(value))).toEqual(FLOW);
    expect(points.map((point) => point.day)).toEqual(FLOW.map((_, index) => day(index)));
  });

  test('centre 50.81, mean moving range 1.8778, limits 45.8159 and 55.8041', () => {
    const trend = trendOf(flow);
    expect(Number(trend.centre).toFixed(2)).toBe('50.81');
    expect(Number(trend.mean_moving_range).toFixed(4)).toBe('1.8778');
    expect(Number(trend.lower).toFixed(4)).toBe('45.8159');
    expect(Number(trend.upper).toFixed(4)).toBe('55.8041');
  });

  test('moving ranges, none of the first; no signal', () => {
    const { points } = trendOf(flow);
    expect(
      points.map(({ moving_range: range }) => (range === null ? null : Number(range).toFixed(1))),
    ).toEqual([null, '2.0', '2.3', '1.4', '3.5', '3.4', '1.4', '0.2', '1.2', '1.5']);
    expect(points.flatMap(({ signals }) => signals)).toEqual([]);
  });

  const signals = (grams: readonly number[]): readonly (readonly string[])[] =>
    trendOf(
      Object.fromEntries(
        grams.map((one, index) => [`s${index}.yaml`, wasteTrial(one, day(index), index)] as const),
      ),
    ).points.map((point) => point.signals);

  test('a point above the limit, and a move too far', () => {
    /*
     * Ten, nine times 20.0 or 20.2 in turn, then 30.0: ranges 0.2 eight times, then 10.0; mean range 11.6/9 =
     * 1.2889; centre (5 × 20.0 + 4 × 20.2 + 30.0)/10 = 21.08; upper 21.08 + 3.428 = 24.51; a range above
     * 3.267 × 1.2889 = 4.211 is too far.
     */
    const all = signals([20, 20.2, 20, 20.2, 20, 20.2, 20, 20.2, 20, 30]);
    expect(all.at(-1)).toEqual(expect.arrayContaining(['above-upper', 'range-above-upper']));
    // The nine before are all below the centre: from the eighth on that is a run.
    expect(all.map((one) => one.includes('run-of-eight'))).toEqual([
      false,
      false,
      false,
      false,
      false,
      false,
      false,
      true,
      true,
      false,
    ]);
  });

  test('a point below the limit', () => {
    expect(signals([20, 20.2, 20, 20.2, 20, 20.2, 20, 20.2, 20, 10]).at(-1)).toContain('below-lower');
  });

  test('seven in a row on one side are none', () => {
    // Seven of 20.0 and seven of 20.2: the centre is 20.1.
    const all = signals([20, 20, 20, 20, 20, 20, 20, 20.2, 20.2, 20.2, 20.2, 20.2, 20.2, 20.2]);
    expect(all.flat()).not.toContain('run-of-eight');
  });

  test('all alike: limits on the centre, no signal', () => {
    expect(signals([20, 20, 20, 20, 20, 20, 20, 20, 20, 20]).flat()).toEqual([]);
  });

  test('one trial: no limits, no NaN', () => {
    const own = { 'w.yaml': wasteTrial(20, day(0)) };
    expect(trendOf(own)).toMatchObject({ centre: null, lower: null, upper: null, mean_moving_range: null });
    expect(pool(own, '--trend', 'waste_per_thousand').out).not.toMatch(/NaN|Infinity/);
  });

  test('two trials of one day go by their times', () => {
    const own = {
      'a.yaml': wasteTrial(30, '2026-03-01T15:00', 0),
      'b.yaml': wasteTrial(20, '2026-03-01T08:00', 1),
    };
    expect(trendOf(own).points.map(({ file }) => file)).toEqual(['b.yaml', 'a.yaml']);
  });

  test('trials without a day come last, in the order given', () => {
    const own = {
      'x.yaml': wasteTrial(30, null, 0),
      'y.yaml': wasteTrial(20, '2026-03-01', 1),
      'z.yaml': wasteTrial(25, null, 2),
    };
    expect(trendOf(own).points.map(({ file, day: of }) => [file, of])).toEqual([
      ['y.yaml', '2026-03-01'],
      ['x.yaml', null],
      ['z.yaml', null],
    ]);
  });

  test('trials where it could not be derived are not in it', () => {
    const own = { ...flow, 'none.yaml': trial({ pages: 1001, started: '2026-03-30' }) };
    expect(trendOf(own).points).toHaveLength(10);
  });

  test('a figure of a slot: --of', () => {
    const own = files([
      { pages: 10000, started: '2026-03-01' },
      { pages: 10100, started: '2026-03-02' },
    ]);
    const ran = pool(own, '--trend', 'yield', '--of', 'black', '--format', 'json');
    expect(parsed(ran).trend?.points.map(({ value }) => value)).toEqual(['10000', '10100']);
  });

  test('text: at most 80 columns, limits and signals named', () => {
    const { out } = pool(flow, '--trend', 'waste_per_thousand');
    narrow(out);
    expect(out).toContain('TREND of waste_per_thousand');
    expect(out).toContain('45.816 to 55.804');
  });

  test('CSV: a row for each trial', () => {
    const { out } = pool(flow, '--trend', 'waste_per_thousand', '--format', 'csv');
    const lines = out.split('\r\n');
    expect(lines[0]).toBe('file,day,value,moving_range,signals,bound');
    expect(lines[1]).toBe('w9.yaml,2026-03-01,49.6,,,exact');
    expect(lines).toHaveLength(12);
    expect(lines.at(-1)).toBe('');
  });
});

/** Rows of comma-separated values (RFC 4180): quotes doubled inside quotes, lines ending in CR LF. */
function rowsOf(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = '';
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const char = text[i] ?? '';
    if (quoted) {
      if (char !== '"') cell += char;
      else if (text[i + 1] === '"') {
        cell += '"';
        i++;
      } else quoted = false;
    } else if (char === '"') quoted = true;
    else if (char === ',') {
      row.push(cell);
      cell = '';
    } else if (char === '\r' && text[i + 1] === '\n') {
      rows.push([...row, cell]);
      [row, cell] = [[], ''];
      i++;
    } else if (char === '\n' || char === '\r') throw new Error('a bare line end outside quotes');
    else cell += char;
  }
  if (row.length > 0 || cell !== '') throw new Error('the last line does not end');
  return rows;
}

describe('CSV', () => {
  const csv = (own: Files, ...options: readonly string[]): string[][] =>
    rowsOf(pool(own, '--format', 'csv', ...options).out);

  test('a head and a row for each group, every row as long as the head', () => {
    const own = { ...FOUR, 'c.yaml': trial({ pages: 5000, slot: 'cyan' }) };
    const [head, ...rows] = csv(own, '--claim', '9866');
    expect(head?.slice(0, 6)).toEqual(['slot', 'lot', 'n', 'at_least', 'failed', 'machines']);
    expect(head).toEqual(
      expect.arrayContaining(['mean', 'lower_bound', 'failure_upper_bound', 'claim', 'supported']),
    );
    expect(rows).toHaveLength(2);
    for (const row of rows) expect(row).toHaveLength(head?.length ?? 0);
    const at = (row: number, name: string): string | undefined => rows[row]?.[head?.indexOf(name) ?? -1];
    expect([at(0, 'slot'), at(0, 'n'), at(0, 'mean'), at(0, 'claim'), at(0, 'supported')]).toEqual([
      'black',
      '4',
      '10000',
      '9866',
      'true',
    ]);
    expect([at(1, 'slot'), at(1, 'sd'), at(1, 'lower_bound'), at(1, 'supported')]).toEqual([
      'cyan',
      '',
      '',
      '',
    ]);
  });

  test.each(['=1+1', '+1+1', '-1+1', '@SUM(A1)', '=HYPERLINK("x","y")'])('a lot %s is no formula', (lot) => {
    const [head, row] = csv(files([{ pages: 10000, lot }]), '--by-lot');
    const cell = row?.[head?.indexOf('lot') ?? -1] ?? '';
    expect(cell).not.toMatch(/^[=+\-@]/);
    expect(cell).toContain(lot);
  });

  test('a tab or line end before a formula does not help it', () => {
    for (const lot of ['\t=1+1', '\r=1+1', '\n=1+1']) {
      const [head, row] = csv(files([{ pages: 10000, lot }]), '--by-lot');
      expect(row?.[head?.indexOf('lot') ?? -1] ?? '').not.toMatch(/^[=+\-@\t\r\n]/);
    }
  });

  test.each(['Harbour, Street', 'the "good" lot', 'two words'])('a lot %s comes back as it was', (lot) => {
    const [head, row] = csv(files([{ pages: 10000, lot }]), '--by-lot');
    expect(row?.[head?.indexOf('lot') ?? -1]).toBe(lot);
  });

  test('control characters of a name do not reach the table', () => {
    const { out } = pool(
      files([{ pages: 10000, lot: 'K\u001b[31m19\u0007' }]),
      '--by-lot',
      '--format',
      'csv',
    );
    // eslint-disable-next-line no-control-regex
    expect(out).not.toMatch(/[\u0000-\u0009\u000b\u000c\u000e-\u001f\u007f]/);
  });

  test('nothing pooled: the head alone', () => {
    const own = { 't1.yaml': 'trial: Ferry Lane, not finished\nmeter: {start: 10000}\ncoverage: 5 %\n' };
    const rows = csv(own);
    expect(rows).toHaveLength(1);
    expect(rows[0]?.slice(0, 3)).toEqual(['slot', 'lot', 'n']);
  });
});

describe('text', () => {
  test('names from files, harmless and within 80 columns', () => {
    const long = 'Lantern-Row-'.repeat(9);
    const nasty = '\u001b[31mred\u202eder';
    for (const name of [long, nasty, `${long} ${long}`]) {
      const own = files([
        { pages: 10000, slot: name, lot: name, serial: `${name}1`, machine: name, started: '2026-03-01' },
        { pages: 10100, slot: name, lot: name, serial: `${name}2`, machine: name, started: '2026-03-02' },
      ]);
      for (const options of [['--by-lot'], ['--trend', 'yield', '--of', name], ['--claim', '9000']]) {
        const { out, err } = pool(own, ...options);
        // eslint-disable-next-line no-control-regex
        expect(`${out}${err}`).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f\u202e]/);
        narrow(out);
      }
    }
  });

  test('long file names', () => {
    const folder = 'trials-of-the-lantern-row-workshop-spring-of-2026'.repeat(2);
    const own = Object.fromEntries([
      [`${folder}/one.yaml`, trial({ pages: 10000, started: '2026-03-01' })],
      [`${folder}/two.yaml`, trial({ pages: 10100, started: '2026-03-02' })],
      [
        `${folder}/open.yaml`,
        'trial: not finished\nmeter: {start: 1}\ncoverage: 5 %\ncartridges: [{slot: black}]\n',
      ],
    ]);
    const { out } = run(['pool', folder, '--trend', 'yield', '--of', 'black'], own);
    narrow(out);
  });

  test('an estimate by maximum likelihood stands beside, where some were not exhausted', () => {
    const own = files([
      ...YIELDS.map((pages, index) => ({ pages, title: `${index}` })),
      { pages: 10500, exhausted: false },
    ]);
    expect(pool(own).out).toContain('likelihood');
    expect(pool(FOUR).out).not.toContain('likelihood');
  });

  test('it speaks of the cartridges tried, and of scatter only', () => {
    expect(pool(FOUR).out).toContain('This speaks of the cartridges tried.');
    expect(pool(FOUR).out).toMatch(/The bounds cover the scatter of the\s+cartridges;/);
  });

  test.each([
    ['one cartridge', files([{ pages: 10000 }])],
    ['one not exhausted', files([{ pages: 10000, exhausted: false }])],
    ['all alike', files([0, 1, 2, 3].map((index) => ({ pages: 10000, title: `run ${index}` })))],
    [
      'all not exhausted',
      files([
        { pages: 9000, exhausted: false },
        { pages: 9100, exhausted: false },
      ]),
    ],
    [
      'all failed',
      files([
        { pages: 90, failed: true },
        { pages: 91, failed: true },
      ]),
    ],
    ['no yield derived', { 't1.yaml': 'trial: not finished\nmeter: {start: 1}\n' }],
  ])('%s: no NaN, no Infinity, at most 80 columns', (_, own) => {
    for (const format of ['text', 'json', 'csv']) {
      for (const more of [[], ['--claim', '9000'], ['--by-lot'], ['--trend', 'pages']]) {
        const ran = pool(own, '--format', format, ...more);
        expect(ran.out).not.toMatch(/NaN|Infinity|undefined/);
        expect(ran.code).toBeLessThanOrEqual(2);
        if (format === 'text') narrow(ran.out);
      }
    }
  });

  test('the same bytes for the same input', () => {
    expect(pool(FOUR, '--claim', '9900').out).toBe(pool(FOUR, '--claim', '9900').out);
  });
});

describe('what a claim does not say of itself', () => {
  const yields = [10400, 10100, 10300, 10200];
  const told = yields.map((pages, index): Told => ({ pages, machine: index < 2 ? 'Teal' : 'Wren' }));

  test('a trial that names no machine leaves no bound over the machines, and that is said', () => {
    expect(pool(files(told)).out).not.toContain('Name the machine');
    const own = files([...told, { pages: 10250, machine: null }]);
    const { out } = pool(own);
    expect(out).not.toContain('clustered lower bound');
    expect(runReport([...Object.keys(own), '--output', '-', '--format', 'md'], own).out).toContain(
      '1 of the cartridges is of a trial that does not name the machine',
    );
    expect(out.replace(/\s+/g, ' ')).toContain(
      '1 of the cartridges is of a trial that does not name the machine',
    );
    expect(pool(files(told.map((one) => ({ ...one, machine: null })))).out).not.toContain('Name the machine');
  });

  test('a claim that is supported speaks of cartridges that do not fail', () => {
    const failed: Told = { pages: 2000, failed: true };
    expect(pool(files(told), '--claim', '10000').out).not.toContain('do not fail');
    const { out } = pool(files([...told, failed]), '--claim', '10000');
    expect(out).toContain('1 more failed, not in the mean');
    expect(out).toContain('It is one of cartridges that do not fail: 1 did.');
  });

  test('more cartridges alone do not help where the machines differ', () => {
    const apart = [10400, 10380, 10100, 10120].map((pages, index): Told => ({
      pages,
      machine: index < 2 ? 'Teal' : 'Wren',
    }));
    const { out } = pool(files(apart), '--claim', '10200');
    expect(out.replace(/\s+/g, ' ')).toContain('more machines are needed as well.');
  });
});

test('a difference of nothing has no minus before it', () => {
  const own = files(
    [10400, 10100, 10400, 10100, 10251].map((pages, index) => ({ pages, title: `No ${index}` })),
  );
  const names = Object.keys(own);
  const { out } = run(['pool', ...names.slice(0, 2), '--against', ...names.slice(2), '--margin', '100'], own);
  expect(out).toMatch(/difference +0 page/);
});

describe('names that can hardly all be right', () => {
  const named = (label: string, serial: string | null, own: string, slot = 'black'): Told => ({
    machine: null,
    pages: 10_000 + Number(own) * 10,
    serial: `K-${own}`,
    slot,
    lines: [`machine: {label: ${label}${serial === null ? '' : `, serial: ${serial}`}}`],
  });
  const words = (text: string): string => text.replaceAll(/\s+/g, ' ');
  const said = (...told: Told[]): string => words(pool(files(told)).out);

  test('one machine under two labels, one label for two machines, one serial in two slots', () => {
    expect(said(named('Teal', 'T-1', '1'), named('Wren', 'T-1', '2'))).toContain('two labels (Teal, Wren)');
    expect(said(named('Teal', 'T-1', '1'), named('Teal', null, '2'))).toContain(
      'two serial numbers (T-1, none)',
    );
    expect(said(named('Teal', 'T-1', '1'), named('Teal', 'T-1', '1', 'cyan'))).toContain(
      'K-1 is in two slots (black, cyan)',
    );
    expect(said(named('Teal', 'T-1', '1'), named('Wren', 'W-1', '2'))).not.toMatch(
      /two (labels|serial|slots)/,
    );
  });

  test('every remark of the pool stands in the report too', () => {
    const many = Array.from({ length: 9 }, (_, i) => named('Wren', 'W-1', String(i + 3)));
    const own = files([
      named('Teal', 'T-1', '1'),
      named('Teal', null, '2'),
      ...many,
      { machine: null, pages: 30_000, serial: 'K-99' },
    ]);
    const text = words(pool(own).out);
    const { written } = runReport([...Object.keys(own), '--format', 'md'], own);
    const page = words(Object.values(written).join('').replaceAll('\u202f', '')).replaceAll('\\', '');
    for (const one of [
      'The machine Teal has two serial numbers (T-1, none), and counts as so many machines.',
      '1 of the cartridges is of a trial that does not name the machine',
      'K-99 yielded 30000 pages, further from the mean than chance explains',
    ]) {
      expect(text).toContain(one);
      expect(page).toContain(one);
    }
  });
});
