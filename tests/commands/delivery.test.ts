import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { type Files, type ResultJson, run } from '../run.ts';

/*
 * A delivery looked at cartridge by cartridge, in a list of its own. Findings, headings and serial numbers are invented.
 */

const judged = (lines: string, files: Files = {}): ResultJson => {
  const trial = `trial: Quay Lane lot R-5\nmeter: {start: 0, end: 9000}\n${lines}\n`;
  const { out } = run(['verdict', 'lot/t.yaml', '--format', 'json'], { 'lot/t.yaml': trial, ...files });
  return JSON.parse(out) as ResultJson;
};

const LIST = 'inspection: {file: delivery.csv}\n';
const OWN = 'cartridges: [{slot: black, serial: "0012"}]\nlimits: {worst_finding: {max: minor}}';
const worst = ({ figures }: ResultJson): string | undefined =>
  figures.find(({ figure, of }) => figure === 'worst_finding' && of === null)?.value;
const codes = ({ notes }: ResultJson): string[] => notes.map(({ code }) => code);

/** What is read of a list, by what the trial of the cartridge 0012 is held against. */
const read = (list: string): string | undefined =>
  worst(judged(`${LIST}${OWN}`, { 'lot/delivery.csv': list }));

describe('a list of what was delivered', () => {
  test.each([
    ['commas', 'serial,finding,severity\n0012,seal torn,major\n'],
    ['semicolons and other words', 'S/N;Befund;Class\n0012;seal torn;Major\n'],
    ['a finding beside a remark', 'Serial number;Defect;Severity;Remarks\n0012;seal torn;MAJOR;front\n'],
    ['a serial number beside a running one', 'No;Serial;Finding;Severity\n1;0012;seal torn;major\n'],
    ['boxes that are numbered', 'No.;Finding;Severity\n0012;seal torn;major\n'],
  ])('is read by its headings: %s', (_, list) => {
    expect(read(list)).toBe('major');
  });

  test.each(['0012,,', '0012,,none', '0012,none,', '0012,ok,None', '0012,-,n/a', '0012,"label askew",none'])(
    'has a cartridge with nothing to find as: %s',
    (row) => {
      expect(read(`serial,finding,severity\n${row}\n`)).toBe('none');
    },
  );

  test('is of the delivery unless a column says otherwise', () => {
    const stages = (list: string): (string | null)[] =>
      judged(`${LIST}${OWN}`, { 'lot/delivery.csv': list })
        .figures.filter(({ figure, value }) => figure === 'worst_finding' && value === 'major')
        .map(({ of }) => of);
    expect(stages('serial,severity\n0012,major\n')).toEqual([null, 'delivery']);
    expect(stages('serial,severity,stage\n0012,major,after\n')).toEqual([null, 'after']);
  });

  test.each([
    ['row-without-serial', 'serial,finding,severity\n0012,,\n,dented,minor\n', 'delivery.csv:3:1'],
    ['unknown-word', 'serial,finding,severity\n0012,dented,\n', 'delivery.csv:2:13'],
    ['unknown-word', 'serial,finding,severity\n0012,dented,grave\n', 'delivery.csv:2:13'],
    ['table-without-heading', 'box,finding,severity\n1,dented,minor\n', 'serial number'],
  ])('tells %s at its row', (code, list, where) => {
    const { verdict, notes } = judged(`${LIST}${OWN}`, { 'lot/delivery.csv': list });
    const errors = notes.filter(({ kind }) => kind === 'error');
    expect(verdict).toBe('invalid');
    expect(errors.map((one) => one.code)).toEqual([code]);
    expect(errors[0]?.message).toContain(where);
  });

  test('says that a finding has no severity', () => {
    const { notes } = judged(`${LIST}${OWN}`, {
      'lot/delivery.csv': 'serial,finding,severity\n0012,leak,\n',
    });
    expect(notes.find(({ kind }) => kind === 'error')?.message).toContain('The finding has no severity.');
  });

  test('stands behind the verdict: its digest is in the seal', () => {
    const files = {
      'lot/t.yaml': `trial: t\nmeter: {start: 0, end: 9000}\n${LIST}${OWN}\n`,
      'lot/delivery.csv': 'serial,severity\n0012,none\n',
    };
    const { written } = run(['seal', 'lot/t.yaml'], files);
    const { inputs } = JSON.parse(Object.values(written)[0] ?? '') as { inputs: object[] };
    const sha256 = createHash('sha256').update(files['lot/delivery.csv']).digest('hex');
    expect(inputs).toContainEqual({ kind: 'table', file: 'delivery.csv', sha256 });
  });
});

describe('findings of other cartridges of the lot', () => {
  const others = 'serial,finding,severity\n0012,,\n0013,seal torn,critical\n0014,dented,minor\n';

  test('do not judge the trial of this one, and it is said so', () => {
    const result = judged(`${LIST}${OWN}`, { 'lot/delivery.csv': others });
    expect([result.verdict, worst(result)]).toEqual(['pass', 'none']);
    const note = result.notes.find(({ code }) => code === 'delivered-beside');
    expect(note?.message).toContain('2 cartridges that were looked at on delivery and not tried here');
    expect(note?.message).toContain('the worst finding on them is critical');
  });

  test('leave open what was to be found on this one', () => {
    const result = judged(`${LIST}${OWN}`, { 'lot/delivery.csv': 'serial,severity\n0013,none\n' });
    expect([result.verdict, worst(result)]).toEqual(['inconclusive', undefined]);
  });

  test.each([
    [
      'a cartridge of this trial has no serial number',
      'cartridges: [{slot: black, serial: "0012"}, {slot: cyan}]',
    ],
    ['no cartridge is listed', ''],
  ])('are held against the trial while %s', (_, cartridges) => {
    const limits = 'limits: {worst_finding: {max: minor}}';
    const result = judged(`${LIST}${cartridges}\n${limits}`, { 'lot/delivery.csv': others });
    expect([result.verdict, worst(result)]).toEqual(['fail', 'critical']);
    expect(codes(result)).toContain('finding-of-unknown-serial');
  });

  test('are held against it where they were found in its run', () => {
    const result = judged(`${OWN}\ninspection: [{stage: after, serial: "0013", severity: critical}]`);
    expect(result.verdict).toBe('fail');
    expect(result.notes.find(({ code }) => code === 'finding-of-unknown-serial')?.message).toContain(
      'No cartridge of this trial has the serial number 0013',
    );
  });

  test('say that a serial number is not known where one was looked at in the run', () => {
    const beside = (stage: string): string | undefined =>
      judged(
        `${OWN}\ninspection: [{stage: delivery, serial: "0012", severity: none}, {stage: delivery, serial: "0013", severity: minor}, {stage: ${stage}, serial: "0014", severity: none}]`,
      ).notes.find(({ code }) => code === 'delivered-beside')?.message;
    expect(beside('delivery')).toContain('2 cartridges that were looked at on delivery');
    expect(beside('after')).toContain('2 serial numbers that no cartridge of this trial has');
  });

  test('are told apart from findings without a serial number', () => {
    const result = judged(
      `${OWN}\ninspection: [{stage: after, part: seal, severity: none}, {stage: after, serial: "0013", severity: minor}]`,
    );
    expect(result.notes.find(({ code }) => code === 'finding-of-unknown-serial')?.message).toContain(
      'serial number 0013; the finding is held against this trial',
    );
  });

  test('of another lot are not held against a cartridge with the same serial number', () => {
    const lots = (named: string): ResultJson =>
      judged(`lot: {id: L1}\n${LIST}${OWN}`, {
        'lot/delivery.csv': `serial,lot,finding,severity\n0012,${named},leak,critical\n`,
      });
    expect(lots('L2').verdict).toBe('inconclusive');
    expect(codes(lots('L2'))).toContain('delivered-beside');
    expect(['L1', 'l1', ''].map((named) => lots(named).verdict)).toEqual(['fail', 'fail', 'fail']);
  });

  test('that are none prove nothing of a cartridge without a serial number', () => {
    const own = 'cartridges: [{slot: black}]\nlimits: {worst_finding: {max: minor}}';
    const of = (rows: string): ResultJson =>
      judged(`${LIST}${own}`, { 'lot/delivery.csv': `serial,finding,severity\n${rows}` });
    const sound = of('0013,,\n');
    expect([sound.verdict, worst(sound)]).toEqual(['inconclusive', undefined]);
    expect(codes(sound)).not.toContain('finding-of-unknown-serial');
    expect(sound.notes.find(({ code }) => code === 'delivered-beside')?.message).toContain(
      'The inspection has a serial number that no cartridge of this trial has',
    );
    const found = of('0013,,\n0014,seal torn,critical\n').notes;
    expect(found.find(({ code }) => code === 'finding-of-unknown-serial')?.message).toContain(
      'serial number 0014; the finding is held against this trial',
    );
  });

  test('have one serial number, however it is typed', () => {
    const own = 'cartridges: [{slot: black, serial: R5-a}]\nlimits: {worst_finding: {max: minor}}';
    const of = { 'lot/delivery.csv': 'serial,finding,severity\nr5-A,seal torn,major\n' };
    expect(judged(`${LIST}${own}`, of).verdict).toBe('fail');
    const twice = { 'lot/delivery.csv': 'serial,severity\nr5-A,none\nR5-b,none\nr5-B,minor\n' };
    expect(
      judged(`${LIST}${own}`, twice).notes.find(({ code }) => code === 'delivered-beside')?.message,
    ).toContain(
      'has a cartridge that was looked at on delivery and not tried here; the worst finding on it is minor',
    );
  });

  test('may be of slots that this trial has not', () => {
    const result = judged(
      `${OWN}\ninspection: [{stage: delivery, serial: "0013", slot: cyan, severity: none}]`,
    );
    expect(codes(result)).not.toContain('unknown-slot');
  });
});

/*
 * Of 400, where 12 critical are too many at 10 %: 69 with none are accepted with 0.0995, 68 with 0.1033. In 69, up to 3
 * with 40 major ones in the lot (0.0585; 4: 0.1432) and 6 with 60 minor ones (0.0715; 7: 0.1443) keep the consumer's risk;
 * lots with 4 major or 16 minor ones are accepted with 0.999 and 0.989. Computed: Python's math.comb.
 */
const TERMS = `target:
  lot:
    inspection:
      critical: {limiting_quality: 3 %}
      major: {limiting_quality: 10 %, acceptable_quality: 1 %}
      minor: {limiting_quality: 15 %, acceptable_quality: 4 %}
`;

/** A list of so many cartridges, the first of them with these severities. */
const list = (count: number, ...severities: string[]): string =>
  `serial,finding,severity\n${Array.from({ length: count }, (_, at) => `R5-${at + 1},${severities[at] ? 'seen' : ''},${severities[at] ?? ''}`).join('\n')}\n`;

const BEFORE = `trial: Quay Lane lot R-5, delivery
lot: {id: R-5, size: 400}
meter: {start, end}
${LIST}`;

interface ClassJson {
  readonly severity: string;
  readonly counts: readonly string[];
  readonly plan: { readonly sample: number; readonly accept: number };
  readonly found: number;
  readonly decision: string;
  readonly next: { readonly passes: number; readonly failures: number | null } | null;
  readonly most_failing: number;
}

interface LotJson {
  readonly decision: string;
  readonly by_trials: string | null;
  readonly tried: number;
  readonly cartridges: readonly object[];
  readonly remarks: readonly string[];
  readonly inspection: {
    readonly inspected: number;
    readonly critical: number;
    readonly major: number;
    readonly minor: number;
    readonly decision: string | null;
    readonly classes: readonly ClassJson[];
    readonly cartridges: readonly { readonly serial: string | null; readonly severity: string }[];
  } | null;
}

const lotOf = (files: Files, ...options: string[]): LotJson & { readonly code: number } => {
  const names = Object.keys(files).filter((name) => name.endsWith('.yaml'));
  const { code, out, err } = run(['lot', ...names, '--format', 'json', ...options], files);
  expect(err).toBe('');
  return { ...(JSON.parse(out) as LotJson), code };
};

const delivered = (rows: string, terms = TERMS): LotJson & { readonly code: number } =>
  lotOf({ 'a.yaml': BEFORE + terms, 'delivery.csv': rows });

describe('a lot by what was found on delivery', () => {
  test('one sample serves all classes, each with its own number', () => {
    const { inspection } = delivered(list(69));
    expect(inspection?.classes.map(({ severity, plan }) => [severity, plan.sample, plan.accept])).toEqual([
      ['critical', 69, 0],
      ['major', 69, 3],
      ['minor', 69, 6],
    ]);
  });

  test.each([
    ['nothing', 69, [], 'accept', 0],
    ['few enough of each', 69, ['major', 'major', 'major', 'minor', 'minor'], 'accept', 0],
    ['one critical', 69, ['critical'], 'reject', 1],
    ['one critical early', 5, ['critical'], 'reject', 1],
    ['too many major', 69, ['major', 'major', 'major', 'major'], 'reject', 1],
    ['one too few inspected', 68, [], 'go-on', 2],
    ['nothing of one', 1, [], 'go-on', 2],
  ] as const)('%s of %i: %j, %s', (_, count, severities, decision, code) => {
    const result = delivered(list(count, ...severities));
    expect([result.decision, result.code, result.inspection?.inspected]).toEqual([decision, code, count]);
  });

  test('a hundred are counted at once, each once and in its worst class', () => {
    const rows = `${list(100, 'critical', 'major')}R5-1,and a dent,minor\nR5-2,,none\n`;
    expect(delivered(rows).inspection).toMatchObject({ inspected: 100, critical: 1, major: 1, minor: 0 });
  });

  test('what comes next is said of each class', () => {
    const { inspection } = delivered(list(60, 'major'));
    expect(inspection?.classes.map(({ next }) => next)).toEqual([
      { passes: 9, failures: 1 },
      { passes: 7, failures: 3 },
      { passes: 3, failures: 7 },
    ]);
  });

  test('the largest share of a class is that of as many trials', () => {
    // With 12 in the lot none would be seen with 0.0995, with 11 with 0.1210 (Python's math.comb).
    expect(delivered(list(69)).inspection?.classes[0]?.most_failing).toBe(11);
  });

  test('a class nothing was agreed of counts with the next less bad one', () => {
    const major = 'target: {lot: {inspection: {major: {limiting_quality: 10 %}}}}\n';
    const { decision, inspection, remarks } = delivered(list(69, 'critical', 'minor'), major);
    expect([decision, inspection?.classes[0]?.counts, inspection?.classes[0]?.found]).toEqual([
      'reject',
      ['critical', 'major'],
      1,
    ]);
    expect(remarks.join(' ')).toContain(
      'Nothing was agreed of critical findings: cartridges with one count as major',
    );
    expect(remarks.join(' ')).toContain('Found on delivery: 1 minor. Nothing was agreed of such findings');
  });

  test('no sampling standard is claimed', () => {
    expect(delivered(list(69)).remarks.join(' ')).toContain(
      'those of no sampling standard, and none is claimed',
    );
  });
});

describe('inspection and trials together', () => {
  const trial = (serial: string, more = '', waste = 800): string =>
    `trial: Quay Lane, ${serial}
lot: {id: R-5, size: 400}
meter: {start: 0, end: 10000}
cartridges: [{slot: black, serial: ${serial}}]
waste_container: {tare: 600, final: ${waste}}
limits: {waste_per_thousand: {max: 25 g}, worst_finding: {max: minor}}
inspection: []
${more}`;
  const TEN = ['--limiting-quality', '10'];
  const trials = (count: number): Files =>
    Object.fromEntries(Array.from({ length: count }, (_, at) => [`t${at}.yaml`, trial(`R5-${at + 1}`)]));
  const both = (trialFiles: Files, rows: string, ...options: string[]): ReturnType<typeof lotOf> =>
    lotOf({ ...trialFiles, 'a.yaml': BEFORE + TERMS, 'delivery.csv': rows }, ...options);

  test('both must accept', () => {
    expect(both(trials(22), list(69), ...TEN)).toMatchObject({ decision: 'accept', code: 0, tried: 22 });
    expect(both(trials(21), list(69), ...TEN)).toMatchObject({
      decision: 'go-on',
      by_trials: 'go-on',
      code: 2,
    });
    expect(both(trials(22), list(60), ...TEN)).toMatchObject({ decision: 'go-on', by_trials: 'accept' });
  });

  test('either rejects', () => {
    expect(both(trials(22), list(69, 'critical'), ...TEN)).toMatchObject({
      decision: 'reject',
      by_trials: 'accept',
    });
    const bad = { ...trials(3), 'bad.yaml': trial('R5-80', '', 900) };
    expect(both(bad, list(69), ...TEN)).toMatchObject({ decision: 'reject', by_trials: 'reject' });
  });

  test('without terms for trials the inspection decides, unless one failed', () => {
    expect(both(trials(2), list(69))).toMatchObject({ decision: 'accept', by_trials: null });
    expect(both({ 'bad.yaml': trial('R5-80', '', 900) }, list(69))).toMatchObject({
      decision: 'go-on',
      code: 2,
    });
  });

  test('a file of a delivery alone is no trial of a cartridge', () => {
    expect(delivered(list(69)).cartridges).toEqual([]);
  });

  test('a critical finding that nothing was agreed of keeps the lot from being accepted', () => {
    const own = { 'a.yaml': BEFORE, 'delivery.csv': list(69, 'critical') };
    const { decision, remarks } = lotOf({ ...trials(22), ...own }, ...TEN);
    expect(decision).toBe('go-on');
    expect(remarks.join(' ')).toContain('a critical one keeps the lot from being accepted');
    expect(lotOf({ ...trials(22), ...own, 'delivery.csv': list(69, 'major') }, ...TEN).decision).toBe(
      'accept',
    );
  });

  test('a critical finding is not accepted on terms of another class, and it is said why', () => {
    const minor = 'target: {lot: {inspection: {minor: {limiting_quality: 15 %, acceptable_quality: 4 %}}}}\n';
    const files = { 'a.yaml': BEFORE + minor, 'delivery.csv': list(100, 'critical') };
    expect(lotOf(files)).toMatchObject({ decision: 'go-on', code: 2 });
    expect(lotOf({ ...files, 'delivery.csv': list(100, 'minor') }).decision).toBe('accept');
    expect(run(['lot', 'a.yaml'], files).out.replace(/\s+/g, ' ')).toContain(
      '1 cartridge has a critical finding, and of these nothing was agreed (target.lot.inspection.critical): that keeps the lot from being accepted.',
    );
  });

  test('a tried cartridge without a serial number may be one of a list, and adds nothing to it', () => {
    const nameless = trial('R5-1').replace(', serial: R5-1', '');
    expect(both({ 't.yaml': nameless }, list(68))).toMatchObject({
      decision: 'go-on',
      inspection: { inspected: 68 },
    });
    const leaks = nameless.replace('[]', '[{stage: delivery, slot: black, severity: minor}]');
    expect(both({ 't.yaml': leaks }, list(68)).inspection).toMatchObject({ inspected: 68, minor: 1 });
    expect(lotOf({ 't.yaml': nameless }).inspection?.inspected).toBe(1);
  });

  test('nothing found in a file without a cartridge is no cartridge', () => {
    const before = BEFORE.replace(LIST, 'inspection: []\n') + TERMS;
    expect(lotOf({ 'a.yaml': before }).inspection?.inspected).toBe(0);
  });

  test('serial numbers that differ only in case or in spaces around them are one', () => {
    const rows = 'serial,finding,severity\nR5-1,,\nr5-1,dented,minor\n" R5-1 ",,\n';
    expect(delivered(rows).inspection).toMatchObject({ inspected: 1, minor: 1 });
    const files = { 't.yaml': trial('r5-1') };
    expect(both(files, list(69)).inspection?.inspected).toBe(69);
    const { code, err } = run(['lot', 'a.yaml', 'b.yaml'], {
      'a.yaml': trial('R5-1'),
      'b.yaml': trial('r5-1'),
    });
    expect([code, err]).toEqual([3, expect.stringContaining('are one cartridge; each is tried once')]);
  });

  test('a cartridge of another lot with the same serial number is another cartridge', () => {
    const found = trial('R5-1').replace('inspection: []', LIST.trim());
    const files = {
      't.yaml': found,
      'delivery.csv': 'serial,lot,severity\nR5-1,R-5,none\nR5-1,M-3,critical\n',
    };
    expect(lotOf(files, '--lot', 'R-5').inspection).toMatchObject({ inspected: 1, critical: 0 });
  });

  test('findings in the trials themselves count, by slot or serial number', () => {
    const of = (inspection: string): (string | null)[][] => {
      const text = trial('R5-1').replace(
        /cartridges.*\n/,
        'cartridges: [{slot: black, serial: R5-1}, {slot: cyan, serial: R5-2}]\n',
      );
      const { inspection: found } = lotOf({
        'a.yaml': text.replace('inspection: []', `inspection: ${inspection}`),
      });
      return (found?.cartridges ?? []).map(({ serial, severity }) => [serial, severity]);
    };
    expect(of('[]')).toEqual([
      ['R5-1', 'none'],
      ['R5-2', 'none'],
    ]);
    expect(of('[{stage: delivery, slot: cyan, severity: minor}]')).toEqual([['R5-2', 'minor']]);
    expect(of('[{stage: delivery, serial: R5-1, severity: major}]')).toEqual([['R5-1', 'major']]);
    expect(of('[{stage: delivery, part: box, severity: minor}]')).toEqual([
      ['R5-1', 'minor'],
      ['R5-2', 'minor'],
    ]);
    expect(of('[{stage: delivery, serial: R5-9, severity: major}]')).toEqual([['R5-9', 'major']]);
    expect(of('[{stage: after, slot: cyan, severity: minor}]')).toEqual([]);
  });

  test('a cartridge in the list and in its trial is one cartridge, at the worst of both', () => {
    const files = { 't.yaml': trial('R5-1', '').replace('[]', '[{stage: delivery, severity: major}]') };
    const { inspection } = both(files, list(69));
    expect(inspection).toMatchObject({ inspected: 69, major: 1 });
  });

  test('cartridges tried and not inspected are said', () => {
    const { remarks } = both({ 't.yaml': trial('R5-99').replace('inspection: []\n', '') }, list(69));
    expect(remarks.join(' ')).toContain(
      '1 cartridge that was tried is not among those inspected on delivery',
    );
  });

  test('lots are not mixed, nor more inspected than the lot has, nor terms taken that contradict each other', () => {
    const refused = (files: Files): string => {
      const { code, err, out } = run(
        ['lot', ...Object.keys(files).filter((one) => one.endsWith('.yaml'))],
        files,
      );
      expect([code, out]).toEqual([3, '']);
      return err;
    };
    const own = { 'a.yaml': BEFORE + TERMS, 'delivery.csv': list(69) };
    expect(refused({ ...own, 'b.yaml': trial('S-1').replace('R-5', 'M-3') })).toContain(
      'lots are judged one by one',
    );
    const mixed = { ...own, 'delivery.csv': 'serial,severity,lot\n1,none,R-5\n2,none,M-3\n' };
    expect(refused(mixed)).toContain('a.yaml, serial 2 of lot M-3; lots are judged one by one');
    expect(refused({ ...own, 'a.yaml': (BEFORE + TERMS).replace('400', '50') })).toContain(
      '69 cartridges of lot R-5 were inspected, but it has only 50',
    );
    expect(refused({ ...own, 'b.yaml': trial('S-1', TERMS.replace('3 %', '4 %')) })).toContain(
      'target.lot.inspection.critical.limiting_quality is 3 in a.yaml, 4 in b.yaml',
    );
    expect(
      refused({
        ...own,
        'a.yaml': BEFORE + TERMS.replace('acceptable_quality: 1 %', 'acceptable_quality: 20 %'),
      }),
    ).toContain('target.lot.inspection.major.acceptable_quality');
  });
});

describe('how it is printed', () => {
  const files = {
    'a.yaml': BEFORE + TERMS,
    'delivery.csv': list(100, 'critical', 'minor', ...Array.from({ length: 12 }, () => 'minor')),
  };

  test('text has each class with its decision, and the worst of what was found', () => {
    const { out, code } = run(['lot', 'a.yaml'], files);
    expect(code).toBe(1);
    const flat = out.replace(/\s+/g, ' ');
    expect(flat).toContain('inspected 100 of 400: 86 with nothing to find, 1 critical, 0 major, 13 minor');
    expect(flat).toContain('plan inspect 69; each counts once');
    expect(flat).toContain('critical reject 1 found; accept with none');
    expect(flat).toContain('critical a.yaml, serial R5-1: seen');
    expect(flat).toContain('and 4 more');
    expect(flat).toContain(
      'Of trials nothing was agreed (target.lot.limiting_quality): the inspection decides alone.',
    );
    for (const line of out.split('\n')) expect(Array.from(line).length, line).toBeLessThanOrEqual(80);
    expect(out.trimEnd().split('\n').at(-1)).toBe('LOT: REJECT');
  });

  test('CSV has a few columns for each class', () => {
    const { out } = run(['lot', 'a.yaml', '--format', 'csv'], files);
    const [heads = '', row = ''] = out.split('\r\n');
    const cell = (head: string): string | undefined => row.split(',')[heads.split(',').indexOf(head)];
    expect(
      [
        'decision',
        'inspected',
        'critical_found',
        'critical_sample',
        'critical_accept',
        'critical_decision',
        'minor_found',
      ].map(cell),
    ).toEqual(['reject', '100', '1', '69', '0', 'reject', '13']);
  });
});

test('a verdict names the cartridge that a finding is of', () => {
  const trial = `trial: t\nmeter: {start: 0, end: 9000}\n${OWN}\ninspection: [{stage: after, part: seal, serial: "0012", severity: minor}]\n`;
  expect(run(['verdict', 't.yaml'], { 't.yaml': trial }).out).toContain(
    'minor    after     seal, serial 0012',
  );
});

test('note writes no finding into a list that stands in a file of its own', () => {
  const files = { 't.yaml': BEFORE, 'delivery.csv': list(3) };
  const { code, err, written } = run(['note', 't.yaml', '--finding', 'seal', '--severity', 'minor'], files);
  expect([code, written]).toEqual([3, {}]);
  expect(err).toContain('delivery.csv');
});
