import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { expect, test } from 'vitest';
import { severityOf } from '../src/problems/codes.ts';
import type { Problem } from '../src/problems/problem.ts';
import { ROOT } from './run.ts';

/**
 * The rooms, from the ground up, and why each may import what it does: any room before it, but for those named. The
 * sentence is text → trial → figures → judge → checks → output; imports point back along it.
 */
const ROOMS: readonly { readonly room: string; readonly not?: readonly string[]; readonly why: string }[] = [
  { room: 'uncertainty', why: 'the ground: decimals that know their sensitivities and what they rest on' },
  { room: 'statistics', why: 'distributions and bounds: numbers in, numbers out' },
  {
    room: 'problems',
    not: ['statistics'],
    why: 'what can be wrong, as data: it knows no file and no sentence',
  },
  { room: 'text', not: ['statistics'], why: 'bytes to plain data with places; it knows nothing of trials' },
  {
    room: 'raster',
    not: ['statistics', 'problems', 'text'],
    why: 'bytes of a picture to the coverage of its pages',
  },
  { room: 'trial', not: ['statistics'], why: 'a reading is a value with its uncertainty' },
  { room: 'figures', not: ['text'], why: 'a figure follows from readings alone, not from its limit' },
  { room: 'judge', why: 'figures and limits in, outcomes and verdict out' },
  { room: 'pool', not: ['text'], why: 'many judged trials in, what may be claimed of them out' },
  { room: 'lot', not: ['text'], why: 'the trials of one lot in, what they say of the lot out' },
  { room: 'forecast', not: ['pool'], why: 'trials at several coverages in, what a mix of pages takes out' },
  {
    room: 'plan',
    not: ['text', 'forecast'],
    why: 'what a trial asks for before it is run, from what it says',
  },
  { room: 'checks', why: 'what a good supervisor would say of a judged trial' },
  { room: 'note', why: 'a reading and the text of a trial in, the new text out, and what is next' },
  {
    room: 'archive',
    not: ['checks', 'note', 'plan', 'pool'],
    why: 'a judged trial in, its seal out; two seals in, what moved',
  },
  { room: 'output', why: 'a result in, a string out; it decides nothing' },
  {
    room: 'report',
    why: 'a judged trial in, a page out; above the words of output, and loaded for a report only',
  },
  { room: 'library', not: ['report'], why: 'what others may build on: the same functions the commands call' },
  {
    room: 'world',
    not: ['library'],
    why: 'streams, the file system, the clock, the terminal: the only place',
  },
  { room: 'files', why: 'finding and opening trial files' },
  { room: 'many', why: 'many of them at once' },
  { room: 'commands', why: 'one command a file, thin' },
];

/** The rooms a room may import from. */
function below(room: string): readonly string[] {
  const index = ROOMS.findIndex((one) => one.room === room);
  return ROOMS.slice(0, index)
    .map((one) => one.room)
    .filter((one) => !ROOMS[index]?.not?.includes(one));
}

/** Packages the pure rooms may use. */
const PURE_PACKAGES: Readonly<Record<string, readonly string[]>> = {
  uncertainty: ['decimal.js'],
  text: ['js-yaml', 'yaml', 'papaparse'],
  raster: ['fflate', 'pngjs', 'tiff'],
  trial: ['zod/v4/core', 'fastest-levenshtein'],
  figures: ['culori/fn'],
  note: ['yaml'],
  archive: ['zod/mini'],
  output: ['fast-string-width'],
  report: ['@observablehq/plot', 'linkedom', 'culori/fn'],
};

/** Rooms that touch files, streams, the clock or the process. */
const WORLDLY: readonly string[] = ['world', 'files', 'many', 'commands'];

/** The clock, chance, the process and the locale, which would make the same input print other bytes. */
const WORLD = /\b(Date\.now|new Date\(\)|Math\.random|process\.|toLocale\w*|Intl\.|performance\.)/;

interface SourceFile {
  readonly path: string;
  readonly room: string;
  readonly text: string;
  readonly imports: readonly string[];
}

const sources: SourceFile[] = readdirSync(join(ROOT, 'src'), { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => {
    const path = join('src', file);
    const text = readFileSync(join(ROOT, path), 'utf8');
    const imports = [...text.matchAll(/(?:from|import)\s+'([^']+)'/g)].map(([, name]) => name ?? '');
    return { path, room: file.split(/[\\/]/)[0] ?? '', text, imports };
  });

test('every source file stands in a room', () => {
  expect(sources.length).toBeGreaterThan(50);
  for (const { path, room } of sources)
    expect(
      ROOMS.map((one) => one.room),
      path,
    ).toContain(room);
});

test.each(sources.map((source) => [source.path, source] as const))(
  '%s imports only downwards',
  (_, source) => {
    const why = ROOMS.find(({ room }) => room === source.room)?.why ?? '';
    for (const name of source.imports) {
      if (!name.startsWith('.')) continue;
      const target = relative(ROOT, join(ROOT, dirname(source.path), name));
      if (!target.startsWith('src')) {
        expect(target, 'data that code and tests share').toMatch(/^shared[\\/]|^package\.json$/);
        continue;
      }
      const room = target.split(/[\\/]/)[1] ?? '';
      if (room !== source.room) expect(below(source.room), `${source.room}: ${why}`).toContain(room);
    }
  },
);

test.each(
  sources.filter(({ room }) => !WORLDLY.includes(room)).map((source) => [source.path, source] as const),
)('%s is pure', (_, { room, imports, text }) => {
  for (const name of imports.filter((one) => !one.startsWith('.'))) {
    expect(PURE_PACKAGES[room] ?? [], `${room} imports ${name}`).toContain(name);
  }
  const code = text.replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '');
  expect(WORLD.exec(code)?.[0]).toBeUndefined();
});

test('no check condemns a file: whether it is a trial is decided before any is asked', () => {
  const checks = sources.filter(({ room }) => room === 'checks').map(({ text }) => text);
  const codes = checks.flatMap((text) =>
    [...text.matchAll(/\{ code: '([a-z-]+)'|^ +code: '([a-z-]+)'/gm)].map(([, one, other]) => one ?? other),
  );
  expect(codes.length).toBeGreaterThan(20);
  expect(codes.filter((code) => severityOf({ code: code as Problem['code'] }) === 'error')).toEqual([]);
});

test('no two files import each other in a circle', () => {
  const graph = new Map(
    sources.map(({ path, text }) => [
      path,
      [...text.matchAll(/^import (?!type)[^;]*?from '(\.[^']+)'/gms)].map(([, name]) =>
        relative(ROOT, join(ROOT, dirname(path), name ?? '')),
      ),
    ]),
  );
  const done = new Set<string>();
  const visit = (path: string, above: readonly string[]): void => {
    expect(above, [...above, path].join(' → ')).not.toContain(path);
    if (done.has(path)) return;
    for (const next of graph.get(path) ?? []) visit(next, [...above, path]);
    done.add(path);
  };
  for (const path of graph.keys()) visit(path, []);
});
