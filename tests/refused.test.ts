import { describe, expect, test } from 'vitest';
import { width } from '../src/output/columns.ts';
import { judge, type ResultJson, run } from './run.ts';

/** A trial with one line changed for another. */
const BASE = `trial: Harbour Street lot 7
meter: {start: 112480, end: 130480}
coverage: 5 %
waste_container: {tare: 640 g, final: 948 g}
limits: {waste_per_thousand: {max: 25 g}}
`;
const withLine = (line: string): string => `${BASE}${line}\n`;
const instead = (from: string, to: string): string => BASE.replace(from, to);

type Note = ResultJson['notes'][number];
const errors = (trial: string): Note[] => judge(trial).notes.filter(({ kind }) => kind === 'error');

describe('the text', () => {
  test.each([
    ['a doubled key', withLine('coverage: 6 %'), 'duplicate-key', 6, 1],
    ['a doubled key inside a map', withLine('paper: {size: A4, size: A3}'), 'duplicate-key', 6, 19],
    ['an alias', withLine('lot: {id: &a K-7, size: *a}'), 'alias', 6, 25],
    ['a tag', withLine('duplex_share: !!float 3'), 'tag', 6, 15],
    ['a tag on a key', withLine('!!binary duplex_share: 3'), 'tag', 6, 1],
    ['two documents', `${BASE}---\n${BASE}`, 'several-documents', 6, 1],
    ['a merge key', withLine('<<: {coverage: 3 %}'), 'unknown-key', 6, 1],
    ['tabs for indentation', withLine('paper:\n\tsize: A4'), 'yaml-slip', 7, 2],
    ['a bracket left open', withLine('ambient: ['), 'yaml-slip', 6, 10],
    ['a colon with no key before it', withLine('lot: {: K-7}'), 'key-not-text', 6, 7],
    ['a colon alone', withLine(':'), 'key-not-text', 6, 1],
    ['a colon after a comment with one', withLine('lot: # so: no\n  : 3'), 'key-not-text', 7, 3],
    ['an alias as a key', withLine('lot: {id: &a K-7}\n*a : 3'), 'alias', 7, 1],
    ['a list said to be a map', withLine('events: !!map []'), 'tag', 6, 9],
    ['tags given another meaning', `%TAG !! tag:x,2000:\n---\n${BASE}lot: !!str 3\n`, 'tag', 1, 1],
    ['nothing', '', 'empty-file', 1, 1],
    ['a comment alone', '# nothing yet\n', 'empty-file', 1, 1],
    ['a single word', 'hello', 'wrong-shape', 1, 1],
    ['a list', '- a\n- b\n', 'wrong-shape', 1, 1],
    ['a key of the language', withLine('__proto__: 3'), 'unknown-key', 6, 1],
    [
      'a slot of the language',
      instead('coverage: 5 %', 'coverage: {__proto__: 3 %, x: 5 g}'),
      'unknown-key',
      3,
      12,
    ],
  ])('%s', (_, text, code, line, column) => {
    const [first] = errors(text);
    expect(first).toMatchObject({ code, line, column });
    expect(judge(text).code).toBe(3);
  });

  test('5 MiB', () => {
    const ran = run(['verdict', 'big.yaml', '--format', 'json'], {
      'big.yaml': Buffer.alloc(5 * 1024 * 1024, 'a'),
    });
    expect(ran.code).toBe(3);
    expect(ran.out).toContain('file-too-large');
  });

  test.each([
    ['Latin-1', Buffer.from('trial: Lot für Müller\n', 'latin1'), 13],
    ['a byte that fits nothing', Buffer.concat([Buffer.from('trial: x'), Buffer.from([0xff])]), 9],
  ])('%s is not UTF-8: the byte is named', (_, bytes, byte) => {
    const ran = run(['verdict', 'bytes.yaml', '--format', 'json'], { 'bytes.yaml': bytes });
    expect(ran.code).toBe(3);
    const [note] = (JSON.parse(ran.out) as ResultJson).notes;
    expect(note).toMatchObject({ code: 'not-utf8' });
    expect(note?.message).toContain(`byte ${byte} `);
  });

  test('every fault of a text that is no YAML is told, not the first alone', () => {
    const found = errors(withLine('lot: {id: @K-7}\npaper: {size: @A4}'));
    expect(found.map(({ code, line, column }) => [code, line, column])).toEqual([
      ['not-yaml', 6, 11],
      ['not-yaml', 7, 15],
    ]);
  });

  test.each([
    ['line feeds', '\n'],
    ['carriage returns and line feeds', '\r\n'],
    ['carriage returns', '\r'],
  ])('lines may end in %s', (_, end) => {
    const text = withLine('lot: {sise: 3}').replaceAll('\n', end);
    expect(errors(text)).toMatchObject([{ code: 'unknown-key', line: 6, column: 7 }]);
  });

  test('a byte order mark is passed over', () => {
    expect(judge(`\ufeff${BASE}`).code).toBe(0);
  });

  test('%YAML 1.1 changes nothing: yes, 0o17 and 12_000 stay as written', () => {
    const trial = `%YAML 1.1\n---\n${instead('Harbour Street lot 7', 'yes')}`;
    expect(judge(trial)).toMatchObject({ code: 0, trial: 'yes' });
  });
});

describe('more than any trial holds is refused before it costs time', () => {
  test.each([
    ['100 000 brackets', '['.repeat(100_000), 'nested-too-deep'],
    ['100 000 braces', '{a: '.repeat(100_000), 'nested-too-deep'],
    ['100 000 dashes', '- '.repeat(100_000), 'nested-too-deep'],
    ['4 MiB of brackets', '['.repeat(4 * 1024 * 1024), 'too-long'],
    ['80 000 empty keys', ':\n'.repeat(80_000), 'too-many-entries'],
    ['120 000 empty keys in brackets', `a: {${': ,'.repeat(120_000)}}`, 'too-long'],
    ['100 000 keys without even a colon', `a: {${'? ,'.repeat(100_000)}}`, 'too-long'],
    ['800 000 doubled keys', `trial: x\n${'k: 1\n'.repeat(800_000)}`, 'too-long'],
    [
      '20 000 unknown keys',
      Array.from({ length: 20_000 }, (_, i) => `k${i}: 1`).join('\n'),
      'too-many-entries',
    ],
    [
      '101 marks',
      withLine(`prints:\n  marks:\n${'    - {distance: 94 mm}\n'.repeat(101)}`),
      'too-many-entries',
    ],
    [
      '101 rotating parts',
      withLine(
        `machine:\n  rotating_parts:\n${Array.from({ length: 101 }, (_, part) => `    p${part}: 30 mm\n`).join('')}`,
      ),
      'too-many-entries',
    ],
    ['2000 cartridges', withLine(`cartridges:\n${'  - {slot: black}\n'.repeat(2000)}`), 'too-many-entries'],
  ])('%s', (_, text, code) => {
    expect(errors(text).map((note) => note.code)).toContain(code);
  });

  test('thousands of errors are counted, not listed', () => {
    const bad = withLine(`ambient:\n${'  - {temperature: 22 X}\n'.repeat(5000)}`);
    const found = errors(bad);
    expect(found.length).toBeLessThan(300);
    expect(found.at(-1)).toMatchObject({ code: 'more-problems' });
  });
});

describe('single values', () => {
  test.each([
    ['tare: 640,5 g', 'split-number', '640.5 g'],
    ['tare: "640,5 g"', 'comma', '640.5 g'],
    ['tare: 6 400 g', 'grouped-digits', '6400 g'],
    ["tare: 6'400 g", 'grouped-digits', '6400 g'],
    ['tare: 1e999 g', 'number-too-large', '10^12'],
    ['tare: 0x1F', 'unknown-unit', 'x1F'],
    ['tare: NaN', 'not-a-number', 'NaN'],
    ['tare: Infinity', 'not-a-number', 'Infinity'],
    ['tare: 640 stone', 'unknown-unit', 'kg'],
    ['tare: -3 g', 'too-low', '0 g'],
    ['capacity: [640 g]', 'wrong-shape', 'single value'],
  ])('%s', (tare, code, says) => {
    const [first] = errors(instead('tare: 640 g', tare));
    expect(first).toMatchObject({ code, line: 4 });
    expect(first?.message).toContain(says);
  });

  test.each([
    ['coverage: 5 %', 'coverage: 120 %', 'too-high'],
    ['start: 112480', 'start: 112480.5', 'not-whole'],
    ['trial: Harbour Street lot 7', 'trial: {title: x, started: 9.3.2026}', 'not-a-time'],
    ['trial: Harbour Street lot 7', 'trial: {title: x, started: 2026-02-30}', 'no-such-time'],
    ['trial: Harbour Street lot 7', 'trial:', 'wrong-shape'],
    ['coverage: 5 %', 'coverge: 5 %', 'unknown-key'],
  ])('%s as %s', (from, to, code) => {
    expect(errors(instead(from, to))[0]).toMatchObject({ code });
  });

  test('the nearest known key is suggested', () => {
    expect(errors(instead('coverage: 5 %', 'coverge: 5 %'))[0]?.message).toContain('"coverage"');
    expect(errors(instead('waste_per_thousand', 'waste_per_thousnd'))[0]?.message).toContain(
      '"waste_per_thousand"',
    );
  });
});

describe('readings against each other, placed at the second', () => {
  const cartridge = (keys: string): string => withLine(`cartridges: [{slot: black, ${keys}}]`);
  const reference = (keys: string): string => withLine(`reference: {${keys}}`);
  test.each([
    [
      'end below start',
      instead('start: 112480, end: 130480', 'start: 130480, end: 112480'),
      'end-below-start',
      2,
    ],
    ['final below tare', instead('final: 948 g', 'final: 94 g'), 'final-below-tare', 4],
    ['checkpoints out of order', withLine('batches: [{end: 120000}, {end: 119000}]'), 'out-of-order', 6],
    ['a checkpoint outside the run', withLine('batches: [{end: 140000}]'), 'outside-run', 6],
    [
      'a weight on the way below the tare',
      withLine('batches: [{end: 120000, container_mass: 600 g}]'),
      'interim-below-tare',
      6,
    ],
    ['exhausted outside the run', cartridge('exhausted_at: 131000'), 'outside-run', 6],
    [
      'taken out before it was fitted',
      cartridge('installed_at: 120000, removed_at: 119000'),
      'before-fitted',
      6,
    ],
    [
      'two in one slot',
      withLine('cartridges: [{slot: black, removed_at: 125000}, {slot: black, installed_at: 120000}]'),
      'cartridges-overlap',
      6,
    ],
    ['a cartridge that gets heavier', cartridge('start_mass: 400 g, end_mass: 800 g'), 'mass-rises', 6],
    ['a gauge that rises', cartridge('gauge: {start: 10 %, end: 20 %}'), 'gauge-rises', 6],
    ['more toner than cartridge', cartridge('start_mass: 400 g, fill_mass: 500 g'), 'part-exceeds-whole', 6],
    [
      'dates reversed',
      instead('Harbour Street lot 7', '{title: x, started: 2026-03-12, finished: 2026-03-09}'),
      'ends-before-start',
      1,
    ],
    [
      'times with and without an offset',
      withLine(
        'ambient: [{at: 2026-03-09T09:00, temperature: 20 °C}, {at: 2026-03-09T10:00Z, temperature: 20 °C}]',
      ),
      'times-mixed',
      6,
    ],
    ['an event outside the run', withLine('events: [{at: 1, kind: jam}]'), 'outside-run', 6],
    ['runs that overlap', reference('meter: {start: 112000, end: 113000}'), 'runs-overlap', 6],
    [
      'a tolerance above the coverage',
      instead('coverage: 5 %', 'coverage: {value: 5 %, tolerance: 6 %}'),
      'tolerance-exceeds-value',
      3,
    ],
    [
      'other pages above the run',
      instead('end: 130480', 'end: 130480, other_pages: 20000'),
      'other-pages-exceed-run',
      2,
    ],
    ['a patch listed twice', withLine('prints: {patches: [{patch: a}, {patch: a}]}'), 'patch-twice', 6],
    ['more sampled than the lot holds', withLine('lot: {size: 3, sampled: 4}'), 'part-exceeds-whole', 6],
    [
      'a limit that no number keeps to',
      instead('{max: 25 g}', '{min: 30 g, max: 25 g}'),
      'limit-reversed',
      5,
    ],
    [
      'a limit of a slot that is not there',
      instead('waste_per_thousand: {max: 25 g}', 'yield: {of: black, min: 3}'),
      'limit-of-unknown-part',
      5,
    ],
  ])('%s', (_, text, code, line) => {
    expect(errors(text).map((note) => [note.code, note.line])).toContainEqual([code, line]);
  });

  test('usage at zero coverage for a slot that no cartridge has', () => {
    const text = `${instead('coverage: 5 %', 'non_image_usage: {black: 2 mg, cyan: 2 mg}')}cartridges: [{slot: black}]\n`;
    expect(errors(text)[0]).toMatchObject({ code: 'unknown-slot', line: 3 });
  });

  test('runs that only touch are taken', () => {
    expect(errors(reference('meter: {start: 111480, end: 112480}'))).toEqual([]);
  });

  test('a counter that rolled over is taken with its digits', () => {
    const text = instead('start: 112480, end: 130480', 'start: 999000, end: 1000, digits: 6');
    expect(judge(text).figures.find(({ figure }) => figure === 'pages')?.value).toBe('2000');
  });
});

test('all errors of a file at once, in file order: of the text, of values, and between readings', () => {
  const text = `trial: Harbour Street lot 7
meter: {start: 130480, end: 112480}
coverge: 5 %
waste_container: {tare: 640 g, final: 94 g}
ambient:
  - {temperature: 22.5 X, humidity: 470 %}
coverage: 5 %
coverage: 6 %
`;
  expect(errors(text).map(({ code, line }) => [line, code])).toEqual([
    [2, 'end-below-start'],
    [3, 'unknown-key'],
    [4, 'final-below-tare'],
    [6, 'unknown-unit'],
    [6, 'too-high'],
    [8, 'duplicate-key'],
  ]);
});

describe('names from a file', () => {
  const NASTY = '"\\e[31mred\\x07\\u202e\\u009b\\nnext"';
  const text = `${instead('Harbour Street lot 7', NASTY)}machine: {label: ${NASTY}}\ncartridges: [{slot: ${NASTY}}]\n`;
  test.each(['text', 'json', 'jsonl'])('reach %s harmless', (format) => {
    const { out } = run(['verdict', 'n.yaml', '--format', format], { 'n.yaml': text });
    expect(out.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\u202a-\u202e]/u);
    if (format === 'jsonl') expect(out.trimEnd().split('\n')).toHaveLength(1);
  });

  test('and file names too, on both outputs', () => {
    const name = 'x\u001b[31m\u0007.yaml';
    const { out, err } = run(['verdict', name, '--quiet'], { [name]: '' });
    expect((out + err).replace(/[\t\n]/g, '')).not.toMatch(/\p{Cc}/u);
  });

  test('no line of the text is wider than 80 columns, wide characters counted as two', () => {
    const wide = '試験'.repeat(60);
    const { out } = run(['verdict', 'w.yaml'], { 'w.yaml': instead('Harbour Street lot 7', wide) });
    const columns = (line: string): number =>
      Array.from(line).reduce((sum, c) => sum + (/[試験]/.test(c) ? 2 : 1), 0);
    for (const line of out.split('\n')) expect(columns(line)).toBeLessThanOrEqual(80);
  });
});

describe('a half-filled trial', () => {
  const half = `trial: Harbour Street lot 9
meter: {start: 112480, end:}
coverage: 5 %
waste_container: {tare: 640 g, final:}
ambient: [{temperature: , humidity: }]
limits: {waste_per_thousand: {max: 25 g}}
`;
  test('is inconclusive, and says what is still to be read', () => {
    const { code, notes, limits } = judge(half);
    expect(code).toBe(2);
    const still = notes.filter((note) => note.code === 'to-be-read').map((note) => [note.line, note.key]);
    expect(still).toEqual([
      [2, 'end'],
      [4, 'final'],
      [5, 'temperature'],
      [5, 'humidity'],
    ]);
    expect(limits[0]).toMatchObject({ outcome: 'open', reason: 'waste_container.final is still to be read' });
  });
});

test('a line of wide characters is cut around the place, with its mark within 80 columns', () => {
  const { out } = run(['verdict', 'w.yaml'], { 'w.yaml': `${'ｂ'.repeat(34)}slot: :` });
  const lines = out.split('\n');
  expect(Math.max(...lines.map((line) => width(line)))).toBeLessThanOrEqual(80);
  const at = lines.findIndex((line) => /^ +\| +\^$/.test(line));
  expect(at).toBeGreaterThan(0);
});

describe('names that look alike', () => {
  test.each([
    ['a zero-width space in a slot', withLine('cartridges: [{slot: "bla\u200bck"}]'), 'hidden-character', 6],
    ['one in a slot of the coverage', instead('5 %', '{"bla\u2060ck": 5 %}'), 'hidden-character', 3],
    ['one in a serial', withLine('machine: {serial: "K\u200b12"}'), 'hidden-character', 6],
    [
      'a turn of direction in a part',
      withLine('inspection: [{part: "dr\u202eum", severity: none}]'),
      'hidden-character',
      6,
    ],
    ['half a character in a note', withLine('lot: {id: "\\ud800"}'), 'half-character', 6],
  ])('%s', (_, text, code, line) => {
    expect(errors(text)).toEqual([expect.objectContaining({ code, line })]);
  });

  test('in a title they are made visible', () => {
    const { out } = run(['verdict', 'trial.yaml'], {
      'trial.yaml': instead('Harbour Street', 'Harbour\u200b Street'),
    });
    expect(out).toContain('Harbour\uFFFD Street');
  });

  test('scripts that need them keep the two that join and part letters', () => {
    const { out } = run(['verdict', 'trial.yaml'], {
      'trial.yaml': instead('Harbour Street', 'می\u200cخواهم'),
    });
    expect(out).toContain('می\u200cخواهم');
  });
});

describe('texts of faults alone', () => {
  test.each([
    ['closing brackets', `${BASE}lot: ${']'.repeat(12_000)}\n`, 11_800],
    ['bad escapes', `${BASE}lot: {id: "${'\\q'.repeat(20_000)}"}\n`, 19_800],
  ])('of %s the first two hundred are told, and how many more there are', (_, text, more) => {
    const told = errors(text);
    expect(told).toHaveLength(201);
    expect(told.at(-1)).toMatchObject({ code: 'more-problems' });
    expect(told.at(-1)?.message).toContain(String(more));
  });

  test('a very long key, title or slot is cut where people read it', () => {
    for (const text of [
      withLine(`${'k'.repeat(1_000_000)}: 3`),
      instead('Harbour Street', 'x\u0301'.repeat(500_000)),
      withLine(`cartridges: [{slot: ${'abc '.repeat(250_000)}}]`),
    ]) {
      const { out, err } = run(['verdict', 'trial.yaml'], { 'trial.yaml': text });
      expect((out + err).length).toBeLessThan(30_000);
    }
  });
});
