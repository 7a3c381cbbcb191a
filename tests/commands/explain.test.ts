import { describe, expect, test } from 'vitest';
import { run } from '../run.ts';

/*
 * explain FIGURE [FILE]: what a figure means, and how it came out in a trial. Numbers are worked by hand
 * beside each test; the trials are invented.
 */

const FIGURES = [
  'pages',
  'sheets',
  'paper_mass',
  'waste_mass',
  'waste_per_thousand',
  'container_life',
  'yield',
  'yield_at_reference',
  'yield_to_rating',
  'toner_used',
  'toner_per_page',
  'projected_yield',
  'projected_yield_at_reference',
  'usage_per_area',
  'waste_fraction',
  'transferred_fraction',
  'temperature',
  'humidity',
  'absolute_humidity',
  'dew_point',
  'jams_per_thousand',
  'stops_per_thousand',
  'density_change',
  'colour_difference',
  'gloss_change',
  'density_to_reference',
  'colour_to_reference',
  'gloss_to_reference',
  'background',
  'fixing',
  'registration',
  'waste_ratio',
  'usage_ratio',
  'yield_ratio',
  'cost_per_thousand',
  'worst_finding',
];

interface Value {
  readonly of: string | null;
  readonly stat: string | null;
  readonly unit: string;
  readonly value: string | null;
  readonly u: string | null;
  readonly bound: string | null;
  readonly worked: string | null;
  readonly budget: readonly {
    readonly input: string;
    readonly value: string;
    readonly unit: string;
    readonly u: string;
    readonly contribution: string;
    readonly share: string;
  }[];
  readonly reason: string | null;
}

interface Explained {
  readonly figure: string;
  readonly unit: string;
  readonly words: string;
  readonly formula: string;
  readonly source: string;
  readonly file: string | null;
  readonly values: readonly Value[];
}

const explain = (figure: string, trial: string, ...options: string[]): Explained => {
  const { code, out } = run(['explain', figure, 'trial.yaml', '--format', 'json', ...options], {
    'trial.yaml': trial,
  });
  expect(code).toBe(0);
  return JSON.parse(out) as Explained;
};

const valueOf = (figure: string, trial: string, of: string | null = null): Value => {
  const found = explain(figure, trial).values.find((one) => one.of === of && one.stat === null);
  if (found === undefined) throw new Error(`there is no ${figure} of ${String(of)}`);
  return found;
};

const inWords = (figure: string, trial: string, ...options: string[]): string =>
  run(['explain', figure, 'trial.yaml', ...options], { 'trial.yaml': trial }).out;

const FULL = `
trial: Lantern Steps lot 40, machine Cinder
meter: {start: 20000, end: 32000}
coverage: {black: {value: 6 %, tolerance: 0.6 %}, cyan: 5 %}
duplex_share: 40 %
paper: {size: A4, grammage: 80 g/m²}
waste_container: {tare: 640 g, final: 706 g, capacity: 600 g}
cartridges:
  - {slot: black, start_mass: 812 g, end_mass: 452 g, fill_mass: 400 g, residual_mass: 10 g, rated_yield: 12000, price: 48 EUR}
  - {slot: cyan, start_mass: 790 g, end_mass: 490 g, exhausted_at: 30000, rated_yield: 9000, price: 50 EUR}
ambient:
  - {temperature: 21.5 °C, humidity: 47 %}
  - {temperature: 23.0 °C, humidity: 44 %}
events: [{kind: jam}, {kind: stop}, {kind: jam}]
prints:
  patches:
    - patch: black solid
      reference: {density: 1.45, lab: [18.2, 0.4, 0.9], gloss: 14}
      first: {density: 1.42, lab: [18.6, 0.3, 1.0], gloss: 12.5}
      last: {density: 1.38, lab: [19.3, 0.4, 1.1], gloss: 11.0}
  background: 0.012
  fixing: {before: 1.40, after: 1.33}
  registration: 0.08 mm
inspection: [{stage: after, part: fuser, severity: minor}]
reference:
  meter: {start: 14000, end: 20000}
  waste_container: {tare: 650 g, final: 680 g}
  cartridges:
    - {slot: black, start_mass: 790 g, end_mass: 640 g, exhausted_at: 20000}
    - {slot: cyan, start_mass: 780 g, end_mass: 630 g, exhausted_at: 20000}
`;

describe('what a figure means', () => {
  test.each(FIGURES)('%s: words, formula, unit, source, in at most 80 columns', (name) => {
    const { code, out, err } = run(['explain', name]);
    expect(code).toBe(0);
    expect(err).toBe('');
    expect(out.startsWith(`${name}  `)).toBe(true);
    for (const word of ['means', 'formula', 'unit', 'derived', 'source', 'limits'])
      expect(out).toMatch(new RegExp(`^  ${word} +\\S`, 'm'));
    expect(Math.max(...out.split('\n').map((line) => Array.from(line).length))).toBeLessThanOrEqual(80);
  });

  test('waste per thousand', () => {
    const { out } = run(['explain', 'waste_per_thousand']);
    expect(out).toContain('1000 × waste_mass / pages');
    expect(out).toMatch(/unit +g$/m);
    expect(out).toMatch(/source +common practice, no source/);
    expect(out).toContain('fails what was tried');
  });

  test('a limit on the air voids the trial', () => {
    expect(run(['explain', 'temperature']).out).toContain('voids the trial');
  });

  test('in JSON, without values', () => {
    const { code, out } = run(['explain', 'waste_fraction', '--format', 'json']);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      figure: 'waste_fraction',
      unit: '%',
      formula: '100 × waste_mass / toner_used in all',
      source: 'balance of masses; common practice, no source',
      file: null,
      values: [],
    });
  });
});

/** The value of an expression of numbers, + − × / and brackets; NaN of anything else. */
function evaluate(expression: string): number {
  const tokens = expression.replaceAll('cm²', '').match(/\d+(?:\.\d+)?|[+\-−×/()]|[^\s]/g) ?? [];
  let at = 0;
  const factor = (): number => {
    const token = tokens[at++] ?? '';
    if (token === '(') {
      const inner = sum();
      return tokens[at++] === ')' ? inner : NaN;
    }
    if (token === '−' || token === '-') return -factor();
    return /^\d/.test(token) ? Number(token) : NaN;
  };
  const product = (): number => {
    let value = factor();
    for (let sign = tokens[at]; sign === '×' || sign === '/'; sign = tokens[at]) {
      at += 1;
      value = sign === '×' ? value * factor() : value / factor();
    }
    return value;
  };
  const sum = (): number => {
    let value = product();
    for (let sign = tokens[at]; sign === '+' || sign === '−'; sign = tokens[at]) {
      at += 1;
      value = sign === '+' ? value + product() : value - product();
    }
    return value;
  };
  const value = sum();
  return at === tokens.length ? value : NaN;
}

test('the evaluator of this test reckons as on paper', () => {
  expect(evaluate('1000 × (948 − 640) / 18000')).toBeCloseTo(17.1111111, 6);
  expect(evaluate('12000 × (1 − 0.4 / 2) − 2 × 3 + 1')).toBe(9595);
  expect(evaluate('30 / (623.7 cm² × 6 / 100)')).toBeCloseTo(0.80166747, 8);
  expect(evaluate('-4 − -1')).toBe(-3);
  expect(evaluate('start − 4')).toBeNaN();
  expect(evaluate('3 4')).toBeNaN();
});

describe('the formula with the trial’s numbers comes to the value printed', () => {
  const holds = (figure: string, of: string | null, trial: string): void => {
    const { value, worked } = valueOf(figure, trial, of);
    const came = evaluate(worked ?? '');
    expect(Math.abs(came - Number(value)), `${figure}: ${worked ?? ''}`).toBeLessThanOrEqual(
      1e-6 * Math.abs(Number(value)),
    );
  };

  test.each([
    ['pages', null],
    ['sheets', null],
    ['paper_mass', null],
    ['waste_mass', null],
    ['waste_per_thousand', null],
    ['container_life', null],
    ['yield', 'black'],
    ['yield', 'cyan'],
    ['yield_at_reference', 'black'],
    ['yield_at_reference', 'cyan'],
    ['yield_to_rating', 'cyan'],
    ['toner_used', 'black'],
    ['toner_per_page', 'black'],
    ['toner_per_page', 'cyan'],
    ['projected_yield', 'black'],
    ['projected_yield_at_reference', 'black'],
    ['usage_per_area', 'black'],
    ['waste_fraction', null],
    ['transferred_fraction', null],
    ['jams_per_thousand', null],
    ['stops_per_thousand', null],
    ['density_change', 'black solid'],
    ['density_to_reference', 'black solid'],
    ['gloss_change', 'black solid'],
    ['gloss_to_reference', 'black solid'],
    ['fixing', null],
    ['waste_ratio', null],
    ['usage_ratio', 'cyan'],
    ['yield_ratio', 'cyan'],
    ['cost_per_thousand', 'black'],
  ])('%s of %s', (figure, of) => holds(figure, of, FULL));

  test('as it stands: 1000 × 66 / 12000', () => {
    expect(valueOf('waste_per_thousand', FULL)).toMatchObject({ value: '5.5', worked: '1000 × 66 / 12000' });
    expect(inWords('waste_per_thousand', FULL)).toMatch(/= 1000 × 66 \/ 12000\n/);
  });

  test('with m₀', () => {
    const base = `${FULL}non_image_usage: {black: 3 mg}\n`;
    holds('yield_at_reference', 'black', base);
    holds('projected_yield_at_reference', 'black', base);
    holds('yield_at_reference', 'cyan', base);
    // A figure of one formula has no other to choose.
    holds('toner_per_page', 'black', base);
  });

  test('with the duplex share of sheets', () => {
    holds('sheets', null, `${FULL}duplex_basis: sheets\n`);
  });

  test('several containers', () => {
    const two = FULL.replace(
      'waste_container: {tare: 640 g, final: 706 g, capacity: 600 g}',
      'waste_container: [{tare: 640 g, final: 706 g}, {tare: 650 g, final: 662 g}]',
    );
    expect(valueOf('waste_mass', two)).toMatchObject({ value: '78' });
    holds('waste_mass', null, two);
  });

  test('a meter that rolled over', () => {
    const rolled = 'trial: Lantern Steps\nmeter: {start: 99000, end: 4000, digits: 5}\n';
    expect(valueOf('pages', rolled).value).toBe('5000');
    holds('pages', null, rolled);
  });

  test('two clicks a page, and pages that are not of the trial', () => {
    const other =
      'trial: Lantern Steps\nmeter: {start: 20000, end: 32000, clicks_per_page: 2, other_pages: 100}\n';
    expect(valueOf('pages', other).value).toBe('5900');
    holds('pages', null, other);
    // The one cartridge taken for granted printed the trial's pages.
    expect(valueOf('yield', other).value).toBe('5900');
    holds('yield', null, other);
  });

  test('a projection by gauge', () => {
    const gauged = (more: string): string => `
trial: Lantern Steps
meter: {start: 20000, end: 32000}
coverage: 6 %
cartridges: [{slot: black, gauge: {start: 100 %, end: 40 %}${more}}]
`;
    holds('projected_yield', 'black', gauged(''));
    holds('projected_yield', 'black', gauged(', fill_mass: 400 g'));
  });

  test('a projection by weight, with what stays in the cartridge and without, whatever the gauge says', () => {
    const weighed = (more: string): string => `
trial: Lantern Steps
meter: {start: 20000, end: 32000}
coverage: 6 %
cartridges: [{slot: black, start_mass: 812 g, end_mass: 452 g, fill_mass: 400 g${more}}]
`;
    for (const more of ['', ', residual_mass: 10 g', ', gauge: {start: 100 %, end: 40 %}'])
      holds('projected_yield', 'black', weighed(more));
  });

  test('a cartridge that had printed before, and one whose life is counted in pages', () => {
    const of = (cartridge: string): string =>
      `trial: Lantern Steps\nmeter: {start: 20000, end: 32000}\ncoverage: 6 %\ncartridges: [{slot: black, ${cartridge}}]\n`;
    expect(valueOf('yield', of('exhausted_at: 32000'), 'black').worked).toBe('(32000 − 20000) / 1');
    const used = of('used_before: 3000, exhausted_at: 32000');
    expect(valueOf('yield', used, 'black')).toMatchObject({
      value: '15000',
      worked: '(32000 − 20000) / 1 + 3000',
    });
    holds('yield', 'black', used);
    expect(valueOf('yield_at_reference', of('life: pages'), 'black')).toMatchObject({
      value: '12000',
      worked: '12000',
    });
  });

  test('batches on paper and with a two-sided share of their own, two clicks a page', () => {
    const batches = (list: string): string => `
trial: Lantern Steps
meter: {start: 20000, end: 32000, clicks_per_page: 2}
duplex_share: 40 %
paper: {size: A4, grammage: 80 g/m²}
batches: [${list}]
`;
    const kinds = batches(
      '{end: 24000, duplex_share: 0 %}, {end: 28000, paper: {size: A3, grammage: 90}}, {end: 30000, other: true}',
    );
    // Sheets do not care for the paper: 2000 one-sided, and 3000 × (1 − 0.4/2).
    expect(valueOf('sheets', kinds)).toMatchObject({
      value: '4400',
      worked: '2000 × (1 − 0 / 2) + 3000 × (1 − 0.4 / 2)',
    });
    holds('paper_mass', null, kinds);
    holds('paper_mass', null, `${kinds}duplex_basis: sheets\n`);
    holds('sheets', null, `${kinds}duplex_basis: sheets\n`);
    const alike = batches('{end: 24000, coverage: 5 %}');
    expect(valueOf('paper_mass', alike).worked).toBe('4800 × 0.21 × 0.297 × 0.08');
  });

  test('several cartridges of a slot are paid together: 1000 × (48 + 46) / (14400 + 12000), and another slot beside', () => {
    const two = `
trial: Lantern Steps
meter: {start: 20000, end: 42000}
coverage: {black: 6 %, cyan: 5 %}
cartridges:
  - {slot: black, exhausted_at: 32000, price: 48 EUR}
  - {slot: black, exhausted_at: 42000, price: 46 EUR}
  - {slot: cyan, exhausted_at: 42000, price: 50 EUR}
`;
    expect(valueOf('cost_per_thousand', two).worked).toBe(
      '1000 × (48 + 46) / (14400 + 12000) + 1000 × 50 / 22000',
    );
    holds('cost_per_thousand', null, two);
  });

  test('the least of the readings is no formula', () => {
    const stats = explain('temperature', FULL).values.map(({ stat, worked }) => [stat, worked]);
    expect(stats).toEqual(['least', 'greatest', 'mean'].map((stat) => [stat, `${stat} of temperature`]));
  });

  test('a figure in all is made of the figures of its parts: 360 + 300', () => {
    expect(valueOf('toner_used', FULL).value).toBe('660');
    holds('toner_used', null, FULL);
    holds('cost_per_thousand', null, FULL);
  });

  test('a colour difference stands with the colours it is of', () => {
    const worked = (figure: string, trial: string): unknown => valueOf(figure, trial, 'black solid').worked;
    expect(worked('colour_difference', FULL)).toBe('ΔE00([19.3, 0.4, 1.1], [18.6, 0.3, 1])');
    expect(worked('colour_to_reference', FULL)).toBe('ΔE00([19.3, 0.4, 1.1], [18.2, 0.4, 0.9])');
    const theirs = FULL.replace(/ *reference: \{density.*\n/, '').replace(
      'reference:\n',
      'reference:\n  prints: {patches: [{patch: black solid, last: {lab: [18.1, 0.5, 0.7]}}]}\n',
    );
    expect(worked('colour_to_reference', theirs)).toBe('ΔE00([19.3, 0.4, 1.1], [18.1, 0.5, 0.7])');
  });

  test('a second cartridge is held against the first of the reference', () => {
    const two = `
trial: Lantern Steps
meter: {start: 20000, end: 32000}
coverage: 5 %
cartridges:
  - {slot: black, start_mass: 800 g, end_mass: 620 g, exhausted_at: 26000}
  - {slot: black, start_mass: 800 g, end_mass: 650 g, exhausted_at: 32000}
reference:
  meter: {start: 10000, end: 20000}
  cartridges:
    - {slot: black, start_mass: 800 g, end_mass: 700 g, exhausted_at: 14000}
    - {slot: black, start_mass: 800 g, end_mass: 600 g, exhausted_at: 20000}
`;
    // black 30 mg, black#2 25 mg; the reference 100 g / 4000 = 25 mg.
    expect(valueOf('usage_ratio', two, 'black').value).toBe('1.2');
    expect(valueOf('usage_ratio', two, 'black#2').value).toBe('1');
    for (const of of ['black', 'black#2']) {
      holds('usage_ratio', of, two);
      holds('yield_ratio', of, two);
    }
  });

  test('the reference coverage of limits laid over the file', () => {
    const { code, out } = run(
      ['explain', 'yield_at_reference', 'trial.yaml', '--limits', 'house.yaml', '--format', 'json'],
      { 'trial.yaml': FULL, 'house.yaml': 'reference_coverage: 4 %\n' },
    );
    expect(code).toBe(0);
    const cyan = (JSON.parse(out) as Explained).values.find(({ of }) => of === 'cyan');
    expect(cyan).toMatchObject({ value: '12500', worked: '10000 × 5 / 4' });
  });
});

describe('the uncertainty budget', () => {
  const DERIVED = FIGURES.flatMap((figure) =>
    explain(figure, FULL).values.flatMap((value) =>
      value.budget.length > 0
        ? [[`${figure} of ${String(value.of)} ${value.stat ?? ''}`, value] as const]
        : [],
    ),
  );

  test('most figures of this trial have one', () => {
    expect(DERIVED.length).toBeGreaterThan(25);
  });

  test.each(DERIVED)('%s: shares sum to 1, largest first, and are those of the contributions', (_, value) => {
    const shares = value.budget.map(({ share }) => Number(share));
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 10);
    expect(shares).toEqual([...shares].sort((a, b) => b - a));
    const u = Number(value.u);
    for (const { contribution, share } of value.budget)
      expect(Number(contribution) ** 2 / u ** 2).toBeCloseTo(Number(share), 9);
  });

  test('usage_per_area: the coverage brings nearly all, (0.1/√3)² of (0.1/√3)² + (√(1/6)/360)²', () => {
    // 0.00333333 against 0.00000128602: 0.999614 and twice 0.000192901.
    const { budget } = valueOf('usage_per_area', FULL, 'black');
    expect(budget.map(({ input, value, unit }) => [input, value, unit])).toEqual([
      ['coverage.black', '6', '%'],
      ['cartridges[1].start_mass', '812', 'g'],
      ['cartridges[1].end_mass', '452', 'g'],
    ]);
    expect(Number(budget[0]?.u)).toBeCloseTo(0.6 / Math.sqrt(3), 10);
    expect(Number(budget[1]?.u)).toBeCloseTo(1 / Math.sqrt(12), 10);
    const [coverage, weight] = [0.01 / 3, 1 / 12 / 360 ** 2];
    expect(Number(budget[0]?.share)).toBeCloseTo(coverage / (coverage + 2 * weight), 8);
    expect(Number(budget[1]?.share)).toBeCloseTo(weight / (coverage + 2 * weight), 8);
    expect(Number(budget[0]?.share)).toBeCloseTo(0.999614, 6);
  });

  test('text names the reading that would pay most: waste of 66 g with a finer scale at the end alone', () => {
    // u² of 1 g and of 0.1 g: 100 to 1. U = 2 √(1.01/12) = 0.58 g, with the tare ten times better 2 √(0.02/12) = 0.082 g.
    const text = inWords('waste_mass', FULL.replace('final: 706 g', 'final: 706.0 g'));
    expect(text).toMatch(/waste_container\.tare +640 g +0\.29 +0\.29 +99 %/);
    expect(text).toMatch(/waste_container\.final +706 g +0\.029 +0\.029 +1\.0 %/);
    expect(text.replace(/\s+/g, ' ')).toContain(
      'This would help most: waste_container.tare. Known 10 times better, it would bring U from 0.58 to 0.082 g.',
    );
  });

  test('a reading that stands twice counts once, a shared error stands as its own input', () => {
    const shared = FULL.replace('meter:', 'instruments: {thermometer: {max_error: 0.3 °C}}\nmeter:');
    const mean = explain('temperature', shared).values.find(({ stat }) => stat === 'mean');
    // 21.5 and 23.0 °C: s² = 1.5²/2, s/√2 = 0.75 for what was not sampled; 0.3/√3 = 0.1732 common to both;
    // 0.1/√12/2 = 0.0144 from each.
    expect(mean?.budget.map(({ input }) => input)).toEqual([
      'ambient',
      'instruments.thermometer.max_error',
      'ambient[1].temperature',
      'ambient[2].temperature',
    ]);
    expect(Number(mean?.budget[0]?.contribution)).toBeCloseTo(0.75, 9);
    expect(Number(mean?.budget[1]?.contribution)).toBeCloseTo(0.3 / Math.sqrt(3), 9);
    expect(Number(mean?.budget[2]?.contribution)).toBeCloseTo(0.1 / Math.sqrt(12) / 2, 9);
  });

  test('an exact figure has none, and says so', () => {
    expect(valueOf('pages', FULL)).toMatchObject({ u: '0', budget: [] });
    expect(inWords('pages', FULL)).toContain('None of its inputs has an uncertainty');
  });

  test('a colour difference of 0 has an uncertainty, from all six readings', () => {
    const alike = FULL.replace(
      'last: {density: 1.38, lab: [19.3, 0.4, 1.1]',
      'last: {density: 1.38, lab: [18.6, 0.3, 1.0]',
    );
    const { value, u, budget } = valueOf('colour_difference', alike, 'black solid');
    expect(value).toBe('0');
    expect(Number(u)).toBeGreaterThan(0);
    expect(budget).toHaveLength(6);
  });
});

describe('how it came out', () => {
  test('a bound is said as one: 12 000 pages of black, which was not exhausted', () => {
    expect(valueOf('yield', FULL, 'black')).toMatchObject({ value: '12000', bound: 'at_least' });
    expect(inWords('yield', FULL)).toContain('at least 12000 page');
  });

  test('a severity in its word', () => {
    expect(valueOf('worst_finding', FULL, 'fuser').value).toBe('minor');
    expect(inWords('worst_finding', FULL)).toMatch(/= minor/);
  });

  test('the unit of money is its currency: 1000 × 50 / 10 000 = 5 EUR', () => {
    expect(valueOf('cost_per_thousand', FULL, 'cyan')).toMatchObject({ value: '5', unit: 'EUR' });
  });

  test('not derived: why', () => {
    const unweighed = FULL.replace('final: 706 g', 'final:');
    expect(valueOf('waste_mass', unweighed)).toMatchObject({
      value: null,
      u: null,
      bound: null,
      worked: null,
      budget: [],
    });
    expect(valueOf('waste_mass', unweighed).reason).toContain('waste_container.final');
    expect(inWords('waste_mass', unweighed)).toMatch(/not derived: .*waste_container\.final/);
  });

  test('no part to derive it for', () => {
    const trial = 'trial: Lantern Steps\nmeter: {start: 1, end: 2}\n';
    expect(inWords('toner_per_page', `${trial}cartridges: [{slot: drum, life: pages}]\n`)).toContain(
      'This trial has no part to derive it for.',
    );
    expect(inWords('density_change', trial)).toContain('not derived: prints.patches is still to be read');
  });

  test('every figure, in at most 80 columns, and nothing in it that is not meant for people', () => {
    for (const figure of FIGURES) {
      const text = inWords(figure, FULL);
      expect(
        Math.max(...text.split('\n').map((line) => Array.from(line).length)),
        figure,
      ).toBeLessThanOrEqual(80);
      expect(text, figure).not.toMatch(/NaN|Infinity|undefined|\[object|their_/);
    }
  });

  test('names from the file do no harm', () => {
    const evil = FULL.replaceAll('black solid', '"a\\e[31mred"');
    const { out } = run(['explain', 'density_change', 'trial.yaml'], { 'trial.yaml': evil });
    expect(out).toContain('red');
    expect(out).not.toContain('\u001b');
  });
});

describe('exit codes', () => {
  test('0 whatever the verdict', () => {
    const failing = `${FULL}limits: {waste_per_thousand: {max: 1 g}}\n`;
    expect(run(['verdict', 'trial.yaml'], { 'trial.yaml': failing }).code).toBe(1);
    expect(run(['explain', 'waste_per_thousand', 'trial.yaml'], { 'trial.yaml': failing }).code).toBe(0);
  });

  test('standard input', () => {
    const { code, out } = run(['explain', 'pages', '-', '--format', 'json'], {}, FULL);
    expect(code).toBe(0);
    expect((JSON.parse(out) as Explained).values[0]?.value).toBe('12000');
  });

  test('4: an unknown figure, with the nearest suggested', () => {
    const { code, out, err } = run(['explain', 'waste_per_thousnd']);
    expect(code).toBe(4);
    expect(out).toBe('');
    expect(err).toContain('"waste_per_thousnd"');
    expect(err).toContain('did you mean "waste_per_thousand"?');
    expect(run(['explain', 'Waste-Mass']).err).toContain('"waste_mass"');
  });

  test('4: one that is near none, with all of them', () => {
    const { code, err } = run(['explain', 'zebra crossing']);
    expect(code).toBe(4);
    for (const name of FIGURES) expect(err).toContain(name);
  });

  test.each([
    [['explain']],
    [['explain', 'pages', 'trial.yaml', '--format', 'csv']],
    [['explain', 'pages', 'trial.yaml', 'more.yaml']],
    [['explain', 'pages', '--unheard-of']],
    [['explain', 'pages', 'trial.yaml', '--limits', 'no-such-preset']],
  ])('4: %j', (argv) => {
    const { code, out, err } = run(argv, { 'trial.yaml': FULL, 'more.yaml': FULL });
    expect(code).toBe(4);
    expect(out).toBe('');
    expect(err).not.toBe('');
  });

  test('3: a file that is no trial, with what is wrong and where', () => {
    for (const format of ['text', 'json']) {
      const { code, out, err } = run(['explain', 'pages', 'trial.yaml', '--format', format], {
        'trial.yaml': 'trial: Lantern Steps\nmeter: {start: 20, end: 10}\n',
      });
      expect(code).toBe(3);
      expect(out).toBe('');
      expect(err).toMatch(/^trial\.yaml:2:\d+: /);
    }
  });

  test('3: a file that is not there, a limits file that is not', () => {
    expect(run(['explain', 'pages', 'missing.yaml']).code).toBe(3);
    expect(
      run(['explain', 'pages', 'trial.yaml', '--limits', 'missing.yaml'], { 'trial.yaml': FULL }).code,
    ).toBe(3);
  });
});

test('a slot of a very long name leaves no line over 80 columns', () => {
  const slot = 'black '.repeat(60).trim();
  const trial = (more: string) =>
    `trial: Lantern Steps\nmeter: {start: 10, end: 20}\ncartridges: [{slot: ${slot}${more}}]\n`;
  for (const text of [trial(''), trial(', start_mass: 700 g, end_mass: 690 g, fill_mass: 100 g')]) {
    const { code, out } = run(['explain', 'projected_yield', 'trial.yaml'], { 'trial.yaml': text });
    expect(code).toBe(0);
    expect(out).toContain('projected yield, black black');
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  }
});

test('what is near to no name is told in lines of 80 columns; a part of a key, and what is judged by eye, lead to it', () => {
  for (const name of ['streaks', 'by_eye'])
    expect(run(['explain', name]).err).toMatch(/did you mean\s+"prints\.by_eye"\?\n$/);
  expect(run(['explain', 'exhausted_at']).err).toContain('"cartridges.exhausted_at"');
  const { code, err } = run(['explain', 'zzzzz']);
  expect(code).toBe(4);
  expect(err).toContain('waste_per_thousand');
  expect(Math.max(...err.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
});
