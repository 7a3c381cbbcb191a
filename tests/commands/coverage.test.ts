import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { block, picture, png, tiff } from '../raster/pictures.ts';
import { runReport } from '../report/run-report.ts';
import { type Files, type Ran, type ResultJson, run } from '../run.ts';

/* A document of an invented house, drawn here: 5 % of its page is black, in one block of 50 by 40 pixels. */

const SIDE = 200;
const BLACK = block(31, 17, 50, 40);
const GREY = png(picture(SIDE, SIDE, [BLACK], { high: false }), { perMetre: 11_811 });
/** Cyan 2 %, magenta none, yellow 1 %, black 5 %. */
const COLOURS = tiff([picture(SIDE, SIDE, [block(0, 0, 40, 20), () => 0, block(100, 100, 20, 20), BLACK])], {
  inks: 5,
  perInch: 300,
  packing: 'lzw',
});
const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
/** What the edges of a block of so many pixels leave open: its perimeter, half a pixel wide (see tests/raster). */
const open = (width: number, height: number): number => (100 * (width + height)) / SIDE ** 2;

describe('coverage FILE', () => {
  const coverage = (file: string, files: Files, ...options: string[]): Ran =>
    run(['coverage', file, ...options], files);

  test('text: the coverage with its U, size, margins and SHA-256', () => {
    const { code, out, err } = coverage('suite.png', { 'suite.png': GREY });
    expect([code, err]).toEqual([0, '']);
    // U = 2a/√3 of a = 0.225 %.
    expect(out).toMatch(/coverage, by tint, % +5\.00 ± 0\.26\n/);
    expect(out).toMatch(/pixels toned by half or more, % +5\n/);
    expect(out).toContain('200 × 200 pixels, 300 for each inch: 16.9 × 16.9 mm');
    expect(out).toContain('2.6 left, 10.1 right, 1.4 top, 12.1 bottom, in mm');
    expect(out).toContain(sha256(GREY));
    for (const line of out.split('\n')) expect(line.length, line).toBeLessThanOrEqual(80);
  });

  test('JSON, by slot', () => {
    const { out } = coverage('suite.tif', { 'suite.tif': COLOURS }, '--format', 'json');
    const data = JSON.parse(out) as {
      sha256: string;
      picture: string;
      slots: { slot: string; coverage: string; u: string; tolerance: string }[];
    };
    expect(data).toMatchObject({ format: 1, file: 'suite.tif', picture: 'TIFF', sha256: sha256(COLOURS) });
    expect(data.slots.map(({ slot, coverage: share }) => [slot, Number(share)])).toEqual([
      ['black', 5],
      ['cyan', 2],
      ['magenta', 0],
      ['yellow', 1],
    ]);
    expect(Number(data.slots[0]?.tolerance)).toBeCloseTo(open(50, 40), 10);
    expect(Number(data.slots[0]?.u)).toBeCloseTo(open(50, 40) / Math.sqrt(3), 10);
  });

  test('several pages, each with its margins', () => {
    const page = picture(SIDE, SIDE, [BLACK], { high: false });
    const bytes = tiff([page, picture(SIDE, SIDE, [() => 0], { high: false })], { inks: 1 });
    const { out } = coverage('suite.tif', { 'suite.tif': bytes });
    expect(out).toMatch(/coverage, by tint, % +2\.50 ± 0\.13\n/);
    expect(out).toContain('page 2, margins: no toner on it');
    expect(out).toContain('the file does not say how many make an inch');
  });

  test('a plain tint of a half: how many pixels hold a half cannot be told', () => {
    const tint = png(picture(SIDE, SIDE, [() => 0.5], { high: false }));
    const { out } = coverage('tint.png', { 'tint.png': tint });
    expect(out).toMatch(/pixels toned by half or more, % +cannot be told\n/);
  });

  test('a scan is told by its paper', () => {
    const scan = png(picture(SIDE, SIDE, [(x, y) => BLACK(x, y) || 0.02], { high: false }));
    expect(coverage('scan.png', { 'scan.png': scan }).out).toContain('Every pixel holds some toner.');
  });

  test.each([
    ['README.md', {}, 3, 'it is no PNG and no TIFF'],
    ['gone.png', {}, 3, 'gone.png'],
    [
      'colour.png',
      { 'colour.png': png({ ...picture(1, 1, [() => 1, () => 0, () => 0]) }) },
      3,
      'red, green and blue',
    ],
    ['cut.png', { 'cut.png': GREY.slice(0, 60) }, 3, 'the picture is damaged'],
    [
      'huge.png',
      { 'huge.png': png({ width: 90_000_000, height: 1, channels: 1, depth: 1, samples: [] }) },
      3,
      'larger than 80 million',
    ],
  ] as const)('%s', (file, files, code, words) => {
    const ran = coverage(file, files);
    expect([ran.code, ran.out]).toEqual([code, '']);
    expect(ran.err).toContain(words);
    expect(ran.err).not.toMatch(/\bat .*:\d+:\d+|\.ts:/);
  });
});

describe('coverage: {document: …} in a trial', () => {
  const trial = (coverage: string, slots: readonly string[] = ['black'], more = ''): string =>
    [
      'trial: Quay Lane lot 12',
      'meter: {start: 1000, end: 21000}',
      `coverage: ${coverage}`,
      'cartridges:',
      ...slots.map((slot) => `  - {${slot === '' ? '' : `slot: ${slot}, `}exhausted_at: 21000}`),
      'limits: {yield_at_reference: {min: 15000}}',
      more,
    ].join('\n');
  const FILES = { 'd/grey.png': GREY, 'd/suite.tif': COLOURS };
  const judged = (text: string): ResultJson & { code: number } => {
    const { code, out } = run(['verdict', 'd/trial.yaml', '--format', 'json'], {
      ...FILES,
      'd/trial.yaml': text,
    });
    return { ...(JSON.parse(out) as ResultJson), code };
  };
  const yields = ({ figures }: ResultJson) =>
    figures.filter(({ figure, stat }) => figure === 'yield_at_reference' && stat === null);

  test('value and tolerance are counted, as if they were written there', () => {
    const counted = judged(trial('{document: grey.png}'));
    const written = judged(trial('{value: 5 %, tolerance: 0.225 %}'));
    expect(counted.code).toBe(0);
    expect(counted.figures).toEqual(written.figures);
    // 20000 pages at 5 %, referred to 5 %: u = 20000 × 0.225/√3 / 5.
    const [found] = yields(counted);
    expect(Number(found?.value)).toBe(20_000);
    expect(Number(found?.u)).toBeCloseTo((20_000 * 0.225) / Math.sqrt(3) / 5, 6);
    expect(counted.notes).toContainEqual(
      expect.objectContaining({
        code: 'document-counted',
        kind: 'note',
        line: 3,
        message: expect.stringContaining('grey.png: black 5.00 % ± 0.22 %') as string,
      }),
    );
  });

  test('each slot takes its own of a document of four colours', () => {
    const found = yields(judged(trial('{document: suite.tif}', ['black', 'cyan', 'yellow'])));
    expect(found.map(({ of, value }) => [of, Number(value)])).toEqual([
      ['black', 20_000],
      ['cyan', 8000],
      ['yellow', 4000],
    ]);
  });

  test('a document for each slot, beside one that is written', () => {
    const text = trial('{black: {document: grey.png}, cyan: {document: suite.tif}, yellow: 3 %}', [
      'black',
      'cyan',
      'yellow',
    ]);
    expect(yields(judged(text)).map(({ value }) => Number(value))).toEqual([20_000, 8000, 12_000]);
  });

  test('the reference has a document of its own', () => {
    const reference =
      'reference: {meter: {start: 100, end: 900}, coverage: {document: suite.tif}, cartridges: [{slot: black, exhausted_at: 900}]}';
    const { figures, verdict } = judged(trial('{document: grey.png}', ['black'], reference));
    expect(verdict).toBe('pass');
    expect(Number(figures.find(({ figure }) => figure === 'yield_ratio')?.value)).toBe(25);
  });

  test('a slot without a name takes a document without colours', () => {
    expect(judged(trial('{document: grey.png}', [''])).verdict).toBe('pass');
    expect(judged(trial('{document: suite.tif}', [''])).verdict).toBe('invalid');
  });

  test.each([
    ['{document: gone.png}', ['black'], 'document-unreadable', 'there is no such file'],
    ['{document: trial.yaml}', ['black'], 'document-unreadable', 'it is no PNG and no TIFF'],
    ['{document: ../grey.png}', ['black'], 'document-outside', 'beside the trial file'],
    ['{document: grey.png}', ['black', 'cyan'], 'document-slots', 'is grey'],
    ['{document: suite.tif}', ['gold'], 'document-slots', 'what is looked for is gold'],
    ['{gold: {document: suite.tif}}', ['gold'], 'document-slots', 'what is looked for is gold'],
    ['{document: grey.png, value: 5 %}', ['black'], 'document-and-value', 'Keep the document alone'],
  ])('%s: %s', (coverage, slots, code, words) => {
    const { notes, verdict } = judged(trial(coverage, slots));
    expect(verdict).toBe('invalid');
    const note = notes.find((one) => one.code === code);
    expect(note).toMatchObject({ kind: 'error', line: 3 });
    expect(note?.message).toContain(words);
  });

  test('a document of more than 256 MiB: document-too-large, with what to do', () => {
    const files = {
      'trial.yaml': trial('{document: large.tif}'),
      'large.tif': new Uint8Array(256 * 1024 * 1024 + 1),
    };
    const { out, code } = run(['verdict', 'trial.yaml', '--format', 'json'], files);
    expect(code).toBe(3);
    expect(out).toContain('"document-too-large"');
    expect(out).toContain('Save it with LZW');
  });

  test.each(['{document: ""}', '{document: "  "}', '{black: {document: " "}}', '{document: , value: 5 %}'])(
    '%s is an error at its line',
    (coverage) => {
      const { code, notes } = judged(trial(coverage));
      expect(code).toBe(3);
      expect(notes.filter(({ kind }) => kind === 'error')).toMatchObject([{ line: 3 }]);
    },
  );

  test.each([
    ['coverage', '{document: }', ''],
    ['coverage.black', '{black: {document: }}', ''],
    ['batches[1].coverage', '5 %', 'batches: [{end: 9000, coverage: {document: }}]'],
    ['batches[1].coverage.black', '5 %', 'batches: [{end: 9000, coverage: {black: {document: }}}]'],
  ])('%s is still to come: %s %s', (key, coverage, more) => {
    const text = trial(coverage, ['black'], more);
    const { code, notes, limits } = judged(text);
    expect(code).toBe(2);
    expect(notes.map((one) => one.code)).not.toContain('coverage-without-cartridge');
    expect(limits[0]).toMatchObject({ outcome: 'open', reason: `${key} is still to be read` });
    const { out } = run(['verdict', 'd/trial.yaml'], { 'd/trial.yaml': text });
    expect(out).toMatch(/STILL TO BE READ\n +\S*coverage/);
  });

  describe('is an input of what rests on it', () => {
    const files = { 'trial.yaml': trial('{document: grey.png}'), 'grey.png': GREY };
    const seal = run(['seal', 'trial.yaml'], files).written['trial.yaml.seal.json'] ?? '';

    test('in the seal by its digest', () => {
      const { inputs } = JSON.parse(seal) as { inputs: unknown[] };
      expect(inputs).toContainEqual({ kind: 'document', file: 'grey.png', sha256: sha256(GREY) });
    });

    test('and told when it is another', () => {
      const recheck = (document: Uint8Array): Ran =>
        run(['recheck', 'trial.yaml'], { ...files, 'grey.png': document, 'trial.yaml.seal.json': seal });
      expect(recheck(GREY).code).toBe(0);
      const other = recheck(png(picture(SIDE, SIDE, [block(0, 0, 50, 41)], { high: false })));
      expect(other.code).toBe(1);
      expect(other.out).toContain('The document grey.png is not what was sealed');
    });

    test('in the report', () => {
      const { code, out } = runReport(['trial.yaml', '--output', '-', '--format', 'md'], files);
      expect(code).toBe(0);
      expect(out).toContain(sha256(GREY));
    });
  });
});
