import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { CATALOGUE } from '../../src/figures/list.ts';
import { FittedSchema } from '../../src/trial/schema/fitted.ts';
import { EVERYTHING } from '../../src/trial/schema/leaf.ts';
import { trialSchema } from '../../src/trial/schema/trial.ts';
import { safeParse } from '../../src/trial/schema/zod.ts';
import { type Data, readSource } from '../../src/text/source.ts';
import { ROOT } from '../run.ts';

const dataIn = (text: string): Data => readSource('a.yaml', text).data;

const EXAMPLES = ['examples', 'examples/pool'].flatMap((folder) =>
  readdirSync(join(ROOT, folder))
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => dataIn(readFileSync(join(ROOT, folder, name), 'utf8'))),
);

/** Ways to write the same keys, which no one example has all of. */
const WAYS = [
  'trial: a\nmeter: {start: , end: }\ncoverage:\nlimits: office\n',
  'trial: {title: a}\nmeter: {start: 1, end: 2}\ncoverage: {value: 5 %, tolerance: 1 %}\nlimits: [office, {waste_mass: {max: 3 g}}]\n',
  'trial: a\nmeter: {start: 1, end: 2}\ncoverage: {black: 5 %, cyan: {value: 4 %}, magenta: }\nlimits: {waste_mass: [{max: 3 g}]}\n',
  'trial: a\nmeter: {start: 1, end: 2}\ncoverage: 5 %\nstated: {waste_mass: 3 g, yield: [{value: 8, of: black}, 9]}\n',
  'trial: a\nmeter: {start: 1, end: 2}\nwaste_container: [{tare: 1 g}]\nnon_image_usage: {black: }\npaper: {size: A4}\n',
  'trial: a\nmeter: {start: 1, end: 2}\nwaste_container: {tare: }\nnon_image_usage: 2 mg\npaper: {size: {width: 1, height: 2}}\n',
].map(dataIn);

const whole = trialSchema(EVERYTHING, CATALOGUE);

test.each([
  ['one after the other', [...EXAMPLES, ...WAYS]],
  ['the other way round', [...WAYS, ...EXAMPLES].toReversed()],
  ['each twice', [...WAYS, ...EXAMPLES, ...WAYS]],
])('a schema fitted to many files reads each as the whole schema does: %s', (_, files) => {
  const fitted = new FittedSchema(trialSchema, CATALOGUE);
  for (const data of files) {
    const expected = safeParse(whole, data);
    expect(expected.success).toBe(true);
    expect(safeParse(fitted.for(data), data)).toEqual(expected);
    expect(safeParse(new FittedSchema(trialSchema, CATALOGUE).for(data), data)).toEqual(expected);
  }
});

test('what the whole schema refuses, the fitted one refuses', () => {
  const fitted = new FittedSchema(trialSchema, CATALOGUE);
  for (const text of [
    'trial: a\n',
    'meter: {start: 1}\n',
    'trial: [a]\nmeter: {start: 1}\n',
    'trial:\nmeter: {start: 1}\n',
    'trial: a\nmeter: {start: 1}\ncoverage: [5 %]\n',
    'trial: a\nmeter: {start: 1}\nmeters: 3\n',
    'trial: a\nmeter: {start: 1}\nlimits: {waste_mass: 3 g}\n',
    'trial: a\nmeter: {start: 1}\nlimits: {temperature: 3}\nambient: [{temperature: 3}]\n',
    'trial: a\nmeter: {start: 1}\nevents: [{at: 3}]\n',
  ]) {
    const data = dataIn(text);
    expect(safeParse(whole, data).success, text).toBe(false);
    expect(safeParse(fitted.for(data), data).success, text).toBe(false);
  }
});

test('it is made anew only for what it leaves out', () => {
  const fitted = new FittedSchema(trialSchema, CATALOGUE);
  const first = fitted.for(dataIn('trial: a\nmeter: {start: 1, end: 2}\n'));
  expect(fitted.for(dataIn('trial: b\nmeter: {start: 5, end: 6}\n'))).toBe(first);
  const more = fitted.for(dataIn('trial: b\nmeter: {start: 5, end: }\n'));
  expect(more).not.toBe(first);
  expect(fitted.for(dataIn('trial: a\nmeter: {start: 1, end: 2}\n'))).toBe(more);
  // The names of slots are no keys of the format.
  const slots = fitted.for(dataIn('trial: b\nmeter: {start: 5}\ncoverage: {black: 5 %}\n'));
  expect(fitted.for(dataIn('trial: b\nmeter: {start: 5}\ncoverage: {blue: 5 %}\n'))).toBe(slots);
});
