import type { Random } from './random.ts';

/** A change of one scalar: its text, and the texts of scalars of all examples. */
type Change = (scalar: string, random: Random, others: readonly string[]) => string;

const NUMBERS = [
  '0',
  '-0',
  '0.0',
  '0.0000000000000000000000000001',
  '1e-12',
  '1e-300',
  '1e12',
  '1000000000000',
  '999999999999.999999999999',
  '1e13',
  '1e400',
  '-1e400',
  '1e999999999999',
  '-1',
  '100',
  '100.0000000000000000000000000000000001',
  '2147483648',
  '9007199254740993',
  '18446744073709551616',
  '.5',
  '5.',
  '+5',
  '--5',
  '0x1F',
  '0o17',
  '1_000',
  '1,5',
  '1 000',
  '.nan',
  'NaN',
  '.inf',
  '-Infinity',
  '½',
  '٣',
  '1e',
  '-273.15',
  '-300',
];
const UNITS = 'mg g kg oz lb mm cm in °C °F K C F % g/m² g/m2 EUR USD JPY page km ‰ ppm minor critical'.split(
  ' ',
);
const TIMES = [
  '2026-02-29',
  '2024-02-29',
  '0000-00-00',
  '0001-01-01',
  '9999-12-31',
  '9999-12-31T23:59:59',
  '9999-12-31T23:59-23:59',
  '0001-01-01T00:00+14:00',
  '2026-03-09T24:00',
  '2026-03-09T14:30+01:00',
  '2026-03-09T14:30Z',
  '2026-03-09T23:59:60',
  '2026-03-09T14:30:00.000000001',
  '2026-3-9',
  '09.03.2026',
  '+012026-03-09',
  '14:30',
];
const WRITING = [
  'é',
  'e\u0301',
  '漢字',
  '👩‍🔧',
  '🇳🇴',
  '\u200b',
  '\u200d',
  'שלום',
  '\u202etfel',
  'ﷺ',
  '\u0300'.repeat(20),
  '｛',
  '＝1+1',
  '\u00a0',
  '\ufffd',
  '𝟗',
  '漢'.repeat(60),
];
const INDICATORS = '- ? : , [ ] { } # & * ! | > \' " % @ ` << --- ... ~ = \\ /'.split(' ');
const WORDS = [
  'null',
  'true',
  'no',
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  'length',
  'total',
  'black#2',
  'value',
  '=1+1',
  '@SUM(1)',
  '<script>',
  '../../limits.yaml',
  'limits/house.yaml',
  'a.yaml',
  'office',
  '-',
  '$&',
  '$1',
  '%s',
  '${x}',
  '\\u001b[31m',
  '"\\ud800"',
  '"\\x1b[2J"',
  '"\\0"',
  '"\\u2028"',
  '""',
];

const NUMBER = /[-+]?[0-9]+(?:\.[0-9]+)?/;

/** A digit or two changed, as a tired hand does it. */
const slip: Change = (scalar, random) => {
  const at = random.below(scalar.length);
  const [head, char, tail] = [scalar.slice(0, at), scalar.slice(at, at + 1), scalar.slice(at + 1)];
  return random.pick([
    head + tail,
    head + char + char + tail,
    head + String(random.below(10)) + tail,
    tail.slice(0, 1) + head + char + tail.slice(1),
  ]);
};

const CHANGES: readonly Change[] = [
  slip,
  slip,
  (_, random, others) => random.pick(others),
  (_, random, others) => random.pick(others),
  (scalar, random) => scalar.replace(NUMBER, random.pick(NUMBERS)),
  (scalar, random) => scalar.replace(NUMBER, String(random.below(10 ** random.between(1, 7)))),
  (scalar, random) =>
    scalar.replace(NUMBER, (number) => String(Number(number) * random.pick([-1, 0.001, 0.1, 2, 10, 1e6]))),
  (scalar) => (scalar.startsWith('-') ? scalar.slice(1) : `-${scalar}`),
  (scalar, random) => `${NUMBER.exec(scalar)?.[0] ?? scalar} ${random.pick(UNITS)}`,
  (_, random) => random.pick(TIMES),
  (_, random) => random.pick('123456789'.split('')) + '0123456789'.repeat(random.times(2000)),
  (scalar, random) => `${scalar}${scalar.includes('.') ? '' : '.'}${'0'.repeat(random.times(60))}`,
  (scalar, random) => scalar + random.pick(WRITING),
  (_, random) => random.pick(WRITING).repeat(random.times(60)),
  (scalar, random) => random.pick(INDICATORS) + scalar,
  (scalar, random) => `${scalar}${random.pick(INDICATORS)}${random.pick(['', ' '])}`,
  (_, random) => random.pick(WORDS),
  (scalar, random) => random.pick(['"', "'"]) + scalar + random.pick(['"', "'"]),
  (scalar, random) =>
    `${random.pick(['&a', '*a', '!!str', '!!float', '!x', '!!binary', '!<tag:x>'])} ${scalar}`,
  (scalar, random) =>
    random.pick([`[${scalar}]`, `{${scalar}}`, `{${scalar}: ${scalar}}`, '[]', '{}', `[${scalar}, ]`]),
  (scalar, random) =>
    `${random.pick(['|', '>', '|-', '>+', '|9'])}\n${' '.repeat(random.below(9))}${scalar}\n`,
  (scalar, random) => `${scalar} `.repeat(random.times(20_000)).trimEnd(),
  (scalar, random) => scalar.repeat(random.times(5000)),
  () => '',
];

/** Changes that mostly leave a value of its kind behind. */
const GENTLE: readonly Change[] = [
  (scalar, random) => (NUMBER.test(scalar) ? slip(scalar, random, []) : scalar),
  (scalar, random) => scalar.replace(NUMBER, () => String(random.below(10 ** random.between(1, 7)))),
  (scalar, random) =>
    scalar.replace(NUMBER, (number) =>
      String(Number(number) * random.pick([0, 0.001, 0.1, 0.9, 1.1, 2, 10, 1e6])),
    ),
  (scalar, random) =>
    scalar.replace(NUMBER, random.pick(['0', '1', '100', '1000000000000', '0.000000000001'])),
  (scalar, random) => scalar.replace(NUMBER, (number) => `${number}.${'0'.repeat(random.times(40))}`),
  (scalar, random) =>
    NUMBER.test(scalar) ? scalar : `${scalar} ${random.pick(WRITING).repeat(random.times(40))}`,
  (scalar, random) => (NUMBER.test(scalar) ? scalar : `${scalar} `.repeat(random.times(400)).trimEnd()),
];

/** Comments, so that they can be passed over, and what stands between the marks of YAML: keys and values. */
const SCALAR = /#.*|[^\s,{}[\]:#"']+(?:[ :](?=[^\s,{}[\]:#"'])[^\s,{}[\]:#"']+)*/g;

/** All keys and values of a text, as written. */
export const scalarsOf = (text: string): string[] =>
  (text.match(SCALAR) ?? []).filter((scalar) => !scalar.startsWith('#'));

/** Places of values, where a key is left as it is. */
const VALUE = /(?<=[:[-] )[^\s,{}[\]:#"'-][^,{}[\]:#"'\n]*/g;

/**
 * A text with one of its scalars changed.
 *
 * @param others scalars that may come in
 * @param gentle whether it should mostly stay a file that can be read
 */
export function mutateTokens(
  text: string,
  random: Random,
  others: readonly string[],
  gentle: boolean,
): string {
  const found = [...text.matchAll(gentle ? VALUE : SCALAR)].filter(([scalar]) => !scalar.startsWith('#'));
  if (found.length === 0) return gentle ? text : random.pick(others);
  const { 0: scalar, index } = random.pick(found);
  const changed = random.pick(gentle ? GENTLE : CHANGES)(scalar, random, others);
  return text.slice(0, index) + changed + text.slice(index + scalar.length);
}
