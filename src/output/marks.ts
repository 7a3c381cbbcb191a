import type { Mark } from '../figures/repeating-marks.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { wrap } from './columns.ts';
import { harmless, harmlessJson } from './harmless.ts';
import { fullDigits } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';
import type { MarksData } from './schema/reference.ts';
import { table } from './text-table.ts';
import { list } from './words/said.ts';

/** A distance as people read it: a bare number is in mm. */
export const millimetres = (written: string): string => (/\d$/.test(written) ? `${written} mm` : written);

/** The parts a mark can come from, in words. */
export const partsWords = (matches: readonly Pick<Mark, 'part' | 'turns'>[]): string =>
  matches.length === 0
    ? 'no rotating part of the machine has that circumference or a multiple of it'
    : list(
        matches.map(({ part, turns }) =>
          turns === 1 ? `once a turn of the ${part}` : `${turns} turns of the ${part}`,
        ),
      );

/** A distance that marks repeat at, with the parts they can come from. */
export interface Traced {
  /** mm */
  readonly distance: Decimal;
  /** Where it is seen, and what it looks like, as far as a trial says. */
  readonly slot: string | null;
  readonly note: string | null;
  /** Null where no rotating part is known. */
  readonly marks: readonly Mark[] | null;
}

const signed = (value: Decimal): string => `${value.isNegative() ? '' : '+'}${value.toFixed(1)}`;

/** For people: the parts, fewest turns first, or that there is none. */
export function marksText(traced: readonly Traced[], tolerance: Decimal, paint: Paint = PLAIN): string {
  const lines = traced.flatMap(({ distance, slot, note, marks }, index) => {
    const what = [slot, note].filter((one) => one !== null).join(': ');
    const said = `A mark every ${distance.toFixed()} mm${what === '' ? '' : `, ${what}`}`;
    const head = wrap(harmless(said)).map((line) => paint.strong(line));
    const rows = (marks ?? []).map(({ part, turns, expected, apart }) => ({
      name: harmless(part),
      cells: [String(turns), `${expected.toFixed(1)} mm`, `${signed(apart)} mm`],
    }));
    const none = wrap(
      marks === null
        ? 'No rotating part is known: give machine.rotating_parts in the trial, or --part drum=30.'
        : `No part has that circumference, or a multiple of it, within ${tolerance.toFixed()} %.`,
      '  ',
    );
    return [
      ...(index > 0 ? [''] : []),
      ...head,
      ...(rows.length > 0 ? table(['turns', 'expected', 'apart'], rows, paint) : none),
    ];
  });
  return `${lines.join('\n')}\n`;
}

/** The format of marks in JSON; raised when a consumer would have to change. */
const FORMAT = 1;

/** For other programs. */
export function marksJson(traced: readonly Traced[], tolerance: Decimal, tool: string): string {
  const data: MarksData = {
    format: FORMAT,
    tool,
    tolerance: fullDigits(tolerance),
    marks: traced.map(({ distance, slot, note, marks }) => ({
      distance: fullDigits(distance),
      slot,
      note,
      parts: (marks ?? []).map(({ part, turns, expected, apart }) => ({
        part,
        turns,
        expected: fullDigits(expected.toSignificantDigits(12)),
        apart: fullDigits(apart.toSignificantDigits(12)),
      })),
    })),
  };
  return `${harmlessJson(data, 2)}\n`;
}
