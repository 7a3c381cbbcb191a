import { describe, expect, test } from 'vitest';
import { Repeats, type RepeatedTrials } from '../../src/pool/precision.ts';
import { assessed } from '../assessed.ts';

/* What trials of one lot tell of the scatter of a figure, and when they do not repeat each other. All invented. */

interface Told {
  readonly machine?: string | null;
  readonly operator?: string | null;
  /** g of waste in 10,000 pages. */
  readonly waste?: number;
  readonly more?: string;
}

const trial = ({ machine = 'Ash', operator = 'R. Okoye', waste = 200, more = '' }: Told): string =>
  [
    `trial: {title: Bell Yard lot 60${operator === null ? '' : `, operator: ${operator}`}}`,
    ...(machine === null ? [] : [`machine: {label: ${machine}}`]),
    'meter: {start: 1000, end: 11000}',
    `waste_container: {tare: 640 g, final: ${640 + waste} g}`,
    more,
  ].join('\n');

const repeated = (...trials: readonly Told[]): Repeats => {
  const repeats = new Repeats();
  for (const [index, told] of trials.entries()) repeats.take(assessed(trial(told), `${index + 1}.yaml`));
  return repeats;
};

const of = (result: RepeatedTrials, figure: string) => result.figures.find((one) => one.figure === figure);

describe('repeated trials', () => {
  // 20, 22, 19 and 23 g a thousand: means 21 and 21, within 2²/2 + 4²/2 = 10 over two degrees.
  const four: readonly Told[] = [
    { waste: 200 },
    { waste: 220 },
    { machine: 'Elm', waste: 190 },
    { machine: 'Elm', waste: 230 },
  ];

  test('the mean, how many values of how many trials, and the scatter within a machine and operator', () => {
    const found = of(repeated(...four).result(), 'waste_per_thousand');
    expect(found).toMatchObject({
      title: 'waste per thousand pages',
      unit: 'g',
      of: null,
      values: 4,
      trials: 4,
      mean: 21,
    });
    expect(found?.scatter.within).toMatchObject({ freedom: 2 });
    expect(found?.scatter.within.sd).toBeCloseTo(Math.sqrt(5), 12);
    expect(found?.scatter.outer).toMatchObject({ sd: 0, freedom: 1 });
  });

  test('are counted by machine and operator; those of no named machine apart', () => {
    expect(
      repeated(...four, { machine: null }, { machine: null, operator: 'M. Adeyemi' }).result(),
    ).toMatchObject({ trials: 6, machines: 2, operators: 2, unnamed: 2 });
  });

  test('tell machines apart where every trial names its own', () => {
    const outer = (...trials: readonly Told[]) =>
      of(repeated(...trials).result(), 'waste_per_thousand')?.scatter.outer;
    expect(outer(...four)?.freedom).toBe(1);
    expect(outer(...four, { machine: null })?.freedom).toBe(0);
  });

  test('tell operators at a machine apart where every trial names its own', () => {
    const two = four.map((told, index) => ({
      ...told,
      operator: index % 2 === 0 ? 'R. Okoye' : 'M. Adeyemi',
    }));
    const inner = (...trials: readonly Told[]) =>
      of(repeated(...trials).result(), 'waste_per_thousand')?.scatter.inner;
    expect(inner(...two, ...two)?.freedom).toBe(2);
    expect(inner(...two, ...two, { operator: null })?.freedom).toBe(0);
    // A trial that is its title alone names nobody.
    const alone = new Repeats();
    alone.take(assessed('trial: Bell Yard\nmeter: {start: 1000, end: 11000}\n'));
    expect(alone.result()).toMatchObject({ trials: 1, operators: 0, unnamed: 1, lot: null });
  });

  test('of which a figure has too few values, or none that differ, name it', () => {
    const cartridges = 'cartridges: [{slot: black, exhausted_at: 9000}]\ncoverage: 5 %';
    const { tooFew, figures } = repeated({ more: cartridges }, { waste: 210 }).result();
    expect(tooFew).toContain('yield, black');
    expect(tooFew).toContain('failed cartridges');
    expect(figures.map(({ figure }) => figure)).toContain('waste_per_thousand');
  });

  test('several cartridges of one slot are values of it, be they in one trial', () => {
    const cartridges = (first: number, second: number): string =>
      `coverage: 5 %\ncartridges: [{slot: black, exhausted_at: ${first}}, {slot: black, exhausted_at: ${second}}]`;
    const result = repeated({ more: cartridges(5000, 9100) }, { more: cartridges(5200, 9500) }).result();
    // 4000, 4100, 4200 and 4300 pages.
    expect(of(result, 'yield')).toMatchObject({ of: 'black', values: 4, trials: 2, mean: 4150 });
  });
});

describe('what is said of the scatter of', () => {
  const figuresOf = (more: (waste: number) => string): string[] => {
    const { figures, tooFew } = repeated(
      { waste: 200, more: more(200) },
      { waste: 230, more: more(230) },
    ).result();
    return [
      ...figures.map(({ figure, of: part }) => (part === null ? figure : `${figure} ${part}`)),
      ...tooFew,
    ];
  };

  test('neither amounts, nor prices, nor words, nor readings of the air, nor what is of all cartridges', () => {
    const found = figuresOf(
      (waste) => `coverage: 5 %
cartridges: [{slot: black, start_mass: 900, end_mass: ${900 - waste}, exhausted_at: 11000, price: ${waste} EUR}, {slot: cyan, start_mass: 900, end_mass: ${900 - waste}, exhausted_at: ${11000 - waste}}]
ambient: [{temperature: ${waste / 10}, humidity: 45}]
inspection: [{stage: after, part: fuser, severity: ${waste === 200 ? 'minor' : 'none'}}]`,
    );
    expect(found).toEqual([
      'waste_per_thousand',
      'yield cyan',
      'yield_at_reference cyan',
      'toner_per_page black',
      'toner_per_page cyan',
      'usage_per_area black',
      'usage_per_area cyan',
      // These do not differ.
      'yield, black',
      'yield at reference, black',
      'waste fraction',
      'transferred fraction',
      'failed cartridges',
    ]);
  });

  test('a cartridge alone in a slot without a name', () => {
    expect(figuresOf((waste) => `coverage: 5 %\ncartridges: [{exhausted_at: ${9000 + waste}}]`)).toContain(
      'yield',
    );
  });

  test('no bound, and nothing in doubt', () => {
    expect(figuresOf(() => 'coverage: 5 %\ncartridges: [{slot: black}]')).not.toContain('yield, black');
    const doubted = repeated({ waste: 200 }, { waste: 210 }, { more: 'target: {pages: 2000}' }).result();
    expect(of(doubted, 'waste_per_thousand')).toMatchObject({ values: 2, mean: 20.5 });
  });

  test('no yield of a cartridge that was put in for another and not run to its end', () => {
    const more = (end: number): string => `coverage: 5 %
cartridges: [{slot: black, exhausted_at: ${end}}, {slot: black, exhausted_at: 10000}, {slot: black}]`;
    const result = repeated({ more: more(5000) }, { more: more(5500) }).result();
    expect(of(result, 'yield')).toMatchObject({ values: 4 });
  });
});

describe('trials do not repeat each other', () => {
  const at = (coverage: string): Told => ({ more: `coverage: ${coverage}` });
  const apart = (...trials: readonly Told[]) => repeated(...trials).noRepeat;

  test('of two lots: the first trial of each is named', () => {
    const lot = (id: string): Told => ({ more: `lot: {id: ${id}}` });
    expect(apart(lot('K-1'), {}, lot('K-1'))).toBeNull();
    expect(repeated(lot('K-1'), {}).result().lot).toBe('K-1');
    expect(apart(lot('K-1'), lot('K-1'), lot('K-2'), lot('K-2'))).toEqual({
      by: 'lot',
      of: [
        ['K-1', '1.yaml'],
        ['K-2', '3.yaml'],
      ],
    });
  });

  test('at two coverages, slot by slot', () => {
    expect(apart(at('5 %'), {}, at('5.0 %'))).toBeNull();
    expect(apart(at('5 %'), at('5 %'), at('6 %'), at('6 %'))).toEqual({
      by: 'coverage',
      of: [
        ['5', '1.yaml'],
        ['6', '3.yaml'],
      ],
    });
    const two = (coverage: string): Told => ({
      more: `coverage: ${coverage}\ncartridges: [{slot: black}, {slot: cyan}]`,
    });
    expect(apart(two('{cyan: 6 %, black: 5 %}'), two('{black: 5 %, cyan: 6 %}'))).toBeNull();
    expect(apart(two('{cyan: 6 %, black: 5 %}'), two('{black: 5 %, cyan: 7 %}'))?.of).toEqual([
      ['black 5, cyan 6', '1.yaml'],
      ['black 5, cyan 7', '2.yaml'],
    ]);
    // Of a slot that has none yet nothing is held against the others.
    expect(apart(two('{black: 5 %, cyan: }'), two('{black: 5 %, cyan: 6 %}'))?.of[0]?.[0]).toBe('black 5');
  });

  test('where batches have their own coverage, at two means over the pages, to a tenth of a percent', () => {
    // 2500 pages at 9 % and 7500 at 5 %: 6 %; 2525 pages at 9 % are 6.01 %, 3000 pages 6.2 %.
    const mixed = (pages: number, slots = '[{slot: cyan}, {slot: black}]'): Told => ({
      more: `coverage: 5 %\ncartridges: ${slots}\nbatches: [{end: ${1000 + pages}, coverage: 9 %}]`,
    });
    expect(apart(mixed(2500), mixed(2525))).toBeNull();
    expect(apart(mixed(2500), mixed(3000))?.of).toEqual([
      ['black 6, cyan 6', '1.yaml'],
      ['black 6.2, cyan 6.2', '2.yaml'],
    ]);
    expect(apart(mixed(2500, '[{exhausted_at: 9000}]'), mixed(3000, '[{exhausted_at: 9000}]'))?.of).toEqual([
      ['6', '1.yaml'],
      ['6.2', '2.yaml'],
    ]);
    // Of one slot the coverage of a batch is still to come: nothing is told of the trial.
    const unknown: Told = {
      more: 'coverage: 5 %\ncartridges: [{slot: black}, {slot: cyan}]\nbatches: [{end: 3500, coverage: {black: 9 %, cyan: }}]',
    };
    expect(apart(unknown, mixed(2500))).toBeNull();
  });
});

test('papers are told apart by size, weight and two-sided share', () => {
  const papers = (...more: readonly string[]) =>
    repeated(...more.map((one) => ({ more: one }))).result().papers;
  expect(papers('', 'paper: {size: A4, grammage: 80}', 'duplex_share: 0 %')).toBe(1);
  expect(papers('', 'paper: {size: A3}', 'paper: {grammage: 90}', 'duplex_share: 50 %')).toBe(4);
});
