import { expect, test } from 'vitest';
import { type Fitted, overlapIn } from '../../src/pool/overlap.ts';
import { run } from '../run.ts';

/* Two cartridges cannot be in one slot of one machine at once. The trials are invented. */

const fitted = (file: string, from: number, to: number, over: Partial<Fitted> = {}): Fitted => ({
  file,
  machine: '0047',
  slot: 'black',
  span: [String(from), String(to)],
  ...over,
});

test('those that follow each other, of other machines or slots, or of one trial, do not overlap', () => {
  const first = fitted('a', 40210, 50690);
  for (const other of [
    fitted('b', 50690, 60100),
    fitted('b', 30000, 40210),
    fitted('b', 40210, 50690, { machine: '0051' }),
    fitted('b', 40210, 50690, { slot: 'cyan' }),
    fitted('b', 40210, 50690, { machine: null }),
    fitted('b', 40210, 50690, { span: null }),
    fitted('a', 40210, 50690),
  ])
    expect(overlapIn([first, other])).toBeNull();
});

test('the first two are named, and further ones counted, in whatever order they are given', () => {
  const all = [fitted('c', 45000, 45010), fitted('b', 50689, 60100), fitted('a', 40210, 50690)];
  for (const given of [all, all.toReversed()])
    expect(overlapIn(given)).toMatchObject({ first: { file: 'a' }, second: { file: 'c' }, more: 1 });
  expect(overlapIn(all.slice(1))).toMatchObject({ first: { file: 'a' }, second: { file: 'b' }, more: 0 });
});

const trial = (serial: string, start = 40210, limits = 'waste_per_thousand: {max: 25 g}'): string =>
  `trial: Lantern Row ${serial}
lot: {id: K-19, size: 400}
machine: {serial: "0047"}
meter: {start: ${start}, end: ${start + 11000}}
coverage: 5 %
waste_container: {tare: 641 g, final: 845 g}
cartridges: [{slot: black, serial: ${serial}, exhausted_at: ${start + 10480}}]
limits: {${limits}}
`;
const files = { 'a.yaml': trial('K-1'), 'b.yaml': trial('K-2'), 'c.yaml': trial('K-3', 60000) };
const textOf = (command: string, of: Readonly<Record<string, string>>): string =>
  run([command, ...Object.keys(of)], of).out.replaceAll(/\s+/g, ' ');

test.each(['pool', 'lot'])('%s says it', (command) => {
  expect(textOf(command, files)).toContain(
    'By their meter readings a.yaml (meter 40210 to 50690) and b.yaml (meter 40210 to 50690) were in slot black of machine 0047 at once',
  );
});

test.each(['pool', 'lot'])('%s: nothing of trials that follow each other, or count from zero', (command) => {
  for (const [first, second] of [
    [40210, 60000],
    [0, 0],
  ])
    expect(textOf(command, { 'a.yaml': trial('K-1', first), 'b.yaml': trial('K-2', second) })).not.toContain(
      'at once',
    );
});

test('a claim on trials that a limit voids is left open, unless they are said to be enough', () => {
  const warm = 'temperature: {max: 26 °C}';
  const nine = (temperature: number): Readonly<Record<string, string>> =>
    Object.fromEntries(
      [1, 2, 3, 4, 5, 6, 7, 8, 9].map((at) => [
        `t${at}.yaml`,
        `${trial(`K-${at}`, 20000 * at, warm).replace('0047', `004${at % 3}`)}ambient: [{temperature: ${at === 9 ? temperature : 22}, humidity: 45}]\n`,
      ]),
    );
  const claim = (of: Readonly<Record<string, string>>, ...more: string[]): [unknown, string] => {
    const { code, out } = run(['pool', ...Object.keys(of), '--claim', '10000', ...more], of);
    return [code, out.replaceAll(/\s+/g, ' ')];
  };
  expect(claim(nine(24))[0]).toBe(0);
  const [code, out] = claim(nine(31));
  expect(code).toBe(2);
  expect(out).toContain('it is supported; but one is of a trial that proves nothing');
  expect(out).toContain('1 of the cartridges is of a trial that proves nothing');
  expect(claim(nine(31), '--few')[0]).toBe(0);
});

test('a lot says by which limits its cartridges were not all judged', () => {
  const said = (...limits: string[]): string =>
    textOf(
      'lot',
      Object.fromEntries(limits.map((one, at) => [`t${at}.yaml`, trial(`K-${at}`, 20000 * at, one)])),
    );
  const yields = (min: number): string => `yield_at_reference: {min: ${min}}`;
  expect(said(yields(9000), yields(9000))).not.toContain('same limits');
  expect(said(yields(9000), yields(9000), yields(100))).toContain(
    'on yield at reference, at least 9000 page in t0.yaml, at least 100 page in t2.yaml',
  );
  const both = `${yields(9000)}, waste_per_thousand: {max: 25 g}`;
  expect(said(yields(9000), both)).toContain(
    'on waste per thousand pages, at most 25 g in t1.yaml, none in t0.yaml',
  );
  // Advice decides nothing.
  expect(said(yields(9000), `${yields(9000)}, container_life: {min: 9, effect: advises}`)).not.toContain(
    'same limits',
  );
});
