import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { width } from '../../src/output/columns.ts';
import { ROOT, run } from '../run.ts';

interface PlanJson {
  readonly sheets: number | null;
  readonly reams: number | null;
  readonly paper_mass: string | null;
  readonly hours: string | null;
  readonly days: number | null;
  readonly containers: number | null;
  readonly cartridges: Readonly<Record<string, number | null>>;
  readonly checkpoints: readonly { readonly batch: number; readonly end: number | null }[];
  readonly replicates: number | null;
  readonly layouts: readonly { machines: number; each: number; cartridges: number }[];
}

const json = (trial: string): PlanJson =>
  JSON.parse(run(['plan', 't.yaml', '--format', 'json'], { 't.yaml': trial }).out) as PlanJson;

const text = (trial: string, ...options: string[]): string =>
  run(['plan', 't.yaml', ...options], { 't.yaml': trial }).out;

const FULL = `trial: {title: Lot 9, started: 2026-02-26}
machine:
  rated_speed: 30
  parts: [{part: fuser, rated_life: 100000, used: 95000}, {part: belt, rated_life: 90000, used: 1000}]
instruments: {scale: {resolution: 1 g, calibrated_until: 2026-02-28}}
meter: {start: 112480, end: }
coverage: 6 %
duplex_share: 40 %
cartridges: [{slot: black, rated_yield: 10000}, {slot: cyan, rated_yield: 30000, used_before: 20000}]
waste_container: {capacity: 200 g}
limits: {waste_per_thousand: {max: 25 g}}
target: {pages: 18000, batch: 5000, waste_per_thousand: 20 g, hours_per_day: 4, control_pages: 30}
`;

describe('the plan in JSON', () => {
  const plan = json(FULL);

  it('counts sheets and paper', () => {
    // 18000 × (1 − 0.4/2); (14400 + 30) × 1.02 / 500 = 29.4 reams.
    expect(plan.sheets).toBe(14400);
    expect(plan.reams).toBe(30);
    // A4 at 80 g/m² is 0.21 m × 0.297 m × 80 g/m² = 4.9896 g (ISO 216, ISO 536).
    expect(plan.paper_mass).toBe('71.85024');
  });

  it('counts hours and days', () => {
    expect(plan.hours).toBe('10');
    expect(plan.days).toBe(3);
  });

  it('counts containers by their capacity', () => {
    // 18 × 20 g = 360 g.
    expect(plan.containers).toBe(2);
  });

  it('counts cartridges at the coverage of the trial', () => {
    // 10000 × 5/6 = 8333 pages a cartridge; of 25000 a begun one has 5000 left.
    expect(plan.cartridges).toEqual({ black: 3, cyan: 2 });
  });

  it('lists the checkpoints, the last at the end', () => {
    expect(plan.checkpoints).toEqual([
      { batch: 1, end: 117480 },
      { batch: 2, end: 122480 },
      { batch: 3, end: 127480 },
      { batch: 4, end: 130480 },
    ]);
  });

  it('asks for no number of cartridges where nothing is claimed', () => {
    expect(plan.replicates).toBeNull();
  });
});

describe('checkpoints', () => {
  it('are a thousand pages apart unless said, in clicks of the counter, and roll over with it', () => {
    const { checkpoints } = json(
      'trial: t\nmeter: {start: 9990, digits: 4, clicks_per_page: 2}\ntarget: {pages: 2500}\n',
    );
    expect(checkpoints.map(({ end }) => end)).toEqual([1990, 3990, 4990]);
  });

  it('have no reading to stop at before the meter was read', () => {
    expect(json('trial: t\nmeter: {start: }\ntarget: {pages: 1500}\n').checkpoints).toEqual([
      { batch: 1, end: null },
      { batch: 2, end: null },
    ]);
  });

  it('are not listed by the million', () => {
    const trial = 'trial: t\nmeter: {start: 0}\ntarget: {pages: 1000000000000, batch: 1}\n';
    expect(json(trial).checkpoints).toEqual([]);
    expect(text(trial)).toContain('target.batch makes more than 10000 batches');
  });
});

describe('how many cartridges', () => {
  const target = (rest: string): PlanJson => json(`trial: t\nmeter: \ntarget: {${rest}}\n`);

  // Cartridges over machines: chance of support simulated anew in tests/statistics/claim-power.test.ts.
  it('for a claim: cartridges over machines, the fewest machines first', () => {
    const plan = target('claim: 10000, expected_yield: 10350, expected_sd: 350, confidence: 95, power: 90');
    const totals = plan.layouts.map(({ cartridges }) => cartridges);
    expect(plan.layouts[0]?.machines).toBe(3);
    expect(totals).toEqual(totals.toSorted((a, b) => b - a));
    expect(plan.replicates).toBe(totals.at(-1));
  });

  it('machines that differ take more machines, and too close a claim takes more than anyone would try', () => {
    const alike = target('claim: 10000, expected_yield: 10400, expected_sd: 350');
    const differing = 'claim: 10000, expected_yield: 10400, expected_sd: 350, expected_machine_sd: 400';
    expect(target(differing).replicates).toBeGreaterThan(alike.replicates ?? Infinity);
    const close =
      'trial: t\nmeter: \ntarget: {claim: 10000, expected_yield: 10100, expected_sd: 350, expected_machine_sd: 300}\n';
    expect(json(close).replicates).toBeNull();
    expect(text(close)).toContain('machines would not show it');
  });

  it('a coverage known within a tolerance takes more too', () => {
    const trial = (coverage: string): string =>
      `trial: t\nmeter: \ncoverage: ${coverage}\ntarget: {claim: 10000, expected_yield: 10600, expected_sd: 350}\n`;
    const known = json(trial('5 %')).replicates ?? Infinity;
    expect(json(trial('{value: 5 %, tolerance: 0.15 %}')).replicates).toBeGreaterThan(known);
  });

  it('never fewer than nine', () => {
    expect(target('claim: 10000, expected_yield: 10800, expected_sd: 350').replicates).toBe(9);
  });

  it('for an interval of a half-width: 70', () => {
    // Computed with R 4.2.2: the smallest n with qt(0.95, n − 1) · 1/√n ≤ 0.2.
    expect(target('half_width: 20, expected_sd: 100').replicates).toBe(70);
  });

  it('says why where none follows', () => {
    const trial = 'trial: t\nmeter: \ntarget: {claim: 10000, expected_yield: 9000, expected_sd: 300}\n';
    expect(json(trial).replicates).toBeNull();
    expect(text(trial)).toContain('no number of cartridges supports it');
    expect(text('trial: t\nmeter: \ntarget: {claim: 10000}\n')).toContain(
      'target.expected_yield is not given',
    );
  });

  it('for a share of failing ones that is asked for', () => {
    const printed = text('trial: t\nmeter: \ntarget: {confidence: 95}\n', '--failing', '5 %');
    expect(printed).toContain('no more than 5 % fail: 59 with none failed, 93 with one');
    expect(printed).not.toContain('10 % fail');
  });
});

describe('the scale', () => {
  it('is fine enough when the guard band takes a tenth of the margin', () => {
    // Room 5 g per thousand over 18 thousand pages: U = 2u ≤ 9 g on two containers, each weighed twice:
    // u = √(4 r²/12) = 4.5 g, r = 4.5 √3 = 7.79 g.
    expect(text(FULL)).toContain('The scale: 7.7 g or finer');
    expect(text(FULL).replace(/\s+/g, ' ')).toContain('The scale at hand (1 g) will do.');
  });

  it('says when its error alone is too much', () => {
    const trial = FULL.replace('resolution: 1 g', 'resolution: 1 g, max_error: 9 g');
    expect(text(trial).replace(/\s+/g, ' ')).toContain(
      'instruments.scale.max_error alone takes more than a tenth of the margin',
    );
  });

  it('says when nothing is left of the room', () => {
    expect(text(FULL.replace('20 g, hours', '26 g, hours')).replace(/\s+/g, ' ')).toContain(
      'by target.waste_per_thousand the limit is passed already',
    );
  });
});

describe('the work sheet', () => {
  const printed = text(FULL).replace(/\s+/g, ' ');

  it('tells what comes in between', () => {
    expect(printed).toContain('fuser reaches its rated life of 100000 pages at meter 117480');
    expect(printed).not.toContain('The belt');
    // 26, 27 and 28 February are three days of 4 h: within the calibration.
    expect(printed).not.toContain('calibration of the scale');
    expect(text(FULL.replace('started: 2026-02-26', 'started: 2026-02-27')).replace(/\s+/g, ' ')).toContain(
      'The calibration of the scale ends on 2026-02-28, the run on 2026-03-01',
    );
    expect(printed).toContain('waste container is full at about meter 122480');
    expect(printed).toContain('cartridge of black is expected to be exhausted at about meter 120813');
  });

  it('carries the cautions', () => {
    for (const caution of ['unplug', 'vacuum cleaner', 'open flame', 'cold water', 'manual of the machine']) {
      expect(printed).toContain(caution);
    }
  });

  it.each(['before-the-run', 'four-colour-pass', 'under-way', 'rolled-over'])(
    '%s: plain text of at most 80 columns, on two pages at most',
    (name) => {
      for (const options of [[], ['--record']]) {
        const { out, code } = run(['plan', `examples/${name}.yaml`, ...options]);
        expect(code).toBe(0);
        const lines = out.split('\n');
        expect(Math.max(...lines.map((line) => width(line)))).toBeLessThanOrEqual(80);
        expect(lines.length).toBeLessThanOrEqual(130);
        expect(out).not.toMatch(/NaN|Infinity|undefined|null/);
      }
    },
  );

  it('is printed for the barest trial, with what is missing', () => {
    const bare = text('trial: t\nmeter: \n');
    expect(bare).toContain('pages          – target.pages is not given');
    expect(json('trial: t\nmeter: \n')).toEqual({
      format: 1,
      tool: expect.stringMatching(/^tallytare /) as string,
      sheets: null,
      reams: null,
      paper_mass: null,
      hours: null,
      days: null,
      containers: null,
      cartridges: {},
      checkpoints: [],
      replicates: null,
      layouts: [],
    });
  });
});

describe('the sheet to fill in', () => {
  const sheet = run(['plan', 'examples/four-colour-pass.yaml', '--record']).out;

  it('has every reading of the run in its order', () => {
    const places = [
      'black start_mass',
      'waste container tare',
      'meter.start',
      'black solid, first',
      'stop at',
      '23150  ___',
      '32150  ___',
      'meter.end',
      'waste container final',
      'yellow end_mass',
      'sheets_used',
      'cyan solid, last',
      'signature',
    ].map((reading) => sheet.indexOf(reading));
    expect(places).not.toContain(-1);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
  });

  it('has a line for every container and cartridge that the plan expects', () => {
    const record = run(['plan', 't.yaml', '--record'], { 't.yaml': FULL }).out;
    for (const reading of [
      'waste container 2 tare',
      'waste container 2 final',
      'black#3 end_mass',
      'cyan#2 start_mass',
    ]) {
      expect(record).toContain(`${reading} ___`);
    }
    expect(record).not.toContain('black#4');
    expect(record).toContain('WHAT COMES IN BETWEEN');
  });

  it('has the limits, the care before the work, the prints by eye, and every part', () => {
    const places = [
      'LIMITS\n',
      'waste per thousand pages: at most 25 g\n',
      'CARE\n',
      'BEFORE THE RUN',
      'PRINTS BY EYE',
      'judged by ___',
      'charging unit: ',
      'belt: ',
      'waste channel: ',
    ].map((part) => sheet.indexOf(part));
    expect(places).not.toContain(-1);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    const limited =
      'trial: T\nmeter:\nlimits: {worst_finding: {of: fuser, max: minor}, temperature: {min: 18}}\n';
    expect(run(['plan', 't.yaml', '--record'], { 't.yaml': limited }).out).toContain(
      'LIMITS\n  temperature: at least 18 °C; else the trial proves nothing\n  worst finding, fuser: at most minor\n',
    );
  });

  it('has the parts that the file lists, where it does', () => {
    const listed = `trial: T
meter:
inspection:
  - {stage: before, part: chip, severity: }
  - {stage: after, part: sleeve, slot: cyan, severity: , note: turn it once}
`;
    for (const options of [[], ['--record']]) {
      const { out } = run(['plan', 't.yaml', ...options], { 't.yaml': listed });
      expect(out).toMatch(/chip/);
      expect(out.replace(/\s+/g, ' ')).toMatch(/sleeve, cyan:? turn it once/);
      expect(out).not.toContain('packaging');
      expect(out).not.toContain('waste channel');
      expect(out).toContain('control page');
    }
  });

  it('is no format beside another', () => {
    expect(run(['plan', 'examples/four-colour-pass.yaml', '--record', '--format', 'json']).code).toBe(4);
  });
});

it('CSV says the same, a row each', () => {
  const rows = run(['plan', 't.yaml', '--format', 'csv'], { 't.yaml': FULL }).out.split('\r\n');
  expect(rows).toContain('sheets,,14400,sheet');
  expect(rows).toContain('cartridges,black,3,1');
  expect(rows).toContain('checkpoint,4,130480,meter');
});

it('refuses what is no trial, with its place', () => {
  const { code, out, err } = run(['plan', 't.yaml'], { 't.yaml': 'trial: t\nmeter: {start: x}\n' });
  expect(code).toBe(3);
  expect(out).toBe('');
  expect(err).toContain('t.yaml:2:16');
  expect(run(['plan', 't.yaml', '--failing', '0'], { 't.yaml': FULL }).code).toBe(4);
});

it('the example’s plan is for the example', () => {
  expect(readFileSync(join(ROOT, 'examples', 'before-the-run.yaml'), 'utf8')).toContain('pages: 18000');
});
