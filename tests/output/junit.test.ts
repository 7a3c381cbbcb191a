import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { validateXML } from 'xmllint-wasm';
import { describe, expect, test } from 'vitest';
import { JUNIT_TAIL, junitCase, junitHead } from '../../src/output/junit.ts';
import { type Files, ROOT, run } from '../run.ts';

/*
 * The reports are read by libxml2, a validating parser, against a schema of what readers of the format
 * expect (junit.xsd beside this file).
 */

const schema = readFileSync(join(ROOT, 'tests/output/junit.xsd'), 'utf8');

/** What the parser has against a document. */
async function faultsOf(xml: string): Promise<string[]> {
  const { errors } = await validateXML({ xml, schema });
  return errors.map(({ rawMessage }) => rawMessage);
}

/** The values of an attribute, in order. */
const values = (xml: string, attribute: string): string[] =>
  [...xml.matchAll(new RegExp(` ${attribute}="([^"]*)"`, 'g'))].map(([, value]) => value ?? '');

const UGLY = 'a\u0000\u0001\u001b[31m\u0085\uFFFE\uFFFF\uD800 <b> & "c" \' ]]> \n\t \u{1F600}.yaml';

const files: Files = {
  [UGLY]: `trial: "<&>\\e ]]>"\nmeter: {start: 1, end: 2}\nlimits: {waste_per_thousand: {max: 1 g}}\n`,
  'bad & <worse>.yaml': 'trial: "<\\0>"\nmetre: {}\n"\\x01<&": 1\n',
};

describe('verdicts', () => {
  const { out, code } = run(
    ['verdict', 'examples', 'nothing-here', ...Object.keys(files), '--format', 'junit'],
    files,
  );

  test('are accepted by a validating parser, whatever names and titles hold', async () => {
    expect(await faultsOf(out)).toEqual([]);
    expect(code).toBe(3);
  });

  test('the parser is one that refuses', async () => {
    expect(await faultsOf(out.replace(' classname="verdict"', ''))).not.toEqual([]);
    expect(await faultsOf(out.replace('</testsuites>', ''))).not.toEqual([]);
    expect(await faultsOf(out.replace('tests="', 'tests="x'))).not.toEqual([]);
  });

  test('are counted: fail a failure, invalid an error, inconclusive skipped', () => {
    const quiet = run(['verdict', 'examples', 'nothing-here', ...Object.keys(files), '--quiet'], files).out;
    const count = (verdict: string): number =>
      quiet.split('\n').filter((line) => line.startsWith(`${verdict}\t`)).length;
    const elements = (name: string): number => out.split(`<${name} `).length - 1;
    expect(count('pass')).toBeGreaterThan(5);
    for (const [verdict, element, attribute] of [
      ['fail', 'failure', 'failures'],
      ['invalid', 'error', 'errors'],
      ['inconclusive', 'skipped', 'skipped'],
    ] as const) {
      expect(count(verdict), verdict).toBeGreaterThan(0);
      expect(elements(element)).toBe(count(verdict));
      expect(values(out, attribute)).toEqual([`${count(verdict)}`, `${count(verdict)}`]);
    }
    expect(values(out, 'tests')[0]).toBe(`${elements('testcase')}`);
  });

  test('of nothing that is wanted are accepted too', async () => {
    const none = run(['verdict', 'examples/waste-fail.yaml', '--only', 'pass', '--format', 'junit']);
    expect(await faultsOf(none.out)).toEqual([]);
    expect(none.code).toBe(1);
  });
});

describe('re-checked trials', () => {
  test('are accepted: same passed, changed a failure, missing skipped, unreadable an error', async () => {
    const trial = 'trial: "<&>"\nmeter: {start: 1, end: 2}\n';
    const first = { 'x/a.yaml': trial, 'x/b.yaml': trial, 'x/c <&>.yaml': trial };
    const { written } = run(['seal', 'x'], first);
    const { out, code } = run(['recheck', 'x', 'nothing-here', '--format', 'junit'], {
      ...first,
      ...written,
      'x/b.yaml': `${trial}# changed\n`,
      'x/d.yaml': trial,
    });
    expect(await faultsOf(out)).toEqual([]);
    expect(code).toBe(3);
    expect([
      values(out, 'tests')[0],
      values(out, 'failures')[0],
      values(out, 'errors')[0],
      values(out, 'skipped')[0],
    ]).toEqual(['5', '1', '1', '1']);
  });
});

test('every character of the basic plane comes through or is made harmless', async () => {
  const all = Array.from({ length: 0x10000 }, (_, code) => String.fromCharCode(code)).join('');
  const one = junitCase({
    name: all,
    group: 'verdict',
    kind: 'failed',
    type: 'fail',
    message: all,
    lines: [all],
    output: [all],
  });
  const xml = junitHead('x', { passed: 0, failed: 1, error: 0, skipped: 0 }) + one + JUNIT_TAIL;
  expect(await faultsOf(xml)).toEqual([]);
});
