import { readdirSync, readFileSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { join } from 'node:path';
import { readYaml, type YamlText } from '../../src/text/yaml-text.ts';
import type { Random } from '../fuzz/random.ts';
import { ROOT } from '../run.ts';

/** Texts read by both readers of YAML: what the quick one takes must be what the careful one takes. */

const lineOf = (): number => 1;

/** How the two readings of a text differ; null where they do not. */
export function differenceOf(text: string): string | null {
  const [quick, careful] = [readYaml(text, lineOf), readYaml(text, lineOf, true)];
  const codes = ({ problems }: YamlText): string[] => problems.map(({ code }) => code).toSorted();
  if (!isDeepStrictEqual(codes(quick), codes(careful)))
    return `problems ${codes(quick).join(' ')} | ${codes(careful).join(' ')}`;
  if (isDeepStrictEqual(quick.data, careful.data)) return null;
  return `data ${JSON.stringify(quick.data)} | ${JSON.stringify(careful.data)}`;
}

const EXAMPLES = ['examples', 'examples/pool', 'examples/limits'].flatMap((folder) =>
  readdirSync(join(ROOT, folder))
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => readFileSync(join(ROOT, folder, name), 'utf8')),
);

/** Pieces of YAML that are put together, or into an example. */
const PIECES = [
  ...[
    'a',
    'b',
    'key',
    'black',
    '1',
    '0012',
    '1.50',
    '-',
    '?',
    ':',
    ',',
    '[',
    ']',
    '{',
    '}',
    '#',
    '# c',
    ' ',
    '  ',
    '    ',
  ],
  ...[
    '\n',
    '\n',
    '\n',
    '\n  ',
    '\n    ',
    '\n- ',
    '\n  - ',
    '- ',
    ': ',
    ', ',
    ' #',
    'a: ',
    'b: ',
    'a: 1',
    '{a: 1}',
    '[1, 2]',
    '{}',
    '[]',
  ],
  ...[
    '"',
    "'",
    '"x"',
    "'x'",
    '"x": ',
    "'it''s'",
    '""',
    "''",
    'it’s',
    "it's",
    'a#b',
    'a:b',
    'a,b',
    '~',
    'null',
    '---',
    '--- ',
    '...',
  ],
  ...[
    '&a ',
    '*a',
    '!t ',
    '!!str ',
    '|\n  x',
    '>\n  x',
    '|-',
    '%YAML 1.2',
    '\t',
    '\r',
    '\r\n',
    '\\',
    '\\n',
    '@',
    '`',
    '%',
    '<<: ',
    '..',
    '-1',
    '+1',
  ],
];

const small = (random: Random): string => {
  let text = '';
  for (let left = random.between(1, 14); left > 0; left--) text += random.pick(PIECES);
  return text;
};

/** A short text of pieces, or a stretch of an example with some of them put in, left out or moved. */
export function oddText(random: Random): string {
  if (random.once(2)) return small(random);
  const lines = random.pick(EXAMPLES).split('\n');
  const from = random.below(lines.length);
  let text = lines.slice(from, from + random.between(1, 12)).join('\n');
  for (let changes = random.between(1, 3); changes > 0; changes--) {
    const at = random.below(text.length + 1);
    const gone = random.once(2) ? random.below(6) : 0;
    text = text.slice(0, at) + (random.once(4) ? '' : random.pick(PIECES)) + text.slice(at + gone);
  }
  return text;
}
