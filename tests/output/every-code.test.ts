import { describe, expect, test } from 'vitest';
import { readPhotos } from '../../src/files/photos.ts';
import type { Trial } from '../../src/trial/trial.ts';
import type { Io } from '../../src/world/io.ts';
import { bytesOf, IMAGES } from '../report/images.ts';
import { judge, run } from '../run.ts';

/* Faults that no other test meets: each is made, and its sentence says what is wrong and how to mend it. */

const BASE = `trial: Harbour Street lot 7
meter: {start: 112480, end: 130480}
coverage: 5 %
waste_container: {tare: 640 g, final: 948 g}
`;
const LIMITS = 'limits: {waste_per_thousand: {max: 25 g}}\n';
const CARTRIDGE = 'cartridges: [{slot: black';

describe('in a trial', () => {
  test.each([
    ['bad-slot-name', 'coverage: {black: 5 %, "black#2": 5 %}'],
    ['bad-slot-name', 'cartridges: [{slot: total}]'],
    ['empty-text', 'checked: [{reading: meter.end, note: " "}]'],
    ['not-positive', 'target: {pages: 0}'],
    ['not-a-digest', 'printing: {sha256: 12ab}'],
    ['wrong-length', 'prints: {patches: [{patch: black solid, last: {lab: [50]}}]}'],
    ['wrong-length', 'prints: {patches: [{patch: black solid, last: {lab: [50, 1, 2, 3]}}]}'],
    ['wrong-length', 'prints: {patches: [{patch: black solid, last: {lab: [50, 2]}}]}'],
    ['exhausted-where', `${CARTRIDGE}, exhausted_by: stop}]`],
    ['failed-where', `${CARTRIDGE}, failed_by: leak}]`],
    ['border-exceeds-paper', 'coverage_basis: printable\nprintable_border: 200 mm'],
    ['readings-sorted', 'events: [{at: 120000, kind: jam}, {at: 115000, kind: jam}]'],
    [
      'stated-in-other-currency',
      `${CARTRIDGE}, price: 41.50 EUR, exhausted_at: 130000}]\nstated: {cost_per_thousand: {of: black, value: 2.40 CHF}}`,
    ],
  ])('%s: %s', (code, lines) => {
    const text = lines.startsWith('coverage') ? BASE.replace(/^coverage.*\n/m, '') : BASE;
    const met = judge(`${text}${LIMITS}${lines}\n`).notes.filter((note) => note.code === code);
    expect(met).toHaveLength(1);
    expect(met[0]?.line).toBeGreaterThan(1);
  });

  test.each([
    ['other-pages-twice', 'batches: [{end: 120000, other: true}]', 'other'],
    [
      'mass-of-which-slot',
      `${CARTRIDGE}}]\nbatches: [{end: 120000, cartridge_mass: 801.2 g}]`,
      'cartridge_mass',
    ],
    ['unknown-slot', `${CARTRIDGE}}]\nbatches: [{end: 120000, cartridge_mass: {cyan: 801.2 g}}]`, 'cyan'],
    [
      'tolerance-exceeds-value',
      'batches: [{end: 120000, coverage: {value: 5 %, tolerance: 6 %}}]',
      'tolerance',
    ],
  ])('%s: %s', (code, lines, key) => {
    const text = BASE.replace('130480}', '130480, other_pages: 20}');
    expect(judge(`${text}${LIMITS}${lines}\n`).notes).toContainEqual(
      expect.objectContaining({ code, key, kind: 'error' }),
    );
  });

  test.each([
    ['other-coverage-taken', 'batches: [{end: 120000}, {end: 121000, other: true}]'],
    ['other-waste-unknown', 'batches: [{end: 120000}, {end: 121000, other: true, coverage: 9 %}]'],
  ])('%s: %s', (code, lines) => {
    const met = judge(`${BASE}${LIMITS}${lines}\n`).notes.filter((note) => note.code === code);
    expect(met).toMatchObject([{ kind: 'note', message: expect.stringContaining('1000 pages') as string }]);
  });

  test('neither of other pages whose coverage and waste are known', () => {
    const lines =
      'batches: [{end: 120000, container_mass: 770 g}, {end: 121000, other: true, coverage: 9 %, container_mass: 787 g}]';
    const { notes } = judge(`${BASE}${LIMITS}${lines}\n`);
    expect(notes.filter(({ code }) => code.startsWith('other-'))).toEqual([]);
  });

  test('more-digits-than-counter', () => {
    const text = BASE.replace('end: 130480', 'end: 100, digits: 5');
    expect(judge(text).notes).toContainEqual(
      expect.objectContaining({ code: 'more-digits-than-counter', key: 'start', line: 2 }),
    );
  });

  test.each([
    ['effect-twice', '{max: 25 g, effect: voids, weight: warn}'],
    ['limit-without-bound', '{effect: advises}'],
    ['limit-without-stat', '{max: 25 g, stat: mean}'],
  ])('%s: %s', (code, limit) => {
    const { notes } = judge(`${BASE}limits: {waste_per_thousand: ${limit}}\n`);
    expect(notes).toContainEqual(expect.objectContaining({ code, kind: 'error', line: 5 }));
  });

  test('limit-in-two-currencies', () => {
    const { notes } = judge(`${BASE}limits: {cost_per_thousand: {min: 1 EUR, max: 2 CHF}}\n`);
    expect(notes).toContainEqual(expect.objectContaining({ code: 'limit-in-two-currencies', line: 5 }));
  });

  test('unspoken-finding', () => {
    const { verdict, caveats } = judge(
      `${BASE}${LIMITS}inspection: [{stage: after, part: fuser, severity: critical}]\n`,
    );
    expect(verdict).toBe('inconclusive');
    expect(caveats.map(({ code }) => code)).toContain('unspoken-finding');
  });

  test('unknown-preset', () => {
    const { notes } = judge(`${BASE}limits: [no-such-preset]\n`);
    expect(notes).toContainEqual(expect.objectContaining({ code: 'unknown-preset', line: 5 }));
  });
});

describe('among the files', () => {
  const codesOf = (
    words: readonly string[],
    files: Record<string, string>,
    more: Partial<Io> = {},
  ): string[] => {
    const { code, out } = run(['verdict', ...words, '--format', 'jsonl'], files, '', more);
    expect(code).toBe(3);
    return (JSON.parse(out) as { notes: { code: string }[] }).notes.map((note) => note.code);
  };
  const others = { 'other/notes.txt': 'no trial' };
  const refuses = (): never => {
    throw Object.assign(new Error('no'), { code: 'EACCES' });
  };

  test.each([
    ['file-unreadable', ['gone.yaml'], {}, {}],
    ['no-trials-here', ['other'], others, {}],
    ['folder-unreadable', ['other'], others, { entries: refuses }],
    ['no-file-fits', ['other/*.yaml'], others, {}],
    ['empty-list', ['--files-from', 'list.txt'], { 'list.txt': '\n' }, {}],
  ])('%s', (code, words, files, more) => {
    expect(codesOf(words, files as Record<string, string>, more)).toEqual([code]);
  });
});

describe('photos for the report', () => {
  const JPEG = Uint8Array.of(0xff, 0xd8, 0xff, 0xe0);
  const IMAGE = bytesOf(IMAGES[1]?.[2] ?? '');
  const MEBIBYTE = 1024 * 1024;
  const large = (mebibytes: number): Uint8Array => {
    const bytes = new Uint8Array(mebibytes * MEBIBYTE);
    bytes.set(IMAGE);
    return bytes;
  };
  const codes = (photos: readonly string[], read: () => Uint8Array): string[] => {
    const inspection = photos.map((photo) => ({ photo }));
    const io = { real: (path: string) => `/trials/${path}`, plainFile: read, digest: () => '' };
    const { problems } = readPhotos(
      { data: { inspection } } as unknown as Trial,
      'lot.yaml',
      io as unknown as Io,
    );
    return problems.map(({ code }) => code);
  };

  test.each<[string, string[], () => Uint8Array]>([
    ['photo-outside', ['../seal.jpg'], () => JPEG],
    ['photo-no-image', ['seal.jpg'], () => Uint8Array.of(1, 2, 3, 4)],
    ['photo-too-large', ['seal.jpg'], () => large(9)],
    [
      'photo-unreadable',
      ['seal.jpg'],
      () => {
        throw Object.assign(new Error('no'), { code: 'ENOENT' });
      },
    ],
  ])('%s', (code, photos, read) => {
    expect(codes(photos, read)).toEqual([code]);
  });

  test('photos-too-large', () => {
    const each = large(4);
    const many = Array.from({ length: 4 }, (_, index) => `${String(index)}.png`);
    expect(codes(many, () => each)).toEqual(['photos-too-large']);
  });
});
