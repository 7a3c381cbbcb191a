import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Change, dataAt } from '../../src/note/change.ts';
import { noted } from '../../src/note/noted.ts';
import { readSource } from '../../src/text/source.ts';
import { ROOT } from '../run.ts';

const after = (text: string, ...changes: Change[]): string => {
  const done = noted(text, changes);
  if ('unplaced' in done) throw new Error(`not placed: ${done.unplaced.join('.')}`);
  return done.text;
};

const set = (path: Change['path'], value: string): Change => ({ kind: 'set', path, value });
const jam: Change = {
  kind: 'add',
  path: ['events'],
  entry: [
    ['at', '44120'],
    ['kind', 'jam'],
  ],
};

describe('a value is written', () => {
  it.each([
    ['meter: {start: 1, end}\n', 'meter: {start: 1, end: 9}\n'],
    ['meter: {start: 1, end: }  # read it\n', 'meter: {start: 1, end: 9}  # read it\n'],
    ['meter: {start: 1}\n', 'meter: {start: 1, end: 9}\n'],
    ['meter: {start: 1, }', 'meter: {start: 1, end: 9, }'],
    ['meter: {}\n', 'meter: {end: 9}\n'],
    ['meter:\n', 'meter: {end: 9}\n'],
    ['meter: ~ # later\n', 'meter: {end: 9} # later\n'],
    ['meter:\n  # to be read\nlot: 1\n', 'meter: {end: 9}\n  # to be read\nlot: 1\n'],
    ['meter:\n  start: 1\n  end:\n', 'meter:\n  start: 1\n  end: 9\n'],
    ['meter:\n  start: 1\n  end:   # after it\n', 'meter:\n  start: 1\n  end: 9   # after it\n'],
    ['meter:\n    start: 1 # s\n# lot\nlot: x', 'meter:\n    start: 1 # s\n    end: 9\n# lot\nlot: x'],
    ['{"meter": {"start": 1}}', '{"meter": {"start": 1, end: 9}}'],
    ['{"meter": {\n  "start": 1\n}}\n', '{"meter": {\n  "start": 1, end: 9\n}}\n'],
    ['trial: x', 'trial: x\nmeter: {end: 9}'],
    ['trial: x\r\nlot: y\r\n', 'trial: x\r\nlot: y\r\nmeter: {end: 9}\r\n'],
    ['trial: |\n  x\n  y\nlot: y\n', 'trial: |\n  x\n  y\nlot: y\nmeter: {end: 9}\n'],
  ])('%j', (before, then) => {
    expect(after(before, set(['meter', 'end'], '9'))).toBe(then);
  });

  it('where another one stands, which is kept as a comment', () => {
    expect(after('meter: {start: 1, end: 8}\nlot: x\n', set(['meter', 'end'], '9'))).toBe(
      'meter: {start: 1, end: 9} # end was 8\nlot: x\n',
    );
    expect(after('meter:\n  end: "8" # at noon\n', set(['meter', 'end'], '9'))).toBe(
      'meter:\n  end: 9 # at noon # end was "8"\n',
    );
  });

  it('in quotation marks where it needs them', () => {
    for (const text of [
      'a: b',
      'null',
      '- x',
      'he said "no", twice',
      '{',
      '# 3',
      ' x ',
      'ä\u0301',
      '46 %',
      '\\',
    ])
      expect(readSource('', after('trial: x\n', set(['lot', 'id'], text))).data).toEqual({
        trial: 'x',
        lot: { id: text },
      });
  });
});

describe('an entry is added', () => {
  it.each([
    ['events: []  # none yet\nlot: x\n', 'events:  # none yet\n  - {at: 44120, kind: jam}\nlot: x\n'],
    ['events:\n# what else\n', 'events:\n  - {at: 44120, kind: jam}\n# what else\n'],
    [
      'events:\n  # - {at: 1, kind: stop}\nlot: x\n',
      'events:\n  # - {at: 1, kind: stop}\n  - {at: 44120, kind: jam}\nlot: x\n',
    ],
    ['events:\n- {kind: jam}', 'events:\n- {kind: jam}\n- {at: 44120, kind: jam}'],
    ['events: [{kind: jam}]\n', 'events: [{kind: jam}, {at: 44120, kind: jam}]\n'],
    [
      'events:\n  - kind: jam\n    note: a\n      b\n\nlot: x\n',
      'events:\n  - kind: jam\n    note: a\n      b\n  - at: 44120\n    kind: jam\n\nlot: x\n',
    ],
    ['{events: []}', '{events: [{at: 44120, kind: jam}]}'],
    ['{events}', '{events: [{at: 44120, kind: jam}]}'],
    ['{trial: x}', '{trial: x, events: [{at: 44120, kind: jam}]}'],
    [
      'trial: x\nmeter: {start: 1}\n\n# what was agreed\nlimits: office\n',
      'trial: x\nmeter: {start: 1}\nevents:\n  - {at: 44120, kind: jam}\n\n# what was agreed\nlimits: office\n',
    ],
  ])('%j', (before, then) => {
    expect(after(before, jam)).toBe(then);
  });

  it('nowhere but in a list', () => {
    expect(noted('events: {file: e.csv}\n', [jam])).toEqual({ unplaced: ['events'] });
  });
});

const examples = ['', 'pool'].flatMap((folder) =>
  readdirSync(join(ROOT, 'examples', folder))
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => join('examples', folder, name)),
);

describe.each(examples)('%s', (file) => {
  const text = readFileSync(join(ROOT, file), 'utf8');
  const changes: Change[] = [
    set(['meter', 'end'], '99999'),
    set(['waste_container', 'final'], '1070 g'),
    set(['paper', 'sheets_used'], '9'),
    set(['trial', 'finished'], '2026-03-09T09:10'),
    jam,
    {
      kind: 'add',
      path: ['batches'],
      entry: [
        ['end', '4'],
        ['container_mass', '700 g'],
      ],
    },
    {
      kind: 'add',
      path: ['ambient'],
      entry: [
        ['temperature', '21.4 °C'],
        ['humidity', '46 %'],
      ],
    },
    {
      kind: 'add',
      path: ['inspection'],
      entry: [
        ['part', 'fuser'],
        ['severity', 'none'],
      ],
    },
    {
      kind: 'add',
      path: ['cartridges'],
      entry: [
        ['slot', 'black'],
        ['serial', 'K-1'],
      ],
    },
  ];

  it.each(changes)('keeps every other line: $path', (change) => {
    const done = noted(text, [change]);
    // A title alone has no day it was finished on, of several containers none is meant, and a table is a file of its own.
    const holder = dataAt(readSource('', text).data, change.path.slice(0, 1));
    const map = holder !== null && typeof holder === 'object' && !Array.isArray(holder);
    const none = holder != null && (change.kind === 'set' ? !map : !Array.isArray(holder));
    expect('unplaced' in done).toBe(none);
    if ('unplaced' in done) return;
    const [old, now] = [text.split('\n'), done.text.split('\n')];
    const same = old.filter((line) => now.includes(line));
    expect(old.length - same.length).toBeLessThanOrEqual(1);
    let at = -1;
    for (const line of same) {
      at = now.indexOf(line, at + 1);
      expect(at).toBeGreaterThan(-1);
    }
    for (const [comment] of text.matchAll(/#.*/g)) expect(done.text).toContain(comment);
  });
});
