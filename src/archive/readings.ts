import type { Data } from '../text/source.ts';
import { dotted, type Path } from '../uncertainty/path.ts';

/** One value of the trial's file, as it stands there. */
export interface SealedReading {
  /** Where it stands: `batches[2].end`. */
  readonly key: string;
  readonly text: string;
}

/** A logger's table of more values than this would make a seal larger than the trial is worth. */
const MOST_READINGS = 2000;

/**
 * Every value of a trial's file with its key, in the order of the file, as it was written; null where there are
 * more than a seal keeps.
 */
export function readingsIn(data: Data): readonly SealedReading[] | null {
  const readings: SealedReading[] = [];
  const into = (value: Data, path: Path): void => {
    if (readings.length > MOST_READINGS) return;
    if (Array.isArray(value)) for (const [index, one] of value.entries()) into(one, [...path, index]);
    else if (value !== null && typeof value === 'object')
      for (const [key, one] of Object.entries(value)) into(one, [...path, key]);
    else readings.push({ key: dotted(path), text: value ?? '' });
  };
  into(data, []);
  return readings.length > MOST_READINGS ? null : readings;
}

/** A value that was sealed and is another now; null where it was not there, or is there no more. */
export interface MovedReading {
  readonly key: string;
  readonly sealed: string | null;
  readonly now: string | null;
}

/** The values that differ, in the order of the file; none where one of them kept no values. */
export function movedReadings(
  sealed: readonly SealedReading[] | null,
  now: readonly SealedReading[] | null,
): readonly MovedReading[] {
  if (sealed === null || now === null) return [];
  const [before, after] = [sealed, now].map((all) => new Map(all.map(({ key, text }) => [key, text])));
  if (before === undefined || after === undefined) return [];
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((key): MovedReading[] => {
    const [was, is] = [before.get(key) ?? null, after.get(key) ?? null];
    return was === is ? [] : [{ key, sealed: was, now: is }];
  });
}
