import { describe, expect, test } from 'vitest';
import computed from '../published/lot-plans.json' with { type: 'json' };
import { run } from '../run.ts';

/* How a lot is to be tried, in the text and the CSV of `plan`. The plans themselves: tests/published/lot.test.ts. */

const TERMS = 'limiting_quality: 10 %, acceptable_quality: 1 %';

const trial = (terms = TERMS, more = ''): string => `trial: t
lot: {id: K-20, supplier: Millrace Works, size: 400}
machine: {rated_speed: 25}
meter: {start: 0}
coverage: 5 %
limits: {yield_at_reference: {min: 9000}}
target: {pages: 6000, lot: {${terms}}${more}}
`;

const plan = (file: string, ...options: string[]) => run(['plan', 't.yaml', ...options], { 't.yaml': file });
const flat = (text: string): string => text.replace(/\s+/g, ' ');
const section = (text: string): string => /^THE LOT\n([^]*?)\n\n[A-Z]/m.exec(text)?.[1] ?? '';

/** Cells of the CSV by item and part. */
function table(file: string, ...options: string[]): (item: string, of?: string) => string | undefined {
  const rows = plan(file, '--format', 'csv', ...options)
    .out.split('\r\n')
    .map((row) => row.split(','));
  return (item, of = '') => rows.find((row) => row[0] === item && row[1] === of)?.[2];
}

test('a plan that names no terms says nothing of the lot', () => {
  expect(plan('trial: t\nlot: {id: K-20, size: 400}\nmeter: {start: 0}\n').out).not.toContain('THE LOT');
});

describe('a lot of 400, 1 % against 10 %', () => {
  const { out, code } = plan(trial());
  const cell = table(trial());

  test('the rules: 37 with 1 (computed: tests/commands/lot.test.ts); h₁ 0.9389, h₂ 1.2054, s 0.03975 (published)', () => {
    expect(code).toBe(0);
    expect(flat(out)).toContain('single rule try 37; accept with no more than 1 failing');
    expect(flat(out)).toContain('Wald’s sequential plan, h1 0.9389, h2 1.2054, s 0.03975');
    expect([cell('lot_single', 'sample'), cell('lot_single', 'accept')]).toEqual(['37', '1']);
  });

  test('the sequential table: accept 0 at 24, 1 at 49, reject 2 from 2, 3 from 20, 4 from 46 (published)', () => {
    const at = (tried: number) => [
      cell('lot_accept', `${tried} tried`) ?? null,
      cell('lot_reject', `${tried} tried`) ?? null,
    ];
    expect([1, 2, 19, 20, 23, 24, 45, 46, 48, 49].map(at)).toEqual([
      [null, null],
      [null, '2'],
      [null, '2'],
      [null, '3'],
      [null, '3'],
      ['0', '3'],
      ['0', '3'],
      ['0', '4'],
      ['0', '4'],
      ['1', '4'],
    ]);
    expect(out).toMatch(/\[ \] +24 +0 +3\b/);
  });

  test('acceptance and mean number of trials of the sequential rule (computed: lot-plans.py)', () => {
    const rows = computed.courses.filter(([lot]) => lot === 400);
    const seen = rows.flatMap(([, failing = 0, accepted = 0, tried = 0]) => {
      const share = cell('lot_accepted_sequential', `${failing} failing`);
      return share === undefined ? [] : [[failing, Number(share) / 100 - accepted, tried]];
    });
    expect(seen.map(([failing]) => failing)).toEqual([0, 4, 20, 40]);
    // The rule also stops where the lot is known for certain, which changes less than a millionth here.
    for (const [, difference = 1] of seen) expect(Math.abs(difference)).toBeLessThan(1e-6);
    const good = rows.find(([, failing]) => failing === 4)?.[3] ?? 0;
    expect(Number(cell('lot_trials', 'sequential'))).toBeCloseTo(good, 4);
  });

  test('acceptance of the single rule at 4 and 40 failing: 0.9556, 0.0926 (computed, Python’s math.comb)', () => {
    expect(Number(cell('lot_accepted_single', '4 failing'))).toBeCloseTo(95.56077, 5);
    expect(Number(cell('lot_accepted_single', '40 failing'))).toBeCloseTo(9.263102, 5);
  });

  test('paper and hours of so many trials', () => {
    // 6000 pages at 25 a minute are 4 h; 37 × 6000 sheets and 2 % are 226440, 452.9 reams.
    expect([cell('lot_hours', 'single-most'), cell('lot_reams', 'single-most')]).toEqual(['148', '453']);
  });

  test('by variables: 21 with 1.750, and with the deviation known 8 with 1.735 (computed, scipy)', () => {
    const known = trial(TERMS, ', expected_sd: 400, expected_yield: 10000');
    expect(flat(plan(known).out)).toContain(
      'deviation found try 21; accept where mean − 1.750 × deviation is 9000 pages or more',
    );
    expect(flat(plan(known).out)).toContain(
      'deviation known try 8; accept where mean − 1.735 × 400 pages is 9000 pages or more',
    );
    expect(flat(out)).toContain('deviation known – target.expected_sd is not given');
  });

  test('the uncertainty of a yield against a tenth of the deviation', () => {
    const coverage = (said: string): string =>
      flat(
        plan(trial(TERMS, ', expected_sd: 400, expected_yield: 10000').replace('coverage: 5 %', said)).out,
      );
    // 10000 × 0.1/5/√3 = 115 pages; a tenth of 400 is 40.
    expect(coverage('coverage: {value: 5 %, tolerance: 0.1 %}')).toContain(
      'cartridges: 40 pages; that of the coverage is 120, which is too much',
    );
    expect(coverage('coverage: {value: 5 %, tolerance: 0.01 %}')).toContain(
      'cartridges: 40 pages; that of the coverage is 12 ',
    );
  });

  test('JSON keeps its keys', () => {
    const keys = (file: string): string[] =>
      Object.keys(JSON.parse(plan(file, '--format', 'json').out) as object);
    expect(keys(trial())).toEqual(keys('trial: t\nmeter: {start: 0}\n'));
  });
});

describe('what cannot be planned says why', () => {
  test.each([
    ['no size', trial().replace(', size: 400', ''), 'lot.size is not given'],
    ['one cartridge', trial().replace('400', '1'), 'lot.size is outside the formula’s range of 2 to 100000'],
    ['no limiting quality', trial('acceptable_quality: 1 %'), 'target.lot.limiting_quality is not given'],
    [
      'no acceptable quality',
      trial('limiting_quality: 10 %'),
      'sequential rule – target.lot.acceptable_quality',
    ],
    [
      'too close in whole cartridges',
      trial('limiting_quality: 1.1 %, acceptable_quality: 1.2 %'),
      'target.lot.acceptable_quality is not below target.lot.limiting_quality',
    ],
    [
      'too close for any number',
      trial('limiting_quality: 2 %, acceptable_quality: 1.9 %').replace('400', '90000'),
      'asks for more than 1000 cartridges to be tried',
    ],
    [
      'certain to fail',
      trial('limiting_quality: 100 %, acceptable_quality: 1 %'),
      'deviation found – target.lot.limiting_quality is outside the formula’s range of less than 50 %',
    ],
  ])('%s', (_, file, said) => {
    const { out, code } = plan(file);
    expect(code).toBe(0);
    expect(flat(section(out))).toContain(said);
  });
});

describe('the draw', () => {
  /*
   * for i in $(seq 12); do echo "$(printf '%s %d' 4711 $i | sha256sum | cut -c1-64) $i"; done | sort
   * GNU coreutils 9.1.
   */
  const ORDER = [10, 6, 9, 7, 4, 2, 8, 3, 1, 11, 12, 5];
  const small = trial('limiting_quality: 30 %').replace('400', '12');

  test('takes the numbers whose digests come first', () => {
    const cell = table(small, '--draw', '4711');
    const sample = Number(cell('lot_single', 'sample'));
    const drawn = ORDER.map((_, index) => cell('draw', `${index + 1}`)).filter(Boolean);
    expect(drawn).toEqual(ORDER.slice(0, sample).map(String));
    expect(cell('draw_seed')).toBe('4711');
    const text = flat(plan(small, '--draw', '4711').out);
    expect(text).toContain(`by the seed "4711", in the order they are tried`);
    expect(text).toContain(`try ${ORDER.slice(0, sample).join(', ')} `);
  });

  test('draws others by another seed, the same by the same, and more for the sequential rule', () => {
    const drawn = (seed: string): string =>
      /^ {2}try +([^]*?)\n {2}in order/m.exec(plan(trial(), '--draw', seed).out)?.[1] ?? '';
    expect(drawn('a')).toBe(drawn('a'));
    expect(drawn('a')).not.toBe(drawn('b'));
    expect(drawn('a').split(',')).toHaveLength(37);
    const rest = /if it goes on +([^]*?)\n\n/.exec(plan(trial(), '--draw', 'a').out)?.[1] ?? '';
    const all = [...drawn('a').split(','), ...rest.split(',')].map(Number);
    expect(new Set(all).size).toBe(74);
  });

  test('needs a seed, terms, and a format that tells it', () => {
    expect(plan(trial(), '--draw', ' ').code).toBe(4);
    expect(plan(trial(), '--draw', 'a', '--format', 'json')).toMatchObject({ code: 4, out: '' });
    expect(plan(trial(), '--draw', 'a', '--record').code).toBe(4);
    const { code, err } = plan('trial: t\nmeter: {start: 0}\n', '--draw', 'a');
    expect(code).toBe(3);
    expect(err).toContain('nothing can be drawn: lot.size is not given');
  });
});

test('the text is at most 80 columns wide', () => {
  for (const line of plan(trial(), '--draw', 'x'.repeat(200)).out.split('\n'))
    expect(Array.from(line).length, line).toBeLessThanOrEqual(80);
});

describe('a delivery to be looked at', () => {
  // The numbers are those of tests/commands/delivery.test.ts (computed there).
  const CLASSES =
    'inspection: {critical: {limiting_quality: 3 %}, major: {limiting_quality: 10 %, acceptable_quality: 1 %}}';

  test.each([
    ['beside the trials', `${TERMS}, ${CLASSES}`, 'single rule try 37'],
    ['alone', CLASSES, 'trials – target.lot.limiting_quality is not given'],
  ])('has its sample and the number of each class, %s', (_, terms, rule) => {
    const { out, code } = plan(trial(terms));
    const said = flat(section(`${out}\n\nX`));
    expect(code).toBe(0);
    expect(said).toContain(rule);
    expect(said).toContain(
      'on delivery inspect 69; each counts once, in the class of the worst finding on it',
    );
    expect(said).toContain(
      'critical accept with none 3 % with one, 12 of 400; consumer’s risk 10 %: accepted in 10.0 % of cases',
    );
    expect(said).toContain('major accept with no more than 3 10 % with one, 40 of 400');
    expect(said).toContain('1 % with one, 4 of 400; producer’s risk 5 %: accepted in 99.9 % of cases');
    const cell = table(trial(terms));
    expect([cell('lot_inspection_sample', 'major'), cell('lot_inspection_accept', 'major')]).toEqual([
      '69',
      '3',
    ]);
  });

  test('is drawn with the cartridges to try, which are the first of it', () => {
    const drawn = (terms: string): string[] => {
      const rows = plan(trial(terms), '--format', 'csv', '--draw', '7').out.split('\r\n');
      return rows.filter((row) => row.startsWith('draw,')).map((row) => row.split(',')[2] ?? '');
    };
    const [all, own] = [drawn(CLASSES), drawn(TERMS)];
    expect([all.length, own.length]).toEqual([69, 74]);
    expect(own.slice(0, 69)).toEqual(all);
    expect(flat(plan(trial(CLASSES), '--draw', '7').out)).toMatch(/ inspect \d+, \d+/);
  });

  test('says where the classes are no terms', () => {
    const { out } = plan(
      trial(`${TERMS}, inspection: {minor: {limiting_quality: 5 %, acceptable_quality: 5 %}}`),
    );
    expect(flat(out)).toContain('on delivery – target.lot.inspection.minor.acceptable_quality');
  });
});
