import type { Colour, Drawn } from './png.ts';

/**
 * The photos of the examples. Nobody took them: they are drawn here, of things that do not exist, so that
 * a report has something to show.
 */

const [WIDTH, HEIGHT] = [400, 270];

/** Shades from dark to bright of one hue. */
const shades = (from: Colour, to: Colour, count: number): Colour[] =>
  Array.from({ length: count }, (_, index): Colour => {
    const mix = (channel: 0 | 1 | 2): number =>
      Math.round(from[channel] + ((to[channel] - from[channel]) * index) / (count - 1));
    return [mix(0), mix(1), mix(2)];
  });

/** Numbers between 0 and 1, the same every time (a linear congruential generator). */
function chances(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Each pixel from its place; `shade` gives an index into the palette. */
function paint(palette: readonly Colour[], shade: (x: number, y: number) => number): Drawn {
  const pixels = new Uint8Array(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      pixels[y * WIDTH + x] = Math.max(0, Math.min(palette.length - 1, Math.round(shade(x, y))));
    }
  }
  return { width: WIDTH, height: HEIGHT, palette, pixels };
}

const SHADES = 24;

/** The seal of a developer unit from the front: dark plastic, a felt strip, cyan dust that came past it. */
export function cyanSeal(): Drawn {
  const palette = [
    ...shades([24, 26, 29], [96, 100, 104], SHADES),
    ...shades([88, 82, 74], [168, 160, 148], SHADES),
    ...shades([0, 92, 122], [92, 198, 222], SHADES),
  ];
  const chance = chances(19);
  const specks = Array.from({ length: 260 }, () => {
    const along = chance();
    const away = chance() ** 2.2;
    return { x: 60 + along * 260 + (chance() - 0.5) * 30, y: 150 + away * 80, r: 0.7 + chance() * 2.1 };
  });
  const dusty = (x: number, y: number): boolean =>
    specks.some((speck) => (x - speck.x) ** 2 + (y - speck.y) ** 2 < speck.r ** 2);
  const grain = chances(7);
  return paint(palette, (x, y) => {
    const noise = grain() * 1.6;
    if (dusty(x, y)) return SHADES * 2 + 8 + noise * 5;
    const light = 1 - Math.hypot(x - 120, y - 60) / 420;
    const felt = y > 112 && y < 150 && x > 22 && x < WIDTH - 22;
    if (felt) return SHADES + (9 + 9 * light + ((x + y) % 4 === 0 ? 2 : 0) + noise);
    const screw = [52, WIDTH - 52].map((at) => Math.hypot(x - at, y - 66)).find((far) => far < 15);
    if (screw !== undefined) return Math.abs(x + y - 118 - (x > 200 ? 296 : 0)) < 4 ? 3 : 21 - screw / 3;
    const ridge = y < 30 || y > 244 ? 5 : 0;
    const edge = Math.abs(y - 108) < 3 || Math.abs(y - 154) < 3 ? -6 : 0;
    return 5 + 12 * light + ridge + edge + noise;
  });
}

/** A carton from above with one corner pressed in. */
export function packaging(): Drawn {
  const palette = [
    ...shades([64, 62, 60], [128, 125, 120], SHADES),
    ...shades([112, 80, 48], [216, 176, 128], SHADES),
    ...shades([226, 222, 212], [250, 248, 242], 6),
  ];
  const grain = chances(31);
  return paint(palette, (x, y) => {
    const noise = grain() * 1.5;
    const [left, top, right, bottom] = [60, 40, 345, 232];
    // The corner at the lower right is pressed in along a curve.
    const dent = Math.hypot(x - right - 8, y - bottom - 8);
    const inside = x > left && x < right && y > top && y < bottom && dent > 46;
    if (!inside) return 8 + (10 * (x + y)) / (WIDTH + HEIGHT) + noise;
    if (dent < 66) return SHADES + 3 + (dent - 46) / 2.2 + noise;
    const tape = Math.abs(y - 136) < 13;
    const label = x > 92 && x < 190 && y > 62 && y < 112;
    const print = label && y > 74 && y < 102 && (y - 74) % 10 < 3 && x > 100 && x < 176 - ((y * 7) % 40);
    if (print) return 4;
    if (label) return SHADES * 2 + 3 + noise;
    const flute = x % 9 === 0 ? -1.2 : 0;
    const light = 15 - Math.hypot(x - 110, y - 70) / 34;
    const edge = x - left < 4 || y - top < 4 ? 3 : right - x < 4 || bottom - y < 4 ? -4 : 0;
    return SHADES + light + (tape ? 4 : 0) + flute + edge + noise;
  });
}

/** By the name of the file that holds them. */
export const PHOTOS: Readonly<Record<string, () => Drawn>> = {
  'cyan-seal.png': cyanSeal,
  'packaging.png': packaging,
};
