import { describe, expect, test } from 'vitest';
import { run } from '../run.ts';

/*
 * Points of one trial whose batches have their own coverage and whose cartridge was weighed on the way. The trial is
 * invented; lines are worked by hand beside each test. A gram over 10,000 pages is 0.1 mg a page.
 */

interface FitJson {
  readonly m0: string;
  readonly u_m0: string;
  readonly m1: string;
  readonly u_m1: string;
  readonly r: string;
  readonly n: number;
  readonly dof: number;
  readonly scatter: string | null;
  readonly points: readonly { readonly coverage: string; readonly mass: string; readonly u_mass: string }[];
}
interface ForecastJson {
  readonly slots: readonly FitJson[];
  readonly waste: FitJson;
  readonly mix: readonly { readonly lower: string | null; readonly yield: string | null }[] | null;
  readonly remarks: readonly string[];
  readonly left_out: readonly string[];
}

const trial = ({
  batches = `
  - {end: 20000, coverage: 2 %, cartridge_mass: {black: 760.0 g}, container_mass: 660.0 g}
  - {end: 30000, coverage: 8 %}`,
  end = 30000,
  mass = '400.0 g',
  final = '740.0 g',
  more = '',
} = {}): string => `
trial: Basin Road lot 2
machine: {label: Plover}
meter: {start: 10000, end: ${end}}
coverage: 5 %
cartridges: [{slot: black, start_mass: 900.0 g, end_mass: ${mass}, fill_mass: 520 g}]
waste_container: {tare: 600.0 g, final: ${final}}
batches: ${batches}
${more}
`;

const json = (texts: readonly string[], ...options: string[]): ForecastJson & { readonly code: number } => {
  const files = Object.fromEntries(texts.map((text, index) => [`t${index}.yaml`, text]));
  const mix = { 'mix.yaml': 'kinds: [{kind: letters, share: 100 %, coverage: 4 %}]\n' };
  const argv = ['forecast', ...Object.keys(files), '--format', 'json', ...options];
  const { code, out, err } = run(argv, { ...files, ...mix });
  expect(err).toBe('');
  return { ...(JSON.parse(out) as ForecastJson), code };
};

const near = (text: string | undefined, value: number, share = 1e-9): void => {
  expect(Math.abs(Number(text ?? NaN) - value), `${text ?? 'nothing'} for ${value}`).toBeLessThanOrEqual(
    share * Math.abs(value),
  );
};

describe('one trial at two coverages', () => {
  const { slots, waste, remarks } = json([trial()]);
  const [fit] = slots;

  test('gives two points of toner: 140 g and 360 g over 10,000 pages each', () => {
    expect(fit?.points.map(({ coverage, mass }) => [coverage, mass])).toEqual([
      ['2', '14'],
      ['8', '36'],
    ]);
    // (36 − 14)/6, and 14 − 2 × 11/3
    near(fit?.m1, 11 / 3);
    near(fit?.m0, 20 / 3);
  });

  test('with the weighing between them in both: its error raises the one and lowers the other', () => {
    // A weighing has u = 0.1/√12 g, here v = (0.1 × that)²; each point 2v, the two of them −v.
    const u = 0.01 / Math.sqrt(12);
    for (const one of fit?.points ?? []) near(one.u_mass, Math.SQRT2 * u);
    // m1 = (y2 − y1)/6: (2 + 2 + 2)/36 v
    near(fit?.u_m1, u / Math.sqrt(6), 1e-5);
    // m0 = 4/3 y1 − 1/3 y2: (32 + 2 + 8)/9 v = 14/3 v
    near(fit?.u_m0, u * Math.sqrt(14 / 3), 1e-5);
    // cov(m0, m1) = −(8 + 2 + 5)/18 v = −5/6 v, over √(14/3 × 1/6) v
    near(fit?.r, -(5 / 6) / Math.sqrt(7 / 9), 1e-5);
  });

  test('gives two points of waste: 60 g and 80 g', () => {
    expect(waste.points.map(({ coverage, mass }) => [coverage, mass])).toEqual([
      ['2', '6'],
      ['8', '8'],
    ]);
    near(waste.m1, 1 / 3);
  });

  test('says that others may differ, and gives no interval', () => {
    expect(fit).toMatchObject({ n: 2, dof: 0, scatter: null });
    expect(remarks.join('\n')).toContain('one trial at 2 coverages');
    const { mix } = json([trial()], '--mix', 'mix.yaml');
    // 520 g over 20/3 + 4 × 11/3 = 64/3 mg
    near(mix?.[0]?.yield ?? undefined, 24375);
    expect(mix?.[0]?.lower).toBeNull();
    const { out } = run(['forecast', 't.yaml'], { 't.yaml': trial() });
    expect(out.replace(/\s+/g, ' ')).toContain('2 points of 1 cartridge at 2 coverages');
  });
});

test('stretches of one coverage are one point, whatever lies between them', () => {
  const batches = `
  - {end: 15000, coverage: 2 %, cartridge_mass: {black: 830.0 g}}
  - {end: 25000, coverage: 8 %, cartridge_mass: {black: 470.0 g}}
  - {end: 30000, coverage: 2 %}`;
  const [fit] = json([trial({ batches })]).slots;
  // 70 + 70 g over 5,000 + 5,000 pages
  expect(fit?.points.map(({ coverage, mass }) => [coverage, mass])).toEqual([
    ['2', '14'],
    ['8', '36'],
  ]);
  const u = 0.01 / Math.sqrt(12);
  // At 2 % the two ends and both weighings between: 4v; at 8 % these two: 2v; in common −2v.
  near(fit?.points[0]?.u_mass, 2 * u);
  near(fit?.u_m1, (u * Math.sqrt(4 + 2 + 4)) / 6, 1e-5);
});

test('a cartridge that was not weighed where the coverage changed gives one point, at the mean', () => {
  const batches = '[{end: 20000, coverage: 2 %}, {end: 30000, coverage: 8 %}]';
  const { code, out } = run(['forecast', 't.yaml', 'u.yaml', '--format', 'json'], {
    't.yaml': trial({ batches }),
    // 10,000 pages at 11 %, of 47 mg
    'u.yaml': trial({ batches: '[{end: 20000, coverage: 11 %}]', end: 20000, mass: '430.0 g' }),
  });
  expect(code).toBe(0);
  const [fit] = (JSON.parse(out) as ForecastJson).slots;
  // 500 g over 20,000 pages at (2 + 8)/2 %
  expect(fit?.points.map(({ coverage, mass }) => [coverage, mass])).toEqual([
    ['5', '25'],
    ['11', '47'],
  ]);
});

describe('pages that are not of the trial', () => {
  const other = (more: string): string => `
  - {end: 20000, coverage: 2 %, cartridge_mass: {black: 760.0 g}}
  - {end: 30000, coverage: 8 %, cartridge_mass: {black: 400.0 g}}
  - {end: 31000, other: true${more}}`;
  const points = (more: string): unknown =>
    json([trial({ batches: other(more), end: 31000, mass: '380.0 g' })]).slots[0]?.points.map(
      ({ coverage, mass }) => [coverage, mass],
    );

  test('count where their coverage is known, and are no point where it is not', () => {
    // 20 g over 1,000 pages
    expect(points(', coverage: 4 %')).toEqual([
      ['2', '14'],
      ['4', '20'],
      ['8', '36'],
    ]);
    expect(points('')).toEqual([
      ['2', '14'],
      ['8', '36'],
    ]);
  });
});

test('a coverage of two cartridges has both in one level, and the cartridges tell the scatter', () => {
  const second = trial({
    mass: '402.0 g',
    batches: /batches: ([^]*?)\n\n/.exec(trial())?.[1] ?? '',
  }).replace('760.0', '762.0');
  const [fit] = json([trial(), second]).slots;
  // Four points of two cartridges: one degree of freedom, not two
  expect(fit).toMatchObject({ n: 4, dof: 1 });
  // Both 138 g and 360 g: the slopes are 22/6 and 22.2/6
  expect(Number(fit?.m1)).toBeGreaterThan(22 / 6);
  expect(Number(fit?.m1)).toBeLessThan(22.2 / 6);
});

test('a weighing in doubt makes no point, and is named', () => {
  const batches = `
  - {end: 20000, coverage: 2 %, cartridge_mass: {black: 960.0 g}}
  - {end: 30000, coverage: 8 %}`;
  const { code, out, err } = run(['forecast', 't.yaml'], { 't.yaml': trial({ batches }) });
  expect(code).not.toBe(0);
  expect(out + err).toContain('cartridge_mass');
});

test('a run under way gives the points there are', () => {
  const batches = `
  - {end: 20000, coverage: 2 %, cartridge_mass: {black: 760.0 g}}
  - {end: 30000, coverage: 8 %, cartridge_mass: {black: 400.0 g}}`;
  const text = trial({ batches, mass: '', final: '' }).replace('end: 30000}\ncoverage', 'end: }\ncoverage');
  const [fit] = json([text]).slots;
  expect(fit?.points.map(({ mass }) => mass)).toEqual(['14', '36']);
});
