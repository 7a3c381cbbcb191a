/** Whether a comma or a point stands before the decimals of a table: told by all its numbers together. */

export type DecimalMark = 'comma' | 'point';

/** A number of a table with what stands behind it. */
const NUMBER = /^([+-]?[\d.,]*\d[.,]?)(.*)$/s;

/** Digits in threes behind one mark, which may be thousands as well. */
const IN_THREES = /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/;

/** A cell's number and the rest of it; null where it does not begin with one. */
export function numberIn(cell: string): { readonly number: string; readonly rest: string } | null {
  const [, number, rest = ''] = NUMBER.exec(cell.replace(/^\u2212/, '-')) ?? [];
  return number === undefined ? null : { number, rest: rest.trim() };
}

/** What the numbers of a table say of their decimal mark. */
export class DecimalEvidence<Where> {
  private readonly sure = new Map<DecimalMark, { readonly written: string; readonly where: Where }>();
  private readonly unsure = new Map<DecimalMark, { readonly written: string; readonly where: Where }>();

  add(cell: string, where: Where): void {
    const number = numberIn(cell)?.number;
    if (number === undefined || !/[.,]/.test(number)) return;
    const [mark, known] = told(number);
    const known_ = known ? this.sure : this.unsure;
    if (!known_.has(mark)) known_.set(mark, { written: cell, where });
  }

  /** The mark; or the cell that leaves it open, or that does not fit the others. */
  get mark():
    | { readonly mark: DecimalMark }
    | { readonly fault: 'unclear' | 'mixed'; readonly written: string; readonly where: Where } {
    const [comma, point] = [this.sure.get('comma'), this.sure.get('point')];
    if (comma && point) {
      // Maps keep their order: the mark that came later does not fit.
      const [, later] = [...this.sure.values()];
      return { fault: 'mixed', ...(later ?? point) };
    }
    if (comma) return { mark: 'comma' };
    const open = this.unsure.get('comma');
    if (!point && open) return { fault: 'unclear', ...open };
    return { mark: 'point' };
  }
}

/** The decimal mark that a number has, and whether that is sure. */
function told(number: string): readonly [mark: DecimalMark, sure: boolean] {
  const marks = number.match(/[.,]/g) ?? [];
  const last = marks.at(-1) === ',' ? 'comma' : 'point';
  const other = last === 'comma' ? 'point' : 'comma';
  if (new Set(marks).size === 2) return [last, true];
  // Several of one kind part thousands.
  return marks.length > 1 ? [other, true] : [last, !IN_THREES.test(number)];
}

/** A number with a point before its decimals and nothing between its thousands. */
export function plainNumber(number: string, mark: DecimalMark): string {
  const [decimals, thousands] = mark === 'comma' ? [',', '.'] : ['.', ','];
  const [whole = '', ...rest] = number.split(decimals);
  if (rest.length > 1) return number;
  const parts = whole.split(thousands);
  const grouped = parts.length > 1 && /^[+-]?\d{1,3}$/.test(parts[0] ?? '');
  const joined = grouped && parts.slice(1).every((part) => /^\d{3}$/.test(part)) ? parts.join('') : whole;
  return rest.length === 0 ? joined : `${joined}.${rest[0] ?? ''}`;
}
