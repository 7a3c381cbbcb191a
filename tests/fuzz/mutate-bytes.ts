import type { Random } from './random.ts';

type Change = (bytes: Buffer, random: Random) => Buffer;

/** A range of the bytes; empty only where there are none. */
function range(bytes: Buffer, random: Random): readonly [from: number, to: number] {
  const from = random.below(Math.max(1, bytes.length));
  return [from, Math.min(bytes.length, from + random.times(200))];
}

const put = (bytes: Buffer, at: number, more: Uint8Array): Buffer =>
  Buffer.concat([bytes.subarray(0, at), more, bytes.subarray(at)]);

const putSomewhere = (bytes: Buffer, more: Uint8Array, random: Random): Buffer =>
  put(bytes, random.below(bytes.length + 1), more);

/** What is not UTF-8: a lone continuation, an overlong slash, a surrogate, beyond U+10FFFF, a letter cut short, no byte of UTF-8. */
const NOT_UTF8 = ['80', 'c0af', 'eda080', 'f4908080', 'e282', 'ff', 'fe'];

/** What is UTF-8 and yet troubles: byte order mark, NUL, escape, a C1 control, separators, overrides of direction, a newline of its own. */
const TROUBLES = [
  '\ufeff',
  '\0',
  '\u001b[31m',
  '\u0007',
  '\u0085',
  '\u2028',
  '\u202e',
  '\r',
  '\t',
  '\u00a0',
  '\u{e0001}',
];

const CHANGES: readonly Change[] = [
  function flip(bytes, random) {
    const at = random.below(bytes.length);
    const flipped = Buffer.from(bytes);
    flipped[at] = (bytes[at] ?? 0) ^ (1 << random.below(8));
    return flipped;
  },
  function insert(bytes, random) {
    return putSomewhere(bytes, Uint8Array.of(random.below(256)), random);
  },
  function insertAscii(bytes, random) {
    return putSomewhere(bytes, Uint8Array.of(random.between(0x20, 0x7e)), random);
  },
  function remove(bytes, random) {
    const [from, to] = range(bytes, random);
    return Buffer.concat([bytes.subarray(0, from), bytes.subarray(to)]);
  },
  function cutOff(bytes, random) {
    return bytes.subarray(0, random.below(bytes.length + 1));
  },
  function duplicate(bytes, random) {
    const [from, to] = range(bytes, random);
    return putSomewhere(bytes, bytes.subarray(from, to), random);
  },
  function notUtf8(bytes, random) {
    return putSomewhere(bytes, Buffer.from(random.pick(NOT_UTF8), 'hex'), random);
  },
  function trouble(bytes, random) {
    return putSomewhere(bytes, Buffer.from(random.pick(TROUBLES)), random);
  },
  function mark(bytes) {
    return put(bytes, 0, Buffer.from('\ufeff'));
  },
  function carriageReturns(bytes, random) {
    const end = random.pick(['\r\n', '\r']);
    return Buffer.from(bytes.toString('latin1').replaceAll('\n', end), 'latin1');
  },
];

/** A file with one change to its bytes, whatever they mean. */
export const mutateBytes = (bytes: Buffer, random: Random): Buffer => random.pick(CHANGES)(bytes, random);
