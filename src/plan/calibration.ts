import type { Trial } from '../trial/trial.ts';

/** An instrument whose calibration ends before the day it is used. */
export interface Lapsed {
  readonly instrument: string;
  /** Days, YYYY-MM-DD. */
  readonly until: string;
  readonly day: string;
}

/** The instruments whose calibration has ended by a day. */
export const lapsedBy = ({ data }: Trial, day: string): readonly Lapsed[] =>
  Object.entries(data.instruments ?? {}).flatMap(([instrument, settings]): Lapsed[] => {
    const until = settings?.calibrated_until;
    return !until || until.day >= day ? [] : [{ instrument, until: until.day, day }];
  });
