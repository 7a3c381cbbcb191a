import { describe, expect, test } from 'vitest';
import { messageOf } from '../../src/output/words.ts';
import { judge } from '../run.ts';
import { brokenExamples, EXAMPLES, said } from './slips.ts';

/* Slips of typing in YAML: each should be told once, at its own line, with the line to write. */

/** Every so many of the broken examples: all of them take minutes. */
const EVERY = 29;

/** Of a hundred broken lines so many at least must be told by one error at the right line. */
const FLOOR = 97;

test('a broken line of an example is named by one error', { timeout: 600_000 }, () => {
  const whole = new Map(EXAMPLES.map(([file, text]) => [file, said(file, text)]));
  let [named, all] = [0, 0];
  for (const [nth, { file, kind, line, text }] of [...brokenExamples()].entries()) {
    if (nth % EVERY !== 0) continue;
    const before = whole.get(file);
    const now = said(file, text);
    const errors = now.problems.filter(({ error }) => error);
    // What means the same is no slip.
    if (errors.length === 0 && now.data === before?.data) continue;
    all += 1;
    const known = new Set(before?.problems.map(({ problem }) => messageOf(problem)));
    const notes = now.problems.filter(({ problem }) => !known.has(messageOf(problem)));
    const right = (at: number): boolean =>
      at === line || (kind === 'the value on the next line' && at === line + 1);
    const told = errors.length > 0 ? errors : notes;
    if (errors.length < 2 && told.some((one) => right(one.line))) named += 1;
  }
  const percent = (100 * named) / all;
  process.stdout.write(`${named} of ${all} broken lines are named by one error (${percent.toFixed(1)} %)\n`);
  expect(all).toBeGreaterThan(100);
  expect(percent).toBeGreaterThanOrEqual(FLOOR);
});

const TRIAL = [
  'trial: Mill Lane lot 31',
  'meter: {start: 57240, end: 81240}',
  'coverage: 5 %',
  'waste_container: {tare: 621 g, final: 1026 g}',
  'batches:',
  '  - {end: 61240, note: "one jam"}',
  '  - {end: 65240}',
  'limits:',
  '  waste_per_thousand: {max: 25 g}',
];

describe('one slip, one error', () => {
  test.each<[line: number, broken: string, said: string]>([
    [3, 'coverage:5 %', 'A space is missing after the colon. Write: coverage: 5 %'],
    [
      2,
      'meter: {start:57240, end: 81240}',
      'A space is missing after the colon. Write: meter: {start: 57240',
    ],
    [9, '\twaste_per_thousand: {max: 25 g}', 'Begin it in column 3, behind 2 spaces: waste_per_thousand'],
    [3, ' coverage: 5 %', 'Begin it in column 1'],
    [9, 'waste_per_thousand: {max: 25 g}', 'Begin it in column 3'],
    [
      4,
      'waste_container: {tare: 621 g, final: 1026 g',
      'is not closed. Write: waste_container: {tare: 621 g',
    ],
    [4, 'waste_container: tare: 621 g, final: 1026 g}', 'was not opened. Write: waste_container: {tare'],
    [4, 'waste_container: {tare: 621 g, final: 1026 g}}', 'too many is closed in this line. Write: waste'],
    [6, '  - {end: 61240, note: "one jam}', 'A quotation mark is missing in this line. Write: - {end'],
    [5, 'batches', 'The colon after the key is missing. Write: batches:'],
    [3, 'coverage 5 %', 'The colon after the key is missing. Write: coverage: 5 %'],
    [1, "trial: 'Baker's Row'", 'belongs in quotation marks. Write: trial: "Baker\'s Row"'],
    [1, 'trial: Lot 31: second try', 'Write: trial: "Lot 31: second try"'],
    [6, '  - {end: 61240, note: jam: tray 2}', 'Write: - {end: 61240, note: "jam: tray 2"}'],
  ])('line %i: %j', (line, broken, message) => {
    const { notes } = judge(TRIAL.with(line - 1, broken).join('\n'));
    const errors = notes.filter(({ kind }) => kind === 'error');
    expect(errors).toEqual([expect.objectContaining({ code: 'yaml-slip', line })]);
    expect(errors[0]?.message).toContain(message);
  });

  test.each<[line: number, broken: string, said: string]>([
    [2, '   - slot: black', 'Begin it in column 3, behind 2 spaces: - slot: black'],
    [10, '   - slot: cyan', 'Begin it in column 3, behind 2 spaces: - slot: cyan'],
    [10, '\t- slot: cyan', 'Begin it in column 3, behind 2 spaces: - slot: cyan'],
    [11, '    lot: "K-19', 'A quotation mark is missing in this line. Write: lot: "K-19"'],
    [
      15,
      '    - {patch: solid, first: {lab: [18.2, 0.4, 0.9, gloss: 12}}',
      'lab: [18.2, 0.4, 0.9], gloss: 12}}',
    ],
  ])('in a list of several lines an entry, line %i: %j', (line, broken, message) => {
    const lines = [
      'cartridges:',
      '  - slot: black',
      '    lot: K-18',
      '    serial: K18-1',
      '    price: 41.50 EUR',
      '    start_mass: 812 g',
      '    end_mass: 401 g',
      '    rated_yield: 10500',
      '    installed_at: 57240',
      '  - slot: cyan',
      '    lot: "K-19"',
      '    serial: K19-1',
      'prints:',
      '  patches:',
      '    - {patch: solid, first: {lab: [18.2, 0.4, 0.9], gloss: 12}}',
    ];
    const all = [...lines.with(line - 1, broken), ...TRIAL];
    const errors = judge(all.join('\n')).notes.filter(({ kind }) => kind === 'error');
    expect(errors).toEqual([expect.objectContaining({ code: 'yaml-slip', line })]);
    expect(errors[0]?.message).toContain(message);
  });

  test('a value on the next line', () => {
    const { notes } = judge(TRIAL.with(2, 'coverage:\n5 %').join('\n'));
    expect(notes.filter(({ kind }) => kind === 'error')).toEqual([
      expect.objectContaining({ code: 'yaml-slip', line: 4 }),
    ]);
  });

  test('a # that cuts a text short is a note; one that begins a note is none', () => {
    const notesOf = (line: string) =>
      judge([...TRIAL, line].join('\n')).notes.filter(({ code }) => code === 'cut-by-note');
    expect(notesOf('machine: {label: Heron}  # by the window')).toEqual([]);
    expect(notesOf('#lot: {id: K}')).toEqual([]);
    expect(notesOf('lot: {id: "K #551"}')).toEqual([]);
    const [note] = notesOf('lot:\n  id: K #551');
    expect(note).toMatchObject({ kind: 'note', line: 11 });
    expect(note?.message).toContain('"K" is read, "#551" is not.');
  });
});
