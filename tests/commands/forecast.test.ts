import { describe, expect, test } from 'vitest';
import { type Files, type Ran, run } from '../run.ts';

/*
 * Toner against coverage, from trials to the printed forecast. The lines are checked by hand or by numpy, beside each check; those of the
 * examples are shown in the manual, and in tests/published/line-fit.test.ts the line is held against published ones.
 */

interface Told {
  readonly coverage: number | string;
  /** Toner used, in g. */
  readonly used: number;
  readonly pages?: number;
  readonly slot?: string | null;
  readonly machine?: string;
  readonly lines?: readonly string[];
  readonly cartridge?: readonly string[];
}

const PAGES = 10000;

/** A trial of one cartridge; of 10000 pages, a gram is 0.1 mg a page. */
function trial({
  coverage,
  used,
  pages = PAGES,
  slot = 'black',
  machine = '{label: Teal}',
  ...more
}: Told): string {
  const cartridge = [
    ...(slot === null ? [] : [`slot: ${slot}`]),
    'start_mass: 900.00 g',
    `end_mass: ${(900 - used).toFixed(2)} g`,
    ...(more.cartridge ?? []),
  ];
  return [
    `trial: Ferry Lane lot 9, ${used} g`,
    ...(machine === '' ? [] : [`machine: ${machine}`]),
    `meter: {start: 10000, end: ${10000 + pages}}`,
    `coverage: ${typeof coverage === 'number' ? `${coverage} %` : coverage}`,
    `cartridges: [{${cartridge.join(', ')}}]`,
    ...(more.lines ?? []),
    '',
  ].join('\n');
}

const files = (told: readonly Told[]): Record<string, string> =>
  Object.fromEntries(told.map((one, index) => [`t${index + 1}.yaml`, trial(one)]));

const forecast = (own: Files, ...options: readonly string[]): Ran =>
  run(['forecast', ...Object.keys(own).filter((name) => /^t\d/.test(name)), ...options], own);

interface FitJson {
  readonly slot: string | null;
  readonly m0: string | null;
  readonly u_m0: string | null;
  readonly m1: string | null;
  readonly u_m1: string | null;
  readonly r: string | null;
  readonly n: number;
  readonly dof: number | null;
  readonly floor: string | null;
  readonly floor_below: string | null;
  readonly scatter: string | null;
  readonly coverage_least: string | null;
  readonly coverage_greatest: string | null;
  readonly lack_of_fit: { readonly test: string; readonly p: string } | null;
  readonly points: readonly { readonly residual: string }[];
}
interface EstimateJson {
  readonly value: string;
  readonly u: string;
  readonly lower: string | null;
  readonly upper: string | null;
}
interface MixJson {
  readonly slot: string | null;
  readonly coverage: string | null;
  readonly yield: string | null;
  readonly lower: string | null;
  readonly upper: string | null;
  readonly cost_per_thousand: string | null;
  readonly u: string | null;
  readonly currency: string | null;
  readonly toner_per_page: EstimateJson | null;
  readonly cartridges_per_year: EstimateJson | null;
  readonly cost_per_year: EstimateJson | null;
  readonly beyond: { readonly share: string; readonly factor: string } | null;
  readonly withheld: string | null;
  readonly variance: readonly { readonly part: string; readonly share: string }[];
  readonly next_trial: { readonly coverage: string; readonly before: string; readonly after: string } | null;
}
interface SideJson {
  readonly slots: readonly FitJson[];
  readonly mix: readonly MixJson[] | null;
  readonly waste: FitJson & {
    readonly mix: {
      readonly waste_per_page: EstimateJson | null;
      readonly containers_per_year: EstimateJson | null;
    } | null;
  };
  readonly total: { readonly cost_per_thousand: EstimateJson | null } | null;
}
interface ForecastJson extends SideJson {
  readonly format: number;
  readonly tool: string;
  readonly reference: SideJson | null;
  readonly remarks: readonly string[];
  readonly left_out: readonly string[];
}

const json = (own: Files, ...options: readonly string[]): ForecastJson & { readonly code: number } => {
  const { code, out, err } = forecast(own, ...options, '--format', 'json');
  expect(err).toBe('');
  return { ...(JSON.parse(out) as ForecastJson), code };
};
function there<T>(one: T | undefined): T {
  if (one === undefined) throw new Error('nothing there');
  return one;
}
const first = (of: Pick<SideJson, 'slots'>): FitJson => there(of.slots[0]);
const mixed = (of: SideJson): MixJson => there(of.mix?.[0]);
const near = (text: string | null | undefined, value: number, share = 1e-9): void => {
  expect(Math.abs(Number(text ?? NaN) - value), `${text ?? 'null'} for ${value}`).toBeLessThanOrEqual(
    share * Math.abs(value),
  );
};

/** m = 6 + 4 c mg, and half a milligram beside it, up and down. */
const FOUR: readonly Told[] = [
  { coverage: 1, used: 105 },
  { coverage: 1, used: 95 },
  { coverage: 6, used: 305 },
  { coverage: 6, used: 295 },
];

const MIX = `kinds:
  - {kind: letters, share: 75 %, coverage: 2 %}
  - {kind: lists, share: 25 %, coverage: 6 %}
`;

describe('the fit', () => {
  test('two coverages, twice each: m0, m1, scatter', () => {
    const { code, slots, mix, reference, format, tool } = json(files(FOUR));
    const fit = first({ slots });
    expect([code, mix, reference, format]).toEqual([0, null, null, 1]);
    expect(tool).toMatch(/^tallytare \d/);
    expect(fit).toMatchObject({ slot: 'black', n: 4, dof: 2, floor: null, lack_of_fit: null });
    near(fit.m0, 6);
    near(fit.m1, 4);
    expect([fit.coverage_least, fit.coverage_greatest]).toEqual(['1', '6']);
    expect(fit.points.map(({ residual }) => Number(residual).toFixed(6))).toEqual([
      '0.500000',
      '-0.500000',
      '0.500000',
      '-0.500000',
    ]);
    /*
     * By hand: each level has squares 2 × 0.5² about a mean of 10 and of 30 mg, so that with scatter alone
     * 0.5/(10 τ)² + 0.5/(30 τ)² = 2: τ = √(0.5 (1/100 + 1/900) / 2). The readings hardly count: u is 0.4 µg.
     */
    near(fit.scatter, Math.sqrt((0.5 * (1 / 100 + 1 / 900)) / 2), 1e-5);
  });

  test('the parameters’ uncertainties and correlation (numpy 2.4.6: inv(XᵀWX), with that scatter)', () => {
    const fit = first(json(files(FOUR)));
    const tau = Math.sqrt((0.5 * (1 / 100 + 1 / 900)) / 2);
    const [low, high] = [(10 * tau) ** 2 / 2, (30 * tau) ** 2 / 2];
    // Through two means the line's parameters are linear in these.
    near(fit.u_m1, Math.sqrt(low + high) / 5, 1e-5);
    near(fit.u_m0, Math.sqrt(36 * low + high) / 5, 1e-5);
    near(fit.r, -(6 * low + high) / Math.sqrt((36 * low + high) * (low + high)), 1e-5);
  });

  test('for people: the line, its degrees, the range and every residual', () => {
    const { code, out } = forecast(files(FOUR));
    expect(code).toBe(0);
    expect(out).toMatch(/^TONER AGAINST COVERAGE, black\n/);
    expect(out).toMatch(/4 cartridges at 2\n? +coverages from 1 % to 6 %/);
    expect(out).toMatch(/m1, for each percent +4\.0 ± 1\.0 mg/);
    expect(out).toMatch(/degrees of freedom +2; ± is U = 4\.30 u/);
    expect(out).toMatch(/lack of fit +not tested: it takes three coverages/);
    for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  test('two points: the line goes through both, and nothing is known of scatter', () => {
    const own = { ...files([{ coverage: 1, used: 100 }, { coverage: 6, used: 300 }]), 'mix.yaml': MIX }; // prettier-ignore
    const result = json(own, '--mix', 'mix.yaml');
    expect(first(result)).toMatchObject({ dof: 0, scatter: null });
    expect(mixed(result).toner_per_page).toMatchObject({ lower: null, upper: null });
    expect(result.remarks.join('\n')).toContain('Black: the model goes through the 2 points');
  });

  test('a floor is found where the machine forces a least use', () => {
    const floor = [1, 2, 5, 8].flatMap((coverage): Told[] =>
      [-1, 1].map((off) => ({ coverage, used: Math.max(200, 10 * (6 + 4 * coverage)) + off })),
    );
    const result = json(files(floor));
    const fit = first(result);
    near(fit.floor, 20, 1e-3);
    near(fit.m1, 4, 1e-2);
    near(fit.floor_below, 3.5, 1e-2);
    expect(fit.dof).toBe(5);
    expect(forecast(files(floor)).out).toMatch(/floor +20\.\d+ ± 0\.\d+ mg below 3\.5 %: better than a line/);
  });

  test('a bent line is said to be one', () => {
    // It rises less and less: no floor does that.
    const bent = [1, 4, 8].flatMap((coverage): Told[] =>
      [-1, 1].map((off) => ({ coverage, used: 60 + 80 * Math.sqrt(coverage) + off })),
    );
    const { out } = forecast(files(bent));
    expect(out).toMatch(/lack of fit +SHOWN: F \d+/);
    expect(out).toContain('! Black: the points do not lie on the model.');
  });

  test('three coverages cannot tell a floor from a line that bends upwards', () => {
    const bent = [1, 4, 8].flatMap((coverage): Told[] =>
      [-1, 1].map((off) => ({ coverage, used: 60 + 4 * coverage ** 2 + off })),
    );
    const { out } = forecast(files(bent));
    expect(out).toMatch(/lack of fit +not tested: it takes four coverages with a floor/);
    expect(out).toContain('! Black: three coverages cannot tell a floor from a line that bends.');
  });

  test('one cartridge at each coverage cannot tell scatter from a bent line', () => {
    const { out } = forecast(
      files([1, 4, 8].map((coverage) => ({ coverage, used: 60 + 4 * coverage ** 2 }))),
    );
    expect(out).toMatch(/lack of fit +more than the readings explain: χ² /);
    expect(out).toMatch(/try a\s+coverage twice/);
  });

  test('waste a page against coverage', () => {
    const own = files(
      [2, 5, 8].map((coverage) => ({
        coverage,
        used: 200 + 20 * coverage,
        lines: [`waste_container: {tare: 640 g, final: ${720 + 20 * coverage} g, capacity: 300 g}`],
      })),
    );
    // 80 g and 20 g for each percent, of 10000 pages.
    const { waste } = json(own);
    near(waste.m0, 8);
    near(waste.m1, 2);
  });
});

describe('what does not make a line', () => {
  test('one coverage', () => {
    const { code, out, err } = forecast(files(FOUR.slice(0, 2)));
    expect([code, out]).toEqual([3, '']);
    expect(err).toContain('a line takes trials at two coverages or more');
    expect(err).toContain('black: tried at 1 % only');
  });

  test('no weights', () => {
    const own = { 't1.yaml': 'trial: a\nmeter: {start: 1, end: 101}\ncoverage: 5 %\n' };
    const { code, err } = forecast(own);
    expect(code).toBe(3);
    expect(err).toContain('left out: t1.yaml: cartridges.start_mass is still to be read');
  });

  test.each([
    ['different models', '{label: Teal, model: bench printer 30}', '{label: Wren, model: bench printer 45}'],
    ['rated for different speeds', '{label: Teal, rated_speed: 30}', '{label: Wren, rated_speed: 45}'],
  ])('machines of %s', (words, machine, other) => {
    const told = FOUR.map((one, index) => ({ ...one, machine: index < 2 ? machine : other }));
    const { code, out, err } = forecast(files(told));
    expect([code, out]).toEqual([3, '']);
    expect(err).toContain(words);
    expect(err).toContain('t1.yaml');
    expect(err).toContain('t3.yaml');
  });

  test('pages of different sizes', () => {
    const told = FOUR.map((one, index) => ({ ...one, lines: [`paper: {size: ${index < 2 ? 'A4' : 'A5'}}`] }));
    const { code, err } = forecast(files(told));
    expect(code).toBe(3);
    expect(err).toContain('pages are of different sizes');
  });

  test('two machines, lots mixed and unnamed machines are said', () => {
    const told = FOUR.map((one, index) => ({
      ...one,
      machine: index === 3 ? '' : `{label: ${index < 2 ? 'Teal' : 'Wren'}, serial: "00${index < 2 ? 1 : 2}"}`,
      cartridge: [`lot: L${index}`],
    }));
    const remarks = json(files(told)).remarks.join('\n');
    expect(remarks).toContain(
      '2 machines (Teal, serial 001 and Wren, serial 002), whose model they do not say',
    );
    expect(remarks).toContain('1 trial does not name the machine');
    expect(remarks).toContain('Lots are mixed: L0, L1, L2 and L3.');
  });

  test('a cartridge that failed, and one that is tried at several coverages', () => {
    const told = [
      ...FOUR.map((one) => ({ ...one, cartridge: ['serial: S-1'] })),
      { coverage: 3, used: 400, cartridge: ['failed_at: 12000', 'failed_by: leak'] },
    ];
    const { left_out: leftOut, remarks, slots } = json(files(told));
    expect(leftOut).toEqual(['t5.yaml, black: it failed']);
    expect(slots[0]?.n).toBe(4);
    expect(remarks.join('\n')).toContain('a cartridge was tried at several coverages');
  });

  test('a serial number in two trials at one coverage is not one at several', () => {
    const at = (coverage: number, used: number, serial: string): Told => ({
      coverage,
      used,
      cartridge: [`serial: ${serial}`],
    });
    const said = (serial: string): string =>
      json(files([at(1, 100, 'S-1'), at(1, 104, serial), at(5, 300, 'S-3'), at(5, 302, 'S-4')])).remarks.join(
        '\n',
      );
    expect(said('S-1')).toContain('serial S-1 is in t1.yaml and t2.yaml at one coverage');
    expect(said('S-1')).not.toContain('several coverages');
    expect(said('S-2')).not.toContain('serial S-');
  });

  test('trials that a missed limit voids are named', () => {
    const told = (temperature: number): readonly Told[] =>
      FOUR.map((one, index) => ({
        ...one,
        lines: [
          `ambient: [{temperature: ${index === 0 ? temperature : 22}, humidity: 45}]`,
          'limits: {temperature: {max: 26 °C}}',
        ],
      }));
    expect(json(files(told(31))).remarks.join('\n')).toContain(
      '1 trial proves nothing, since a limit that voids it was missed (t1.yaml)',
    );
    expect(json(files(told(24))).remarks.join('\n')).not.toContain('proves nothing');
  });

  test('the same bytes twice', () => {
    const text = trial({ coverage: 1, used: 100 });
    const { code, err } = forecast({ 't1.yaml': text, 't2.yaml': text });
    expect(code).toBe(3);
    expect(err).toContain('are the same bytes');
  });

  test('a file that is no trial is said, and the others are fitted', () => {
    const { code, out, err } = forecast({ ...files(FOUR), 't9.yaml': 'trial: a\n' });
    expect(code).toBe(3);
    expect(err).toContain('t9.yaml');
    expect(out).toContain('4 cartridges');
  });
});

describe('a mix', () => {
  const priced = FOUR.map((one) => ({
    ...one,
    cartridge: ['fill_mass: 310 g', 'residual_mass: 10 g', 'price: 45 EUR'],
  }));
  const own: Record<string, string> = { ...files(priced), 'mix.yaml': MIX };

  test('75 % at 2 %, 25 % at 6 %: 3 % on the mean, 18 mg a page', () => {
    const result = json(own, '--mix', 'mix.yaml', '--pages-per-month', '2500');
    const mix = mixed(result);
    expect(result.code).toBe(0);
    near(mix.coverage, 3);
    near(mix.toner_per_page?.value, 18);
    // 300 g at 18 mg a page; 45 EUR for so many; 30000 pages a year.
    near(mix.yield, 300_000 / 18);
    near(mix.cost_per_thousand, (45 * 1000 * 18) / 300_000);
    expect(mix.currency).toBe('EUR');
    near(mix.cartridges_per_year?.value, 1.8);
    near(mix.cost_per_year?.value, 81);
    expect(Number(mix.lower)).toBeLessThan(Number(mix.yield));
    expect(Number(mix.upper)).toBeGreaterThan(Number(mix.yield));
    // The scatter of 1.8 cartridges is less than that of one.
    expect(Number(mix.cartridges_per_year?.u) / 1.8).toBeLessThan(Number(mix.toner_per_page?.u) / 18);
  });

  test('the uncertainty of a page: of the line, and of the next cartridge (by hand)', () => {
    const mix = mixed(json(own, '--mix', 'mix.yaml'));
    const tau = Math.sqrt((0.5 * (1 / 100 + 1 / 900)) / 2);
    // At 3 % the line is 0.6 of the mean at 1 % and 0.4 of that at 6 %.
    const line = 0.36 * ((10 * tau) ** 2 / 2) + 0.16 * ((30 * tau) ** 2 / 2);
    near(mix.toner_per_page?.u, Math.sqrt(line + (18 * tau) ** 2), 1e-5);
    expect(mix.variance[0]?.part).toBe('next-cartridge');
    expect(mix.variance.reduce((sum, { share }) => sum + Number(share), 0)).toBeCloseTo(1, 12);
    expect(mix.next_trial).not.toBeNull();
    expect(Number(mix.next_trial?.after)).toBeLessThan(Number(mix.next_trial?.before));
  });

  test('the tolerance of the mix: slope times a/√3 (JCGM 100:2008, 4.3.7)', () => {
    const exact = mixed(json(own, '--mix', 'mix.yaml'));
    const loose = mixed(
      json(
        { ...own, 'mix.yaml': MIX.replace('coverage: 2 %', 'coverage: {value: 2 %, tolerance: 1 %}') },
        '--mix',
        'mix.yaml',
      ),
    );
    const u = (mix: MixJson): number => Number(mix.toner_per_page?.u);
    expect(Math.sqrt(u(loose) ** 2 - u(exact) ** 2)).toBeCloseTo((0.75 * 4) / Math.sqrt(3), 8);
    expect(loose.variance[0]?.part).toBe('coverage-of-mix');
  });

  test('what emptied cartridges gave goes before the stated fill', () => {
    const emptied = priced.map((one) => ({
      ...one,
      cartridge: [...one.cartridge, 'exhausted_at: 20000', 'exhausted_by: fade'],
    }));
    const told = { ...files([...emptied.slice(2)]), 't8.yaml': trial(there(priced[0])), 't9.yaml': trial(there(priced[1])), 'mix.yaml': MIX }; // prettier-ignore
    // 305 g and 295 g.
    near(mixed(json(told, '--mix', 'mix.yaml')).yield, 300_000 / 18);
    expect(json(told, '--mix', 'mix.yaml').remarks.join('\n')).not.toContain('stated fill');
    expect(json(own, '--mix', 'mix.yaml').remarks.join('\n')).toContain('stated fill');
  });

  test('beyond the coverages tried nothing is forecast, unless it is asked for', () => {
    const far = { ...own, 'mix.yaml': MIX.replace('coverage: 6 %', 'coverage: 11 %') };
    const refused = json(far, '--mix', 'mix.yaml');
    expect(refused.code).toBe(2);
    expect(mixed(refused)).toMatchObject({ yield: null, toner_per_page: null });
    expect(mixed(refused).withheld).toContain('lists (25 % of the pages) lies beyond the 1 % to 6 % tried');
    const asked = json(far, '--mix', 'mix.yaml', '--beyond');
    expect(asked.code).toBe(0);
    // A quarter of the pages lies 5 % beyond a range of 5 %: 2 + 0.25.
    near(mixed(asked).beyond?.factor, 2.25);
    expect(asked.remarks.join('\n')).toContain('multiplied by 2.25');
    near(mixed(asked).toner_per_page?.value, 6 + 4 * 4.25);
    const within = mixed(json(own, '--mix', 'mix.yaml'));
    const relative = ({ toner_per_page: usage }: MixJson): number => Number(usage?.u) / Number(usage?.value);
    expect(relative(mixed(asked))).toBeGreaterThan(2 * relative(within));
  });

  test('a coverage below the least one tried is beyond it too', () => {
    const blank = { ...own, 'mix.yaml': MIX.replace('coverage: 2 %', 'coverage: 0 %') };
    expect(json(blank, '--mix', 'mix.yaml').code).toBe(2);
  });

  test('a slot that the mix does not speak of', () => {
    const other = { ...own, 'mix.yaml': MIX.replace('coverage: 2 %', 'coverage: {cyan: 2 %}') };
    const result = json(other, '--mix', 'mix.yaml');
    expect(result.code).toBe(2);
    expect(mixed(result).withheld).toContain('no coverage for letters; write 0 % where there is none');
  });

  test('prices that differ, and none', () => {
    const [one, ...others] = priced;
    const differ = [...others, { ...there(one), cartridge: ['fill_mass: 310 g', 'price: 47 EUR'] }];
    const result = json({ ...files(differ), 'mix.yaml': MIX }, '--mix', 'mix.yaml');
    expect(mixed(result).cost_per_thousand).toBeNull();
    expect(mixed(result).withheld).toContain('several prices (45 EUR and 47 EUR)');
    const none = json({ ...files(FOUR), 'mix.yaml': MIX }, '--mix', 'mix.yaml');
    expect(mixed(none).withheld).toContain('how much toner a cartridge holds');
    expect(none.code).toBe(0);
  });

  test('two slots: what all cost together, and a slot that is missing from it', () => {
    const both = FOUR.map(({ coverage, used }) =>
      [
        `trial: Ferry Lane lot 9, ${used} g`,
        'machine: {label: Teal}',
        'meter: {start: 10000, end: 20000}',
        `coverage: {black: ${coverage} %, cyan: ${coverage} %}`,
        `waste_container: {tare: 640 g, final: ${660 + 10 * Number(coverage)} g}`,
        'cartridges:',
        `  - {slot: black, start_mass: 900.00 g, end_mass: ${900 - used} g, fill_mass: 320 g, price: 45 EUR}`,
        `  - {slot: cyan, start_mass: 900.00 g, end_mass: ${900 - used} g, fill_mass: 320 g, price: 60 EUR}`,
        '',
      ].join('\n'),
    );
    const told = Object.fromEntries(both.map((text, index) => [`t${index + 1}.yaml`, text]));
    const result = json({ ...told, 'mix.yaml': MIX }, '--mix', 'mix.yaml');
    near(result.total?.cost_per_thousand?.value, ((45 + 60) * 1000 * 18) / 320_000);
    // 20 g and 5 g for each percent of both together, of 10000 pages; the mix has 6 % of both.
    near(result.waste.m1, 0.5);
    near(result.waste.mix?.waste_per_page?.value, 5);
    expect(result.waste.mix?.containers_per_year).toBeNull();
    const short = { ...told, 'mix.yaml': MIX.replace('coverage: 6 %', 'coverage: {black: 6 %, cyan: 9 %}') };
    const missing = json(short, '--mix', 'mix.yaml');
    expect(missing.code).toBe(2);
    expect(missing.total?.cost_per_thousand).toBeNull();
  });

  test('candidate beside reference, waste containers a year, what dominates', () => {
    const words = ['forecast', 'examples/forecast', '--mix', 'examples/mixes/quay-street.yaml', '--pages-per-month', '2500']; // prettier-ignore
    const { code, out } = run(words);
    expect(code).toBe(0);
    expect(out).toMatch(/black, candidate +black, reference\n/);
    expect(out).toMatch(/cost of 1000 pages +\d.* EUR +\d.* EUR\n/);
    expect(out).toMatch(/waste containers a year +0\.\d+ ± 0\.\d+/);
    expect(out).toMatch(/Most of the uncertainty \(\d+ % of the variance\) is the\n? +coverage of the mix/);
    for (const line of out.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
    const data = JSON.parse(run([...words, '--format', 'json']).out) as ForecastJson;
    expect(data.reference?.slots).toHaveLength(1);
    expect(data.waste.mix?.containers_per_year).not.toBeNull();
  });

  test('machine stops a year, by the trials that say what happened', () => {
    const stopped =
      own['t1.yaml']?.replace(
        'cartridges:',
        'events: [{at: 12000, kind: stop}, {at: 13000, kind: jam}]\ncartridges:',
      ) ?? '';
    const quiet = own['t2.yaml']?.replace('cartridges:', 'events: []\ncartridges:') ?? '';
    const told = { ...own, 't1.yaml': stopped, 't2.yaml': quiet };
    const { out } = forecast(told, '--mix', 'mix.yaml', '--pages-per-month', '2500', '--format', 'json');
    const { stops_per_year: stops } = JSON.parse(out) as { stops_per_year: EstimateJson };
    // One stop in 20000 pages, 30000 pages to come: scipy.stats.nbinom(1.5, 20/50), computed.
    near(stops.value, 1.5);
    near(stops.u, 2.3717082451262845);
    expect([stops.lower, stops.upper]).toEqual(['0', '8']);
    const text = forecast(told, '--mix', 'mix.yaml', '--pages-per-month', '2500').out;
    expect(text).toMatch(/machine stops a year +1\.5\n +95 % between +0 and 8\n/);
    const silent = forecast(own, '--mix', 'mix.yaml', '--pages-per-month', '2500').out;
    expect(silent).toContain('no trial says what');
    expect(forecast(told, '--mix', 'mix.yaml').out).not.toContain('machine stops');
  });

  test('CSV has a row for every number', () => {
    const { out } = forecast(own, '--mix', 'mix.yaml', '--format', 'csv');
    const [head, ...lines] = out.trimEnd().split('\r\n');
    expect(head).toBe('side,slot,item,value,u,lower,upper,unit');
    expect(lines.map((line) => line.split(',')[2])).toEqual([
      'm0',
      'm1',
      'scatter',
      'toner_per_page',
      'yield',
      'cost_per_thousand',
      'cost_per_thousand',
    ]);
  });
});

test('the manual shows all of it: no line is cut', () => {
  const { code, out } = run(['help', 'forecast']);
  expect(code).toBe(0);
  expect(out).toMatch(/6 cartridges at 3\n/);
  expect(out).toContain('-sDEVICE=ink_cov customer.pdf');
  for (const line of out.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
});

describe('a mix file', () => {
  const said = (mix: string): Ran => forecast({ ...files(FOUR), 'mix.yaml': mix }, '--mix', 'mix.yaml');

  test.each([
    ['shares-amiss: shares that do not add up', MIX.replace('75 %', '70 %'), 'mix.yaml:2:', 'The shares add up to 95 %.'],
    ['kind-twice: a kind that is there twice', MIX.replace('lists', 'letters'), 'mix.yaml:3:', 'The kind "letters" is listed twice.'],
    ['an unknown key', MIX.replace('share: 75', 'shares: 75'), 'mix.yaml:2:', 'share'],
    ['no kinds', 'kinds: []\n', 'mix.yaml:1:', 'The shares add up to 0 %.'],
    ['a tolerance above its coverage', MIX.replace('2 %', '{value: 2 %, tolerance: 3 %}'), 'mix.yaml:2:', 'tolerance'],
    ['no YAML', 'kinds: [\n', 'mix.yaml:', ''],
  ])('%s', (_, mix, place, words) => {
    const { code, out, err } = said(mix);
    expect([code, out]).toEqual([3, '']);
    expect(err).toContain(place);
    expect(err).toContain(words);
  }); // prettier-ignore

  test('one that is not there', () => {
    const { code, err } = forecast(files(FOUR), '--mix', 'gone.yaml');
    expect(code).toBe(3);
    expect(err).toContain('gone.yaml');
  });

  test.each([
    [['--beyond'], '--beyond needs --mix'],
    [['--pages-per-month', '100'], '--pages-per-month needs --mix'],
    [['--counted-by', 'inkcov'], '--counted-by needs --mix'],
    [['--mix', 'mix.yaml', '--pages-per-month', '2.500,0'], '--pages-per-month'],
    [['--mix', 'mix.yaml', '--counted-by', 'inkcov'], '--counted-by is of a text'],
  ])('wrong usage: %j', (options, words) => {
    const { code, out, err } = forecast({ ...files(FOUR), 'mix.yaml': MIX }, ...options);
    expect([code, out]).toEqual([4, '']);
    expect(err).toContain(words);
  });
});

describe('pages that Ghostscript counted', () => {
  /** As its devices print them (seen, Ghostscript 10.0.0): percent by ink_cov, a share by inkcov. */
  const WEIGHED =
    ' 0.00000  0.00000  0.00000  2.00000 CMYK OK\n 0.00000  0.00000  0.00000  4.00000 CMYK OK\n';
  const COUNTED =
    ' 0.00000  0.00000  0.00000  0.02000 CMYK OK\n 0.00000  0.00000  0.00000  0.04000 CMYK OK\n';
  const take = (pages: string, device: string | null, told: readonly Told[] = FOUR): Ran =>
    forecast(
      { ...files(told), 'pages.txt': pages },
      ...['--mix', 'pages.txt', '--format', 'json'],
      ...(device === null ? [] : ['--counted-by', device]),
    );
  const result = ({ out }: Ran): ForecastJson => JSON.parse(out) as ForecastJson;

  test.each([
    ['ink_cov', WEIGHED, 'each tint by its depth'],
    ['inkcov', COUNTED, 'takes any tint for full'],
  ])('%s', (device, pages, words) => {
    const found = result(take(pages, device));
    near(mixed(found).coverage, 3);
    near(mixed(found).toner_per_page?.value, 18);
    expect(found.remarks.join('\n')).toContain(words);
  });

  test('what Ghostscript says beside is passed over; a slot without a name takes black', () => {
    const chatty = `GPL Ghostscript 10.0.0 (2022-09-21)\nCopyright (C) 2022\nProcessing pages 1 through 2.\nPage 1\n${WEIGHED}\n`;
    const unnamed = FOUR.map((one) => ({ ...one, slot: null }));
    near(mixed(result(take(chatty, 'ink_cov', unnamed))).toner_per_page?.value, 18);
  });

  test.each([
    ['no device named', WEIGHED, null, 4, 'say by which device'],
    ['the other device', WEIGHED, 'inkcov', 3, 'pages.txt:1: more than 1, which inkcov never says'],
    ['no pages', '\n', 'ink_cov', 3, 'no page in it'],
    ['another text', `${WEIGHED}2.0 % black\n`, 'ink_cov', 3, 'pages.txt:3: this is no page'],
    ['colours, and black alone was tried', ' 1.0 0.0 0.0 2.0 CMYK OK\n', 'ink_cov', 3, 'a page with colours'],
    ['above all', ' 0.0 0.0 0.0 200.0 CMYK OK\n', 'ink_cov', 3, 'more than 100 %'],
  ])('%s', (_, pages, device, code, words) => {
    const ran = take(pages, device);
    expect([ran.code, ran.out]).toEqual([code, '']);
    expect(ran.err).toContain(words);
  });

  test('slots that it does not count, a file that is not there or no text', () => {
    const other = take(WEIGHED, 'ink_cov', FOUR.map((one) => ({ ...one, slot: 'gold' }))); // prettier-ignore
    expect(other.code).toBe(3);
    expect(other.err).toContain('the trials have gold');
    expect(forecast(files(FOUR), '--mix', 'gone.txt', '--counted-by', 'inkcov').code).toBe(3);
    const bytes = { ...files(FOUR), 'pages.txt': Uint8Array.of(0xff, 0xfe) };
    expect(forecast(bytes, '--mix', 'pages.txt', '--counted-by', 'inkcov').code).toBe(3);
  });

  test('colours of a colour machine', () => {
    const cyan = FOUR.map((one) => ({ ...one, slot: 'cyan' }));
    const found = result(take(' 3.0 50.0 0.0 2.0 CMYK OK\n', 'ink_cov', cyan));
    near(mixed(found).coverage, 3);
  });
});

test('a mix that stands among trials is no trial, and none to be judged', () => {
  const own = { 'trials/t1.yaml': trial({ coverage: 1, used: 100 }), 'trials/mix.yaml': MIX };
  const { out } = run(['verdict', 'trials', '--quiet'], own);
  expect(out).toBe('inconclusive\ttrials/t1.yaml\n');
  // One with a fault in it is said: it may be meant for a trial.
  expect(run(['verdict', 'trials'], { ...own, 'trials/mix.yaml': MIX.replace('75', '70') }).code).toBe(3);
});
