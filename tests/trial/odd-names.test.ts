import { describe, expect, test } from 'vitest';
import { judge, run } from '../run.ts';

/*
 * A file may call a slot, a patch or a part whatever it likes: names of an object's own methods are names like any
 * other, and names that look the same are the same.
 */

const OWN = [
  ...Object.getOwnPropertyNames(Object.prototype),
  ...Object.getOwnPropertyNames(Array.prototype),
].filter((name) => name !== '__proto__');

const named = (name: string): string => `trial: {title: Elm Yard, id: ${name}}
lot: {id: ${name}}
machine: {label: ${name}, serial: ${name}, rotating_parts: {${name}: 30 mm}, parts: [{part: ${name}, rated_life: 90000, used: 1}]}
meter: {start: 0, end: 10000}
coverage: {${name}: 5 %}
non_image_usage: {${name}: 1 mg}
waste_container: {tare: 600, final: 700}
cartridges: [{slot: ${name}, lot: ${name}, serial: ${name}, start_mass: 900, end_mass: 600, exhausted_at: 10000, price: 10 EUR}]
events: [{at: 200, kind: jam, slot: ${name}}]
prints: {patches: [{patch: ${name}, slot: ${name}, first: {density: 1.4}, last: {density: 1.3}}], marks: [{distance: 94.2 mm}]}
inspection: [{stage: after, part: ${name}, slot: ${name}, severity: none}]
stated: {yield: {value: 10000, of: ${name}}}
limits: {yield_at_reference: {of: ${name}, min: 1}, worst_finding: {of: ${name}, max: minor}, density_change: {of: ${name}, min: -1}}
target: {pages: 10000}
`;

test.each(OWN)('%s wherever a name can stand', (name) => {
  const files = { 't.yaml': named(name) };
  const { verdict, figures, notes } = judge(named(name));
  expect(notes.filter(({ kind }) => kind === 'error')).toEqual([]);
  expect(verdict).toBe('pass');
  expect(figures.find(({ figure, of }) => figure === 'yield' && of === name)?.value).toBe('10000');
  for (const line of [
    ['verdict', 't.yaml'],
    ['verdict', 't.yaml', '--format', 'csv', '--columns', `yield:${name},worst_finding:${name}`],
    ['verdict', 't.yaml', '--summary'],
    ['explain', 'yield_at_reference', 't.yaml'],
    ['explain', 'density_change', 't.yaml'],
    ['plan', 't.yaml'],
    ['plan', 't.yaml', '--record'],
    ['pool', 't.yaml', '--by-lot'],
    ['pool', 't.yaml', '--trend', 'yield', '--of', name],
    ['marks', '94.2', 't.yaml'],
    ['seal', 't.yaml'],
    ['start', 'new.yaml', '--from', 't.yaml'],
  ]) {
    const { code, err } = run(line, files);
    expect(err, line.join(' ')).not.toContain('should not have');
    expect(code, `${line.join(' ')}\n${err}`).not.toBe(5);
  }
});

describe('__proto__, which no map can hold', () => {
  test.each([
    ['coverage: {__proto__: 20 %, black: 5 %}', '__proto__'],
    ['non_image_usage: {__proto__: 1 mg}', '__proto__'],
    ['machine: {rotating_parts: {__proto__: 30 mm}}', '__proto__'],
    ['limits: {__proto__: {max: 1}}', '__proto__'],
  ])('%s is an error, not dropped', (line) => {
    const { verdict, notes } = judge(`trial: t\nmeter: {start: 0, end: 10}\n${line}\n`);
    expect(verdict).toBe('invalid');
    expect(notes.map(({ code, line: at }) => [code, at])).toContainEqual(['unknown-key', 3]);
  });

  test('as the name of a slot or a part it is a name', () => {
    const text =
      'trial: t\nmeter: {start: 0, end: 10}\ncoverage: 5 %\ncartridges: [{slot: __proto__}]\ninspection: [{part: __proto__, severity: none}]\nlimits: {worst_finding: {of: __proto__, max: none}}\n';
    expect(judge(text).verdict).toBe('pass');
  });
});

describe('names that are the same once trimmed and composed', () => {
  const twice = (map: string): (readonly [string, number | null])[] =>
    judge(`trial: t\nmeter: {start: 0, end: 10}\n${map}\n`).notes.map(
      ({ code, line }) => [code, line] as const,
    );

  test.each([
    'coverage: {black: 5 %, "black ": 20 %}',
    'coverage: {"black ": 20 %, black: 5 %}',
    'coverage: {caf\u00e9: 5 %, "cafe\u0301": 20 %}',
    'non_image_usage: {black: 1 mg, " black": 2 mg}',
    'machine: {rotating_parts: {drum: 30 mm, "drum ": 24 mm}}',
    'limits: {pages: {min: 1}, "pages ": {min: 2}}',
  ])('%s: a key that stands twice', (map) => {
    expect(twice(map)).toContainEqual(['duplicate-key', 3]);
  });

  test('a slot is the same with blanks around it, composed or not', () => {
    const text = (slot: string): string =>
      `trial: t\nmeter: {start: 0, end: 10}\ncoverage: {caf\u00e9: 5 %}\ncartridges: [{slot: ${slot}, exhausted_at: 10}]\nlimits: {yield_at_reference: {of: ${slot}, min: 1}}\n`;
    expect(judge(text('caf\u00e9')).verdict).toBe('pass');
    expect(judge(text('"cafe\u0301 "')).verdict).toBe('pass');
  });
});
