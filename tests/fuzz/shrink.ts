import type { Input } from './input.ts';

/** Pieces of a file that can be left out. */
type Cut = (bytes: Buffer) => Buffer[];

const lines: Cut = (bytes) => {
  const pieces: Buffer[] = [];
  for (let from = 0; from < bytes.length;) {
    const end = bytes.indexOf(0x0a, from);
    const to = end === -1 ? bytes.length : end + 1;
    pieces.push(bytes.subarray(from, to));
    from = to;
  }
  return pieces;
};

const bytes: Cut = (all) => Array.from(all, (_, at) => all.subarray(at, at + 1));

/** Leaves out ever smaller runs of pieces, as long as `fails` says that the rest still does. */
function smallest(pieces: readonly Buffer[], fails: (rest: Buffer) => boolean): Buffer {
  let kept = [...pieces];
  for (let size = Math.ceil(kept.length / 2); size >= 1; size = size === 1 ? 0 : Math.ceil(size / 2)) {
    for (let at = 0; at < kept.length;) {
      const rest = [...kept.slice(0, at), ...kept.slice(at + size)];
      if (fails(Buffer.concat(rest))) kept = rest;
      else at += size;
    }
  }
  return Buffer.concat(kept);
}

/**
 * The smallest input found that still fails: files emptied of lines, then of bytes.
 *
 * @param fails whether an input has the fault
 * @param most how often it is asked at most
 * @param seconds time after which it is not asked again
 */
export function shrink(input: Input, fails: (input: Input) => boolean, most: number, seconds: number): Input {
  const end = performance.now() + seconds * 1000;
  let asked = 0;
  const enough = (): boolean => asked >= most || performance.now() > end;
  let best = input;
  for (let before = ''; before !== sizes(best) && !enough();) {
    before = sizes(best);
    for (const cut of [lines, bytes]) {
      for (const name of Object.keys(best.files)) {
        const whole = best.files[name];
        if (whole === undefined) continue;
        smallest(cut(whole), (rest) => {
          if (enough()) return false;
          asked += 1;
          const tried = { ...best, files: { ...best.files, [name]: rest } };
          const failed = fails(tried);
          if (failed) best = tried;
          return failed;
        });
      }
    }
  }
  return best;
}

const sizes = ({ files }: Input): string =>
  Object.values(files)
    .map(({ length }) => length)
    .join();
