import { type Picture, picture, png, softened } from '../raster/pictures.ts';

/** The document of the examples: a letter that nobody wrote, drawn here as a renderer with softened edges has it. */

const PER_INCH = 150;
const MM = 25.4;
/** A4 */
const [WIDTH, HEIGHT] = [210, 297].map((side) => Math.round((side * PER_INCH) / MM)) as [number, number];

/** Numbers between 0 and 1 for a place, the same every time. */
function chance(a: number, b: number): number {
  let state = Math.imul(a + 1, 73_856_093) ^ Math.imul(b + 1, 19_349_663);
  state = Math.imul(state ^ (state >>> 13), 1_274_126_177);
  return ((state ^ (state >>> 16)) >>> 0) / 2 ** 32;
}

const LINE = 6;
const LETTER = 2.1;

/** Lines of text as slanted strokes with a bar; in mm. */
function written(x: number, y: number): boolean {
  const [left, top] = [x - 25, y - 70];
  if (left < 0 || left > 160 || top < 0 || top > 170) return false;
  const line = Math.floor(top / LINE);
  if (line % 7 === 6 || (line % 7 === 5 && left > 90)) return false;
  const letter = Math.floor(left / LETTER);
  if (chance(line, letter) < 0.16) return false;
  const [dx, dy] = [left - letter * LETTER, top - line * LINE];
  if (dy < 0.6 || dy > 3) return false;
  const slant = 0.9 - 0.16 * dy + 0.25 * chance(letter, line);
  const bar = 0.9 + 1.5 * chance(line + 90, letter);
  return Math.abs(dx - slant) < 0.17 || (Math.abs(dy - bar) < 0.15 && dx > 0.3 && dx < 1.6);
}

/** A ring at the head of the letter, and a rule below it. */
const drawn = (x: number, y: number): boolean => {
  const r = Math.hypot(x - 40, y - 35);
  return (r > 9 && r < 14) || (y > 55 && y < 55.8 && x > 25 && x < 185) || written(x, y);
};

const toMm = MM / PER_INCH;
const text = softened((x, y) => drawn(x * toMm, y * toMm), 4);
/** A field in a light tint. */
const tinted = (x: number, y: number): boolean =>
  x * toMm > 25 && x * toMm < 185 && y * toMm > 255 && y * toMm < 275;

export const letter = (): Picture =>
  picture(WIDTH, HEIGHT, [(x, y) => Math.max(text(x, y), tinted(x, y) ? 0.2 : 0)], { high: false });

export const letterPng = (): Uint8Array => png(letter(), { perMetre: Math.round((1000 * PER_INCH) / MM) });
