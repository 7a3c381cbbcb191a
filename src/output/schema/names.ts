/** Outputs that have a schema, in the order of the work; the trial file has one of its own. */
export const OUTPUT_NAMES = [
  'plan',
  'verdict',
  'summary',
  'pool',
  'pool-line',
  'cartridge',
  'precision',
  'lot',
  'forecast',
  'coverage',
  'compare',
  'recheck',
  'explain',
  'marks',
] as const;
export type OutputName = (typeof OUTPUT_NAMES)[number];
