/**
 * A small seeded generator (mulberry32): the same seed gives the same numbers on every machine, which is
 * all that fuzzing asks of it.
 */
export class Random {
  #state: number;

  /** @param words numbers that together are the seed, such as the round's seed and the input's number */
  constructor(...words: number[]) {
    this.#state = words.reduce((state, word) => mixed(state ^ mixed(word + 0x9e3779b9)), 0x2545f491);
  }

  /** From 0 up to, and without, 1. */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let bits = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    bits = (bits + Math.imul(bits ^ (bits >>> 7), 61 | bits)) ^ bits;
    return ((bits ^ (bits >>> 14)) >>> 0) / 2 ** 32;
  }

  /** A whole number from 0 up to, and without, `end`. */
  below(end: number): number {
    return Math.floor(this.next() * end);
  }

  /** A whole number from `least` to `greatest`. */
  between(least: number, greatest: number): number {
    return least + this.below(greatest - least + 1);
  }

  /** A standard normal variable (Box and Muller). */
  normal(): number {
    const u = Math.max(this.next(), Number.MIN_VALUE);
    return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * this.next());
  }

  /** Whether something that happens once in `times` happens now. */
  once(times: number): boolean {
    return this.below(times) === 0;
  }

  /** One entry of a list that has some. */
  pick<T>(list: readonly T[]): T {
    const entry = list[this.below(list.length)];
    if (entry === undefined) throw new RangeError('nothing to pick from');
    return entry;
  }

  /** How often something is repeated: mostly a few times, now and then up to `most`. */
  times(most: number): number {
    return Math.max(1, Math.round(most ** (this.next() ** 2)));
  }
}

/** The bits of a whole number spread over all 32. */
function mixed(word: number): number {
  let bits = word | 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return bits ^ (bits >>> 16);
}
