import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { type Files, type ResultJson, run } from '../run.ts';

/*
 * A delivery looked at cartridge by cartridge, in a list of its own. Findings, headings and serial numbers are invented.
 */

const judged = (lines: string, files: Files = {}): ResultJson => {
  const trial = `trial: Quay Lane lot R-5\nmeter: {start: 0, end: 9000}\n${lines}\n`;
  const { out } = run(['verdict', 'lot/t.yaml', '--format', 'json'], { 'lot/t.yaml': trial, ...files });
  return JSON.parse(out) as ResultJson;
};

const LIST = 'inspection: {file: delivery.csv}\n';
const OWN = 'cartridges: [{slot: black, serial: "0012"}]\nlimits: {worst_finding: {max: minor}}';
const worst = ({ figures }: ResultJson): string | undefined =>
  figures.find(({ figure, of }) => figure === 'worst_finding' && of === null)?.value;
const codes = ({ notes }: ResultJson): string[] => notes.map(({ code }) => code);

/** What is read of a list, by what the trial of the cartridge 0012 is held against. */
const read = (list: string): string | undefined =>
  worst(judged(`${LIST}${OWN}`, { 'lot/delivery.csv': list }));

describe('a list of what was delivered', () => {
  test.each([
    ['commas', 'serial,finding,severity\n0012,seal torn,major\n'],
    ['semicolons and other words', 'S/N;Befund;Class\n0012;seal torn;Major\n'],
    ['a finding beside a remark', 'Serial number;Defect;Severity;Remarks\n0012;seal torn;MAJOR;front\n'],
    ['a serial number beside a running one', 'No;Serial;Finding;Severity\n1;0012;seal torn;major\n'],
    ['boxes that are numbered', 'No.;Finding;Severity\n0012;seal torn;major\n'],
  ])('is read by its headings: %s', (_, list) => {
    expect(read(list)).toBe('major');
  });

  test.each(['0012,,', '0012,,none', '0012,none,', '0012,ok,None', '0012,-,n/a', '0012,"label askew",none'])(
    'has a cartridge with nothing to find as: %s',
    (row) => {
      expect(read(`serial,finding,severity\n${row}\n`)).toBe('none');
    },
  );

  test('is of the delivery unless a column says otherwise', () => {
    const stages = (list: string): (string | null)[] =>
      judged(`${LIST}${OWN}`, { 'lot/delivery.csv': list })
        .figures.filter(({ figure, value }) => figure === 'worst_finding' && value === 'major')
        .map(({ of }) => of);
    expect(stages('serial,severity\n0012,major\n')).toEqual([null, 'delivery']);
    expect(stages('serial,severity,stage\n0012,major,after\n')).toEqual([null, 'after']);
  });

  test.each([
    ['row-without-serial', 'serial,finding,severity\n0012,,\n,dented,minor\n', 'delivery.csv:3:1'],
    ['unknown-word', 'serial,finding,severity\n0012,dented,\n', 'delivery.csv:2:13'],
    ['unknown-word', 'serial,finding,severity\n0012,dented,grave\n', 'delivery.csv:2:13'],
    ['table-without-heading', 'box,finding,severity\n1,dented,minor\n', 'serial number'],
  ])('tells %s at its row', (code, list, where) => {
    const { verdict, notes } = judged(`${LIST}${OWN}`, { 'lot/delivery.csv': list });
    const errors = notes.filter(({ kind }) => kind === 'error');
    expect(verdict).toBe('invalid');
    expect(errors.map((one) => one.code)).toEqual([code]);
    expect(errors[0]?.message).toContain(where);
  });

  test('stands behind the verdict: its digest is in the seal', () => {
    const files = {
      'lot/t.yaml': `trial: t\nmeter: {start: 0, end: 9000}\n${LIST}${OWN}\n`,
      'lot/delivery.csv': 'serial,severity\n0012,none\n',
    };
    const { written } = run(['seal', 'lot/t.yaml'], files);
    const { inputs } = JSON.parse(Object.values(written)[0] ?? '') as { inputs: object[] };
    const sha256 = createHash('sha256').update(files['lot/delivery.csv']).digest('hex');
    expect(inputs).toContainEqual({ kind: 'table', file: 'delivery.csv', sha256 });
  });
});

describe('findings of other cartridges of the lot', () => {
  const others = 'serial,finding,severity\n0012,,\n0013,seal torn,critical\n0014,dented,minor\n';

  test('do not judge the trial of this one, and it is said so', () => {
    const result = judged(`${LIST}${OWN}`, { 'lot/delivery.csv': others });
    expect([result.verdict, worst(result)]).toEqual(['pass', 'none']);
    const note = result.notes.find(({ code }) => code === 'delivered-beside');
    expect(note?.message).toContain('2 cartridges that were looked at on delivery and not tried here');
    expect(note?.message).toContain('the worst finding on them is critical');
  });

  test('leave open what was to be found on this one', () => {
    const result = judged(`${LIST}${OWN}`, { 'lot/delivery.csv': 'serial,severity\n0013,none\n' });
    expect([result.verdict, worst(result)]).toEqual(['inconclusive', undefined]);
  });

  test.each([
    [
      'a cartridge of this trial has no serial number',
      'cartridges: [{slot: black, serial: "0012"}, {slot: cyan}]',
    ],
    ['no cartridge is listed', ''],
  ])('are held against the trial while %s', (_, cartridges) => {
    const limits = 'limits: {worst_finding: {max: minor}}';
    const result = judged(`${LIST}${cartridges}\n${limits}`, { 'lot/delivery.csv': others });
    expect([result.verdict, worst(result)]).toEqual(['fail', 'critical']);
    expect(codes(result)).toContain('finding-of-unknown-serial');
  });

  test('are held against it where they were found in its run', () => {
    const result = judged(`${OWN}\ninspection: [{stage: after, serial: "0013", severity: critical}]`);
    expect(result.verdict).toBe('fail');
    expect(result.notes.find(({ code }) => code === 'finding-of-unknown-serial')?.message).toContain(
      'No cartridge of this trial has the serial number 0013',
    );
  });

  test('may be of slots that this trial has not', () => {
    const result = judged(
      `${OWN}\ninspection: [{stage: delivery, serial: "0013", slot: cyan, severity: none}]`,
    );
    expect(codes(result)).not.toContain('unknown-slot');
  });
});
