import { describe, expect, test } from 'vitest';
import { weighingsOfCartridge } from '../../src/figures/cartridge-weighings.ts';
import { greatestOf, leastOf } from '../../src/figures/least-greatest.ts';
import { CATALOGUE } from '../../src/figures/list.ts';
import { coverageOfTrial, meanCoverageOf } from '../../src/figures/mean-coverage.ts';
import { otherClicksSoFar, otherPagesIn } from '../../src/figures/pages.ts';
import {
  type Alike,
  alikeInAll,
  alikeInCoverage,
  alikeInPaper,
  groupsIn,
  stretchesOf,
} from '../../src/figures/stretches.ts';
import { wasteOfTrial, wasteOnTheWay } from '../../src/figures/waste-mass.ts';
import { readSource } from '../../src/text/source.ts';
import { readTrial } from '../../src/trial/read.ts';
import type { Run } from '../../src/trial/trial.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';
import { Measured } from '../../src/uncertainty/measured.ts';
import { dotted } from '../../src/uncertainty/path.ts';

/* What is known of a run between its first page and its last; the runs are invented, sums worked by hand beside each. */

const runOf = (...lines: readonly string[]): Run => {
  const text = ['trial: Mill Lane lot 9', 'meter: {start: 1000, end: 7000}', ...lines, ''].join('\n');
  const { trial, problems } = readTrial(readSource('t.yaml', text), CATALOGUE);
  if (trial === null) throw new Error(problems.map(({ code }) => code).join(', '));
  return trial.run;
};

describe('waste on the way', () => {
  const CONTAINER = 'waste_container: {tare: 500 g, final: 620 g}';
  const soFar = (...lines: readonly string[]): [apart: boolean, ...(readonly [number, number])[]] => {
    const found = wasteOnTheWay(runOf(...lines));
    return [
      found.apart,
      ...found.soFar.map(({ clicks, waste }) => [clicks.value.toNumber(), waste.value.toNumber()] as const),
    ];
  };
  const batches = (...list: readonly string[]): string =>
    `batches: [${list.map((one) => `{end: ${one}}`).join(', ')}]`;

  test('is what the container gained to every weighing', () => {
    const two = batches('3000, container_mass: 540 g', '4000', '5000, container_mass: 590 g');
    expect(soFar(CONTAINER, two)).toEqual([true, [0, 0], [2000, 40], [4000, 90], [6000, 120]]);
  });

  test('without that of other batches, where it was weighed before and after them', () => {
    const middle = batches('3000, container_mass: 540 g', '4000, other: true, container_mass: 560 g');
    expect(soFar(CONTAINER, middle)).toEqual([true, [0, 0], [2000, 40], [5000, 100]]);
    const first = batches('3000, other: true, container_mass: 540 g');
    expect(soFar(CONTAINER, first)).toEqual([true, [0, 0], [4000, 80]]);
  });

  test('with it, where it cannot be told apart', () => {
    const unweighed = batches(
      '3000, container_mass: 540 g',
      '4000, other: true',
      '5000, container_mass: 590 g',
    );
    expect(soFar(CONTAINER, unweighed)).toEqual([false, [0, 0], [2000, 40], [4000, 90], [6000, 120]]);
    // A batch weighed apart beside one that is not.
    const both = batches(
      '3000, other: true, container_mass: 540 g',
      '4000, other: true',
      '5000, container_mass: 590 g',
    );
    expect(soFar(CONTAINER, both)).toEqual([false, [0, 0], [2000, 40], [4000, 90], [6000, 120]]);
    const plain = runOf(CONTAINER, batches('3000, container_mass: 540 g'));
    const others = { ...plain, meter: { ...plain.meter, otherPages: new Decimal(100) } };
    expect([wasteOnTheWay(plain).apart, wasteOnTheWay(others).apart]).toEqual([true, false]);
  });

  test('begins with nothing, known exactly, and ends as uncertain as two weighings to a gram', () => {
    const found = wasteOnTheWay(runOf(CONTAINER, batches('3000, container_mass: 540 g'))).soFar;
    expect(found.map(({ waste }) => waste.u.toNumber())).toEqual([
      0,
      expect.closeTo(Math.sqrt(2 / 12), 12),
      expect.closeTo(Math.sqrt(2 / 12), 12),
    ]);
  });

  test('is not known of several containers, nor without one: what others left is in their sum', () => {
    const two = 'waste_container: [{tare: 500 g, final: 560 g}, {tare: 500 g, final: 560 g}]';
    expect([soFar(two), soFar()]).toEqual([[true], [true]]);
    const other = batches('3000, container_mass: 540 g', '4000, other: true, container_mass: 560 g');
    const change = 'events: [{at: 5000, kind: container_change}]';
    expect(wasteOfTrial(runOf(two, other, change))).toMatchObject({
      bound: 'at_most',
      value: new Decimal(120),
    });
    expect(wasteOfTrial(runOf(CONTAINER, other))).toMatchObject({ bound: 'exact', value: new Decimal(100) });
  });
});

describe('the weighings of a cartridge', () => {
  const weighings = (
    cartridges: string,
    batches: string,
  ): (readonly [string | undefined, string | undefined])[][] => {
    const run = runOf(`cartridges: [${cartridges}]`, `batches: [${batches}]`);
    return run.cartridges.map((cartridge) =>
      weighingsOfCartridge(cartridge, run).map(
        ({ at, mass }) => [at.measured?.value.toFixed(), mass.measured?.value.toFixed()] as const,
      ),
    );
  };
  const MASSES = [3000, 4000, 5000, 7000]
    .map((end) => `{end: ${end}, cartridge_mass: {black: ${9999 - end} g}}`)
    .join(', ');

  test('are those of its own stretch: at a change the old one is weighed, the new one is fitted', () => {
    const two =
      '{slot: black, start_mass: 9000 g, exhausted_at: 4000}, {slot: black, start_mass: 8500 g, end_mass: 2900 g}';
    expect(weighings(two, MASSES)).toEqual([
      [
        ['1000', '9000'],
        ['3000', '6999'],
        ['4000', '5999'],
      ],
      [
        ['4000', '8500'],
        ['5000', '4999'],
        ['7000', '2999'],
        ['7000', '2900'],
      ],
    ]);
  });

  test('are all so far of one that is still in', () => {
    const run = runOf('cartridges: [{slot: black, start_mass: 9000 g}]', `batches: [${MASSES}]`);
    const [cartridge] = run.cartridges;
    if (cartridge === undefined) throw new Error('one is listed');
    const still = { ...cartridge, to: { path: [], measured: null } };
    expect(weighingsOfCartridge(still, run)).toHaveLength(5);
  });

  test('are none of another slot, nor where the meter was not read', () => {
    expect(
      weighings('{slot: black, start_mass: 9000 g}, {slot: cyan, start_mass: 800 g}', MASSES)[1],
    ).toEqual([['1000', '800']]);
    expect(
      weighings('{slot: black, start_mass: 9000 g}', '{end: , cartridge_mass: {black: 6999 g}}'),
    ).toEqual([[['1000', '9000']]]);
  });
});

describe('the stretches of a run', () => {
  const RUN = [
    'coverage: {black: 5 %, cyan: 2 %}',
    'paper: {size: A4, grammage: 80}',
    'duplex_share: 40 %',
  ] as const;
  const kinds = (own: string, alike: Alike): number =>
    groupsIn(runOf(...RUN, `batches: [{end: 3000, ${own}}]`), alike).length;

  test('are one where no batch differs from the run, and one for each batch where any does', () => {
    const stretches = (...own: readonly string[]): number =>
      stretchesOf(
        runOf(...RUN, `batches: [${own.map((one, at) => `{end: ${3000 + 1000 * at}${one}}`).join(', ')}]`),
      ).length;
    expect([stretches(), stretches('', '')]).toEqual([1, 1]);
    for (const own of ['other: true', 'paper: {size: A3}', 'duplex_share: 0 %', 'coverage: {cyan: 3 %}']) {
      expect(stretches('', `, ${own}`), own).toBe(3);
    }
  });

  test.each([
    ['the same again', 'paper: {size: A4, grammage: 80}', 1],
    ['another mass', 'paper: {size: A4, grammage: 90}', 2],
    ['another length', 'paper: {size: {width: 210 mm, height: 400 mm}, grammage: 80}', 2],
    ['another width', 'paper: {size: {width: 200 mm, height: 297 mm}, grammage: 80}', 2],
  ])('are alike on paper of %s or not', (_, paper, count) => {
    expect(kinds(paper, alikeInPaper)).toBe(count);
  });

  test('are alike in all where every slot is', () => {
    expect([
      kinds('coverage: {black: 8 %}', alikeInAll),
      kinds('coverage: {black: 5 %}', alikeInAll),
    ]).toEqual([2, 1]);
    expect([kinds('duplex_share: 0 %', alikeInAll), kinds('paper: {size: A3}', alikeInAll)]).toEqual([2, 2]);
    expect(kinds('other: true, coverage: {black: 5 %}', alikeInAll)).toBe(2);
  });

  test('that are not of the trial, as far as their ends are read, in clicks and in pages', () => {
    const ends = '{end: 3000, other: true}, {end: 4000}, {end: 5000, other: true}';
    const run = runOf(`batches: [${ends}, {end: , other: true}, {end: 6500, other: true}]`);
    expect(otherClicksSoFar(run).toNumber()).toBe(2000 + 1000 + 1500);
    const begun = { ...run, meter: { ...run.meter, start: { path: [], measured: null } } };
    expect(otherClicksSoFar(begun).toNumber()).toBe(1000 + 1500);
    const read = runOf(`batches: [${ends}]`);
    const pages = (clicksPerPage: number, otherPages: number): number =>
      otherPagesIn({
        ...read,
        meter: {
          ...read.meter,
          clicksPerPage: new Decimal(clicksPerPage),
          otherPages: new Decimal(otherPages),
        },
      }).toNumber();
    expect([pages(1, 0), pages(2, 0), pages(2, 10)]).toEqual([3000, 1500, 1510]);
  });
});

describe('the coverage of the trial', () => {
  const BATCHES =
    'batches: [{end: 3000}, {end: 5000, coverage: {black: 8 %}}, {end: 6000, other: true, coverage: {black: 50 %, cyan: 50 %}}]';

  test('is that of its own pages, of all slots together', () => {
    const run = runOf('coverage: {black: 5 %, cyan: 2 %}', BATCHES);
    // (2000 × 5 + 2000 × 8 + 1000 × 5) / 5000 = 6.2 of black; and 2 of cyan.
    expect(coverageOfTrial(run, ['black', 'cyan']).value.toNumber()).toBe(8.2);
    expect(coverageOfTrial(run, ['cyan']).value.toNumber()).toBe(2);
    // (2000 × 8 + 4000 × 5) / 6000
    const one = runOf('coverage: 5 %', 'batches: [{end: 3000, coverage: 8 %}]');
    expect(coverageOfTrial(one, [null]).value.toNumber()).toBe(6);
    expect(
      coverageOfTrial(runOf('coverage: {black: 5 %, cyan: 2 %}'), ['black', 'cyan']).value.toNumber(),
    ).toBe(7);
  });

  test('given again as it was makes no other pages, given as another it does', () => {
    const kinds = (coverage: string, tolerance = ''): number =>
      groupsIn(
        runOf(
          `coverage: {value: 5 %${tolerance}}`,
          `batches: [{end: 3000, coverage: {value: ${coverage}${tolerance}}}]`,
        ),
        alikeInCoverage(null),
      ).length;
    expect([kinds('5 %'), kinds('5 %', ', tolerance: 0.5'), kinds('6 %')]).toEqual([1, 1, 2]);
  });

  test('that is still to be read is one where it is the same reading', () => {
    const kinds = (coverage: string): number =>
      groupsIn(
        runOf('coverage: {black: , cyan: 2 %}', `batches: [{end: 3000, coverage: ${coverage}}]`),
        alikeInCoverage('black'),
      ).length;
    expect([kinds('{cyan: 3 %}'), kinds('{black: }'), kinds('{black: 5 %}')]).toEqual([1, 2, 2]);
    const read = runOf('coverage: {black: 5 %}', 'batches: [{end: 3000, coverage: {black: }}]');
    expect(groupsIn(read, alikeInCoverage('black'))).toHaveLength(2);
  });

  test('rests on every reading of it, also where two are the same', () => {
    const run = runOf('coverage: 5 %', 'batches: [{end: 3000, coverage: 5 %}]');
    const [cartridge] = run.cartridges;
    if (cartridge === undefined) throw new Error('one is taken');
    expect(meanCoverageOf(cartridge, run).mean.restsOn.map(dotted)).toEqual([
      'batches[1].coverage',
      'coverage',
    ]);
  });
});

describe('the least and the greatest', () => {
  const reading = (value: number, u: string, name: string): Measured =>
    Measured.reading(new Decimal(value), [
      { path: [name], value: new Decimal(value), unit: 'g', u: new Decimal(u) },
    ]);
  const inputs = (value: Measured): unknown[] => [...value.sensitivities.keys()].map(({ path }) => path[0]);
  const values = [reading(3, '0.1', 'a'), reading(1, '0.1', 'b'), reading(2, '0.5', 'c')];

  test('whatever their order; of equal ones that which is known less well, of alike ones the first', () => {
    for (const some of [values, values.toReversed()]) {
      expect([leastOf(some), greatestOf(some)].map(inputs)).toEqual([['b'], ['a']]);
    }
    const equal = [
      reading(2, '0.1', 'a'),
      reading(2, '0.5', 'b'),
      reading(2, '0.5', 'c'),
      reading(2, '0.1', 'd'),
    ];
    expect([leastOf(equal), greatestOf(equal)].map(inputs)).toEqual([['b'], ['b']]);
  });
});
