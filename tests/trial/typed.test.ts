import { describe, expect, test } from 'vitest';
import { judge, run } from '../run.ts';

/* What people type, and what they are told; the sentences hold the line to write, which is then taken. */

const BASE = 'trial: Mill Lane lot 31\nmeter: {start: 57240, end: 81240}\n';
const LIMITS = 'limits: {waste_per_thousand: {max: 25 g}}\n';

const errorsOf = (lines: string, base = BASE) =>
  judge(`${base}${lines}\n${LIMITS}`).notes.filter(({ kind }) => kind === 'error');

describe('typed in another form than the one to use', () => {
  test('is taken and said once for each form', () => {
    const { notes } = judge(
      `${BASE}${LIMITS}waste_container: {tare: 640 grams, final: 900 grams}
ambient: [{temperature: 21 degrees, humidity: 40 percent}]
lot: {id: “K-20”}
batches: [{end: 61240, started: 2026-03-09 9:05}]
cartridges: [{slot: black, price: 41.50 €}]
`,
    );
    const typed = notes
      .filter(({ code }) => code === 'typed-otherwise')
      .map(({ line, message }) => [line, message]);
    expect(typed).toEqual([
      [4, '"640 grams" is read as 640 g. Write it so.'],
      [5, '"21 degrees" is read as 21 °C. Write it so.'],
      [5, '"40 percent" is read as 40 %. Write it so.'],
      [6, '"“K-20”" is read as K-20. Write it so.'],
      [7, '"2026-03-09 9:05" is read as 2026-03-09T09:05. Write it so.'],
      [8, '"41.50 €" is read as 41.50 EUR. Write it so.'],
    ]);
  });

  test.each([
    [
      'trial: {title: T, started: 2026-03-09, finished: 2026-03-09T16:00}',
      '{at: 9:05, temperature: 21, humidity: 40}',
      true,
    ],
    [
      'trial: {title: T, started: 2026-03-09, finished: 2026-03-10}',
      '{at: 9:05, temperature: 21, humidity: 40}',
      false,
    ],
    ['trial: {title: T, started: 2026-03-09}', '{at: 9:05, temperature: 21, humidity: 40}', false],
  ])('a clock is of the day of its trial, where that has one: %s', (head, reading, taken) => {
    const { notes } = judge(`${head}\nmeter: {start: 1, end: 2}\nambient: [${reading}]\n`);
    const [said] = notes.filter(({ message }) => message.includes('"9:05"'));
    expect(said?.message).toBe(
      taken
        ? '"9:05" is read as 2026-03-09T09:05. Write it so.'
        : '"9:05" is not a date or time as ISO 8601 writes it. Write its day too, as in 2026-03-09T09:05.',
    );
  });

  test.each([
    ['started: 2026-03-09T08:10, finished: 9:05', '2026-03-09T09:05'],
    ['started: 8:10, finished: 2026-03-09T09:05', '2026-03-09T08:10'],
    ['started: 2026-03-09T23:10, finished: 0:05', null],
    ['started: 8:10, finished: 9:05', null],
  ])('a clock is of the day of the other end of its batch, but for midnight: %s', (times, read) => {
    const { notes } = judge(`${BASE}batches: [{end: 61240, ${times}}]\n`);
    const said = notes.filter(({ code }) => code === 'typed-otherwise').map(({ message }) => message);
    expect(said).toEqual(read === null ? [] : [expect.stringContaining(`is read as ${read}.`)]);
    expect(notes.some(({ code }) => code === 'not-a-time')).toBe(read === null);
  });

  test('a title in typographic quotes is the title', () => {
    const told = judge(`trial: „Mill Lane lot 31“\nmeter: {start: 1, end: 2}\n`);
    expect(told.trial).toBe('Mill Lane lot 31');
    expect(judge(`trial: ‘Mill’ Lane ‘31’\nmeter: {start: 1, end: 2}\n`).trial).toBe('‘Mill’ Lane ‘31’');
  });
});

describe('a key in another section', () => {
  test.each([
    ['tare: 640 g', 'waste_container', 'waste_container: {tare: 640 g}'],
    ['rh: 45 %', 'ambient', 'ambient: [{humidity: 45 %}]'],
    ['temperature: 22 °C', 'ambient', 'ambient: [{temperature: 22 °C}]'],
    ['fill_mass: 180 g', 'cartridges', 'cartridges: [{fill_mass: 180 g}]'],
  ])('%s', (line, under, write) => {
    const [error] = errorsOf(line);
    expect(error?.message).toContain(`It belongs under "${under}": ${write}.`);
    expect(errorsOf(write)).toEqual([]);
  });

  test('is told where it belongs, and not taken for one that looks like it', () => {
    const [error] = errorsOf('', 'trial: Mill Lane\nmeter: {start: 57240, end: 81240, tare: 640 g}\n');
    expect(error?.message).toBe(
      'There is no key "tare" here. It belongs under "waste_container": waste_container: {tare: 640 g}.',
    );
  });
});

describe('another shape than the key takes', () => {
  test.each([
    ['lot: M-7', 'lot: {id: M-7}'],
    ['lot: [M-7]', 'lot: {id: M-7}'],
    ['machine: Heron', 'machine: {label: Heron}'],
    ['events: none', 'events: []'],
    ['inspection: {part: fuser, severity: none}', 'inspection: [{part: fuser, severity: none}]'],
    ['duplex_share: {value: 40 %}', 'duplex_share: 40 %'],
    ['coverage: [5 %]', 'coverage: 5 %'],
    ['waste_container: 640 g', 'waste_container: {tare: 640 g}'],
    ['cartridges: black', 'cartridges: [{slot: black}]'],
    ['batches: 61240', 'batches: [{end: 61240}]'],
    ['target: 24000', 'target: {pages: 24000}'],
    ['ambient: {temperature: 22 °C}', 'ambient: [{temperature: 22 °C}]'],
    ['paper: A3', 'paper: {size: A3}'],
    ['prints: {patches: solid}', 'patches: [{patch: solid}]'],
  ])('%s', (line, write) => {
    const [error] = errorsOf(line);
    expect(error?.code).toBe('wrong-shape');
    expect(error?.message).toContain(`Write ${write}.`);
    expect(errorsOf(line.startsWith('prints') ? `prints: {${write}}` : write)).toEqual([]);
  });
});

describe('a file that is something else', () => {
  test.each<[what: string, bytes: string | Uint8Array, said: string]>([
    ['a PDF', '%PDF-1.7\n%\u00e2', 'This file is a PDF, and no trial.'],
    ['a PNG', Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex'), 'a picture'],
    ['a JPEG', Buffer.from('ffd8ffe000104a4649460001', 'hex'), 'a picture'],
    ['a WebP', Buffer.from('52494646aabbccdd57454250', 'hex'), 'a picture'],
    ['a HEIC', Buffer.from('000000186674797068656963', 'hex'), 'a picture'],
    ['a spreadsheet', Buffer.from('504b030414000600', 'hex'), 'a spreadsheet'],
    [
      'UTF-16 with its mark',
      Buffer.from('\ufefftrial: x\n', 'utf16le'),
      'text in UTF-16, and no trial. Save it again',
    ],
    ['UTF-16 without it', Buffer.from('trial: x\nmeter: {}\n', 'utf16le'), 'text in UTF-16'],
    [
      'a CSV',
      'Time;Temp;RH\n2026-03-09 08:00;22,5;45\n2026-03-09 09:00;22,6;45\n',
      'a table (CSV), and no trial. Name it',
    ],
    ['a TSV', 'Time\tTemp\n2026-03-09 08:00\t22.5\n', 'a table (CSV)'],
  ])('%s', (_, content, said) => {
    const { code, out } = run(['verdict', 'trial.yaml', '--format', 'json'], { 'trial.yaml': content });
    const { notes } = JSON.parse(out) as { notes: { code: string; message: string }[] };
    expect(code).toBe(3);
    expect(notes.map((note) => note.code)).toEqual(['other-kind']);
    expect(notes[0]?.message).toContain(said);
  });

  test('in place of a table', () => {
    const files = {
      'trial.yaml': `${BASE}ambient: {file: room.xlsx}\n`,
      'room.xlsx': Buffer.from('504b0304', 'hex'),
    };
    const { out } = run(['verdict', 'trial.yaml', '--format', 'json'], files);
    const { notes } = JSON.parse(out) as { notes: { code: string; message: string }[] };
    expect(notes).toContainEqual(
      expect.objectContaining({
        code: 'table-other-kind',
        message:
          '"room.xlsx" is a spreadsheet, or another packed document, and no CSV file. Export the table as CSV, in UTF-8.',
      }),
    );
  });
});
