import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { HOSTILE, trialWith } from './hostile.ts';
import { htmlOf, runReport } from './run-report.ts';

const pageOf = (...argv: string[]): string => runReport([...argv, '--output', '-']).out;

/** Reports that are looked at in a browser: a pass, a fail, what is open, the least, the most, and several trials. */
export const REPORTS: Readonly<Record<string, () => string>> = {
  whole: () => pageOf('examples/four-colour-pass.yaml'),
  missed: () => pageOf('examples/waste-fail.yaml'),
  open: () => pageOf('examples/not-exhausted.yaml'),
  smallest: () => pageOf('examples/harbour-street.yaml'),
  'hardly anything': () => htmlOf('trial: Weir Lane lot 2\nmeter: {start: 0, end: 1000}\n'),
  'for the house': () => pageOf('examples/draft-with-slips.yaml', '--internal'),
  pooled: () => pageOf('examples/pool', '--trend', 'waste_per_thousand', '--claim', '10500'),
  hostile: () => htmlOf(trialWith(HOSTILE.join(' '))),
};

/** axe-core, to be run in a page before `VIOLATIONS`. */
export const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const TAGS = 'wcag2a wcag2aa wcag21a wcag21aa wcag22aa best-practice experimental'.split(' ');

/** What axe finds by its rules for A and AA, its best practice and those it still tries out; each with the first place. */
export const VIOLATIONS = `axe.run(document, { runOnly: ${JSON.stringify(TAGS)}, resultTypes: ['violations'] })
  .then(({ violations }) => violations.map(({ id, nodes }) => id + ': ' + (nodes[0] ? nodes[0].html : '')))`;
