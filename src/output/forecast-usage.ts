import { type Fit, rangeOf } from '../forecast/fit.ts';
import type { ForecastResult } from '../forecast/forecast.ts';
import { asDecimal } from '../uncertainty/decimal.ts';
import { harmless } from './harmless.ts';

/** The fit of a forecast as a usage file, which trials and limits name under `non_image_usage`. */

/** What the trials of a forecast say of themselves beside their points. */
export interface TriedTrials {
  readonly files: readonly string[];
  /** The day on which the last of them ended; null where none says so. */
  readonly until: string | null;
}

const DIGITS = 6;

const quoted = (text: string): string => JSON.stringify(harmless(text));

const number = (value: number): string => asDecimal(value).toSignificantDigits(DIGITS).toFixed();

/** A fit that a yield can be scaled by: toner at no coverage cannot be less than nothing. */
const isUsable = (fit: Fit | null): fit is Fit =>
  fit !== null && fit.line.intercept >= 0 && fit.line.slope >= 0;

/** The usage file; null where no slot has a line that a yield can be scaled by. */
export function usageYaml(
  { candidate, tried }: ForecastResult,
  { files, until }: TriedTrials,
  tool: string,
): string | null {
  const usable = candidate.slots.flatMap(({ slot, fit }) => (isUsable(fit) ? [{ slot, fit }] : []));
  if (usable.length === 0) return null;
  const [model] = tried.models.keys();
  return [
    '# Toner a page against coverage: m0 at no coverage, m1 for each percent of the page.',
    `# Written by ${tool} forecast. Name this file in a trial, or in limits: non_image_usage: usage.yaml`,
    'usage:',
    ...(model === undefined ? [] : [`  model: ${quoted(model)}`]),
    ...(tried.machines.size === 0
      ? []
      : ['  machines:', ...[...tried.machines.values()].map((one) => `    - ${quoted(one)}`)]),
    ...(until === null ? [] : [`  until: ${until}`]),
    '  trials:',
    ...files.map((file) => `    - ${quoted(file)}`),
    '  slots:',
    ...usable.flatMap(({ slot, fit }) => slotLines(slot, fit)),
    '',
  ].join('\n');
}

function slotLines(slot: string | null, fit: Fit): string[] {
  const { intercept, varIntercept, slope, varSlope, covariance } = fit.line;
  const [from, to] = rangeOf(fit);
  const correlation = covariance / Math.sqrt(varIntercept * varSlope);
  return [
    ...(slot === null ? [] : [`slot: ${quoted(slot)}`]),
    `m0: ${number(intercept)} mg`,
    `u_m0: ${number(Math.sqrt(varIntercept))} mg`,
    `m1: ${number(slope)} mg`,
    `u_m1: ${number(Math.sqrt(varSlope))} mg`,
    ...(Number.isFinite(correlation) ? [`r: ${correlation.toFixed(4)}`] : []),
    `degrees_of_freedom: ${fit.freedom}`,
    `cartridges: ${fit.sources}`,
    `from: ${number(from)} %`,
    `to: ${number(to)} %`,
  ].map((line, index) => `    ${index === 0 ? '- ' : '  '}${line}`);
}
