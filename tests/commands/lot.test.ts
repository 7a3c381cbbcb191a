import { describe, expect, test } from 'vitest';
import { type Files, type Ran, run } from '../run.ts';

/*
 * A lot judged from the command line. Numbers of cartridges and shares are computed or worked by hand in
 * tests/published/lot.test.ts; here they are met again through the files.
 */

interface Told {
  readonly lot?: string;
  /** Lines of the trial, or of its cartridges, in place of the usual ones. */
  readonly head?: string;
  readonly cartridges?: string;
  readonly serial?: string;
  readonly machine?: string;
  readonly day?: string;
  /** How much waste per thousand pages: at most 25 g is agreed. */
  readonly waste?: number | null;
  readonly lines?: string;
}

let numbered = 0;

/** A trial of one cartridge; it passes. */
function trial(told: Told = {}): string {
  numbered += 1;
  const { lot = 'K-20', waste = 20, machine = 'Teal' } = told;
  const serial = told.serial ?? `S-${numbered}`;
  const day = told.day === undefined ? '' : `, started: ${told.day}`;
  return [
    `trial: {title: "Ferry Lane, run ${numbered}"${day}}`,
    told.head ?? `lot: {id: ${lot}, size: 400}`,
    `machine: {label: ${machine}}`,
    'meter: {start: 0, end: 10000}',
    'coverage: 5 %',
    told.cartridges ?? `cartridges: [{slot: black, serial: ${serial}}]`,
    `waste_container: {tare: 600 g, final: ${waste === null ? '' : `${600 + 10 * waste} g`}}`,
    'limits: {waste_per_thousand: {max: 25 g}}',
    told.lines ?? '',
    '',
  ].join('\n');
}

const good = (): string => trial();
const bad = (): string => trial({ waste: 30 });
const open = (): string => trial({ waste: null });

const named = (trials: readonly string[]): Files =>
  Object.fromEntries(trials.map((text, index) => [`t${String(index + 1).padStart(3, '0')}.yaml`, text]));

const times = (n: number, make: () => string): string[] => Array.from({ length: n }, make);

const lot = (trials: readonly string[], ...options: string[]): Ran => {
  const files = named(trials);
  return run(['lot', ...Object.keys(files), ...options], files);
};

const TEN = ['--limiting-quality', '10'];
const BOTH = [...TEN, '--acceptable-quality', '1'];
const SEQUENTIAL = [...BOTH, '--rule', 'sequential'];

test('of a trial that could not be read the fault is said, not what its table was read as', () => {
  const own: Files = {
    'lot.yaml':
      'trial: Ferry Lane delivery\nlot: {id: K-20, size: 400}\nmeter: {start:, end:}\ninspection: {file: delivery.csv}\n',
    'delivery.csv': 'serial,finding,severity\nK-1,,\nK-2,seal strip loose,\n',
  };
  for (const command of ['lot', 'pool']) {
    const { code, err } = run([command, 'lot.yaml'], own);
    expect(code).toBe(3);
    expect(err).toContain('delivery.csv:3:');
    expect(err).toContain('The finding has no severity.');
  }
});

interface LotJson {
  readonly format: number;
  readonly tool: string;
  readonly lot: string;
  readonly supplier: string | null;
  readonly size: number;
  readonly plan: Readonly<Record<string, unknown>> | null;
  readonly tried: number;
  readonly failed: number;
  readonly said_nothing: number;
  readonly decision: string;
  readonly next: { readonly passes: number; readonly failures: number | null } | null;
  readonly most_failing: number;
  readonly largest_share: string;
  readonly confidence: string;
  readonly cartridges: readonly {
    readonly cartridge: string | null;
    readonly said: string;
    readonly why: string | null;
  }[];
  readonly remarks: readonly string[];
}

const json = (trials: readonly string[], ...options: string[]): LotJson & { readonly code: number } => {
  const { out, code } = lot(trials, ...options, '--format', 'json');
  return { ...(JSON.parse(out) as LotJson), code };
};

const last = ({ out }: Ran): string => out.trimEnd().split('\n').at(-1) ?? '';
const flat = (text: string): string => text.replace(/\s+/g, ' ');

describe('the single rule: 22 of 400 with none failing, limiting quality 10 % at 10 % (computed)', () => {
  // C(360, 22)/C(400, 22) = 0.0921 and C(360, 21)/C(400, 21) = 0.1030: Python's math.comb.
  test('all pass: accepted, exit 0', () => {
    const ran = lot(times(22, good), ...TEN);
    expect(last(ran)).toBe('LOT: ACCEPT');
    expect(ran.code).toBe(0);
    expect(flat(ran.out)).toContain('try 22; accept with none failing');
  });

  test('one too few: go on, exit 2, with what comes next', () => {
    const ran = lot(times(21, good), ...TEN);
    expect(last(ran)).toBe('LOT: GO ON');
    expect(ran.code).toBe(2);
    expect(flat(ran.out)).toContain(
      'The lot is accepted if the next cartridge passes; it is rejected if the next one fails.',
    );
  });

  test('one that fails: rejected early, exit 1', () => {
    const ran = lot([bad(), ...times(3, good)], ...TEN);
    expect(last(ran)).toBe('LOT: REJECT');
    expect(ran.code).toBe(1);
    expect(flat(ran.out)).toContain('No result of the 18 cartridges left can change this.');
    expect(flat(ran.out)).toContain('Missed: waste per thousand pages, 30');
  });

  test('with an acceptable quality: accepted early where the rest may all fail', () => {
    // 37 of 400 with 1: accepted with 0.0926 of 40 failing, 0.956 of 4; with 36 0.1015 (Python's math.comb).
    // 36 that passed leave one, which may fail.
    const { plan } = json([good()], ...BOTH);
    expect(plan).toEqual({ sample: 37, accept: 1 });
    const ran = lot(times(36, good), ...BOTH);
    expect(last(ran)).toBe('LOT: ACCEPT');
    expect(flat(ran.out)).toContain('No result of the cartridge left can change this.');
    expect(last(lot(times(35, good), ...BOTH))).toBe('LOT: GO ON');
  });

  test('more than asked for all count', () => {
    const { decision, remarks } = json([...times(24, good), bad()], ...TEN);
    expect(decision).toBe('reject');
    expect(remarks.join(' ')).toContain(
      '25 were tried, 22 were asked for; all of them count. That is harder on the lot than the plan is.',
    );
  });
});

describe('the sequential rule, 1 % against 10 % (numbers published: tests/published/lot.test.ts)', () => {
  test('accepts with none of 24, not before', () => {
    expect(lot(times(24, good), ...SEQUENTIAL).code).toBe(0);
    const ran = json(times(23, good), ...SEQUENTIAL);
    expect([ran.code, ran.next]).toEqual([2, { passes: 1, failures: 3 }]);
  });

  test('rejects with two of the first two, and a rejection stands whatever comes after', () => {
    expect(lot([bad(), bad()], ...SEQUENTIAL).code).toBe(1);
    const late = lot([bad(), bad(), ...times(40, good)], ...SEQUENTIAL);
    expect(late.code).toBe(1);
    expect(flat(late.out)).toContain(
      'rejected it when 2 of 2 had failed; what was tried after that does not',
    );
    expect(flat(late.out)).toContain('after 42 accepted with none failing, rejected with 3 or more');
    // The same results in another order: three reject from 20 on, two no more.
    expect(lot([...times(40, good), bad(), bad()], ...SEQUENTIAL).code).toBe(2);
  });

  test('the days of the trials are the order, where all have one', () => {
    const late = [1, 2].map((day) => trial({ waste: 30, day: `2026-05-0${day}` }));
    const early = Array.from({ length: 20 }, (_, day) =>
      trial({ day: `2026-04-${String(day + 1).padStart(2, '0')}` }),
    );
    expect(json([...late, ...early], ...SEQUENTIAL).decision).toBe('go-on');
    const { remarks, decision } = json([...late, ...early, good()], ...SEQUENTIAL);
    expect(decision).toBe('reject');
    expect(remarks.join(' ')).toContain('in the order given, as not every trial says when it began');
  });

  test('an acceptance holds only as long as all that were tried allow it', () => {
    expect(lot([...times(24, good), bad()], ...SEQUENTIAL).code).toBe(2);
  });

  test('needs an acceptable quality', () => {
    const { code, err, out } = lot([good()], ...TEN, '--rule', 'sequential');
    expect([code, out]).toEqual([4, '']);
    expect(err).toContain('target.lot.acceptable_quality is not given');
  });
});

describe('what counts', () => {
  test('an inconclusive trial is named, and never a pass', () => {
    const ran = lot([...times(21, good), open()], ...TEN);
    expect(ran.code).toBe(2);
    expect(ran.out).toMatch(/says nothing {2}t022\.yaml, black/);
    expect(flat(ran.out)).toContain('1 cartridge says nothing and counts neither as passed nor as failed');
  });

  test('a cartridge that failed in use fails, though nothing else is decided', () => {
    const leak = trial({
      waste: null,
      cartridges: 'cartridges: [{slot: black, serial: L-1, failed_at: 4000, failed_by: leak}]',
    });
    const { cartridges, failed } = json([leak, good()], ...TEN);
    expect(failed).toBe(1);
    expect(cartridges[0]).toMatchObject({ said: 'fails', why: 'It failed in use.' });
  });

  test('a limit missed by one cartridge is not held against the other', () => {
    const two = trial({
      cartridges: 'cartridges: [{slot: black, serial: A-1, exhausted_at: 9000}, {slot: cyan, serial: A-2}]',
      lines: '',
    }).replace('{max: 25 g}}', '{max: 25 g}, yield_at_reference: {min: 9500}}');
    const { cartridges } = json([two], ...TEN);
    expect(cartridges.map(({ cartridge, said }) => [cartridge, said])).toEqual([
      ['black', 'fails'],
      ['cyan', 'passes'],
    ]);
  });

  test('a limit missed by the whole trial is held against every one, and so is what the others leave open', () => {
    const cartridges = 'cartridges: [{slot: black, serial: B-1}, {slot: cyan, serial: B-2}]';
    const ofTrial = (waste: number | null): string[] =>
      json([trial({ cartridges, waste })], ...TEN).cartridges.map(({ said }) => said);
    expect(ofTrial(30)).toEqual(['fails', 'fails']);
    expect(ofTrial(null)).toEqual(['says-nothing', 'says-nothing']);
    expect(ofTrial(20)).toEqual(['passes', 'passes']);
  });

  test.each([
    ['of one slot, with a limit on findings', 'slot: cyan, ', true, ['passes', 'fails']],
    ['of one slot, which no limit speaks of', 'slot: cyan, ', false, ['passes', 'says-nothing']],
    ['without a slot, with a limit on findings', '', true, ['fails', 'fails']],
    ['without a slot, which no limit speaks of', '', false, ['says-nothing', 'says-nothing']],
  ])('a critical finding %s', (_, slot, limited, said) => {
    const one = trial({
      cartridges: 'cartridges: [{slot: black, serial: F-1}, {slot: cyan, serial: F-2}]',
      lines: `inspection: [{stage: after, part: seal, ${slot}severity: critical}, {stage: after, part: drum, slot: black, severity: minor}]`,
    });
    const file = limited ? one.replace('25 g}}', '25 g}, worst_finding: {max: minor}}') : one;
    expect(json([file], ...TEN).cartridges.map((cartridge) => cartridge.said)).toEqual(said);
  });

  test('one put in for another and still in at the end says nothing', () => {
    const cartridges =
      'cartridges: [{slot: black, serial: C-1, exhausted_at: 9000}, {slot: black, serial: C-2, installed_at: 9000}]';
    const { cartridges: seen } = json([trial({ cartridges })], ...TEN);
    expect(seen.map(({ said }) => said)).toEqual(['passes', 'says-nothing']);
  });

  test('several of one trial are said not to be independent, and so is one machine for all', () => {
    const cartridges = 'cartridges: [{slot: black, serial: D-1}, {slot: cyan, serial: D-2}]';
    const { remarks } = json([trial({ cartridges }), good()], ...TEN);
    expect(remarks.join(' ')).toContain('t001.yaml tries 2 cartridges of the lot in one machine.');
    expect(remarks.join(' ')).toContain('not independent trials of the machine');
    expect(remarks.join(' ')).toContain('All were tried in one machine, Teal');
    const two = json([good(), trial({ machine: 'Wren' })], ...TEN).remarks.join(' ');
    expect(two).not.toContain('one machine');
  });

  test('of more taken from the lot than were tried it is said that the others count too', () => {
    const taken = (sampled: number): string =>
      json(
        [trial({ head: `lot: {id: K-20, size: 400, sampled: ${sampled}}` }), good()],
        ...TEN,
      ).remarks.join();
    expect(taken(3)).toContain('3 were taken from the lot (lot.sampled), and 2 are here');
    expect(taken(2)).not.toContain('lot.sampled');
  });

  test('without serial numbers it is said that one may have been tried twice', () => {
    const { remarks } = json([trial({ cartridges: 'cartridges: [{slot: black}]' })], ...TEN);
    expect(remarks.join(' ')).toContain('1 cartridge has no serial number');
  });
});

describe('the largest share', () => {
  test('four good ones of 400: 43.5 %, one-sided 90 % (computed: tests/published/lot.test.ts)', () => {
    const ran = lot(times(4, good), ...TEN);
    expect(flat(ran.out)).toContain(
      'largest share 43.5 % of the lot (174 of 400) may fail: more is ruled out at 90 %, one-sided',
    );
    expect(json(times(4, good), ...TEN)).toMatchObject({ most_failing: 174, largest_share: '43.5' });
  });

  test('its confidence is that of the consumer, or as asked for', () => {
    expect(json([good()], ...TEN, '--consumer-risk', '5').confidence).toBe('95');
    // 1 of 400 tried: the most with 1 − D/400 > 0.2 is 319.
    expect(json([good()], ...TEN, '--confidence', '80')).toMatchObject({
      confidence: '80',
      most_failing: 319,
    });
  });
});

describe('what it never does', () => {
  test.each([
    ['single', ['--limiting-quality', '99', '--consumer-risk', '50']],
    ['sequential', ['--limiting-quality', '99', '--acceptable-quality', '60', '--rule', 'sequential']],
  ])('call one pass an accepted lot: %s', (_, options) => {
    const one = lot([good()], ...options);
    expect([one.code, last(one)]).toEqual([2, 'LOT: GO ON']);
    expect(lot(times(2, good), ...options).code).toBeLessThan(3);
  });

  test('decide anything where no limiting quality was agreed', () => {
    const ran = lot(times(30, good));
    expect([ran.code, last(ran)]).toEqual([2, 'LOT: GO ON']);
    expect(flat(ran.out)).toContain('Without it nothing is accepted or rejected.');
  });

  test('claim to follow a sampling standard', () => {
    const terms = 'target: {lot: {limiting_quality: 10 %, acceptable_quality: 1 %}}';
    const files = { 'a.yaml': trial({ lines: terms }), 'b.yaml': trial({ lines: terms }) };
    for (const argv of [
      ['lot', 'a.yaml', 'b.yaml'],
      ['lot', 'a.yaml', 'b.yaml', '--format', 'json'],
      ['plan', 'a.yaml'],
      ['plan', 'a.yaml', '--format', 'csv'],
    ]) {
      const { out } = run(argv, files);
      expect(out).not.toBe('');
      expect(out).not.toMatch(/\b2859|\bAQL\b|code letter|conform/i);
    }
  });

  test('mix lots', () => {
    const { code, err, out } = lot([good(), trial({ lot: 'M-3' })], ...TEN);
    expect([code, out]).toEqual([3, '']);
    expect(err).toContain('is of lot K-20');
    expect(err).toContain('of lot M-3; lots are judged one by one: --lot names one');
    expect(json([good(), trial({ lot: 'M-3' })], ...TEN, '--lot', 'M-3').tried).toBe(1);
  });

  test.each([
    ['no lot', { head: 'lot: {size: 400}' }, 'its lot is not named; write lot.id, or cartridges.lot'],
    [
      'another size',
      { head: 'lot: {id: K-20, size: 500}' },
      'lot.size is 400 in t001.yaml, 500 in t002.yaml',
    ],
    [
      'another supplier',
      { head: 'lot: {id: K-20, supplier: Tidewater}' },
      'lot.supplier is Millrace Works in t001.yaml, Tidewater in t002.yaml',
    ],
    [
      'other terms',
      { lines: 'target: {lot: {limiting_quality: 5 %}}' },
      'target.lot.limiting_quality is 10 in t001.yaml, 5 in t002.yaml',
    ],
    [
      'the same cartridge',
      { serial: 'S-0' },
      't001.yaml, black, serial S-0 and t002.yaml, black, serial S-0',
    ],
  ])('take trials together that do not agree: %s', (_, told, said) => {
    const first = trial({
      serial: 'S-0',
      head: 'lot: {id: K-20, supplier: Millrace Works, size: 400}',
      lines: 'target: {lot: {limiting_quality: 10 %}}',
    });
    const { code, err, out } = lot([first, trial(told)]);
    expect([code, out]).toEqual([3, '']);
    expect(err).toContain(said);
  });

  test('take one file twice', () => {
    const one = good();
    const { code, err } = lot([one, one], ...TEN);
    expect(code).toBe(3);
    expect(err).toContain('are the same bytes');
  });

  test('judge more cartridges than the lot has, or a lot without a size', () => {
    expect(lot(times(3, good), ...TEN, '--size', '2')).toMatchObject({ code: 3, out: '' });
    const { code, err } = lot([trial({ head: 'lot: {id: K-20}' })], ...TEN);
    expect(code).toBe(3);
    expect(err).toContain('write lot.size, or give --size');
  });
});

describe('the terms', () => {
  const inFile = (quality: string): string =>
    trial({
      head: 'lot: {id: K-20, supplier: Millrace Works, size: 500}',
      lines: `target: {lot: {${quality}}}`,
    });

  test('stand in the trials: 5 % of 500 take 43 with none failing (computed: tests/published/lot.test.ts)', () => {
    const { plan, supplier, size } = json([inFile('limiting_quality: 5 %')]);
    expect({ plan, supplier, size }).toEqual({
      plan: { sample: 43, accept: 0 },
      supplier: 'Millrace Works',
      size: 500,
    });
  });

  test('an option stands in for a key', () => {
    expect(json([inFile('limiting_quality: 50 %')], '--limiting-quality', '5 %').plan).toEqual({
      sample: 43,
      accept: 0,
    });
  });

  test('an option settles what the trials do not agree on', () => {
    const two = [inFile('limiting_quality: 50 %'), inFile('limiting_quality: 40 %')];
    expect(lot(two).code).toBe(3);
    expect(json(two, '--limiting-quality', '5').plan).toEqual({ sample: 43, accept: 0 });
  });

  test('that contradict each other are refused', () => {
    const { code, err } = lot([inFile('limiting_quality: 5 %, acceptable_quality: 5 %')]);
    expect(code).toBe(3);
    expect(err).toContain('target.lot.acceptable_quality is not below target.lot.limiting_quality');
    expect(lot([good()], ...TEN, '--acceptable-quality', '20').code).toBe(4);
  });

  test.each([
    '--limiting-quality=0',
    '--consumer-risk=90',
    '--size=1',
    '--size=1.5',
    '--confidence=10',
    '--rule=half',
  ])('%s is wrong usage', (option) => {
    expect(lot([good()], ...TEN, option).code).toBe(4);
  });
});

describe('files', () => {
  test('folders, patterns and lists, as for verdict', () => {
    const files = { 'lots/a.yaml': good(), 'lots/deep/b.yaml': good(), list: 'lots/a.yaml\n' };
    const tried = (...given: string[]): number =>
      (JSON.parse(run(['lot', ...given, ...TEN, '--format', 'json'], files).out) as LotJson).tried;
    expect(tried('lots')).toBe(2);
    expect(tried('lots/*.yaml')).toBe(1);
    expect(tried('--files-from', 'list')).toBe(1);
    expect(run(['lot', ...TEN]).code).toBe(4);
  });

  test('one that cannot be read is told, the others are judged, and the exit code is 3', () => {
    const { code, out, err } = lot([...times(22, good), 'trial: no meter\n'], ...TEN);
    expect(code).toBe(3);
    expect(last({ out } as Ran)).toBe('LOT: ACCEPT');
    expect(err).toContain('t023.yaml');
  });

  test('limits laid over those of the files decide', () => {
    const files = { ...named([good()]), 'hard.yaml': 'waste_per_thousand: {max: 5 g}\n' };
    const ran = run(['lot', 't001.yaml', ...TEN, '--limits', 'hard.yaml'], files);
    expect([ran.code, last(ran)]).toEqual([1, 'LOT: REJECT']);
  });
});

describe('formats', () => {
  test('JSON begins with its format and the tool', () => {
    const { out } = lot([good()], ...TEN, '--format', 'json');
    expect(Object.keys(JSON.parse(out) as object).slice(0, 3)).toEqual(['format', 'tool', 'lot']);
    expect(JSON.parse(out)).toMatchObject({
      format: 1,
      tool: expect.stringMatching(/^tallytare \d/) as string,
    });
  });

  test('CSV is one row for the lot', () => {
    const { out } = lot([good(), bad(), open()], ...BOTH, '--format', 'csv');
    const [heads = '', row = '', end] = out.split('\r\n');
    const cells = row.split(',');
    const cell = (head: string): string | undefined => cells[heads.split(',').indexOf(head)];
    expect(end).toBe('');
    expect(
      ['lot', 'size', 'plan_sample', 'plan_accept', 'tried', 'failed', 'said_nothing', 'decision'].map(cell),
    ).toEqual(['K-20', '400', '37', '1', '2', '1', '1', 'go-on']);
  });

  test('text is at most 80 columns wide, and safe', () => {
    const odd = trial({ cartridges: `cartridges: [{slot: "bl\\u001back", serial: "${'x'.repeat(120)}"}]` });
    const { out } = lot([odd, bad(), open()], ...SEQUENTIAL);
    for (const line of out.split('\n')) expect(Array.from(line).length, line).toBeLessThanOrEqual(80);
    expect(out).not.toContain('\u001b');
  });
});
