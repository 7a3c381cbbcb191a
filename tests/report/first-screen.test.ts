import { parseHTML } from 'linkedom';
import { describe, expect, test } from 'vitest';
import { run } from '../run.ts';
import type { ResultJson } from '../run.ts';
import { htmlOf, runReport } from './run-report.ts';

type Limit = ResultJson['limits'][number] & { readonly min: string | null; readonly max: string | null };
type Judged = Omit<ResultJson, 'limits'> & { readonly limits: readonly Limit[] };

interface Node {
  readonly textContent: string;
  querySelector(which: string): Node | null;
  querySelectorAll(which: string): Iterable<Node>;
}

const documentOf = (page: string): Node => (parseHTML(page) as unknown as { document: Node }).document;

const spaced = (text: string): string => text.replace(/\s+/g, ' ').trim();

/** The heading of the first screen, without the sign before it. */
const answerOf = (page: string): string =>
  spaced(documentOf(page).querySelector('#answer')?.textContent ?? '').replace(/^[●✕◇] /, '');

const TRIAL = `trial: Ferry Steps lot 3
meter: {start: 100, end: 10100}
coverage: 5 %
waste_container: {tare: 640 g, final: 940 g}
ambient: [{temperature: 22 °C, humidity: 45 %}]
`;

/** 10 000 pages; 300 g of waste, 30 g per thousand, each weight read to 1 g: U = 2 √(2/12) / 10 = 0.082 g. */
describe('the answer, with its number, for', () => {
  test.each([
    [
      'a fail',
      'limits: {waste_per_thousand: {max: 25 g}}',
      'Fail. Waste is 30.000 g per thousand pages; at most 25 g was agreed.',
    ],
    [
      'the worst of several misses, by share of the limit',
      'limits: {waste_per_thousand: {max: 25 g}, waste_mass: {max: 290 g}}',
      'Fail. Waste is 30.000 g per thousand pages; at most 25 g was agreed.',
    ],
    [
      'a pass: the figure closest to its limit',
      'limits: {waste_per_thousand: {max: 40 g}, waste_mass: {max: 310 g}}',
      'Pass. Closest to its limit: waste mass is 300.00 g; at most 310 g was agreed.',
    ],
    [
      'a condition that was not kept',
      'limits: {waste_per_thousand: {max: 40 g}, temperature: {max: 21 °C}}',
      'Inconclusive. The trial proves nothing. Highest temperature is 22.00 °C; at most 21 °C was agreed.',
    ],
    [
      'a yield that is only a lower bound',
      'limits: {yield_at_reference: {min: 12000}}',
      'Inconclusive. Yield at reference coverage is at least 10 000 pages; whether it keeps to at least 12 000 pages cannot be told.',
    ],
    [
      'a reading that is missing',
      'limits: {container_life: {min: 12000}}',
      'Inconclusive. Waste container life is not known; at least 12 000 pages was agreed.',
    ],
    [
      'no limit',
      '',
      'Inconclusive. No limit was agreed that could condemn what was tried, so nothing was decided.',
    ],
  ])('%s', (_, limits, said) => {
    expect(answerOf(htmlOf(`${TRIAL}${limits}\n`))).toBe(said);
  });
});

test('a leak behind a pass is said there, marked by more than colour', () => {
  const page = htmlOf(`trial: Weir Street lot 4
meter: {start: 10000, end: 30000}
coverage: 5 %
cartridges:
  - {slot: black, exhausted_at: 29000, exhausted_by: fade}
  - {slot: cyan, failed_at: 20000, failed_by: leak}
limits: {yield_at_reference: {of: black, min: 15000}, failed_cartridges: {max: 1}}
`);
  const caveats = [...documentOf(page).querySelectorAll('.first .caveats li')].map((one) => one.textContent);
  expect(answerOf(page)).toMatch(/^Pass\./);
  expect(caveats).toEqual(['▲ 1 of 2 cartridges failed.']);
});

const EXAMPLES = ['four-colour-pass', 'waste-fail', 'not-exhausted', 'warm-room', 'draft-with-slips'].map(
  (name) => `examples/${name}.yaml`,
);

/** Half of the place that two significant digits of U leave; of what is exact, half of the third decimal. */
const tolerance = (u: number): number =>
  u === 0 ? 0.0005 : 0.5 * 10 ** (Math.floor(Math.log10(Number((2 * u).toPrecision(2)))) - 1);

test.each(EXAMPLES)('every number on the first screen of %s is one of the verdict as JSON', (file) => {
  const page = runReport([file, '--output', '-']).out;
  const result = JSON.parse(run(['verdict', file, '--format', 'json']).out) as Judged;
  const first = documentOf(page).querySelector('.first');
  const said = [
    ...(first?.querySelectorAll('h2, p, dd.said, .caveats li, figcaption') ?? []),
    ...(first?.querySelectorAll('svg text:not([y="121"]), svg desc') ?? []),
    ...(first?.querySelectorAll('dl.four div:not(:nth-child(3)) dd') ?? []),
  ].map(({ textContent }) => textContent);
  const outcomes = (outcome: string): number => result.limits.filter((one) => one.outcome === outcome).length;
  type Known = readonly [number: number, tolerance: number];
  const uOf = ({ figure, of, stat }: ResultJson['limits'][number]): number =>
    Number(result.figures.find((one) => one.figure === figure && one.of === of && one.stat === stat)?.u ?? 0);
  const counts = [
    result.limits.length,
    ...['met', 'missed', 'open'].map(outcomes),
    result.notes.filter(({ code }) => code === 'within-uncertainty').length,
    ...result.caveats.flatMap(({ message }) => (message.match(/\d+(\.\d+)?/g) ?? []).map(Number)),
    // Counted by hand from the file; U = 2u and its probability are what they are; a strip begins at 0.
    ...(COUNTS[file] ?? [1]),
    ...[2, 95, 0, 1],
  ];
  const known: Known[] = [
    ...result.figures.flatMap(({ value, u }): Known[] => [
      [Number(value), tolerance(Number(u))],
      [2 * Number(u), tolerance(Number(u))],
    ]),
    ...result.limits.flatMap((limit): Known[] => [
      ...[limit.min, limit.max].flatMap((edge): Known[] => (edge === null ? [] : [[Number(edge), 0]])),
      [Math.abs(Number(limit.margin)), tolerance(uOf(limit))],
    ]),
    ...counts.map((count): Known => [count, 0]),
  ];
  const numbers = said.flatMap((text) => text.replaceAll('\u202f', '').match(/\d+(\.\d+)?/g) ?? []);
  expect(numbers.length).toBeGreaterThan(8);
  for (const number of numbers) {
    const held = known.some(([one, within]) => Math.abs(Number(number) - one) <= within * (1 + 1e-9));
    expect(held, `${number} in ${said.join(' | ')}`).toBe(true);
  }
});

/** Cartridges and days of the examples, counted by hand. */
const COUNTS: Readonly<Record<string, readonly [number, number]>> = {
  'examples/four-colour-pass.yaml': [4, 4],
};
