import { namedBelow } from './draw.ts';
import type { Time } from '../../trial/time.ts';

/** A time of the common scale as its day, or its hour where it is not midnight. */
const clock = (at: Date): string => {
  const iso = at.toISOString();
  return iso.slice(11, 16) === '00:00' ? iso.slice(0, 10) : iso.slice(11, 16);
};

const dayOf = (seconds: number): string => new Date(seconds * 1000).toISOString().slice(0, 10);

const [HOUR, DAY] = [3600, 86_400];

/** From one tick of an axis to the next, in seconds. */
const STEPS = [
  ...[60, 300, 900, 1800],
  ...[1, 2, 3, 6, 12].map((hours) => hours * HOUR),
  ...[1, 2, 5, 7, 14, 28, 56, 91, 182, 365].map((days) => days * DAY),
];

/** Ticks that fit beside each other, each with a day. */
const [MOST, MOST_SLIM] = [7, 3];

/** Even times from the first to the last, few enough for their names to have room. */
function ticksOf(from: number, to: number, most: number): Date[] {
  const step = STEPS.find((one) => (to - from) / one <= most) ?? Math.ceil((to - from) / most / DAY) * DAY;
  const first = Math.ceil(from / step) * step;
  return Array.from(
    { length: Math.floor((to - first) / step) + 1 },
    (_, nth) => new Date((first + nth * step) * 1000),
  );
}

/** An axis of times around `from` to `to`, in seconds; `like` says how the file writes its times. */
export function timeAxis(from: number, to: number, like: Time | null, slim: boolean) {
  const air = (to - from) * 0.03;
  const [first, last] = [dayOf(from), dayOf(to)];
  const days = first === last ? first : `${first} to ${last}`;
  return {
    type: 'utc' as const,
    domain: [new Date((from - air) * 1000), new Date((to + air) * 1000)],
    ...namedBelow(`${like?.kind === 'offset' ? 'time, UTC' : 'time, as written down'}, ${days}`),
    ticks: ticksOf(from, to, slim ? MOST_SLIM : MOST),
    tickFormat: clock,
  };
}
