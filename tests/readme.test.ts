import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { codeTable, documents, figureTable, filled, remarkTable } from './readme.ts';
import { type Files, ROOT, run } from './run.ts';

const file = join(ROOT, 'README.md');
const example = (name: string): string => readFileSync(join(ROOT, 'examples', `${name}.yaml`), 'utf8');
const fenced = (language: string, text: string): string => `\`\`\`${language}\n${text.trimEnd()}\n\`\`\``;
const printed = (name: string): string => run(['verdict', `examples/${name}.yaml`]).out;

const SLIP = `trial: Harbour Street lot 7, bench machine 2
meter: {start: 130480, end: 112480}
coverge: 5 %
waste_container: {tare: 640,5 g, final: 948 g}
`;

/** What a verdict says of a run that goes on. */
const howFar = (out: string): string => /^HOW FAR IT IS\n(?: .*\n)+/m.exec(out)?.[0] ?? '';

/** What a plan says of the lot. */
const theLot = (out: string): string => /^THE LOT\n[^]*?(?=\n\n[A-Z])/m.exec(out)?.[0] ?? '';

/** An archive in which something happened to three of five trials since they were sealed. */
function archive(): Files {
  const trial = (title: string): string => example('harbour-street').replace('lot 7', title);
  const before = {
    'archive/2024/lot-4.yaml': trial('lot 4'),
    'archive/2024/lot-5.yaml': trial('lot 5'),
    'archive/2025/lot-6.yaml': trial('lot 6').replace(/limits:[^]*/, 'limits: house.yaml\n'),
    'archive/2025/lot-7.yaml': trial('lot 7'),
    'archive/2025/house.yaml': 'waste_per_thousand: {max: 25 g}\n',
  };
  const { written } = run(['seal', 'archive', '--limits', 'office'], before);
  return {
    ...before,
    ...written,
    'archive/2024/lot-5.yaml': before['archive/2024/lot-5.yaml'].replace('948 g', '984 g'),
    'archive/2025/house.yaml': 'waste_per_thousand: {max: 20 g}\n',
    'archive/2025/lot-8.yaml': trial('lot 8'),
  };
}

/** From the limits on: what decides, and the verdict. */
const ending = (out: string): string => out.slice(out.indexOf('LIMITS'));

const NOTE = [
  ...['note', 'examples/under-way.yaml', '--meter', '148210', '--container', '853g'],
  ...['--temperature', '21.8', '--humidity', '44', '--at', '2026-05-05T14:10'],
];
/** The first line that is fitted; the others look alike. */
const fitOfToner = (out: string): string => out.slice(0, out.indexOf('WASTE AGAINST'));
/** What a mix takes, and what there is to know. */
const mixOf = (out: string): string => out.slice(out.indexOf('WHAT THE MIX'));

const parts = {
  screen: fenced('text', `$ tallytare verdict examples/waste-fail.yaml\n…\n${ending(printed('waste-fail'))}`),
  plan: fenced(
    'text',
    `$ tallytare plan examples/before-the-run.yaml\n${run(['plan', 'examples/before-the-run.yaml']).out}`,
  ),
  note: fenced('text', `$ tallytare ${NOTE.join(' ')}\n${run(NOTE).out}`),
  'under-way': fenced('text', howFar(printed('under-way'))),
  'example:harbour-street': fenced('yaml', example('harbour-street')),
  'verdict:harbour-street': fenced('text', printed('harbour-street')),
  slip: fenced('text', run(['verdict', 'slip.yaml'], { 'slip.yaml': SLIP }).out),
  precision: fenced(
    'text',
    `$ tallytare precision examples/pool\n${run(['precision', 'examples/pool']).out}`,
  ),
  pool: fenced(
    'text',
    `$ tallytare pool examples/pool --claim 10500\n${run(['pool', 'examples/pool', '--claim', '10500']).out}`,
  ),
  'lot-plan': fenced(
    'text',
    `$ tallytare plan examples/lot-to-try.yaml --draw 4711\n…\n${theLot(run(['plan', 'examples/lot-to-try.yaml', '--draw', '4711']).out)}`,
  ),
  lot: fenced(
    'text',
    `$ tallytare lot examples/pool --size 400 --limiting-quality 10\n${run(['lot', 'examples/pool', '--size', '400', '--limiting-quality', '10']).out}`,
  ),
  forecast: fenced(
    'text',
    `$ tallytare forecast examples/forecast\n${fitOfToner(run(['forecast', 'examples/forecast']).out)}…`,
  ),
  coverage: fenced(
    'text',
    `$ tallytare coverage examples/documents/letter.png\n${run(['coverage', 'examples/documents/letter.png']).out}`,
  ),
  mix: fenced('yaml', example('mixes/quay-street')),
  'forecast-mix': fenced(
    'text',
    mixOf(
      run([
        'forecast',
        'examples/forecast',
        '--mix',
        'examples/mixes/quay-street.yaml',
        '--pages-per-month',
        '2500',
      ]).out,
    ),
  ),
  summary: fenced(
    'text',
    `$ tallytare verdict examples/pool examples/w*.yaml --summary --only fail\n${run(['verdict', 'examples/pool', 'examples/w*.yaml', '--summary', '--only', 'fail']).out}`,
  ),
  recheck: fenced('text', `$ tallytare recheck archive\n${run(['recheck', 'archive'], archive()).out}`),
  explain: fenced(
    'text',
    `$ tallytare explain waste_per_thousand examples/harbour-street.yaml\n${run(['explain', 'waste_per_thousand', 'examples/harbour-street.yaml']).out}`,
  ),
  marks: fenced(
    'text',
    `$ tallytare marks --distance 94.3 --part drum=30\n${run(['marks', '--distance', '94.3', '--part', 'drum=30']).out}`,
  ),
  figures: figureTable(),
  codes: codeTable(),
  remarks: remarkTable(),
};

/** `npm run readme` writes the parts; without it this test says when they lag. */
test('what README and manual show is what the program prints', () => {
  const texts = documents();
  const whole = filled(texts, parts);
  for (const [name, text] of whole) {
    if (process.env['README'] === 'write') writeFileSync(join(ROOT, name), text);
    else expect(texts.get(name), name).toBe(text);
  }
});

test('README says the job in one paragraph, shows a result on its first screen, and is short', () => {
  const lines = readFileSync(file, 'utf8').split('\n');
  expect(lines.length).toBeLessThanOrEqual(300);
  expect(lines.slice(0, 50).join('\n')).toContain('VERDICT: FAIL');
});

test('README or manual names every command and every page of the manual', () => {
  const texts = [...documents().values()].join('\n');
  const { out } = run(['--help']);
  const commands = [...out.matchAll(/^ {2}([a-z]+)(?: \[|$| {2,}| <)/gm)].map(([, name]) => name ?? '');
  expect(commands).toContain('verdict');
  for (const command of commands)
    expect(texts, command).toMatch(new RegExp(`tallytare ${command}\\b|\`${command}\``));
});

test('the set-up is two commands, each on a line of its own', () => {
  const lines = readFileSync(file, 'utf8').split('\n');
  expect(lines).toContain('npm ci && npx tallytare verdict examples/four-colour-pass.yaml');
  expect(lines).toContain('npm ci && npm test');
});
