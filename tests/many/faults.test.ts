import { readFileSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { run } from '../run.ts';

/* What this program fails on is that file's own; every other file is judged, and the output is whole. */

const TRIAL = 'trial: Elm Yard\nmeter: {start: 0, end: 10000}\nlimits: {pages: {min: 1}}\n';
const FILES = { 'a.yaml': TRIAL, 'b.yaml': TRIAL, 'c.yaml': TRIAL };

/** A world in which one file cannot be dealt with, as if the program had a fault. */
const failing = {
  read: (file: string): Uint8Array => {
    // Bytes that turn out to be none, once they are looked at.
    if (file === 'b.yaml') return null as unknown as Uint8Array;
    return Object.hasOwn(FILES, file) ? Buffer.from(FILES[file as 'a.yaml']) : readFileSync(file);
  },
};

test.each(['json', 'jsonl', 'csv', 'junit', 'text'])('verdict --format %s', (format) => {
  const { out, code, err } = run(
    ['verdict', 'a.yaml', 'b.yaml', 'c.yaml', '--format', format],
    FILES,
    '',
    failing,
  );
  expect(code).toBe(5);
  if (format === 'json') {
    const all = JSON.parse(out) as { verdict: string; notes: { code: string }[] }[];
    expect(all.map(({ verdict }) => verdict)).toEqual(['pass', 'invalid', 'pass']);
    expect(all[1]?.notes[0]?.code).toBe('internal-fault');
  }
  expect(`${out}${err}`).toMatch(/failed on this file/);
  expect(`${out}${err}`).not.toMatch(/\n\s+at /);
});

test('-q', () => {
  const { out, code } = run(['verdict', 'a.yaml', 'b.yaml', 'c.yaml', '-q'], FILES, '', failing);
  expect(out).toBe('pass\ta.yaml\ninvalid\tb.yaml\npass\tc.yaml\n');
  expect(code).toBe(5);
});

test('a seal whose figures cannot be what was sealed is damaged, and the good ones are still told', () => {
  const sealed = run(['seal', 'a.yaml', 'b.yaml', 'c.yaml'], FILES).written;
  const text = sealed['b.yaml.seal.json'] ?? '';
  const content = text.replace(/\n.*\n/, '\n').replace(/("figure": "pages".*?"value": )"10000"/, '$1"minor"');
  const digest = createHash('sha256').update(content).digest('hex');
  const odd = `{\n  "digest": "${digest}",\n${content.slice(2)}`;
  const { out, code } = run(['recheck', 'a.yaml', 'b.yaml', 'c.yaml'], {
    ...FILES,
    ...sealed,
    'b.yaml.seal.json': odd,
  });
  expect(out).toMatch(/seal damaged +b\.yaml/);
  expect(out.match(/^same/gm)).toHaveLength(2);
  expect(code).toBe(1);
});
