import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { type Files, type ResultJson, run } from '../run.ts';

const HEAD = `trial: {title: Mill Lane lot 31, started: 2026-10-12T08:30, finished: 2026-10-12T17:00}
meter: {start: 57240, end: 65240}
coverage: 5 %
waste_container: {tare: 621 g, final: 755 g}
limits: {waste_per_thousand: {max: 25 g}, temperature: {min: 18, max: 26}}
`;

interface Judged extends ResultJson {
  readonly code: number;
}

function judged(lines: string, files: Files): Judged {
  const { code, out } = run(['verdict', 'lot/trial.yaml', '--format', 'json'], {
    'lot/trial.yaml': `${HEAD}${lines}\n`,
    ...files,
  });
  return { ...(JSON.parse(out) as ResultJson), code };
}

const value = ({ figures }: ResultJson, name: string, stat: string | null) =>
  figures.find((one) => one.figure === name && one.stat === stat)?.value;

const errors = ({ notes }: ResultJson): string[] =>
  notes.filter(({ kind }) => kind === 'error').map(({ message }) => message);

const ROOM = `Time;Temp (°C);RH %
12.10.2026 08:00;22,5;45
12.10.2026 12:00;23,5;44,5
13.10.2026 8:00;21,5;
`;

describe('a table of batches with conditions of their own', () => {
  const LIST = `batches:
  - {end: 59240, coverage: 20 %, duplex_share: 50 %, cartridge_mass: {black: 800.5 g}}
  - {end: 60240, other: true, coverage: {black: 8.5 %}}
  - {end: 65240, other: false}
cartridges: [{slot: black}]`;
  const TABLE = `meter;coverage (%);duplex;cartridge_mass.black;other
59240;20;50;800,5;no
60240;8,5;;;yes
65240;;;;
`;

  test('is read as the list it stands for', () => {
    const lines = 'batches: {file: batches.csv}\ncartridges: [{slot: black}]';
    const asTable = judged(lines, { 'lot/batches.csv': TABLE });
    expect(errors(asTable)).toEqual([]);
    expect(asTable.figures).toEqual(judged(LIST, {}).figures);
    // 7,000 pages: 2,000 with half of them on two-sided sheets
    expect(value(asTable, 'sheets', null)).toBe('6500');
    // 2000 × 20 + 1000 × 8.5 + 5000 × 5 = 73,500 over 5
    expect(value(asTable, 'yield_at_reference', 'least')).toBe('14700');
  });

  test('a word that is neither yes nor no is told', () => {
    const lines = 'batches: {file: batches.csv}\ncartridges: [{slot: black}]';
    const [told] = errors(judged(lines, { 'lot/batches.csv': TABLE.replace('yes', 'sometimes') }));
    expect(told).toContain('sometimes');
  });
});

describe('a table in a file of its own', () => {
  test('is read as the list it stands for', () => {
    const asTable = judged('ambient: {file: room.csv}', { 'lot/room.csv': ROOM });
    const asList = judged(
      `ambient:
  - {at: 2026-10-12T08:00, temperature: 22.5 °C, humidity: 45 %}
  - {at: 2026-10-12T12:00, temperature: 23.5 °C, humidity: 44.5 %}
  - {at: 2026-10-13T08:00, temperature: 21.5 °C}`,
      {},
    );
    expect(asTable.verdict).toBe('pass');
    expect(asTable.figures).toEqual(asList.figures);
    expect(asTable.figures.filter(({ figure }) => figure === 'temperature')).toHaveLength(3);
    const note = asTable.notes.find(({ code }) => code === 'table-read');
    expect(note?.message).toBe(
      'lot/room.csv: 3 rows; at from "Time", temperature from "Temp (°C)" and humidity from "RH %"; days are read day first.',
    );
  });

  test('of batches with their masses, tabs between the cells', () => {
    const files = {
      'lot/t/batches.tsv':
        'nr\tmeter\tstart time\tend time\tcontainer\n1\t61240\t2026-10-12 9:05\t2026-10-12 11:40\t688 g\n2\t65240\t2026-10-12 12:00\t2026-10-12 15:10\t\n',
    };
    const asTable = judged('batches: {file: t/batches.tsv}', files);
    const asList = judged(
      'batches: [{end: 61240, started: 2026-10-12T09:05, finished: 2026-10-12T11:40, container_mass: 688 g}, {end: 65240, started: 2026-10-12T12:00, finished: 2026-10-12T15:10}]',
      {},
    );
    expect(asTable.figures).toEqual(asList.figures);
    // Nobody read the air.
    expect(asTable.verdict).toBe('inconclusive');
    expect(asTable.limits.map(({ outcome }) => outcome)).toContain('met');
  });

  test('in Fahrenheit where its heading says so', () => {
    const room = 'time,temperature (°F)\n2026-10-12 09:00,72.5\n';
    expect(value(judged('ambient: {file: room.csv}', { 'lot/room.csv': room }), 'temperature', 'least')).toBe(
      '22.5',
    );
  });

  test('below lines that a logger writes before it, its cells in quotation marks', () => {
    const room =
      'sep=,\r\n"Logger","B 12"\r\n\r\n"Date","Time","Temperature","Note, if any"\r\n"2026-10-12","09:00","22,5","a ""b"",\r\nc"\r\n';
    expect(value(judged('ambient: {file: room.csv}', { 'lot/room.csv': room }), 'temperature', 'least')).toBe(
      '22.5',
    );
  });

  test('whose faults are told by file, row and column', () => {
    const room = ROOM.replace('44,5', '144,5').replace('23,5', 'warm');
    const { verdict, notes } = judged('ambient: {file: room.csv}', { 'lot/room.csv': room });
    expect(verdict).toBe('invalid');
    const faults = notes.filter(({ kind }) => kind === 'error');
    expect(faults.map(({ code, line }) => [code, line])).toEqual([
      ['not-a-number', null],
      ['too-high', null],
    ]);
    expect(faults[0]?.message).toMatch(/^lot\/room\.csv:3:18: Column "Temp \(°C\)": "warm"/);
    expect(faults[1]?.message).toMatch(/^lot\/room\.csv:3:23: Column "RH %": "144\.5 %"/);
    const { out } = run(['verdict', 'lot/trial.yaml'], {
      'lot/trial.yaml': `${HEAD}ambient: {file: room.csv}\n`,
      'lot/room.csv': room,
    });
    expect(out).toContain(
      '  lot/room.csv:3:18\n      3 | 12.10.2026 12:00;warm;144,5\n        |                  ^\n',
    );
  });

  test.each([
    ['table-unreadable', 'ambient: {file: gone.csv}', ''],
    ['table-outside', 'ambient: {file: ../room.csv}', ''],
    ['table-outside', 'ambient: {file: /room.csv}', ''],
    ['table-empty', 'ambient: {file: room.csv}', 'Time;Temp\n'],
    ['table-without-heading', 'ambient: {file: room.csv}', '2026-10-12 08:00;22\n'],
    ['column-not-there', 'ambient: {file: room.csv, columns: {temperature: T1}}', ROOM],
    ['column-twice', 'ambient: {file: room.csv}', 'Time;Temp;Temperature\n2026-10-12;22;23\n'],
    ['unknown-key', 'ambient: {file: room.csv, columns: {warmth: Temp}}', ROOM],
    ['unknown-key', 'ambient: {file: room.csv, colums: {temperature: Temp}}', ROOM],
    ['table-row', 'ambient: {file: room.csv}', 'Time,Temp,RH\n2026-10-12,22,5,45,0\n'],
    ['table-row', 'ambient: {file: room.csv}', 'Time,Temp,RH\n2026-10-12,22\n'],
    ['table-row', 'ambient: {file: room.csv}', 'Time,Temp\n"2026-10-12,22\n'],
    ['table-row', 'ambient: {file: room.csv}', `Time,Temp\n2026-10-12,22${' '.repeat(30_000)}\n`],
    ['decimals-mixed', 'ambient: {file: room.csv}', 'Time;Temp\n2026-10-12;22,5\n2026-10-12;22.5\n'],
    ['decimals-unclear', 'ambient: {file: room.csv}', 'Time;Temp\n2026-10-12;22,125\n'],
    ['days-mixed', 'ambient: {file: room.csv}', 'Time;Temp\n13.10.2026;22\n10/14/2026;22\n'],
    ['days-unclear', 'ambient: {file: room.csv}', 'Time;Temp\n12.10.2026;22\n'],
    ['not-a-time', 'ambient: {file: room.csv}', 'Time;Temp\nyesterday;22\n'],
    ['out-of-order', 'batches: {file: room.csv}', 'Meter\n61240\n60240\n'],
    ['wrong-shape', 'ambient: {temperature: 22 °C, humidity: 45 %}', ''],
    ['table-too-long', 'batches: {file: room.csv}', `Meter\n${'61240\n'.repeat(10_001)}`],
  ])('%s: %s', (code, lines, room) => {
    const result = judged(lines, { 'lot/room.csv': room });
    expect(result.code).toBe(3);
    const found = result.notes.filter(({ kind }) => kind === 'error');
    expect(found.map((note) => note.code)).toEqual([code]);
    expect(errors(result)[0]).toMatch(/\S\. \S|\? *$|\.$/);
  });

  test('too large to be read', () => {
    const more = { plainFile: () => new Uint8Array(32 * 1024 * 1024 + 1) };
    const files = { 'trial.yaml': `${HEAD}ambient: {file: room.csv}\n` };
    const { out } = run(['verdict', 'trial.yaml', '--format', 'json'], files, '', more);
    const { notes } = JSON.parse(out) as ResultJson;
    expect(notes).toContainEqual(expect.objectContaining({ code: 'table-too-large', kind: 'error' }));
  });

  test('asks for what no row tells, and takes the answer', () => {
    const room = { 'lot/room.csv': 'Time;Temp\n12.10.2026;22,125\n' };
    const told = judged('ambient: {file: room.csv, day_order: day_first, decimal_mark: comma}', room);
    expect(told.verdict).toBe('pass');
    expect(value(told, 'temperature', 'least')).toBe('22.125');
  });
});

test('readings of the air outside the printing times are shown, and not judged', () => {
  // Printed from 9:05 to 15:10; the heating goes down at night.
  const room = `Time;Temp;RH
2026-10-12 10:00;23,0;45
2026-10-12 14:00;23,5;44
2026-10-12 22:00;17,5;52
2026-10-13 03:00;16,0;55
`;
  const night = `${HEAD}batches: [{end: 65240, started: 2026-10-12T09:05, finished: 2026-10-12T15:10}]
ambient: {file: room.csv}
`;
  const files = { 'trial.yaml': night, 'room.csv': room };
  const { out } = run(['verdict', 'trial.yaml'], files);
  expect(out).toContain('\n  Read while nothing was printed, and not judged: 16 to 17.5 °C, 52 to 55 %.\n');
  expect(out).toMatch(/met +temperature \(voids\)/);
  expect(out).toMatch(/VERDICT: PASS\n$/);
});

describe('a long table', () => {
  // 43 200 rows, one every ten seconds of five days; the heating goes down at eight in the evening.
  const rows: { seconds: number; temperature: string; humidity: string }[] = [];
  for (let index = 0; index < 43_200; index++) {
    const seconds = index * 10;
    const hour = (seconds / 3600) % 24;
    const wave = Math.sin(index * 1.7) + Math.sin(index / 500);
    const temperature = ((hour >= 8 && hour < 20 ? 22.5 : 19.5) + wave / 2).toFixed(2);
    rows.push({ seconds, temperature, humidity: (45 + 3 * Math.cos(index * 2.3)).toFixed(1) });
  }
  const stamp = (seconds: number): string =>
    new Date(Date.UTC(2026, 9, 12) + seconds * 1000).toISOString().slice(0, 19).replace('T', ' ');
  const room = `time,temperature,humidity\n${rows.map((row) => `${stamp(row.seconds)},${row.temperature},${row.humidity}\n`).join('')}`;
  const result = judged('ambient: {file: room.csv}', { 'lot/room.csv': room });

  test('keeps the least and greatest of all rows', () => {
    // By a sort of all of them.
    const sorted = rows.map(({ temperature }) => Number(temperature)).toSorted((a, b) => a - b);
    const counted = rows.filter(({ seconds }) => seconds >= 8 * 3600 && seconds <= 17.5 * 3600);
    const printing = counted.map(({ temperature }) => Number(temperature)).toSorted((a, b) => a - b);
    const least = Number(value(result, 'temperature', 'least'));
    // Of all rows, or of those that count while pages were printed.
    expect([sorted[0], printing[0]]).toContain(least);
    expect([sorted.at(-1), printing.at(-1)]).toContain(Number(value(result, 'temperature', 'greatest')));
  });

  test('says how many rows are reckoned with', () => {
    const message = result.notes.find(({ code }) => code === 'table-read')?.message;
    expect(message).toMatch(/43200 rows;.*Of so many rows \d{4} are reckoned with/);
  });
});

describe('a table as an input of the verdict', () => {
  const files = {
    'trial.yaml': `${HEAD}ambient: {file: room.csv}\n`,
    'room.csv': ROOM,
  };
  const seal = run(['seal', 'trial.yaml'], files).written['trial.yaml.seal.json'] ?? '';

  test('is in the seal by its digest, and the readings are those of the trial’s own file', () => {
    const { inputs, readings } = JSON.parse(seal) as {
      inputs: unknown[];
      readings: { key: string; text: string }[];
    };
    const sha256 = createHash('sha256').update(ROOM).digest('hex');
    expect(inputs).toContainEqual({ kind: 'table', file: 'room.csv', sha256 });
    expect(readings).toContainEqual({ key: 'ambient.file', text: 'room.csv' });
  });

  test('is told when it is another', () => {
    const recheck = (room: string) =>
      run(['recheck', 'trial.yaml'], { ...files, 'room.csv': room, 'trial.yaml.seal.json': seal });
    expect(recheck(ROOM).code).toBe(0);
    const changed = recheck(ROOM.replace('22,5', '22,6'));
    expect(changed.code).toBe(1);
    expect(changed.out).toContain('The table room.csv is not what was sealed');
    const gone = run(['recheck', 'trial.yaml'], {
      'trial.yaml': files['trial.yaml'],
      'trial.yaml.seal.json': seal,
    });
    expect(gone.code).toBe(1);
    expect(gone.out).toContain('The table room.csv is no longer there');
  });
});
