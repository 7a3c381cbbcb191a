import { parseHTML } from 'linkedom';
import { describe, expect, test } from 'vitest';
import { type Files, run } from '../run.ts';
import { runReport } from './run-report.ts';

interface Node {
  readonly textContent: string;
  querySelector(which: string): Node | null;
  querySelectorAll(which: string): Iterable<Node>;
}

const spaced = (text: string): string => text.replace(/\s+/g, ' ').trim();

function first(argv: readonly string[], files: Files = {}) {
  const { code, out } = runReport([...argv, '--output', '-'], files);
  expect(code).toBe(0);
  const { document } = parseHTML(out) as unknown as { document: Node };
  return {
    answer: spaced(document.querySelector('#answer')?.textContent ?? '').replace(/^[●✕◇] /, ''),
    more: [...document.querySelectorAll('.first > p:not(.covers)')].map((one) => spaced(one.textContent)),
    caveats: [...document.querySelectorAll('.first .caveats li')].map((one) => spaced(one.textContent)),
    text: spaced(document.querySelector('main')?.textContent ?? ''),
    page: out,
  };
}

/** Trials of so many pages each, all exhausted, a machine for each list. */
const trials = (machines: readonly (readonly number[])[]): Record<string, string> =>
  Object.fromEntries(
    machines.flatMap((yields, machine) =>
      yields.map((pages, nth) => [
        `lots/${machine}-${nth}.yaml`,
        `trial: ${machine} ${nth}
machine: {serial: M${machine}}
meter: {start: ${machine * 100_000 + nth}, end: ${machine * 100_000 + nth + pages}}
coverage: 5 %
cartridges: [{slot: black, serial: C${machine}${nth}, exhausted_at: ${machine * 100_000 + nth + pages}}]
`,
      ]),
    ),
  );

const NINE = [
  [10_000, 10_200, 10_400],
  [10_050, 10_250, 10_350],
  [10_100, 10_150, 10_300],
];

describe('the claim is said first', () => {
  test('that is supported', () => {
    const { answer } = first(['lots', '--claim', '10100'], trials(NINE));
    // Mean 10 200, s = 136.9; 10 200 − 1.397 × 136.9 / 3 = 10 136; over the means 10 200, 10 216.7, 10 183.3
    // 10 200 − 1.886 × 16.7 / √3 = 10 181.9 (t from a printed table).
    expect(answer).toBe(
      'Supported. 10 100 pages for black can be declared: the lower bound of the mean is 10 136 pages.',
    );
  });

  test('that is supported though a cartridge is below it: a sentence says why', () => {
    const { text } = first(['lots', '--claim', '10100'], trials(NINE));
    expect(text).toContain(
      '2 cartridges yielded less than the claim: C00 (10 000 pages), C10 (10 050 pages).',
    );
  });

  test('that is more than they yield', () => {
    const { answer } = first(['lots', '--claim', '10500'], trials(NINE));
    expect(answer).toMatch(/^Not supported\. 10 500 pages for black is more than these cartridges yield/);
  });

  test('that the coverage keeps open', () => {
    const { answer, more } = first(['examples/pool', '--claim', '10500']);
    expect(answer).toBe(
      'Not decided. 10 500 pages for black is not safe to declare yet: the cartridges alone support 10 701 pages, the coverage is uncertain by ± 499 pages.',
    );
    expect(more.join(' ')).toContain('A coverage known better would decide it.');
  });

  test('that is supported with the coverage in it: both bounds are named, as the list names them', () => {
    const { answer, text } = first(['examples/pool', '--claim', '9000']);
    expect(answer).toMatch(
      /lower bound of the mean is with the coverage’s uncertainty 10 447 pages; of the cartridges alone 10 701 pages\.$/,
    );
    const plain = text.replace(/\s/g, ' ');
    expect(plain).toMatch(/10 \d{3} pages; of the mean; of the cartridges alone, one-sided/);
    expect(plain).toContain('10 447 pages; with the coverage’s uncertainty: and on this one');
    expect(plain).toContain('those with the coverage’s uncertainty cover that too');
    expect(plain).not.toContain('scatter of the cartridges only');
  });

  test('and without one the mean, and what it is at least', () => {
    const { answer } = first(['lots'], trials(NINE));
    expect(answer).toBe(
      '10 200 pages. So much 9 cartridges of black yielded on average; with 90 % confidence the mean is at least 10 136 pages.',
    );
  });
});

test('machines that scatter no more than their cartridges are not distinguishable', () => {
  expect(first(['lots'], trials(NINE)).text).toContain(
    'not distinguishable from the scatter within a machine',
  );
});

test('yields stand machine by machine, with the mean of each', () => {
  const { page } = first(['lots'], trials(NINE));
  expect(page.replaceAll('\u202f', ' ')).toContain(
    'machine M0: mean 10 200. machine M1: mean 10 217. machine M2: mean 10 183.',
  );
});

interface PoolJson {
  readonly groups: readonly (Readonly<Record<string, string | number | null>> & {
    readonly claim: { readonly pages: string } | null;
  })[];
}

test.each<[name: string, argv: readonly string[], files: Files]>([
  ['no claim', ['examples/pool'], {}],
  ['a claim that the coverage keeps open', ['examples/pool', '--claim', '10500'], {}],
  ['one that is supported', ['lots', '--claim', '10100'], trials(NINE)],
  ['one that is not', ['lots', '--claim', '10500'], trials(NINE)],
  ['one with few cartridges', ['lots', '--claim', '9900'], trials([[10_000, 10_200]])],
])('every number on the first screen is one of pool as JSON: %s', (_, argv, files) => {
  const { page } = first(argv, files);
  const [group] = (JSON.parse(run(['pool', ...argv, '--format', 'json'], files).out) as PoolJson).groups;
  const of = (name: string): number | null => (group?.[name] == null ? null : Number(group[name]));
  const verdicts = (
    JSON.parse(run(['verdict', argv[0] ?? '', '--format', 'json'], files).out) as { verdict: string }[]
  ).map(({ verdict }) => verdict);
  // What all trials share is taken as rectangular: 90 % of it lie above the middle less 0.8 times half its width, √3 u.
  const common = 0.8 * Math.sqrt(3) * (of('common_u') ?? 0);
  const withCommon = (bound: number | null): number | null =>
    bound === null ? null : (of('mean') ?? 0) - Math.hypot((of('mean') ?? 0) - bound, common);
  const [bound, clustered] = [of('lower_bound'), of('clustered_lower_bound')];
  const measured = [
    ...['mean', 'sd', 'tolerance_bound'].map(of),
    ...[bound, clustered, withCommon(bound), withCommon(clustered)],
    2 * (of('common_u') ?? 0),
    100 * (of('failure_upper_bound') ?? 0),
    // The upper bound is as far above the mean as the lower is below it.
    2 * (of('mean') ?? 0) - (bound ?? 0),
  ];
  const exact = [
    ...['n', 'at_least', 'failed', 'machines', 'confidence'].map(of),
    ...['pass', 'fail', 'inconclusive'].map((verdict) => verdicts.filter((one) => one === verdict).length),
    (of('n') ?? 0) + (of('failed') ?? 0),
    verdicts.length,
    Number(group?.claim?.pages),
    // The share of cartridges that a tolerance bound speaks of, and where a strip begins.
    ...[90, 0],
  ];
  const { document } = parseHTML(page) as unknown as { document: Node };
  const said = ['h2', 'figcaption', 'svg text', 'svg desc', 'dl.four dd', 'dl.four dt'].flatMap((which) =>
    [...document.querySelectorAll(`.first ${which}`)].map(({ textContent }) => textContent),
  );
  const numbers = said.flatMap((text) => text.replaceAll('\u202f', '').match(/\d+(\.\d+)?/g) ?? []);
  expect(numbers.length).toBeGreaterThan(8);
  for (const number of numbers) {
    const held =
      exact.includes(Number(number)) ||
      measured.some((one) => one !== null && Math.abs(one - Number(number)) <= 0.5 + 1e-6);
    expect(held, `${number} in ${said.join(' | ')}`).toBe(true);
  }
});

const plain = (text: string): string => text.replace(/\s+/g, ' ').replaceAll('−', '-');
const ungrouped = (text: string): string => text.replace(/(?<=\d)[\u202f ](?=\d{3})/g, '');

/** Of few cartridges, few machines, an outlier, an unnamed machine, odd names, and machines that differ. */
const ODD: Readonly<Record<string, Files>> = {
  'few cartridges': trials([[10_000, 10_200]]),
  'an outlier': trials([
    [10_000, 10_010, 10_005],
    [10_002, 10_008, 10_001],
    [10_004, 10_006, 8_000],
  ]),
  'machines that differ': trials([
    [10_000, 10_010],
    [11_000, 11_010],
    [9_000, 9_010],
  ]),
  'a machine that is not named': Object.fromEntries(
    Object.entries(trials(NINE)).map(([file, text], index) => [
      file,
      index === 0 ? text.replace(/machine: .*\n/, '') : text,
    ]),
  ),
  'two labels of one machine': Object.fromEntries(
    Object.entries(trials(NINE)).map(([file, text], index) => [
      file,
      text.replace('{serial: M0}', `{serial: M0, label: ${index === 0 ? 'Heron' : 'Plover'}}`),
    ]),
  ),
};

test.each(Object.entries(ODD))('no remark of pool is missing: %s', (_, files) => {
  const text = plain(run(['pool', 'lots', '--claim', '9900'], files).out);
  const { caveats, more } = first(['lots', '--claim', '9900'], files);
  const remarks = [...caveats.map((one) => one.replace(/^▲ /, '')), ...more];
  expect(remarks.length).toBeGreaterThan(0);
  for (const remark of remarks) expect(ungrouped(text)).toContain(ungrouped(plain(remark)).trim());
  // And the other way round: every sentence that pool says of the group before its claim, and after it.
  for (const said of text.match(
    /(?:Fewer than|of the cartridges (?:is|are) of|It stays in|The machines differ|counts as one machine)/g,
  ) ?? []) {
    expect(remarks.join(' ')).toContain(said);
  }
});

describe('yields beside a normal distribution', () => {
  const titled = (argv: readonly string[], files: Files): string | null => {
    const { page } = first(argv, files);
    return /<desc[^>]*>([^<]*about the line of a normal distribution[^<]*)</.exec(page)?.[1] ?? null;
  };

  test('all exhausted: drawn, with how many are outside the band', () => {
    expect(titled(['lots'], trials(NINE))).toContain('none is outside the shaded band.');
    // Mean 10 192, s 565.5: the first lies at 10 000, above its band up to 9953; the seventh and eighth at 10 006 and
    // 10 007, below theirs from 10 049 and 10 217 on; all others in theirs (scipy 1.17.1).
    const odd = [
      [10_000, 10_001, 10_002],
      [10_003, 10_004, 10_005],
      [10_006, 10_007, 11_700],
    ];
    expect(titled(['lots'], trials(odd))).toContain('3 are outside the shaded band.');
  });

  test('fewer than five, or one not exhausted: not drawn', () => {
    expect(
      titled(
        ['lots'],
        trials([
          [10_000, 10_200],
          [10_100, 10_300],
        ]),
      ),
    ).toBeNull();
    const files = trials(NINE);
    const [name = '', text = ''] = Object.entries(files)[0] ?? [];
    expect(titled(['lots'], { ...files, [name]: text.replace(/, exhausted_at: \d+/, '') })).toBeNull();
  });
});

test('a trend draws the limit that all were agreed to keep to, named apart from the control limits', () => {
  const limited = (max: (nth: number) => number): Files =>
    Object.fromEntries(
      Array.from({ length: 60 }, (_, nth) => [
        `lots/${nth}.yaml`,
        `trial: {title: t${nth}, started: 2026-0${1 + Math.floor(nth / 28)}-${String(1 + (nth % 28)).padStart(2, '0')}}
meter: {start: ${nth}, end: ${nth + 10000}}
coverage: 5 %
waste_container: {tare: 640 g, final: ${800 + ((nth * 7) % 10)} g}
cartridges: [{slot: black, serial: C${nth}, exhausted_at: ${nth + 10000}}]
limits: {waste_per_thousand: {max: ${max(nth)} g}}
`,
      ]),
    );
  const picture = (files: Files): string =>
    /<h2 id="part-\d+">Trend[\s\S]*?<\/figure>/.exec(
      first(['lots', '--trend', 'waste_per_thousand'], files).page,
    )?.[0] ?? '';
  const alike = picture(limited(() => 25));
  expect(alike).toMatch(/<text [^>]*>agreed, at most 25<\/text>/);
  expect(alike).toMatch(/<text [^>]*>upper control limit [\d.]+<\/text>/);
  expect(picture(limited((nth) => (nth === 0 ? 24 : 25)))).not.toContain('agreed');
  // Days stand beside each other: a day takes 66 pixels of the wide drawing.
  const wide = alike.slice(0, alike.indexOf('class="slim"'));
  const places = [...wide.matchAll(/translate\(([\d.]+),[\d.]+\)"[^>]*>2026-\d\d-\d\d/g)].map(([, x]) =>
    Number(x),
  );
  expect(places.length).toBeGreaterThan(3);
  expect(Math.min(...places.slice(1).map((x, index) => x - (places[index] ?? 0)))).toBeGreaterThan(66);
});
