import type { Path } from '../../uncertainty/path.ts';
import type { Problem } from '../../problems/problem.ts';
import type { RunData, TrialData } from '../schema/trial.ts';

/**
 * A rule between readings of one run: a pure function from what was read to what is wrong. A problem
 * between two readings is placed at the second. `path` is where the run stands in the file.
 */
export type RunRule = (run: RunData, path: Path, trial: TrialData) => Problem[];

/** A rule across the whole file. */
export type TrialRule = (trial: TrialData) => Problem[];
