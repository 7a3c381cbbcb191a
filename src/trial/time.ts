import type { Read } from '../problems/problem.ts';
import { isoTime, readingsOfDay } from './days.ts';

/**
 * A time from a file: a date, a civil date-time (no offset: the clock on the wall, never the
 * computer's zone), or a date-time with its offset from UTC.
 */
export interface Time {
  /** In ISO 8601. */
  readonly text: string;
  /** As typed, where that was in another form of the same meaning. */
  readonly typed?: string;
  readonly kind: 'date' | 'civil' | 'offset';
  /** The day as written, YYYY-MM-DD. */
  readonly day: string;
  /** Seconds on a common scale: civil times among themselves, offset times in UTC. */
  readonly seconds: number;
}

/** Seconds; a reading of the air taken so shortly before or after a batch belongs to it (common practice, no source). */
export const BESIDE = 30 * 60;

const ISO = /^(\d{4})-(\d{2})-(\d{2})(?:T(\d{2}):(\d{2})(?::(\d{2})(?:\.(\d+))?)?(Z|[+-]\d{2}:\d{2})?)?$/;

/**
 * Reads an ISO 8601-1 calendar date or date-time in the extended format, seconds and offset optional; with the year
 * first also in other forms, since they can mean one time only. A day that ends with its year is refused with what it
 * can mean.
 */
export function readTime(text: string): Read<Time> {
  const found = ISO.exec(text.trim());
  if (found === null) {
    const meant = isoTime(text, null);
    const read = meant === null || !ISO.test(meant) ? null : readTime(meant);
    if (read !== null && 'value' in read) return { value: { ...read.value, typed: text.trim() } };
    const readings = (readingsOfDay(text) ?? []).filter((one) => 'value' in readTime(one));
    return { fault: { code: 'not-a-time', written: text, readings } };
  }
  const [, year, month, day, hour, minute, second, fraction, offset] = found;
  const ms = Date.UTC(Number(year), Number(month) - 1, Number(day));
  const date = `${year}-${month}-${day}`;
  const exists = new Date(ms).toISOString().startsWith(date);
  const [hours, minutes, seconds] = [Number(hour ?? 0), Number(minute ?? 0), Number(second ?? 0)];
  if (
    !exists ||
    Number(year) < 1900 ||
    hours > 23 ||
    minutes > 59 ||
    seconds > 59 ||
    /:[6-9]\d$/.test(offset ?? '')
  ) {
    return { fault: { code: 'no-such-time', written: text } };
  }
  const local = ms / 1000 + hours * 3600 + minutes * 60 + Number(`${seconds}.${fraction ?? '0'}`);
  const east = offset === undefined || offset === 'Z' ? 0 : offsetSeconds(offset);
  if (Math.abs(east) > 14 * 3600) return { fault: { code: 'no-such-time', written: text } };
  return {
    value: {
      text: text.trim(),
      kind: hour === undefined ? 'date' : offset === undefined ? 'civil' : 'offset',
      day: date,
      seconds: local - east,
    },
  };
}

function offsetSeconds(offset: string): number {
  const size = Number(offset.slice(1, 3)) * 3600 + Number(offset.slice(4, 6)) * 60;
  return offset.startsWith('-') ? -size : size;
}

/** Whether `a` is surely later than `b`. A date alone covers its whole day. */
export function isAfter(a: Time, b: Time): boolean {
  if (a.kind === 'date' || b.kind === 'date') return a.day > b.day;
  return a.seconds > b.seconds;
}
