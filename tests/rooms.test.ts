import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { expect, test } from 'vitest';
import { severityOf } from '../src/trial/codes.ts';
import type { Problem } from '../src/trial/problem.ts';
import { ROOT } from './run.ts';

/** What each room may import, beside itself, and why. Imports point one way, from commands down. */
const ROOMS: Readonly<Record<string, { readonly from: readonly string[]; readonly why: string }>> = {
  uncertainty: { from: [], why: 'the ground: decimals that know their sensitivities, and nothing of trials' },
  statistics: { from: ['uncertainty'], why: 'numbers in, numbers out' },
  trial: { from: ['uncertainty'], why: 'a reading is a value with its uncertainty' },
  figures: {
    from: ['statistics', 'trial', 'uncertainty'],
    why: 'a figure follows from readings alone, not from its limit',
  },
  limits: { from: ['judge', 'figures', 'statistics', 'trial', 'uncertainty'], why: 'a limit judges figures' },
  judge: {
    from: ['limits', 'figures', 'statistics', 'trial', 'uncertainty'],
    why: 'figures and limits in, outcomes and verdict out',
  },
  plan: {
    from: ['limits', 'figures', 'statistics', 'trial', 'uncertainty'],
    why: 'what a trial asks for before it is run, from what it says',
  },
  checks: {
    from: ['plan', 'judge', 'limits', 'figures', 'statistics', 'trial', 'uncertainty'],
    why: 'what is said of a judged trial, and the judged trial itself',
  },
  pool: {
    from: ['checks', 'judge', 'limits', 'figures', 'statistics', 'trial', 'uncertainty'],
    why: 'many judged trials in, what may be claimed of them out',
  },
  archive: {
    from: ['checks', 'limits', 'figures', 'trial', 'uncertainty'],
    why: 'a judged trial in, its seal out; two seals in, what moved out',
  },
  output: {
    from: ['plan', 'archive', 'pool', 'statistics', 'checks', 'limits', 'figures', 'trial', 'uncertainty'],
    why: 'a result in, a string out; it decides nothing',
  },
  report: {
    from: [
      'archive',
      'output',
      'plan',
      'pool',
      'checks',
      'limits',
      'figures',
      'statistics',
      'trial',
      'uncertainty',
    ],
    why: 'a judged trial in, a page out; above the words of output, and loaded for a report only',
  },
  commands: {
    from: [
      'report',
      'archive',
      'output',
      'plan',
      'pool',
      'checks',
      'limits',
      'figures',
      'statistics',
      'trial',
      'uncertainty',
    ],
    why: 'the only place with files, streams and exit codes',
  },
};

/** Packages the pure rooms may use; everything of the world belongs to commands. */
const PURE_PACKAGES: Readonly<Record<string, readonly string[]>> = {
  uncertainty: ['decimal.js'],
  statistics: [],
  trial: ['js-yaml', 'yaml', 'zod/v4/core', 'fastest-levenshtein'],
  figures: ['culori/fn'],
  limits: [],
  plan: [],
  checks: [],
  pool: [],
  archive: ['zod/mini'],
  output: ['fast-string-width'],
  report: ['@observablehq/plot', 'linkedom'],
};

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
  for (const { path, room } of sources) expect(Object.keys(ROOMS), path).toContain(room);
});

test.each(sources.map((source) => [source.path, source] as const))(
  '%s imports only downwards',
  (_, source) => {
    const rule = ROOMS[source.room];
    for (const name of source.imports) {
      if (!name.startsWith('.')) continue;
      const target = relative(ROOT, join(ROOT, dirname(source.path), name));
      if (!target.startsWith('src')) {
        expect(target, 'data that code and tests share').toMatch(/^shared[\\/]|^package\.json$/);
        continue;
      }
      const room = target.split(/[\\/]/)[1] ?? '';
      if (room !== source.room) expect(rule?.from, `${source.room}: ${rule?.why ?? ''}`).toContain(room);
    }
  },
);

test.each(sources.filter(({ room }) => room !== 'commands').map((source) => [source.path, source] as const))(
  '%s is pure',
  (_, { room, imports, text }) => {
    for (const name of imports.filter((one) => !one.startsWith('.'))) {
      expect(PURE_PACKAGES[room], `${room} imports ${name}`).toContain(name);
    }
    const code = text.replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '');
    expect(WORLD.exec(code)?.[0]).toBeUndefined();
  },
);

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
