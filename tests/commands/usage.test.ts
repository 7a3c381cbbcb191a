import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { runReport } from '../report/run-report.ts';
import { type Files, type Ran, type ResultJson, run } from '../run.ts';

/* Toner at no coverage, kept by forecast and named by trials and limits; trials of an invented lot. */

/** 10000 pages that took 6 mg + 4 mg for each percent: 100 g at 1 %, 300 g at 6 %, each with 2 g more and less. */
const tried = (coverage: number, used: number, day: string): string => `
trial: {title: Ferry Lane lot 9 at ${coverage} %, finished: ${day}}
machine: {label: Teal, model: T 30}
meter: {start: 10000, end: 20000}
coverage: ${coverage} %
cartridges: [{slot: black, start_mass: 900.00 g, end_mass: ${900 - used}.00 g}]
`;
const TRIED: Files = {
  'tried/a.yaml': tried(1, 98, '2026-10-05'),
  'tried/b.yaml': tried(1, 102, '2026-10-06'),
  'tried/c.yaml': tried(6, 294, '2026-10-09'),
  'tried/d.yaml': tried(6, 306, '2026-10-08'),
};
const NAMES = Object.keys(TRIED);

const forecast = (files: Files, ...options: string[]): Ran =>
  run(['forecast', ...NAMES, ...options], { ...TRIED, ...files });

const kept = (): string => forecast({}, '--write', 'usage.yaml').written['usage.yaml'] ?? '';

describe('forecast --write', () => {
  test('keeps the line, where it is from, and the last day of its trials; no clock', () => {
    const { code, written, out } = forecast({}, '--write', 'tried/usage.yaml', '--format', 'json');
    expect(code).toBe(0);
    const [fit] = (JSON.parse(out) as { slots: { m0: string; u_m0: string }[] }).slots;
    const text = written['tried/usage.yaml'] ?? '';
    expect(text).toContain('model: "T 30"');
    expect(text).toContain('until: 2026-10-09');
    expect(text).toContain('  trials:\n    - "a.yaml"\n    - "b.yaml"\n');
    expect(text).toMatch(/slot: "black"\n +m0: 6 mg\n/);
    expect(text).toContain(`u_m0: ${Number(Number(fit?.u_m0).toPrecision(6))} mg`);
    expect(text).toContain('from: 1 %\n      to: 6 %');
    // Nothing of today: the clock of the tests says 2026-03-09.
    expect(text).not.toContain('2026-03');
  });

  test('counts cartridges, not the coverages each was tried at', () => {
    const { code, written } = run(
      ['forecast', 'examples/several-coverages.yaml', '--write', 'usage.yaml'],
      {},
    );
    expect(code).toBe(0);
    expect(written['usage.yaml']).toContain('cartridges: 1\n');
  });

  test.each(['usage.txt', 'usage', '-'])('%s is no name that a trial can give', (name) => {
    const { code, err, written } = forecast({}, '--write', name);
    expect([code, written]).toEqual([4, {}]);
    expect(err).toContain('ends in .yaml');
  });

  test('a negative use at no coverage, or less with more coverage, is remarked on', () => {
    const low = { 'tried/a.yaml': tried(1, 10, '2026-10-05'), 'tried/b.yaml': tried(1, 12, '2026-10-06') };
    expect(forecast(low).out.replace(/\s+/g, ' ')).toContain(
      'a negative toner use at zero coverage is not possible',
    );
    const falling = {
      'tried/a.yaml': tried(1, 500, '2026-10-05'),
      'tried/b.yaml': tried(1, 512, '2026-10-06'),
    };
    expect(forecast(falling).out.replace(/\s+/g, ' ')).toContain('less toner a page at more coverage');
    expect(forecast({}).out).not.toContain('possible: look');
  });

  test('an existing file is not overwritten, unless it is asked for; a trial never', () => {
    const there = { 'usage.yaml': 'before\n' };
    const refused = forecast(there, '--write', 'usage.yaml');
    expect([refused.code, refused.written]).toEqual([5, {}]);
    expect(refused.err).toContain('--force');
    expect(forecast(there, '--write', 'usage.yaml', '--force').written['usage.yaml']).toContain('m0: 6 mg');
    const own = forecast({}, '--write', 'tried/a.yaml', '--force');
    expect([own.code, own.written]).toEqual([4, {}]);
    expect(forecast({}, '--force').code).toBe(4);
  });

  test('nothing is written where the line says less than nothing at no coverage', () => {
    const steep = { 'tried/a.yaml': tried(1, 10, '2026-10-05'), 'tried/b.yaml': tried(1, 12, '2026-10-06') };
    const { code, err, written } = forecast(steep, '--write', 'usage.yaml');
    expect([code, written]).toEqual([3, {}]);
    expect(err).toContain('usage.yaml was not written');
  });

  test('it stands beside the trials and is none', () => {
    const { code, out } = run(['verdict', 'tried', '--quiet'], { ...TRIED, 'tried/usage.yaml': kept() });
    expect(out.split('\n')).toHaveLength(5);
    expect(code).toBe(2);
  });
});

describe('non_image_usage names it', () => {
  const trial = (lines: string): string => `
trial: Ferry Lane lot 10
meter: {start: 1000, end: 21000}
coverage: 3 %
cartridges: [{slot: black, start_mass: 900 g, end_mass: 540 g, exhausted_at: 21000}]
${lines}
`;
  const LIMITS = 'limits: {yield_at_reference: {min: 10000}}';
  const judged = (text: string, files: Files): ResultJson => {
    const { out } = run(['verdict', 'd/trial.yaml', '--format', 'json'], { 'd/trial.yaml': text, ...files });
    return JSON.parse(out) as ResultJson;
  };
  const yieldOf = ({ figures }: ResultJson) => figures.find(({ figure }) => figure === 'yield_at_reference');
  // 18 mg a page at 3 %, of which 6 are not of the image: 26 mg at 5 %.
  const expected = (20_000 * 18) / 26;

  test('value and uncertainty come from it (by hand)', () => {
    const found = judged(trial(`non_image_usage: usage.yaml\n${LIMITS}`), { 'd/usage.yaml': kept() });
    expect(Number(yieldOf(found)?.value)).toBeCloseTo(expected, 6);
    // Y = P m / (m0 + (m − m0) s), s = 5/3: dY/dm0 = P m (s − 1) / (…)², beside 1 g / √12 twice in 360 g, of which dY/dm.
    const u = Number(/u_m0: (\S+) mg/.exec(kept())?.[1]);
    const byBase = (20_000 * 18 * (2 / 3)) / 26 ** 2;
    const uMass = (Math.SQRT2 * 1000) / Math.sqrt(12) / 20_000;
    const byMass = 20_000 * (1 / 26 - (18 * (5 / 3)) / 26 ** 2);
    expect(Number(yieldOf(found)?.u)).toBeCloseTo(Math.hypot(byBase * u, byMass * uMass), 3);
    expect(found.notes).toContainEqual(
      expect.objectContaining({
        code: 'usage-read',
        line: 6,
        message: expect.stringContaining('mg a page at no coverage (4 cartridges, 1 % to 6 %)') as string,
      }),
    );
  });

  test('written out, with its own u', () => {
    const text = trial(`non_image_usage: {black: {value: 6 mg, u: 0.5 mg}}\n${LIMITS}`);
    const exact = trial(`non_image_usage: {value: 6 mg, u: 0 mg}\n${LIMITS}`);
    expect(Number(yieldOf(judged(text, {}))?.value)).toBeCloseTo(expected, 6);
    const [known, none] = [text, exact].map((one) => Number(yieldOf(judged(one, {}))?.u));
    const byBase = (20_000 * 18 * (2 / 3)) / 26 ** 2;
    expect(Math.sqrt((known ?? 0) ** 2 - (none ?? 0) ** 2)).toBeCloseTo(byBase * 0.5, 6);
  });

  const house = `non_image_usage: kept/usage.yaml\nyield_at_reference: {min: 10000}\n`;

  test('a house’s limits name it from their own folder; what the trial says itself goes before', () => {
    const files = { 'd/house/limits.yaml': house, 'd/house/kept/usage.yaml': kept() };
    const found = judged(trial('limits: house/limits.yaml'), files);
    expect(Number(yieldOf(found)?.value)).toBeCloseTo(expected, 6);
    expect(found.notes.map(({ code }) => code)).toContain('usage-read');
    const own = judged(trial('non_image_usage: 0 mg\nlimits: house/limits.yaml'), files);
    expect(Number(yieldOf(own)?.value)).toBeCloseTo(12_000, 6);
    expect(own.notes.map(({ code }) => code)).not.toContain('usage-read');
  });

  test('limits that are laid over from the command line, and a set in the trial', () => {
    const files = { 'l/limits.yaml': house, 'l/kept/usage.yaml': kept(), 'd/usage.yaml': kept() };
    const over = run(['verdict', 'd/trial.yaml', '--limits', 'l/limits.yaml', '--format', 'json'], {
      ...files,
      'd/trial.yaml': trial(''),
    });
    expect(Number(yieldOf(JSON.parse(over.out) as ResultJson)?.value)).toBeCloseTo(expected, 6);
    const inline = 'limits: {non_image_usage: usage.yaml, yield_at_reference: {min: 10000}}';
    expect(Number(yieldOf(judged(trial(inline), files))?.value)).toBeCloseTo(expected, 6);
  });

  test('the reference, another consumable, does not take it from the house', () => {
    const reference =
      'reference: {meter: {start: 100, end: 900}, cartridges: [{slot: black, start_mass: 900 g, end_mass: 880 g, exhausted_at: 900}]}';
    const files = { 'd/house/limits.yaml': house, 'd/house/kept/usage.yaml': kept() };
    const { figures } = judged(trial(`${reference}\nlimits: house/limits.yaml`), files);
    // 800 pages at 3 %, in proportion: 480.
    expect(Number(figures.find(({ figure }) => figure === 'yield_ratio')?.value)).toBeCloseTo(
      expected / 480,
      6,
    );
  });

  test('numbers of one model are not carried to another in silence', () => {
    const text = trial(`machine: {model: T 50}\nnon_image_usage: usage.yaml\n${LIMITS}`);
    const note = judged(text, { 'd/usage.yaml': kept() }).notes.find(
      ({ code }) => code === 'usage-other-model',
    );
    expect(note?.kind).toBe('warning');
    expect(note?.message).toContain('model T 30; this one is of model T 50');
  });

  // Tried at 1 % and 6 %; the yield is carried to 5 %.
  test.each([
    ['within them', '3 %', null],
    ['at the edge', '6 %', null],
    ['at the other', '1 %', null],
    ['above them', '6.1 %', '1 % to 6 %; this run has pages of 6.1 %.'],
    ['below them', '0.9 %', '1 % to 6 %; this run has pages of 0.9 %.'],
    ['in one batch', '3 %\nbatches: [{end: 3000, coverage: 9 %}]', '; this run has pages of 9 %.'],
    ['in none of its pages', '3 %\nbatches: [{end: 1000, coverage: 9 %}]', null],
  ])('pages beyond the coverages tried: %s', (_, coverage, words) => {
    const text = trial(`non_image_usage: usage.yaml\n${LIMITS}`).replace(
      'coverage: 3 %',
      `coverage: ${coverage}`,
    );
    const beyond = ({ notes }: ResultJson) => notes.filter(({ code }) => code === 'usage-beyond');
    const own = beyond(judged(text, { 'd/usage.yaml': kept() }));
    expect(own).toHaveLength(words === null ? 0 : 1);
    if (words !== null)
      expect(own[0]).toMatchObject({ kind: 'warning', message: expect.stringContaining(words) as string });
    const ofHouse = text
      .replace('non_image_usage: usage.yaml\n', '')
      .replace(LIMITS, 'limits: house/limits.yaml');
    const files = { 'd/house/limits.yaml': house, 'd/house/kept/usage.yaml': kept() };
    expect(beyond(judged(ofHouse, files)).map(({ message }) => message)).toEqual(
      own.map(({ message }) => message),
    );
  });

  test('a yield that is carried beyond them; not one that stays at its coverage', () => {
    const own = 'non_image_usage: {value: 6 mg, u: 0.5 mg, from: 1 %, to: 4 %}';
    const beyond = (text: string) => judged(text, {}).notes.filter(({ code }) => code === 'usage-beyond');
    const [carried, ...others] = beyond(trial(`${own}\n${LIMITS}`));
    expect(others).toEqual([]);
    expect(carried?.message).toContain('pages of 1 % to 4 %; the yield is carried to 5 %.');
    expect(beyond(trial(`${own}\n${LIMITS}`).replace('coverage: 3 %', 'coverage: 5 %'))).toEqual([]);
    // Once for a slot, however many cartridges were in it.
    const two = trial(`${own.replace('{', '{black: {')}}\n${LIMITS}`).replace(
      'end_mass: 540 g, exhausted_at: 21000}',
      'end_mass: 720 g, exhausted_at: 11000}, {slot: black, installed_at: 11000, start_mass: 900 g, end_mass: 720 g}',
    );
    expect(beyond(two)).toHaveLength(1);
  });

  test.each([
    ['from: 4 %, to: 1 %', 'above the greatest'],
    ['from: 4 %', 'one end is missing'],
    ['to: 4 %', 'one end is missing'],
  ])('coverages tried that are none: %s', (range, words) => {
    for (const value of [`{value: 6 mg, ${range}}`, `{black: {value: 6 mg, ${range}}}`]) {
      const { verdict, notes } = judged(trial(`non_image_usage: ${value}\n${LIMITS}`), {});
      expect(verdict).toBe('invalid');
      expect(notes.find(({ code }) => code === 'usage-amiss')).toMatchObject({
        line: 6,
        message: expect.stringContaining(words) as string,
      });
    }
  });

  test.each([
    ['usage-unreadable', 'non_image_usage: gone.yaml', 'there is no such file'],
    ['usage-unreadable', 'non_image_usage: trial.yaml', 'd/trial.yaml:'],
    ['usage-outside', 'non_image_usage: ../usage.yaml', 'not in the folder'],
    ['usage-slots', 'non_image_usage: cyan.yaml', 'cyan.yaml" tells cyan and one without a name'],
    ['usage-unreadable', 'limits: {non_image_usage: gone.yaml}', 'there is no such file'],
  ])('%s: %s', (code, lines, words) => {
    const cyan = kept().replace('slot: "black"', 'slot: cyan') + '    - {m0: 1 mg, u_m0: 0.1 mg}\n';
    const { verdict, notes } = judged(trial(lines), { 'd/cyan.yaml': cyan });
    expect(verdict).toBe('invalid');
    expect(notes.find((one) => one.code === code)?.message).toContain(words);
  });

  const SLOT = '    - {slot: black, m0: 6 mg, u_m0: 1 mg, cartridges: 4, from: 1 %, to: 6 %}\n';
  const FILE = `usage:\n  slots:\n${SLOT}`;
  test.each([
    ['a slot twice', `${FILE}${SLOT}`, 'd/usage.yaml:4:', 'listed before'],
    ['no slots', 'usage:\n  slots: []\n', 'd/usage.yaml:2:', 'No slot is listed'],
    ['no cartridge', FILE.replace('cartridges: 4', 'cartridges: 0'), 'd/usage.yaml:3:', '0'],
    ['range', FILE.replace('from: 1 %', 'from: 7 %'), 'd/usage.yaml:3:', 'above the greatest'],
    ['nothing', '', '', 'it is empty'],
  ])('usage-amiss or unreadable, told at its line of the usage file: %s', (_, usage, place, words) => {
    const named = trial(`non_image_usage: usage.yaml\n${LIMITS}`);
    expect(judged(named, { 'd/usage.yaml': FILE }).verdict).toBe('pass');
    const { verdict, notes } = judged(named, { 'd/usage.yaml': usage });
    expect(verdict).toBe('invalid');
    const message = notes.find(({ code }) => code === 'usage-unreadable')?.message ?? '';
    expect(message).toContain(place);
    expect(message).toContain(words);
    expect(message).not.toContain('A trial needs');
  });

  test('an empty key is a reading to come, unless nothing is scaled by it', () => {
    for (const given of ['', ' {value: , u: 1 mg}', ' {black: }']) {
      const { verdict, limits } = judged(trial(`non_image_usage:${given}\n${LIMITS}`), {});
      expect(verdict).toBe('inconclusive');
      expect(limits[0]?.reason).toMatch(/^non_image_usage(\.black)? is still to be read$/);
    }
    const at5 = judged(trial(`non_image_usage:\n${LIMITS}`).replace('coverage: 3 %', 'coverage: 5 %'), {});
    // At the reference coverage the yield is the pages printed.
    expect(Number(yieldOf(at5)?.value)).toBe(20_000);
  });

  describe('it is an input of what rests on it', () => {
    const usage = kept();
    const files: Files = {
      'own.yaml': trial(`non_image_usage: usage.yaml\n${LIMITS}`),
      'usage.yaml': usage,
      'housed.yaml': trial('limits: house/limits.yaml'),
      'house/limits.yaml': house,
      'house/kept/usage.yaml': usage,
    };
    const sha256 = createHash('sha256').update(usage).digest('hex');
    const { written } = run(['seal', 'own.yaml', 'housed.yaml'], files);
    const seals = written;

    test.each([
      ['own.yaml', 'usage.yaml'],
      ['housed.yaml', 'house/kept/usage.yaml'],
    ])('%s: in seal and report, and told when it is another', (file, name) => {
      const { inputs } = JSON.parse(seals[`${file}.seal.json`] ?? '') as { inputs: unknown[] };
      expect(inputs).toContainEqual({ kind: 'usage', file: name, sha256 });
      const recheck = (more: Files): Ran => run(['recheck', file], { ...files, ...seals, ...more });
      expect(recheck({}).code).toBe(0);
      const changed = recheck({ [name]: usage.replace('m0: 6 mg', 'm0: 7 mg') });
      expect(changed.code).toBe(1);
      expect(changed.out).toContain(`The usage file ${name} is not what was sealed`);
      const report = runReport([file, '--output', '-', '--format', 'md'], files);
      expect(report.out).toContain(sha256);
    });

    test('limits that are others now: those in the seal decide, by the same usage', () => {
      const changed = house.replace('10000', '19000');
      const { code, out } = run(['recheck', 'housed.yaml'], {
        ...files,
        ...seals,
        'house/limits.yaml': changed,
      });
      expect(out).toMatch(/^same/);
      expect(code).toBe(0);
    });
  });
});
