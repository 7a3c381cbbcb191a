import type { Mark } from '../figures/repeating-marks.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { wrap } from './columns.ts';
import { harmless, harmlessJson } from './harmless.ts';
import { fullDigits } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';
import type { MarksData } from './schema/reference.ts';
import { table } from './text-table.ts';

/** A distance that marks repeat at, with the parts they can come from. */
export interface Traced {
  /** mm */
  readonly distance: Decimal;
  readonly marks: readonly Mark[];
}

const signed = (value: Decimal): string => `${value.isNegative() ? '' : '+'}${value.toFixed(1)}`;

/** For people: the parts, fewest turns first, or that there is none. */
export function marksText(traced: readonly Traced[], tolerance: Decimal, paint: Paint = PLAIN): string {
  const lines = traced.flatMap(({ distance, marks }, index) => {
    const head = paint.strong(`A mark every ${distance.toFixed()} mm`);
    const rows = marks.map(({ part, turns, expected, apart }) => ({
      name: harmless(part),
      cells: [String(turns), `${expected.toFixed(1)} mm`, `${signed(apart)} mm`],
    }));
    const none = wrap(
      `No part has that circumference, or a multiple of it, within ${tolerance.toFixed()} %.`,
      '  ',
    );
    return [
      ...(index > 0 ? [''] : []),
      head,
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
    marks: traced.map(({ distance, marks }) => ({
      distance: fullDigits(distance),
      parts: marks.map(({ part, turns, expected, apart }) => ({
        part,
        turns,
        expected: fullDigits(expected.toSignificantDigits(12)),
        apart: fullDigits(apart.toSignificantDigits(12)),
      })),
    })),
  };
  return `${harmlessJson(data, 2)}\n`;
}
