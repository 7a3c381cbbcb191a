/** Times of a table as ISO 8601 writes them: in whichever order a day is written, as long as all rows have it. */

export const DAY_ORDERS = ['day_first', 'month_first', 'year_first'] as const;
export type DayOrder = (typeof DAY_ORDERS)[number];

/** Three numbers of a day, as they stand, and the clock behind them. */
interface Written {
  readonly parts: readonly [string, string, string];
  readonly clock: string;
}

const DAY = /^(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})(?:[T\s,]+(.*))?$/s;
const CLOCK =
  /^(\d{1,2})[:.](\d{2})(?:[:.](\d{2})(?:[.,](\d+))?)?\s*(?:([ap])\.?m\.?)?\s*(Z|[+-]\d{2}(?::?\d{2})?)?$/i;

function writtenDay(cell: string): Written | null {
  const [, a, , b, c, clock = ''] = DAY.exec(cell.trim()) ?? [];
  return a === undefined || b === undefined || c === undefined ? null : { parts: [a, b, c], clock };
}

/** Orders in which three numbers are a day: that of the year is told where it has four digits. */
function ordersOf([a, , c]: Written['parts']): readonly DayOrder[] {
  if (a.length === 4) return ['year_first'];
  if (a.length > 2 || c.length === 3) return [];
  return c.length === 4 || c.length === 1 ? ['day_first', 'month_first'] : DAY_ORDERS;
}

/** The day in one order, as ISO 8601 writes it; null where there is none. */
function dayIn([a, b, c]: Written['parts'], order: DayOrder): string | null {
  const [year, month, day] =
    order === 'year_first' ? [a, b, c] : order === 'day_first' ? [c, b, a] : [c, a, b];
  const full = year.length === 2 ? `20${year}` : year;
  const iso = `${full}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
  const time = Date.parse(`${iso}T00:00Z`);
  return full.length === 4 && Number.isFinite(time) && new Date(time).toISOString().startsWith(iso)
    ? iso
    : null;
}

/** The clock as ISO 8601 writes it; null where it is none. */
function clockOf(text: string): string | null {
  const [all, hour = '', minute = '', second, fraction, half, zone = ''] = CLOCK.exec(text.trim()) ?? [];
  if (all === undefined) return null;
  const told = Number(hour);
  if (half !== undefined && (told < 1 || told > 12)) return null;
  const hours = half === undefined ? told : (told % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
  const seconds = second === undefined ? '' : `:${second}${fraction === undefined ? '' : `.${fraction}`}`;
  const offset = /^[+-]\d{2}$/.test(zone) ? `${zone}:00` : zone.replace(/^([+-]\d{2})(\d{2})$/, '$1:$2');
  return `${String(hours).padStart(2, '0')}:${minute}${seconds}${offset.toUpperCase()}`;
}

/** A cell of a time in ISO 8601, its day in one order; null where it cannot be read so. */
export function isoTime(cell: string, order: DayOrder | null): string | null {
  const written = writtenDay(cell);
  if (written === null) return null;
  const orders = ordersOf(written.parts);
  const own = orders.length === 1 ? orders[0] : orders.find((one) => one === order);
  const day = own === undefined ? null : dayIn(written.parts, own);
  if (day === null || written.clock.trim() === '') return day;
  const clock = clockOf(written.clock);
  return clock === null ? null : `${day}T${clock}`;
}

/** A day that can be read in more than one order, in each of them, as ISO 8601 writes it; null for any other text. */
export function readingsOfDay(cell: string): readonly string[] | null {
  const written = writtenDay(cell);
  if (written === null) return null;
  const read = ordersOf(written.parts).flatMap((order) => {
    const day = dayIn(written.parts, order);
    const clock = written.clock.trim() === '' ? '' : clockOf(written.clock);
    return day === null || clock === null ? [] : [clock === '' ? day : `${day}T${clock}`];
  });
  return [...new Set(read)];
}

/** What the times of a table say of the order of their days. */
export class DayEvidence<Where> {
  private orders: readonly DayOrder[] = DAY_ORDERS;
  private open: { readonly written: string; readonly where: Where } | null = null;
  private odd: { readonly written: string; readonly where: Where } | null = null;

  add(cell: string, where: Where): void {
    const written = writtenDay(cell);
    const possible = written === null ? [] : ordersOf(written.parts);
    if (written === null || possible.length < 2 || this.odd !== null) return;
    const days = new Map(
      this.orders.map((order) => [order, possible.includes(order) ? dayIn(written.parts, order) : null]),
    );
    const left = this.orders.filter((order) => days.get(order) !== null);
    if (left.length === 0) {
      // What is a day in no order at all is told where it is read.
      if (possible.some((order) => dayIn(written.parts, order) !== null)) this.odd = { written: cell, where };
      return;
    }
    this.orders = left;
    if (this.open === null && new Set(left.map((order) => days.get(order))).size > 1)
      this.open = { written: cell, where };
    this.met = true;
  }

  private met = false;

  /** The order that fits all rows, null where no row needs one; or the cell that leaves it open, or does not fit. */
  get order():
    | { readonly order: DayOrder | null }
    | { readonly fault: 'unclear' | 'mixed'; readonly written: string; readonly where: Where } {
    if (this.odd !== null) return { fault: 'mixed', ...this.odd };
    if (!this.met) return { order: null };
    const [only] = this.orders;
    if (this.orders.length > 1 && this.open !== null) return { fault: 'unclear', ...this.open };
    return { order: only ?? null };
  }
}
