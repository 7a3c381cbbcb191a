import { report } from '../../src/commands/report.ts';
import { type Files, type Ran, run } from '../run.ts';

/** Runs the program with the report's own part loaded, as the tests of the other commands do without. */
export const runReport = (argv: readonly string[], files: Files = {}, input = ''): Ran =>
  run(['report', ...argv], files, input, { report: () => report });

/** The HTML report on a trial given as text. */
export function htmlOf(trial: string, files: Files = {}): string {
  const { code, out, err } = runReport(['trial.yaml', '--output', '-'], { 'trial.yaml': trial, ...files });
  if (code !== 0) throw new Error(err);
  return out;
}
