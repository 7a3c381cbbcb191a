import type { Time } from '../../trial/time.ts';

/** A time of the common scale as its day, or its hour where it is not midnight. */
const clock = (at: Date): string => {
  const iso = at.toISOString();
  return iso.slice(11, 16) === '00:00' ? iso.slice(0, 10) : iso.slice(11, 16);
};

const dayOf = (seconds: number): string => new Date(seconds * 1000).toISOString().slice(0, 10);

/** An axis of times around `from` to `to`, in seconds; `like` says how the file writes its times. */
export function timeAxis(from: number, to: number, like: Time | null) {
  const air = (to - from) * 0.03;
  const [first, last] = [dayOf(from), dayOf(to)];
  const days = first === last ? first : `${first} to ${last}`;
  return {
    type: 'utc' as const,
    domain: [new Date((from - air) * 1000), new Date((to + air) * 1000)],
    label: `${like?.kind === 'offset' ? 'time, UTC' : 'time, as written down'}, ${days}`,
    labelAnchor: 'center' as const,
    labelArrow: 'none' as const,
    ticks: 6,
    tickFormat: clock,
  };
}
