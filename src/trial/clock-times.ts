import type { Problem } from '../problems/problem.ts';
import type { Data } from '../text/source.ts';
import type { Path } from '../uncertainty/path.ts';
import { readTime, type Time } from './time.ts';

/** An hour and minute without a day. */
const CLOCK = /^\s*(\d{1,2}):(\d{2})\s*$/;

/** Lists of a run whose entries have times, and the keys of these. */
const TIMES: readonly (readonly [list: string, keys: readonly string[]])[] = [
  ['batches', ['started', 'finished']],
  ['ambient', ['at']],
];

/** A text without any: most files. */
const HAS_CLOCK = /[\s{,:]\d{1,2}:\d{2}\s*(?:[,}#\r\n]|$)/;

/**
 * Clocks without a day get the one they are of, where that is plain: that of a trial which began and ended on one
 * day, or the day of the other end of their batch, after which or before which they come. One note says so.
 */
export function withDays(
  data: Data,
  text: string,
): { readonly data: Data; readonly problems: readonly Problem[] } {
  if (!HAS_CLOCK.test(text)) return { data, problems: [] };
  const head = valueIn(data, 'trial');
  const [began, ended] = [civil(valueIn(head, 'started')), civil(valueIn(head, 'finished'))];
  const day = began !== null && began.day === ended?.day ? began.day : null;
  const found = [...clocksIn(data, [], day), ...clocksIn(valueIn(data, 'reference'), ['reference'], null)];
  const [first] = found;
  if (first === undefined) return { data, problems: [] };
  return {
    data: found.reduce((whole, { path, write }) => put(whole, path, write), data),
    problems: [{ code: 'typed-otherwise', ...first }],
  };
}

interface Clock {
  readonly path: Path;
  readonly written: string;
  readonly write: string;
}

/** The clocks of a run that can be of one day only; `day` is that of a run within one day. */
const clocksIn = (run: Data, path: Path, day: string | null): Clock[] =>
  TIMES.flatMap(([list, keys]) => {
    const entries = valueIn(run, list);
    if (!Array.isArray(entries)) return [];
    return entries.flatMap((entry, index) =>
      keys.flatMap((key): Clock[] => {
        const written = valueIn(entry, key);
        const clock = typeof written === 'string' ? CLOCK.exec(written) : null;
        if (clock === null || typeof written !== 'string') return [];
        const other = otherEnd(entry, key, keys);
        const of = day ?? other?.day ?? null;
        if (of === null) return [];
        const write = `${of}T${(clock[1] ?? '').padStart(2, '0')}:${clock[2] ?? ''}`;
        // A batch that ends before it began may have gone on past midnight.
        const turned = other !== null && (key === keys[0] ? other.text < write : write < other.text);
        return 'value' in readTime(write) && !turned
          ? [{ path: [...path, list, index, key], written: written.trim(), write }]
          : [];
      }),
    );
  });

/** The other end of a batch, where it has its day. */
const otherEnd = (entry: Data, key: string, keys: readonly string[]): Time | null =>
  keys.map((one) => (one === key ? null : civil(valueIn(entry, one)))).find((time) => time !== null) ?? null;

/** A time with its day and without an offset. */
function civil(data: Data): Time | null {
  const read = typeof data === 'string' ? readTime(data) : null;
  return read !== null && 'value' in read && read.value.kind !== 'offset' ? read.value : null;
}

const valueIn = (data: Data, key: string): Data =>
  data !== null && typeof data === 'object' && !Array.isArray(data) && Object.hasOwn(data, key)
    ? (data[key] ?? null)
    : null;

/** The data with another text at a place that is there. */
function put(data: Data, [step, ...rest]: Path, text: string): Data {
  if (step === undefined) return text;
  if (Array.isArray(data)) return data.map((one, index) => (index === step ? put(one, rest, text) : one));
  return { ...(data as Record<string, Data>), [step]: put(valueIn(data, String(step)), rest, text) };
}
