import type { Assessed } from '../judge/assess.ts';
import { csv } from '../output/csv.ts';
import { harmlessJson } from '../output/harmless.ts';
import { resultData } from '../output/json.ts';

/** The verdict as data, for those who go on reckoning with it. */

/** The verdict as JSON, as `verdict --format json` prints it. */
export const verdictJson = (result: Assessed, tool: string): string =>
  `${harmlessJson(resultData(result, tool), 2)}\n`;

/** Every figure in a row, with its uncertainty. */
export function figuresCsv(result: Assessed, tool: string): string {
  const heads = ['figure', 'of', 'stat', 'value', 'unit', 'u', 'bound'] as const;
  return csv(
    heads,
    resultData(result, tool).figures.map((figure) => heads.map((head) => figure[head])),
  );
}
