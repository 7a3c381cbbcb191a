import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { LARGEST_PHOTO } from '../../src/report/photo.ts';
import { bytesOf, GIF, IMAGES } from '../report/images.ts';
import { runReport } from '../report/run-report.ts';
import { ROOT, run } from '../run.ts';

const TRIAL = `trial: Ferry Steps lot 3
meter: {start: 100, end: 10100}
coverage: 5 %
waste_container: {tare: 640 g, final: 840 g}
limits: {waste_per_thousand: {max: 25 g}}
`;
const files = { 'lots/trial.yaml': TRIAL };

describe('where a report goes', () => {
  test('beside its trial, named like it', () => {
    const { code, out, written } = runReport(['lots/trial.yaml'], files);
    expect(code).toBe(0);
    expect(out).toBe('lots/trial.html\n');
    expect(Object.keys(written)).toEqual(['lots/trial.html']);
    expect(written['lots/trial.html']).toMatch(/^<!DOCTYPE html>\n/);
  });

  test('as Markdown with its own ending', () => {
    const { written } = runReport(['lots/trial.yaml', '--format', 'md'], files);
    expect(written['lots/trial.md']).toMatch(/^# Ferry Steps lot 3\n\n## Pass\. /);
  });

  test('where --output says; - is standard output, and then nothing is written', () => {
    expect(Object.keys(runReport(['lots/trial.yaml', '--output', 'a.html'], files).written)).toEqual([
      'a.html',
    ]);
    const { out, written } = runReport(['lots/trial.yaml', '--output', '-'], files);
    expect(out).toMatch(/^<!DOCTYPE html>/);
    expect(written).toEqual({});
  });

  test('to standard output where the trial comes from standard input', () => {
    const { code, out, written } = runReport(['-'], {}, TRIAL);
    expect(code).toBe(0);
    expect(out).toMatch(/^<!DOCTYPE html>/);
    expect(written).toEqual({});
  });

  test('never over a file that is there, unless --force', () => {
    const there = { ...files, 'lots/trial.html': 'signed' };
    const refused = runReport(['lots/trial.yaml'], there);
    expect(refused.code).toBe(5);
    expect(refused.err).toBe(
      'tallytare: lots/trial.html cannot be written: there is such a file already; --force replaces it\n',
    );
    expect(refused.written).toEqual({});
    expect(runReport(['lots/trial.yaml', '--force'], there).code).toBe(0);
  });

  test('never over the trial itself, even with --force', () => {
    const { code, err, written } = runReport(
      ['lots/trial.yaml', '--output', './lots/trial.yaml', '--force'],
      files,
    );
    expect(code).toBe(4);
    expect(err).toContain('is one of the trials');
    expect(written).toEqual({});
  });
});

test('the same files make the same bytes', () => {
  const make = () => runReport(['examples/four-colour-pass.yaml', '--output', '-']).out;
  expect(make()).toBe(make());
});

test.each(['waste-fail', 'not-exhausted', 'warm-room'])(
  'a report on %s is written whatever its verdict',
  (name) => {
    expect(runReport([`examples/${name}.yaml`, '--output', '-']).code).toBe(0);
  },
);

test('of a file that is no trial nothing is written, and its errors are said', () => {
  const { code, out, err, written } = runReport(['bad.yaml'], {
    'bad.yaml': 'trial: x\nmeter: {start: 9, end: 3}\n',
  });
  expect(code).toBe(3);
  expect(out).toBe('');
  expect(written).toEqual({});
  expect(err).toContain('bad.yaml:2:24');
  expect(err).toContain('The meter ends at 3, below its start at 9.');
});

describe('photos', () => {
  const withPhoto = (photo: string): string =>
    `${TRIAL}inspection:\n  - {stage: after, part: seal, severity: minor, photo: ${JSON.stringify(photo)}}\n`;
  const [, , jpeg = ''] = IMAGES[0] ?? [];

  test('are inside the page, by their content and not their name', () => {
    const { code, out } = runReport(['lots/trial.yaml', '--output', '-'], {
      'lots/trial.yaml': withPhoto('below/seal.txt'),
      'lots/below/seal.txt': bytesOf(jpeg),
    });
    expect(code).toBe(0);
    expect(out).toContain(`<img src="data:image/jpeg;base64,${jpeg}" width="7" height="5" alt="Photo: seal`);
  });

  test.each([
    ['../seal.jpg', 'is not in the trial file’s folder or below'],
    ['below/../../seal.jpg', 'is not in the trial file’s folder or below'],
    ['/etc/hostname', 'is not in the trial file’s folder or below'],
    ['missing.jpg', 'cannot be read: there is no such file'],
    ['seal.gif', 'is no JPEG, PNG or WebP image'],
    ['large.jpg', 'has more than 5 MiB'],
  ])('%s is refused with its place, and nothing is written', (photo, why) => {
    const large = new Uint8Array(LARGEST_PHOTO + 1);
    large.set(bytesOf(jpeg));
    const { code, err, out, written } = runReport(['lots/trial.yaml'], {
      'lots/trial.yaml': withPhoto(photo),
      'lots/seal.gif': bytesOf(GIF),
      'lots/large.jpg': large,
      'seal.jpg': bytesOf(jpeg),
    });
    expect(code).toBe(3);
    expect(err).toContain('lots/trial.yaml:7:56');
    expect(err).toContain(photo);
    expect(err.replace(/\s+/g, ' ')).toContain(why);
    expect(out).toBe('');
    expect(written).toEqual({});
  });

  test('are refused where all together are too large', () => {
    const almost = new Uint8Array(LARGEST_PHOTO);
    almost.set(bytesOf(jpeg));
    const entries = Array.from(
      { length: 4 },
      () => '  - {stage: after, severity: minor, photo: big.jpg}\n',
    ).join('');
    const { code, err, written } = runReport(['trial.yaml'], {
      'trial.yaml': `${TRIAL}inspection:\n${entries}`,
      'big.jpg': almost,
    });
    expect(code).toBe(3);
    expect(err.replace(/\s+/g, ' ')).toContain('all photos together have more than 15 MiB');
    expect(written).toEqual({});
  });
});

describe('several trials', () => {
  const pool = ['examples/pool', '--output', '-'];

  test('stand on one page, each in short, with their pooled yields', () => {
    const { code, out } = runReport([...pool, '--claim', '10500']);
    expect(code).toBe(0);
    expect(out).toContain('<td data-head="verdict">pass</td>');
    expect(out).toContain('9 cartridges in 3 machines');
    // Worked by hand from the nine yields: mean 97281 / 9; 10809 − 1.397 × 213 / 3, t from a printed table.
    expect(out).toContain('mean: 10\u202f809.');
    expect(out).toContain('lower bound: 10\u202f710.');
    expect(out).toContain('10\u202f500\u00a0pages: not decidable yet');
  });

  test('show a cartridge that was not exhausted as at least', () => {
    const text = readFileSync(join(ROOT, 'examples', 'pool', 'k19-1.yaml'), 'utf8');
    const short = text.replace(', exhausted_at: 50690, exhausted_by: fade', '');
    const { out } = runReport(['a/1.yaml', 'examples/pool/k19-2.yaml', '--output', '-'], {
      'a/1.yaml': short,
    });
    expect(out).toContain('K19-201: at least 11\u202f000.');
    expect(out).toContain('open triangle with a dotted line: at least so many');
  });

  test('follow a figure with its control limits', () => {
    const { out } = runReport([...pool, '--trend', 'waste_per_thousand']);
    expect(out).toContain('Trend of waste per thousand, g');
    expect(out).toMatch(/Centre [\d.]+, control limits [\d.]+ to [\d.]+\./);
  });

  test('are all refused where one is no trial', () => {
    const { code, err, written } = runReport(['examples/pool/k19-1.yaml', 'bad.yaml'], {
      'bad.yaml': 'trial: x\n',
    });
    expect(code).toBe(3);
    expect(err).toContain('The key "meter" is missing.');
    expect(written).toEqual({});
  });

  test('go to report.html in this folder', () => {
    const { out } = runReport(['examples/pool']);
    expect(out).toBe('report.html\n');
  });
});

describe('a page for each', () => {
  const trials = {
    'lots/a.yaml': TRIAL,
    'lots/b.yaml': TRIAL.replace('final: 840', 'final: 940').replace('lot 3', 'lot 4'),
  };

  test('stands beside its trial, and an index leads to them', () => {
    const { code, out, written } = runReport(['lots', '--each'], trials);
    expect(code).toBe(0);
    expect(out).toBe('lots/a.html\nlots/b.html\nlots/index.html\n');
    const index = written['lots/index.html'] ?? '';
    expect(index).toContain('<th scope="row"><a href="./a.html">Ferry Steps lot 3</a></th>');
    expect(index).toContain('<a href="./b.html">Ferry Steps lot 4</a>');
    expect(index).toContain('Fail. Waste is 30.000\u00a0g per thousand pages; at most 25\u00a0g was agreed.');
    expect(index).toContain('1 pass, 1 fail, 0 inconclusive.');
  });

  test('is written whatever the others are; what cannot be read is said', () => {
    const { code, err, written } = runReport(['lots', '--each'], { ...trials, 'lots/c.yaml': 'trial: x\n' });
    expect(code).toBe(3);
    expect(err).toContain('lots/c.yaml');
    expect(Object.keys(written)).toEqual(['lots/a.html', 'lots/b.html', 'lots/index.html']);
    expect(written['lots/index.html']).toContain('c.yaml could not be read, and has no page.');
  });
});

test('the figures of a trial come as a table beside its page', () => {
  const { out, written } = runReport(['lots/trial.yaml', '--data'], files);
  expect(out).toBe('lots/trial.html\nlots/trial.csv\n');
  expect(written['lots/trial.csv']).toContain('waste_per_thousand,,,20,g,');
});

test('the verdict as JSON is inside the page, as verdict prints it', () => {
  const { out } = runReport(['trial.yaml', '--output', '-'], { 'trial.yaml': TRIAL });
  const inside = /href="data:application\/json;base64,([\w+/=]+)"/.exec(out)?.[1] ?? '';
  expect(Buffer.from(inside, 'base64').toString()).toBe(
    run(['verdict', 'trial.yaml', '--format', 'json'], { 'trial.yaml': TRIAL }).out,
  );
});

test('from another folder, with the same options, the same bytes come', () => {
  const house = 'waste_per_thousand: {max: 22 g}\ntoner_used: {of: cyan, max: 3 g}\n';
  const trial = TRIAL.replace('limits: {', 'limits: [limits/a.yaml, {').replace('}}', '}}]');
  const at = (folder: string) =>
    runReport([`${folder}t.yaml`, '--limits', `${folder}limits/b.yaml`, '--internal', '--output', '-'], {
      [`${folder}t.yaml`]: trial,
      [`${folder}limits/a.yaml`]: house,
      [`${folder}limits/b.yaml`]: 'waste_mass: {max: 900 g}\n',
    }).out;
  expect(at('lots/one/')).toBe(at(''));
  expect(at('')).toContain('<li>--limits limits/b.yaml</li>');
});

test.each([
  [['examples/harbour-street.yaml', '--claim', '9000'], 'one trial says nothing of how much they differ'],
  [['examples/pool', '--each', '--claim', '9000'], 'leave --each out'],
  [['examples/pool', '--each', '--output', '-'], 'standard output'],
  [['examples/pool', '--data'], 'of one trial'],
  [['examples/harbour-street.yaml', '--issued', 'today'], 'write it as 2026-03-16'],
  [['examples/harbour-street.yaml', '--trend', 'waste_mass'], 'several trials'],
  [['examples/pool', '--trend', 'waste_mas'], 'did you mean "waste_mass"?'],
  [['examples/pool', '--of', 'black'], '--trend'],
  [['examples/harbour-street.yaml', '--format', 'pdf'], 'Allowed choices are html, md'],
  [['examples/harbour-street.yaml', '--limits', 'nowhere'], 'no preset'],
])('%s is wrong usage', (argv, why) => {
  const { code, err, written } = runReport(argv);
  expect(code).toBe(4);
  expect(err).toContain(why);
  expect(written).toEqual({});
});
